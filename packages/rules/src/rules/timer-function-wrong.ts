import type { CaseAnalysis, ComponentOf, Signal } from '@couplet/engine';
import { ofKind } from '../circuit/circuits.ts';
import { downstreamOf } from '../circuit/reach.ts';
import { defineRule } from '../define.ts';
import type { RuleContext } from '../rule.ts';
import { mostSize } from '../support/coil-volts.ts';
import { failedOn } from '../support/failed.ts';
import { evaluated } from '../support/instants.ts';
import { show } from '../support/words.ts';

type Timer = ComponentOf<'relay'>;

interface Data {
  readonly timer: Timer;
  readonly caseName: string;
  readonly why: string;
  readonly cure: string;
}

export const timerFunctionWrong = defineRule<Data>({
  name: 'timer-function-wrong',
  thresholds: [],
  explains: ['expectation-failed'],
  reach: 'downstream',
  *find(context) {
    for (const timer of ofKind(context.design, 'relay')) {
      if (timer.timer === undefined) continue;
      const downstream = downstreamOf(context.design, timer.id);
      for (const one of context.analysis.cases) {
        if (!failedOn(one, (component) => downstream.has(component))) continue;
        const found = missedTrigger(timer, one) ?? noSupply(context, timer, one);
        if (found === undefined) continue;
        const data = { timer, caseName: one.name, ...found };
        yield { severity: 'error', origin: timer.origin, subject: timer.id, caseName: one.name, data };
        break;
      }
    }
  },
  word({ data }) {
    const { timer, caseName, why, cure } = data;
    return `In case ${caseName}, ${timer.name} cannot do what is expected: ${why}. ${cure}`;
  },
});

/** Its trigger is there, but not as long as the timer needs it. */
function missedTrigger({ id, name, timer }: Timer, one: CaseAnalysis): Pick<Data, 'why' | 'cure'> | undefined {
  const triggers = one.signals.filter(({ component }) => component === id);
  if (triggers.length === 0) return undefined;
  const { longest } = triggers.reduce((most, each): Signal => (each.longest > most.longest ? each : most));
  const { minimumTrigger, time } = timer!;
  if (minimumTrigger !== undefined && longest < minimumTrigger.most) {
    return {
      why: `its trigger lasts for ${show(longest, 's')}, and it takes up to ${show(minimumTrigger.most, 's')} to see one`,
      cure: `Lengthen the trigger, or take a timer that sees shorter ones.`,
    };
  }
  if (timer!.function.word !== 'on-delay' || time === undefined || longest >= time.least) return undefined;
  return {
    why: `its on-delay of ${show(time.usual, 's')} begins with a trigger that is over after ${show(longest, 's')}`,
    cure: `Set a shorter time, or take a function that a short trigger starts: an off-delay or a one-shot for ${name}.`,
  };
}

/** Its control is on while its supply is not. */
function noSupply(context: RuleContext, { id, coil, timer }: Timer, one: CaseAnalysis) {
  const { works, control, controlTo } = timer!;
  if (control === undefined || works === undefined) return undefined;
  for (const moment of one.moments) {
    const driven = evaluated(context, id, moment.volts(control, controlTo ?? coil.b));
    if (driven === undefined || mostSize(driven) < works.least) continue;
    const supply = evaluated(context, id, moment.volts(coil.a, coil.b));
    const volts = supply === undefined ? 0 : mostSize(supply);
    if (volts >= works.least) continue;
    return {
      why: `its control B1 is on while its supply A1-A2 has ${show(volts, 'V')} of the ${show(works.least, 'V')} that it works from`,
      cure: `Feed A1-A2 from what stays on; the control alone starts nothing.`,
    };
  }
  return undefined;
}
