import type { ComponentOf, Value } from '@couplet/engine';
import { componentOf, nameOf } from '../circuit/circuits.ts';
import { wiringOf } from '../circuit/wiring.ts';
import { defineRule, levels } from '../define.ts';
import type { RuleContext } from '../rule.ts';
import { assumptionOf } from '../support/coil.ts';
import { idleOutputs } from '../support/driven.ts';
import { type Instant, instantsOf, lacks, worstOf } from '../support/instants.ts';
import { whereWired } from '../support/place.ts';
import { corner, list, percent, show, when } from '../support/words.ts';

interface Data {
  readonly part: string;
  readonly outputs: readonly string[];
  readonly got: Value;
  readonly limit: number;
  readonly ratio: number;
  readonly at: Instant;
  readonly isInput: boolean;
}

export const leakageHoldsLoad = defineRule<Data>({
  name: 'leakage-holds-load',
  thresholds: levels(
    {
      value: 1,
      unit: '',
      says: 'volts or current by leakage over the drop-out of the load or input',
      origin: "Ohm's law",
      standing: 'physics',
      settable: false,
    },
    {
      value: 0.5,
      unit: '',
      says: 'the same, with a margin of two',
      origin: 'leakage doubles with every 10 °C or so',
      standing: 'common practice',
      settable: true,
    },
  ),
  explains: ['expectation-failed'],
  *find(context) {
    const { design } = context;
    for (const component of design.components) {
      if (component.kind !== 'load' && component.kind !== 'input') continue;
      if (component.kind === 'input' && component.feedVolts !== undefined) continue;
      const idle = instantsOf(context.analysis, component.id).filter(
        (at) => idleOutputs(context, at, component.id).length > 0 && isLeakage(context, at, component),
      );
      if (idle.length === 0) continue;
      const limit = limitOf(context, component);
      if (limit === undefined) continue;
      const worst = worstOf(
        context,
        component.id,
        idle,
        (at) => (limit.unit === 'A' ? at.moment.amps(component.id) : at.moment.volts(component.a, component.b)),
        (value) => value.most / limit.value,
      );
      if (worst === undefined) continue;
      const share = context.threshold('warning').value;
      if (worst.score <= Math.min(share, context.threshold('error').value)) continue;
      const outputs = idleOutputs(context, worst.at, component.id);
      yield {
        severity: worst.score > context.threshold('error').value ? 'error' : 'warning',
        origin: whereWired(design, component.id),
        subject: component.id,
        alsoConcerns: outputs,
        caseName: worst.at.of.name,
        related: outputs.flatMap((id) => {
          const leak = componentOf(design, id, 'output')?.leak;
          return leak === undefined
            ? []
            : [{ origin: leak.origin, message: `${nameOf(design, id)} leaks ${show(leak.most, 'A')} when off` }];
        }),
        assumptions: limit.assumptions,
        data: {
          part: component.name,
          outputs: outputs.map((id) => nameOf(design, id)),
          got: worst.value,
          limit: limit.value,
          ratio: worst.score,
          at: worst.at,
          isInput: component.kind === 'input',
        },
      };
    }
  },
  word({ data }) {
    const { part, outputs, got, limit, ratio, at, isInput } = data;
    const below = isInput ? 'is off below' : 'goes out below';
    const cure = isInput
      ? 'A resistor across the input takes the leakage away'
      : 'A resistor across the load takes the leakage away';
    return (
      `${part} gets ${show(got.most, got.unit)} by the leakage of ${list(outputs)} ${when(at)}${corner(got.mostCorner)}, ` +
      `${percent(ratio)} of the ${show(limit, got.unit)} that it ${below}: it may stay on when it shall be off. ` +
      `${cure}, or an output that leaks less, or a relay.`
    );
  },
  figures: ({ data }) => [{ label: `${data.part} when off`, figure: data.got }],
});

interface Limit {
  readonly value: number;
  readonly unit: 'V' | 'A';
  readonly assumptions: readonly string[];
}

/** A load's drop-out when it does not say: this share of the lower end of its working range. */
const OFF_SHARE = 0.1;

function limitOf(context: RuleContext, component: ComponentOf<'load'> | ComponentOf<'input'>): Limit | undefined {
  if (component.kind === 'input') {
    if (component.off !== undefined) return { value: component.off.below, unit: component.off.unit, assumptions: [] };
    lacks(context, component.id, 'off');
    return undefined;
  }
  if (component.offBelow !== undefined) {
    return { value: component.offBelow.least, unit: 'V', assumptions: assumptionOf(component.offBelow) };
  }
  if (component.works !== undefined) {
    const value = OFF_SHARE * component.works.least;
    return {
      value,
      unit: 'V',
      assumptions: [`${component.name} is off below ${show(value, 'V')}, a tenth of the volts it works at`],
    };
  }
  lacks(context, component.id, 'works');
  return undefined;
}

/** Whether what flows is the leakage of the outputs, and not a current that another path brings. */
function isLeakage(context: RuleContext, at: Instant, component: ComponentOf<'load'> | ComponentOf<'input'>): boolean {
  const amps = at.moment.amps(component.id);
  if (amps.sort !== 'value') return amps.sort === 'not-evaluated';
  let leak = 0;
  for (const id of idleOutputs(context, at, component.id)) {
    const output = componentOf(context.design, id, 'output');
    if (output === undefined) continue;
    if (output.leak === undefined && wiringOf(context.design).isWired(output.a))
      lacks(context, component.id, 'leak', id);
    leak += output.leak?.most ?? 0;
  }
  // A little more than the sum, for what rounding adds.
  return amps.usual <= leak * 1.01 + 1e-12;
}
