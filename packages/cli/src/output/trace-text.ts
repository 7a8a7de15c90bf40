/** What readings say, for a person: the verdicts on each, the causes that fit best, and what to measure next. */
import {
  type Candidate,
  type Dimension,
  type FaultSpread,
  formatFigure,
  formatRange,
  formatSpread,
  LOOP_DIGITS,
  type Point,
  type Trace,
  type TracedReading,
} from '@couplet/engine';
import type { Paint } from '../terminal.ts';
import { nameIn } from './site-faults.ts';

export interface SiteTraces {
  readonly title: string;
  readonly file: string;
  /** One a set of readings that belong together. */
  readonly traces: readonly Trace[];
}

const UNITS: Readonly<Record<Point['quantity'], Dimension>> = { volts: 'V', ohms: 'ohm', amps: 'A' };

/** Share of the best weight down to which candidates are listed, and how many at most. */
const SHOWN_SHARE = 0.01;
const MOST_SHOWN = 12;

export function textTraces({ title, file, traces }: SiteTraces, paint: Paint): string {
  const lines = [paint('bold', `${title} (${file})`)];
  for (const trace of traces) {
    lines.push('', ...trace.readings.flatMap((each) => readingLines(trace, each, paint)));
    lines.push('', ...candidateLines(trace, paint), ...nextLines(trace));
  }
  return `${lines.join('\n')}\n`;
}

function readingLines(trace: Trace, traced: TracedReading, paint: Paint): string[] {
  const { allowed, asPredicted, class: name, expectedClass, inBand, predicted, reading, reason } = traced;
  const unit = UNITS[reading.quantity];
  const value = formatFigure(reading.value, unit, { digits: LOOP_DIGITS });
  const lines = [`${reading.case}: ${whatOf(trace, reading)} = ${value}`];
  if (asPredicted === 'not-evaluated') return [...lines, `  not evaluated: ${reason ?? 'a datum is missing'}`];
  if (inBand !== undefined) {
    const verdict = inBand ? paint('green', 'in band') : paint('red', 'not in band');
    const says = `the panel takes it as ${name ?? 'nothing it knows'}`;
    lines.push(`  ${verdict}: ${says}${inBand ? '' : `, and should take it as ${expectedClass}`}`);
  }
  const verdict = asPredicted ? paint('green', 'as predicted') : paint('red', 'not as predicted');
  const range = allowed === undefined ? '' : `, allowed ${rangeText(allowed.least, allowed.most, unit)}`;
  lines.push(`  ${verdict}: predicted ${spreadText(predicted, unit)}${range} with parts, joints, cable and meter`);
  return lines;
}

function spreadText(spread: FaultSpread | undefined, unit: Dimension): string {
  return spread === undefined ? 'nothing' : formatSpread(spread, unit, { digits: LOOP_DIGITS });
}

function rangeText(least: number, most: number, unit: Dimension): string {
  return formatRange(least, most, unit, { digits: LOOP_DIGITS });
}

export function whatOf({ design }: Trace, { a, b, component, quantity }: Point): string {
  if (component !== undefined) return `amps in ${nameIn(design, component)}`;
  const name = (terminal: number | undefined) => design.terminals[terminal ?? -1]?.name ?? '?';
  return `${quantity} ${name(a)} to ${name(b)}`;
}

function candidateLines(trace: Trace, paint: Paint): string[] {
  const { candidates, unexplained } = trace;
  const best = candidates[0]?.weight ?? 0;
  const shown = candidates
    .filter(({ group, weight }) => group === 0 || weight >= SHOWN_SHARE * best)
    .slice(0, MOST_SHOWN);
  if (candidates[0]?.fault === undefined && candidates[0]?.fits.every(({ fits }) => fits)) {
    const hidden = candidates.slice(1).filter(({ group }) => group === 0);
    return [
      `${paint('bold', 'the site as written explains what was read')}${whyText(trace, candidates[0])}`,
      ...(hidden.length === 0 ? [] : [`  these would not show in it: ${hidden.map(({ name }) => name).join(', ')}`]),
    ];
  }
  const head = unexplained
    ? 'no single fault explains this: more than one thing is wrong, or a reading is; nearest come'
    : 'what explains it, best first; what stands together reads alike';
  const lines = [paint('bold', head)];
  let group = -1;
  for (const candidate of shown) {
    const first = candidate.group !== group;
    group = candidate.group;
    const share = `${(candidate.weight * 100).toFixed(candidate.weight < 0.095 ? 1 : 0)} %`;
    lines.push(`  ${first ? share.padStart(6) : '      '}  ${candidate.name}${first ? whyText(trace, candidate) : ''}`);
  }
  const left = candidates.length - shown.length;
  if (left > 0) lines.push(paint('dim', `          ${left} more fit worse`));
  return lines;
}

/** How well it fits, reading by reading where it does not. */
function whyText({ readings }: Trace, { fits }: Candidate): string {
  const misfits = fits.flatMap(({ fits: isFit, off, predicted }, i) => {
    const traced = readings[i];
    if (isFit || traced === undefined || predicted === undefined) return [];
    const unit = UNITS[traced.reading.quantity];
    return [`${traced.reading.case} would show ${spreadText(predicted, unit)}, ${tolerances(off)} away`];
  });
  if (misfits.length > 0) return `: ${misfits.join('; ')}`;
  const computed = fits.filter(({ predicted }) => predicted !== undefined).length;
  if (computed === 0) return '';
  return computed === 1
    ? ': fits the reading'
    : computed === 2
      ? ': fits both readings'
      : `: fits all ${computed} readings`;
}

function tolerances(off: number): string {
  const rounded = off < 10 ? off.toFixed(1) : String(Math.round(off));
  return `${rounded} tolerances of the meter`;
}

function nextLines(trace: Trace): string[] {
  const { candidates, next } = trace;
  if (next === undefined) return [];
  const unit = UNITS[next.point.quantity];
  return [
    '',
    `measure next: ${next.case}: ${next.what}`,
    ...next.outcomes.map(({ candidates: indices, spread }) => {
      const names = indices.map((index) => candidates[index]?.name ?? '?').join(', ');
      return `  ${rangeText(spread.least, spread.most, unit)}: ${names}`;
    }),
  ];
}
