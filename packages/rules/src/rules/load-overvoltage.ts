import type { Value } from '@couplet/engine';
import { defineRule, levels } from '../define.ts';
import type { Instant } from '../support/instants.ts';
import { whereWired } from '../support/place.ts';
import { corner, percent, show, when } from '../support/words.ts';
import { extremeVolts, type Fed, fedParts, sourceBehind, worksOf } from '../support/working-range.ts';

interface Data {
  readonly part: Fed;
  readonly volts: Value;
  readonly works: number;
  readonly at: Instant;
  readonly source?: { readonly name: string; readonly most: number };
}

export const loadOvervoltage = defineRule<Data>({
  name: 'load-overvoltage',
  thresholds: levels(
    {
      value: 0,
      unit: '',
      says: '1 less volts over the most that the load works at',
      origin: 'data of the load',
      standing: 'physics',
      settable: false,
    },
    {
      value: 0.03,
      unit: '',
      says: 'margin below the most volts',
      origin: 'spread of meters and chargers',
      standing: 'common practice',
      settable: true,
    },
  ),
  explains: ['expectation-failed'],
  *find(context) {
    for (const part of fedParts(context)) {
      const worst = extremeVolts(context, part, (value) => value.most);
      if (worst === undefined) continue;
      const works = worksOf(context, part);
      if (works === undefined || !Number.isFinite(works.most) || works.most <= 0) continue;
      const margin = 1 - worst.value.most / works.most;
      if (margin >= Math.max(context.threshold('error').value, context.threshold('warning').value)) continue;
      yield {
        severity: margin < context.threshold('error').value ? 'error' : 'warning',
        origin: whereWired(context.design, part.id),
        subject: part.id,
        caseName: worst.at.of.name,
        related:
          part.works === undefined
            ? []
            : [{ origin: part.works.origin, message: `${part.name} works up to ${show(works.most, 'V')}` }],
        data: { part, volts: worst.value, works: works.most, at: worst.at, source: sourceBehind(context, part) },
      };
    }
  },
  word({ data, severity }) {
    const { part, volts, works, at, source } = data;
    const got = `${part.name} gets ${show(volts.most, 'V')} at most ${when(at)}${corner(volts.mostCorner)}`;
    const bears =
      severity === 'error'
        ? `${show(volts.most - works, 'V')} more than the ${show(works, 'V')} it works up to. It overheats or fails early.`
        : `only ${percent(1 - volts.most / works)} below the ${show(works, 'V')} it works up to.`;
    const supply = source === undefined ? 'Take a supply' : `Take a supply in place of ${source.name}`;
    return `${got}, ${bears} ${supply} that stays below ${show(works, 'V')}, or a load that works up to ${show(volts.most, 'V')}.`;
  },
  figures: ({ data }) => [{ label: `volts at ${data.part.name}`, figure: data.volts }],
});
