import type { Relay, Value } from '@couplet/engine';
import { defineRule } from '../define.ts';
import { coils, energised, extremeCoilVolts, leastSize } from '../support/coil-volts.ts';
import type { Instant } from '../support/instants.ts';
import { corner, percent, show, when } from '../support/words.ts';

interface Data {
  readonly relay: Relay;
  readonly volts: Value;
  readonly got: number;
  readonly least: number;
  readonly at: Instant;
}

export const coilUndervoltage = defineRule<Data>({
  name: 'coil-undervoltage',
  thresholds: [],
  explains: [],
  *find(context) {
    for (const relay of coils(context)) {
      if (relay.range === undefined) continue;
      const least = relay.range.least;
      if (!(least > 0)) continue;
      const { operate, hold } = energised(context, relay);
      const worst = extremeCoilVolts(context, relay, [...operate, ...hold], (value) => -leastSize(value));
      if (worst === undefined) continue;
      const got = leastSize(worst.value);
      if (got >= least) continue;
      yield {
        severity: 'warning',
        origin: relay.origin,
        subject: relay.id,
        caseName: worst.at.of.name,
        related: [{ origin: relay.range.origin, message: `the coil's range begins at ${show(least, 'V')}` }],
        data: { relay, volts: worst.value, got, least, at: worst.at },
      };
    }
  },
  word({ data }) {
    const { relay, volts, got, least, at } = data;
    return (
      `The coil of ${relay.name} gets ${show(got, 'V')} at least ${when(at)}${corner(volts.leastCorner)}, below the ${show(least, 'V')} ` +
      `at which its range begins (${percent(got / least)}): it may operate, but its maker promises nothing there, and contacts close ` +
      `with less force. Raise the supply, shorten the cable, or take a relay with a wider range.`
    );
  },
  figures: ({ data }) => [{ label: `coil volts of ${data.relay.name}`, figure: data.volts }],
});
