import { copperFactor, type Relay, type Value } from '@couplet/engine';
import { defineRule, levels } from '../define.ts';
import type { RuleContext } from '../rule.ts';
import { assumptionOf, type CoilHeat, celsiusIn, hotCoil } from '../support/coil.ts';
import { coils, energised, extremeCoilVolts, leastSize } from '../support/coil-volts.ts';
import { onVolts } from '../support/driven.ts';
import { type Instant, lacks, type Worst } from '../support/instants.ts';
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
      const [first, ...others] = temperatures(context, relay, worst, heat);
      const weighed = (at: AtHeat) => at.got / (holds.most * at.heat.factor);
      const tightest = others.reduce((one, other) => (weighed(other) < weighed(one) ? other : one), first);
      const { got } = tightest;
      const needs = holds.most * tightest.heat.factor;
      const margin = got / needs - 1;
      if (margin >= Math.max(context.threshold('error').value, context.threshold('warning').value)) continue;
      const assumed = relay.holds === undefined ? [`${relay.name} holds only where it operates too`] : [];
      yield {
        severity: margin < context.threshold('error').value ? 'error' : 'warning',
        origin: relay.origin,
        subject: relay.id,
        caseName: worst.at.of.name,
        related: [{ origin: holds.origin, message: `${relay.name} holds at ${show(holds.most, 'V')} at 20 °C` }],
        assumptions: [...assumed, ...assumptionOf(holds), ...tightest.heat.assumptions],
        data: { relay, volts: tightest.volts, got, holds: needs, heat: tightest.heat, at: worst.at },
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

/** Least coil volts with the coil at one temperature. */
interface AtHeat {
  readonly heat: CoilHeat;
  readonly volts: Value;
  readonly got: number;
}

/**
 * Volts and what the relay holds at, both at one temperature: as cold as in the corner of the least volts, and as hot as
 * the coil gets, with the ohms that it has then. A coil that is colder draws more and holds at less.
 */
function temperatures(context: RuleContext, relay: Relay, worst: Worst, hot: CoilHeat): readonly [AtHeat, ...AtHeat[]] {
  const celsius = celsiusIn(context, worst.value.leastCorner, relay);
  const plain: AtHeat = { heat: hot, volts: worst.value, got: leastSize(worst.value) };
  if (celsius === undefined || celsius >= hot.celsius) return [plain];
  const factor = copperFactor(celsius);
  const cold: AtHeat = { ...plain, heat: { celsius, factor, assumptions: [] } };
  const { moment } = worst.at;
  const heated = moment.vary([{ sort: 'scale', component: relay.id, factor: hot.factor / factor }]);
  const volts = onVolts(context, { ...worst.at, moment: heated }, relay.id, relay.coil.a, relay.coil.b);
  if (volts.sort !== 'value') return [plain];
  return [cold, { heat: hot, volts, got: leastSize(volts) }];
}
