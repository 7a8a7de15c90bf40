import {
  type Analysis,
  type CaseAnalysis,
  type ComponentOf,
  type Datum,
  type Design,
  type Signal,
  writeQuantity,
} from '@couplet/engine';
import { componentOf } from '../circuit/circuits.ts';
import { defineRule, levels } from '../define.ts';
import { assumptionOf } from '../support/coil.ts';
import { lacks } from '../support/instants.ts';
import { whereWired } from '../support/place.ts';
import { percent, show } from '../support/words.ts';

interface Data {
  readonly reader: ComponentOf<'zone'> | ComponentOf<'input'>;
  readonly signal: Signal;
  readonly responds: number;
  readonly caseName: string;
}

export const signalTooShort = defineRule<Data>({
  name: 'signal-too-short',
  thresholds: levels(
    {
      value: 1,
      unit: '',
      says: 'shortest signal over the response time',
      origin: 'EN 50131-1, 400 ms',
      standing: 'standard from memory',
      settable: false,
    },
    {
      value: 2,
      unit: '',
      says: 'shortest signal over the response time, with a margin of two',
      origin: 'rule of thumb',
      standing: 'common practice',
      settable: true,
    },
  ),
  explains: ['expectation-failed'],
  *find(context) {
    const worst = new Map<number, Data>();
    for (const one of context.analysis.cases) {
      for (const signal of one.signals) {
        const reader =
          componentOf(context.design, signal.component, 'zone') ??
          componentOf(context.design, signal.component, 'input');
        // What lasts until the case ends was never meant to be short.
        if (reader === undefined || signal.shortest === Number.POSITIVE_INFINITY) continue;
        if (beganBefore(context.analysis, one, signal)) continue;
        if (reader.responds === undefined) {
          lacks(context, reader.id, 'responds');
          continue;
        }
        const known = worst.get(reader.id);
        if (known !== undefined && known.signal.shortest <= signal.shortest) continue;
        worst.set(reader.id, { reader, signal, responds: reader.responds.most, caseName: one.name });
      }
    }
    for (const data of worst.values()) {
      const ratio = data.signal.shortest / data.responds;
      const limit = Math.max(context.threshold('error').value, context.threshold('warning').value);
      if (!(ratio < limit)) continue;
      yield {
        severity: ratio < context.threshold('error').value ? 'error' : 'warning',
        origin: data.signal.origin < 0 ? whereWired(context.design, data.reader.id, data.reader.a) : data.signal.origin,
        subject: data.reader.id,
        caseName: data.caseName,
        related: [
          {
            origin: data.reader.responds!.origin,
            message: `${data.reader.name} responds within ${show(data.responds, 's')}`,
          },
        ],
        assumptions: assumptionOf(data.reader.responds),
        data,
      };
    }
  },
  word({ data, severity }, context) {
    const { reader, signal, responds, caseName } = data;
    const ratio = signal.shortest / responds;
    const stands = `In case ${caseName}, ${reader.name} reads ${signal.className} for ${show(signal.shortest, 's')} at its shortest`;
    const wanted = responds * context.threshold('warning').value;
    const cure = `Let the signal stand for at least ${show(wanted, 's')}: lengthen the pulse, put a timer behind it, or let the contact follow the cause.`;
    if (severity === 'error') {
      return `${stands}, and the panel needs up to ${show(responds, 's')} to see it: it may never be reported. ${cure}`;
    }
    return `${stands}, ${percent(ratio)} of the ${show(responds, 's')} that the panel needs to see it. ${cure}`;
  },
  cures({ data }, context) {
    const { caseName, responds, signal } = data;
    const lacking = responds * context.threshold('warning').value - signal.shortest;
    return pulsesOf(context.design, caseName).map(({ name, datum }) => {
      // Up to the next tenth of a second, with a tenth in hand for the times of the relays on the way.
      const seconds = (Math.ceil((datum.least + lacking) * 10) + 1) / 10;
      const text = writeQuantity(seconds, 's');
      return { title: `Let ${name} pulse for ${text}`, safe: false, edits: [{ origin: datum.origin, text }] };
    });
  },
});

/** Pulses of outputs in a case: those that it writes, and those that the outputs are set to. */
function pulsesOf(design: Design, caseName: string): readonly { readonly name: string; readonly datum: Datum }[] {
  const steps = design.cases.find(({ name }) => name === caseName)?.steps ?? [];
  return steps.flatMap((step) => {
    if (step.sort !== 'turn') return [];
    const output = componentOf(design, step.target, 'output');
    const datum = step.for ?? output?.pulseLength;
    return output === undefined || datum === undefined || datum.origin < 0 ? [] : [{ name: output.name, datum }];
  });
}

/** Whether a signal stood already when a case took over from the one it follows: how long it stood is not this case's to say. */
function beganBefore(analysis: Analysis, one: CaseAnalysis, signal: Signal): boolean {
  const before = one.case?.after;
  if (before === undefined || one.signals.find((each) => each.component === signal.component) !== signal) return false;
  const followed = analysis.cases.find((each) => each.case === analysis.design.cases[before]);
  const moment = followed?.moments.at(-1);
  if (moment === undefined) return false;
  const { usual } = moment.reading(signal.component);
  return (usual ?? moment.states(signal.component)[0]) === signal.className;
}
