import type { ComponentOf, Value } from '@couplet/engine';
import { ofKind } from '../circuit/circuits.ts';
import { wiringOf } from '../circuit/wiring.ts';
import { defineRule, levels } from '../define.ts';
import { assumptionOf } from '../support/coil.ts';
import { type Instant, instantsOf, lacks, worstOf } from '../support/instants.ts';
import { corner, percent, show, when } from '../support/words.ts';

interface Data {
  readonly fuse: ComponentOf<'fuse'>;
  readonly amps: Value;
  readonly size: number;
  readonly rated: number;
  readonly at: Instant;
  readonly share: number;
}

export const fuseOverloaded = defineRule<Data>({
  name: 'fuse-overloaded',
  thresholds: levels(
    {
      value: 1,
      unit: '',
      says: 'current over the rating of the fuse',
      origin: 'rating of the fuse',
      standing: 'physics',
      settable: false,
    },
    {
      value: 0.75,
      unit: '',
      says: 'current over the rating of the fuse, derated',
      origin: 'loading of fuses in warm places; UL 248-14 designs for 75 %',
      standing: 'common practice',
      settable: true,
    },
  ),
  explains: [],
  *find(context) {
    const wiring = wiringOf(context.design);
    for (const fuse of ofKind(context.design, 'fuse')) {
      if (!wiring.isWired(fuse.a) || !wiring.isWired(fuse.b)) continue;
      const worst = worstOf(
        context,
        fuse.id,
        instantsOf(context.analysis, fuse.id),
        (at) => at.moment.amps(fuse.id),
        (value) => Math.max(Math.abs(value.least), Math.abs(value.most)),
      );
      if (worst === undefined || worst.score <= 0) continue;
      if (fuse.rated === undefined) {
        lacks(context, fuse.id, 'rating');
        continue;
      }
      const rated = fuse.rated.usual;
      const ratio = worst.score / rated;
      const share = context.threshold('warning').value;
      if (ratio <= Math.min(share, context.threshold('error').value)) continue;
      yield {
        severity: ratio > context.threshold('error').value ? 'error' : 'warning',
        origin: fuse.origin,
        subject: fuse.id,
        caseName: worst.at.of.name,
        assumptions: assumptionOf(fuse.rated),
        data: { fuse, amps: worst.value, size: worst.score, rated, at: worst.at, share },
      };
    }
  },
  word({ data, severity }) {
    const { fuse, amps, size, rated, at, share } = data;
    const why = severity === 'error' ? 'it blows' : 'it ages and blows one warm day';
    return (
      `${fuse.name} carries ${show(size, 'A')} ${when(at)}${corner(amps.mostCorner)}, ${percent(size / rated)} of its ` +
      `${show(rated, 'A')}: ${why}. It takes a fuse of at least ${show(size / share, 'A')}, if the cable behind it bears that.`
    );
  },
  figures: ({ data }) => [{ label: `current in ${data.fuse.name}`, figure: data.amps }],
});
