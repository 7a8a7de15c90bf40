import type { Relay, Value } from '@couplet/engine';
import { defineRule } from '../define.ts';
import { coils, extremeCoilVolts, mostSize } from '../support/coil-volts.ts';
import { type Instant, instantsOf, lacks } from '../support/instants.ts';
import { corner, percent, show, when } from '../support/words.ts';
import { sourceBehind } from '../support/working-range.ts';

interface Data {
  readonly relay: Relay;
  readonly volts: Value;
  readonly got: number;
  readonly most: number;
  readonly at: Instant;
  readonly source?: { readonly name: string; readonly most: number };
}

export const coilOvervoltage = defineRule<Data>({
  name: 'coil-overvoltage',
  thresholds: [
    {
      key: 'most',
      value: 1.1,
      unit: '',
      says: 'coil volts over rated, where the relay declares no range',
      origin: 'IEC 61810-1',
      standing: 'standard from memory',
      settable: true,
    },
  ],
  explains: [],
  *find(context) {
    for (const relay of coils(context)) {
      const worst = extremeCoilVolts(context, relay, instantsOf(context.analysis, relay.id), mostSize);
      if (worst === undefined || worst.score <= 0) continue;
      const limit = limitOf(relay);
      if (limit === undefined) {
        lacks(context, relay.id, 'coil');
        continue;
      }
      if (worst.score <= limit.most) continue;
      yield {
        severity: 'error',
        origin: relay.origin,
        subject: relay.id,
        caseName: worst.at.of.name,
        related: isDeclared(relay)
          ? [{ origin: relay.range!.origin, message: `the coil's range ends at ${show(limit.most, 'V')}` }]
          : [],
        assumptions: limit.assumptions,
        beyondLimits: isDeclared(relay),
        data: {
          relay,
          volts: worst.value,
          got: worst.score,
          most: limit.most,
          at: worst.at,
          source: sourceBehind(context, relay),
        },
      };
    }

    function limitOf(relay: Relay): { readonly most: number; readonly assumptions: readonly string[] } | undefined {
      if (relay.range !== undefined && (isDeclared(relay) || relay.rated === undefined)) {
        return { most: relay.range.most, assumptions: [] };
      }
      if (relay.rated === undefined) return undefined;
      const { value, set } = context.threshold('most');
      const said = `the coil of ${relay.name} bears ${percent(value)} of its rated volts`;
      return { most: value * relay.rated.usual, assumptions: set ? [] : [said] };
    }
  },
  word({ data }) {
    const { relay, volts, got, most, at, source } = data;
    const rated =
      relay.rated === undefined ? '' : ` (${percent(got / relay.rated.usual)} of its ${show(relay.rated.usual, 'V')})`;
    const gets = `The coil of ${relay.name} gets ${show(got, 'V')} at most ${when(at)}${corner(volts.mostCorner)}${rated}`;
    const ohms = relay.ohms?.usual;
    const series =
      ohms === undefined || most <= 0
        ? ''
        : `, or ${show(ohms * (got / most - 1), 'ohm')} in series (then look at what is left at the least supply)`;
    const supply =
      source === undefined ? 'a supply that stays lower' : `a supply in place of ${source.name} that stays lower`;
    return (
      `${gets}, above the ${show(most, 'V')} that it bears for ever: it overheats while it is held in. ` +
      `Take a relay with a range up to ${show(got, 'V')}, ${supply}${series}.`
    );
  },
  figures: ({ data }) => [{ label: `coil volts of ${data.relay.name}`, figure: data.volts }],
});

/** A range that the author did not write is the default one, which the site may set. */
function isDeclared(relay: Relay): boolean {
  return relay.range !== undefined && relay.range.origin !== relay.origin;
}
