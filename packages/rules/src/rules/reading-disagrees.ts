import type { CaseAnalysis, Reading, TerminalId, Value } from '@couplet/engine';
import { nameOf, ofKind } from '../circuit/circuits.ts';
import { defineRule } from '../define.ts';
import type { RuleContext } from '../rule.ts';
import { evaluated } from '../support/instants.ts';
import { show, span } from '../support/words.ts';

interface Data {
  readonly reading: Reading;
  readonly what: string;
  readonly predicted: Value;
  readonly meter: number;
}

/** A digital meter: 10 MΩ on volts, ± (0.8 % + 2 digits). Common practice, no source. */
const METER_OHMS = 10e6;
const METER_SHARE = 0.008;
const METER_DIGITS = 2;
/** Ohms of its leads. */
const LEADS = 0.3;
/** What is added to the spread of a loop's ohms for joints. */
const JOINTS = 1;

export const readingDisagrees = defineRule<Data>({
  name: 'reading-disagrees',
  thresholds: [],
  explains: [],
  *find(context) {
    const cases = firstByName(context.analysis.cases);
    for (const reading of context.design.readings) {
      const one = cases.get(reading.case);
      const subject = subjectOf(context, reading);
      if (one === undefined || subject === undefined) continue;
      const meter = Math.abs(reading.value) * METER_SHARE + METER_DIGITS * lastDigit(reading.value);
      const predictions = one.moments
        .map((_, index) => predict(context, reading, one, index, subject))
        .filter((value) => value !== undefined);
      if (predictions.length === 0) continue;
      // A case passes through several moments, and the person read the meter at one of them.
      if (predictions.some((value) => reading.value >= value.least - meter && reading.value <= value.most + meter))
        continue;
      const predicted = predictions.sort((a, b) => away(a, reading.value) - away(b, reading.value))[0]!;
      yield {
        severity: 'error',
        origin: reading.origin,
        subject,
        caseName: one.name,
        related: [
          {
            origin: context.design.components[subject]!.origin,
            message: `${nameOf(context.design, subject)} is declared here`,
          },
        ],
        data: { reading, what: whatOf(context, reading), predicted, meter },
      };
    }
  },
  word({ data }) {
    const { reading, what, predicted, meter } = data;
    return (
      `Measured on ${reading.date} in case ${reading.case}: ${what} = ${show(reading.value, predicted.unit)}. Predicted: ${span(predicted)}, ` +
      `and the meter may be off by ${show(meter, predicted.unit)}. What is on site is not what is written here: a part, a joint or the file is wrong.`
    );
  },
  figures: ({ data }) => [{ label: `predicted ${data.what}`, figure: data.predicted }],
});

function subjectOf(context: RuleContext, reading: Reading): number | undefined {
  return reading.component ?? (reading.a === undefined ? undefined : context.design.terminals[reading.a]?.component);
}

function whatOf(context: RuleContext, reading: Reading): string {
  if (reading.component !== undefined) return `amperes in ${nameOf(context.design, reading.component)}`;
  const name = (terminal: TerminalId | undefined) =>
    terminal === undefined ? '?' : context.design.terminals[terminal]?.name;
  return `${reading.quantity} ${name(reading.a)} to ${name(reading.b)}`;
}

/** One step of the last digit that a meter of 2,000 counts shows for a value. */
function lastDigit(value: number): number {
  const size = Math.abs(value);
  if (size === 0) return 0.001;
  return 10 ** (Math.floor(Math.log10(size / 2)) - 2);
}

function away(value: Value, reading: number): number {
  return Math.max(value.least - reading, reading - value.most, 0);
}

function predict(
  context: RuleContext,
  reading: Reading,
  one: CaseAnalysis,
  index: number,
  subject: number,
): Value | undefined {
  const moment = one.moments[index]!;
  if (reading.quantity === 'amps' && reading.component !== undefined) {
    return evaluated(context, subject, moment.amps(reading.component));
  }
  if (reading.a === undefined || reading.b === undefined) return undefined;
  if (reading.quantity === 'volts') {
    const meter = moment.vary([{ sort: 'join', a: reading.a, b: reading.b, ohms: METER_OHMS }]);
    return evaluated(context, subject, meter.volts(reading.a, reading.b));
  }
  // A dead loop lifted at the zone's hot terminal measures what the panel infers; other places are not computed yet.
  const zone = [...ofKind(context.design, 'zone')].find((each) => each.a === reading.a && each.b === reading.b);
  if (zone === undefined) {
    context.gap({ subject, needs: [], reason: 'ohms between these two terminals are not computed yet' });
    return undefined;
  }
  const ohms = evaluated(context, subject, moment.reading(zone.id).ohms);
  if (ohms === undefined) return undefined;
  return { ...ohms, least: ohms.least, most: ohms.most + LEADS + JOINTS };
}

/** Cases by name; what a battery carries bears the name of the written case before it. */
function firstByName(cases: readonly CaseAnalysis[]): ReadonlyMap<string, CaseAnalysis> {
  const named = new Map<string, CaseAnalysis>();
  for (const one of cases) if (!named.has(one.name)) named.set(one.name, one);
  return named;
}
