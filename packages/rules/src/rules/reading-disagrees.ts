import {
  CABLE_SHARE,
  type CaseAnalysis,
  JOINTS_OHMS,
  LEADS_OHMS,
  METER_OHMS,
  METER_OPEN,
  meterTolerance,
  type Reading,
  type TerminalId,
  type Value,
} from '@couplet/engine';
import { circuitComponents, componentOf, nameOf } from '../circuit/circuits.ts';
import { defineRule } from '../define.ts';
import type { RuleContext } from '../rule.ts';
import { evaluated } from '../support/instants.ts';
import { show, span } from '../support/words.ts';

interface Data {
  readonly reading: Reading;
  readonly what: string;
  readonly predicted: Value;
  /** How far the reading may be off: the meter, what was rounded away, and for ohms joints and copper. SI. */
  readonly slack: number;
  /** A later reading at the same place, in whichever case, that is as predicted. */
  readonly later?: Reading;
}

interface Judged {
  readonly reading: Reading;
  readonly subject: number;
  readonly fits: boolean;
  readonly predicted: Value;
  readonly slack: number;
}

export const readingDisagrees = defineRule<Data>({
  name: 'reading-disagrees',
  thresholds: [],
  explains: [],
  *find(context) {
    const cases = firstByName(context.analysis.cases);
    const judged = context.design.readings.flatMap((reading) => judge(context, reading, cases.get(reading.case)) ?? []);
    for (const { fits, predicted, reading, slack, subject } of judged) {
      if (fits) continue;
      // A later reading at the same place bears out what is written: this one is of an earlier state.
      const later = judged.find(
        (other) => other.fits && other.reading.date > reading.date && isSamePoint(other.reading, reading),
      )?.reading;
      const declared = { origin: context.design.components[subject]!.origin };
      yield {
        severity: later === undefined ? 'error' : 'warning',
        origin: reading.origin,
        subject,
        caseName: reading.case,
        related: [
          { ...declared, message: `${nameOf(context.design, subject)} is declared here` },
          ...(later === undefined
            ? []
            : [{ origin: later.origin, message: `The reading of ${later.date} is as predicted` }]),
        ],
        data: { reading, what: whatOf(context, reading), predicted, slack, ...(later === undefined ? {} : { later }) },
      };
    }
  },
  word({ data }, context) {
    const { later, predicted, reading, slack, what } = data;
    const said =
      `Measured on ${reading.date} in case ${reading.case}: ${what} = ${show(reading.value, predicted.unit)}. Predicted: ${span(predicted)}, ` +
      `and the reading may be off by ${show(slack, predicted.unit)}.`;
    if (later === undefined) {
      return `${said} What is on site is not what is written here: a part, a joint or the file is wrong.`;
    }
    return (
      `${said} The reading of ${later.date} in case ${later.case}, ${whatOf(context, later)} = ${show(later.value, UNITS[later.quantity])}, is as predicted: ` +
      'this one is older than the last electrical change of its circuit. Measure again, or strike it out.'
    );
  },
  figures: ({ data }) => [{ label: `predicted ${data.what}`, figure: data.predicted }],
});

const UNITS: Readonly<Record<Reading['quantity'], string>> = { volts: 'V', ohms: 'ohm', amps: 'A' };

/** What becomes of a reading; undefined where nothing is predicted for it. */
function judge(context: RuleContext, reading: Reading, one: CaseAnalysis | undefined): Judged | undefined {
  const subject = subjectOf(context, reading);
  if (one === undefined || subject === undefined) return undefined;
  const predictions = one.moments
    .map((_, index) => predict(context, reading, one, index, subject))
    .filter((value) => value !== undefined);
  const slack = meterTolerance(reading.value, reading.quantity) + roomOf(context, reading, subject);
  // A case passes through several moments, and the person read the meter at one of them.
  const [nearest] = [...predictions].sort((a, b) => away(a, reading.value) - away(b, reading.value));
  if (nearest === undefined) return undefined;
  return { reading, subject, fits: fits(reading, nearest, slack), predicted: nearest, slack };
}

function isSamePoint(one: Reading, other: Reading): boolean {
  if (one.component !== undefined || other.component !== undefined) return one.component === other.component;
  return (one.a === other.a && one.b === other.b) || (one.a === other.b && one.b === other.a);
}

function fits({ quantity, value }: Reading, { least, most }: Value, slack: number): boolean {
  // An open circuit shows as anything beyond the range of the meter.
  const low = quantity === 'ohms' ? Math.min(least, METER_OPEN) : least;
  return value >= low - slack && value <= most + slack;
}

/** Ohms by which joints and copper may differ from what is computed; none but for ohms. */
function roomOf(context: RuleContext, { quantity }: Reading, subject: number): number {
  if (quantity !== 'ohms') return 0;
  let copper = 0;
  for (const id of circuitComponents(context.design, subject)) {
    copper += componentOf(context.design, id, 'core')?.ohms?.usual ?? 0;
  }
  return CABLE_SHARE * copper + JOINTS_OHMS;
}

function subjectOf(context: RuleContext, reading: Reading): number | undefined {
  return reading.component ?? (reading.a === undefined ? undefined : context.design.terminals[reading.a]?.component);
}

function whatOf(context: RuleContext, reading: Reading): string {
  if (reading.component !== undefined) return `amperes in ${nameOf(context.design, reading.component)}`;
  const name = (terminal: TerminalId | undefined) =>
    terminal === undefined ? '?' : context.design.terminals[terminal]?.name;
  return `${reading.quantity} ${name(reading.a)} to ${name(reading.b)}`;
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
  const { a, b, component, quantity } = reading;
  if (quantity === 'amps') {
    return component === undefined ? undefined : evaluated(context, subject, moment.amps(component));
  }
  if (a === undefined || b === undefined) return undefined;
  if (quantity === 'volts') {
    const meter = moment.vary([{ sort: 'join', a, b, ohms: METER_OHMS }]);
    return evaluated(context, subject, meter.volts(a, b));
  }
  const ohms = evaluated(context, subject, moment.ohms(a, b));
  if (ohms === undefined) return undefined;
  return { ...ohms, least: ohms.least + LEADS_OHMS, usual: ohms.usual + LEADS_OHMS, most: ohms.most + LEADS_OHMS };
}

/** Cases by name; what a battery carries bears the name of the written case before it. */
function firstByName(cases: readonly CaseAnalysis[]): ReadonlyMap<string, CaseAnalysis> {
  const named = new Map<string, CaseAnalysis>();
  for (const one of cases) if (!named.has(one.name)) named.set(one.name, one);
  return named;
}
