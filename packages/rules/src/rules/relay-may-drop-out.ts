import type { Relay, Value } from '@couplet/engine';
import { defineRule, levels } from '../define.ts';
import { assumptionOf, type CoilHeat, hotCoil } from '../support/coil.ts';
import { coils, energised, extremeCoilVolts, leastSize } from '../support/coil-volts.ts';
import { type Instant, lacks } from '../support/instants.ts';
import { corner, percent, show, when } from '../support/words.ts';

interface Data {
  readonly relay: Relay;
  readonly volts: Value;
  readonly got: number;
  readonly holds: number;
  readonly heat: CoilHeat;
  readonly at: Instant;
}

export const relayMayDropOut = defineRule<Data>({
  name: 'relay-may-drop-out',
  thresholds: levels(
    {
      value: 0,
      unit: '',
      says: 'coil volts over what the hot coil holds at, less 1',
      origin: 'IEC 61810-1',
      standing: 'standard',
      settable: false,
    },
    {
      value: 0.1,
      unit: '',
      says: 'margin above what the hot coil holds at',
      origin: 'margin for ageing and bad joints',
      standing: 'common practice',
      settable: true,
    },
  ),
  explains: ['reading-outside-band', 'expectation-failed'],
  reach: 'downstream',
  *find(context) {
    for (const relay of coils(context)) {
      const { hold } = energised(context, relay);
      const worst = extremeCoilVolts(context, relay, hold, (value) => -leastSize(value));
      if (worst === undefined) continue;
      const holds = relay.holds ?? relay.operates;
      if (holds === undefined) {
        lacks(context, relay.id, 'operates');
        continue;
      }
      const heat = hotCoil(context, relay);
      if (heat === undefined) continue;
      const got = leastSize(worst.value);
      const needs = holds.most * heat.factor;
      const margin = got / needs - 1;
      if (margin >= Math.max(context.threshold('error').value, context.threshold('warning').value)) continue;
      const assumed = relay.holds === undefined ? [`${relay.name} holds only where it operates too`] : [];
      yield {
        severity: margin < context.threshold('error').value ? 'error' : 'warning',
        origin: relay.origin,
        subject: relay.id,
        caseName: worst.at.of.name,
        related: [{ origin: holds.origin, message: `${relay.name} holds at ${show(holds.most, 'V')} at 20 °C` }],
        assumptions: [...assumed, ...assumptionOf(holds), ...heat.assumptions],
        data: { relay, volts: worst.value, got, holds: needs, heat, at: worst.at },
      };
    }
  },
  word({ data, severity }) {
    const { relay, volts, got, holds, heat, at } = data;
    const gets = `${relay.name} is held in with ${show(got, 'V')} at least ${when(at)}${corner(volts.leastCorner)}`;
    const needs = `${show(holds, 'V')} that it certainly holds at with the coil at ${show(heat.celsius, 'degC')}`;
    const cure = 'Keep the supply up in this state, or take a relay that holds at less and say so with `holds`.';
    if (severity === 'error') return `${gets}, less than the ${needs}: it may drop out. ${cure}`;
    return `${gets}, only ${percent(got / holds - 1)} more than the ${needs}. ${cure}`;
  },
  figures: ({ data }) => [{ label: `coil volts of ${data.relay.name}`, figure: data.volts }],
});
