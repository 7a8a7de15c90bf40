import type { Moment, Relay, Value } from '@couplet/engine';
import { defineRule, levels } from '../define.ts';
import { type CableCure, cureByCable, sayCable } from '../support/cable.ts';
import { assumptionOf, type CoilHeat, hotCoil } from '../support/coil.ts';
import { coils, energised, extremeCoilVolts, leastSize } from '../support/coil-volts.ts';
import { type Instant, lacks } from '../support/instants.ts';
import { corner, percent, show, when } from '../support/words.ts';
import { sourceBehind } from '../support/working-range.ts';

interface Data {
  readonly relay: Relay;
  readonly volts: Value;
  readonly got: number;
  readonly needs: number;
  readonly heat: CoilHeat;
  readonly at: Instant;
  readonly cable: CableCure;
  readonly source?: { readonly name: string; readonly least: number };
}

export const coilMayNotOperate = defineRule<Data>({
  name: 'coil-may-not-operate',
  thresholds: levels(
    {
      value: 0,
      unit: '',
      says: 'coil volts over what the hot coil operates at, less 1',
      origin: 'IEC 61810-1',
      standing: 'standard',
      settable: false,
    },
    {
      value: 0.1,
      unit: '',
      says: 'margin above what the hot coil operates at',
      origin: 'margin for ageing and bad joints',
      standing: 'common practice',
      settable: true,
    },
  ),
  explains: ['coil-undervoltage', 'rest-inverted', 'reading-outside-band', 'expectation-failed'],
  reach: 'downstream',
  *find(context) {
    for (const relay of coils(context)) {
      const { operate } = energised(context, relay);
      const worst = extremeCoilVolts(context, relay, operate, (value) => -leastSize(value));
      if (worst === undefined) continue;
      if (relay.operates === undefined) {
        lacks(context, relay.id, 'operates');
        continue;
      }
      const heat = hotCoil(context, relay);
      if (heat === undefined) continue;
      const got = leastSize(worst.value);
      const needs = relay.operates.most * heat.factor;
      const margin = got / needs - 1;
      if (margin >= Math.max(context.threshold('error').value, context.threshold('warning').value)) continue;
      const isError = margin < context.threshold('error').value;
      const wanted = needs * (1 + (isError ? 0 : context.threshold('warning').value));
      const reaches = (least: number) => (moment: Moment) => {
        const volts = moment.volts(relay.coil.a, relay.coil.b);
        return volts.sort === 'value' && leastSize(volts) >= least;
      };
      const clear = needs * (1 + context.threshold('warning').value);
      yield {
        severity: isError ? 'error' : 'warning',
        origin: relay.origin,
        subject: relay.id,
        caseName: worst.at.of.name,
        related: [
          {
            origin: relay.operates.origin,
            message: `${relay.name} operates at ${show(relay.operates.most, 'V')} at 20 °C`,
          },
        ],
        assumptions: [...heat.assumptions, ...assumptionOf(relay.operates)],
        data: {
          relay,
          volts: worst.value,
          got,
          needs,
          heat,
          at: worst.at,
          cable: cureByCable(context, worst.at.moment, relay.id, reaches(wanted), reaches(clear)),
          source: sourceBehind(context, relay),
        },
      };
    }
  },
  word({ data, severity }) {
    const { relay, volts, got, needs, heat, at, cable, source } = data;
    const gets = `The coil of ${relay.name} gets ${show(got, 'V')} at least ${when(at)}${corner(volts.leastCorner)}`;
    const hot =
      `with the coil at ${show(heat.celsius, 'degC')} ` +
      `(${show(relay.operates!.most, 'V')} at 20 °C, times ${heat.factor.toFixed(3)})`;
    const lacking = needs - got;
    const supply =
      source === undefined || lacking <= 0
        ? 'it takes a supply with a higher least voltage'
        : `it takes about ${show(source.least + lacking, 'V')} at least from ${source.name} (it gives ${show(source.least, 'V')})`;
    const rated = relay.rated?.usual;
    const operates =
      rated === undefined || rated <= 0
        ? 'a relay that operates at less'
        : `a relay that operates at ${percent(got / heat.factor / rated)} of its ${show(rated, 'V')} or less`;
    const cure = sayCable(cable, `${supply}, or ${operates}.`);
    if (severity === 'error') {
      return `${gets} and needs ${show(needs, 'V')} to operate ${hot}: it may stay released, or chatter. ${cure}`;
    }
    return `${gets}, only ${percent(got / needs - 1)} more than the ${show(needs, 'V')} it needs to operate ${hot}. ${cure}`;
  },
  figures: ({ data }) => [{ label: `coil volts of ${data.relay.name}`, figure: data.volts }],
  cures: ({ data }) => (data.cable.sort === 'section' ? data.cable.cures : []),
});
