import { copperFactor, type Relay, type Value } from '@couplet/engine';
import { nameOf } from '../circuit/circuits.ts';
import { defineRule, levels } from '../define.ts';
import { assumptionOf, celsiusIn, coldCoil } from '../support/coil.ts';
import { coils, extremeCoilVolts, mostSize } from '../support/coil-volts.ts';
import { idleOutputs } from '../support/driven.ts';
import { type Instant, instantsOf } from '../support/instants.ts';
import { corner, list, percent, show, when } from '../support/words.ts';

interface Data {
  readonly relay: Relay;
  readonly volts: Value;
  readonly got: number;
  readonly releases: number;
  readonly celsius: number;
  readonly at: Instant;
  readonly outputs: readonly string[];
}

/** Release volts that a relay has, of rated, when it does not say. Source: IEC 61810-1, from memory. */
const ASSUMED_RELEASE = 0.1;

export const coilMayNotRelease = defineRule<Data>({
  name: 'coil-may-not-release',
  thresholds: levels(
    {
      value: 1,
      unit: '',
      says: 'coil volts when off over release volts',
      origin: 'IEC 61810-1',
      standing: 'standard',
      settable: false,
    },
    {
      value: 0.5,
      unit: '',
      says: 'coil volts when off over release volts, with a margin of two',
      origin: 'IEC 61810-1',
      standing: 'standard from memory',
      settable: true,
    },
  ),
  explains: ['reading-outside-band', 'expectation-failed'],
  reach: 'downstream',
  *find(context) {
    for (const relay of coils(context)) {
      // A latching relay does not release when its volts go.
      if (relay.latching !== undefined) continue;
      const idle = instantsOf(context.analysis, relay.id).filter((at) => idleOutputs(context, at, relay.id).length > 0);
      const worst = extremeCoilVolts(context, relay, idle, mostSize);
      if (worst === undefined || worst.score <= 0) continue;
      const at20 =
        relay.releases?.least ?? (relay.rated === undefined ? undefined : relay.rated.usual * ASSUMED_RELEASE);
      if (at20 === undefined) {
        context.gap({
          subject: relay.id,
          needs: [{ component: relay.id, property: 'releases', origin: relay.origin }],
        });
        continue;
      }
      const celsius = celsiusIn(context, worst.value.mostCorner, relay) ?? coldCoil(context, relay)?.celsius;
      if (celsius === undefined) continue;
      const releases = at20 * copperFactor(celsius);
      const ratio = worst.score / releases;
      if (ratio <= Math.min(context.threshold('warning').value, context.threshold('error').value)) continue;
      const assumed =
        relay.releases === undefined ? [`${relay.name} releases at ${percent(ASSUMED_RELEASE)} of rated`] : [];
      const outputs = idleOutputs(context, worst.at, relay.id);
      yield {
        severity: ratio > context.threshold('error').value ? 'error' : 'warning',
        origin: relay.origin,
        subject: relay.id,
        alsoConcerns: outputs,
        caseName: worst.at.of.name,
        related: outputs.map((id) => ({
          origin: context.design.components[id]!.origin,
          message: `${nameOf(context.design, id)} leaks when off`,
        })),
        assumptions: [...assumed, ...assumptionOf(relay.releases)],
        data: {
          relay,
          volts: worst.value,
          got: worst.score,
          releases,
          celsius,
          at: worst.at,
          outputs: outputs.map((id) => nameOf(context.design, id)),
        },
      };
    }
  },
  word({ data, severity }) {
    const { relay, volts, got, releases, celsius, at, outputs } = data;
    const why =
      severity === 'error'
        ? 'it may stay operated'
        : 'little is left before it stays operated, and leakage grows with heat';
    return (
      `With ${list(outputs)} off the coil of ${relay.name} still gets ${show(got, 'V')} ${when(at)}${corner(volts.mostCorner)}, ` +
      `${percent(got / releases)} of the ${show(releases, 'V')} at which it releases at ${show(celsius, 'degC')}: ${why}. ` +
      `A resistor across the coil takes the leakage away, or an output that leaks less.`
    );
  },
  figures: ({ data }) => [{ label: `coil volts of ${data.relay.name} when off`, figure: data.volts }],
});
