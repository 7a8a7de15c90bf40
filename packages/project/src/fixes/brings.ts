/** What a fix does to the figure that a finding is about: found again in the changed design, at the same part and moment. */
import {
  type Analysis,
  type CaseAnalysis,
  type Component,
  type Dimension,
  type Figure,
  formatSpread,
  LOOP_DIGITS,
  type Moment,
  type Value,
} from '@couplet/engine';
import type { Analyses, Coupled } from '../analyses.ts';
import type { ProjectFinding } from '../finding.ts';

type Measure = (moment: Moment, part: Component) => Figure | undefined;

/** Every figure that a rule may judge of a part. */
const MEASURES: readonly Measure[] = [
  (moment, part) => ('a' in part && 'b' in part ? moment.volts(part.a, part.b) : undefined),
  (moment, part) => (part.kind === 'relay' ? moment.volts(part.coil.a, part.coil.b) : undefined),
  (moment, part) => moment.demand(part.id),
  (moment, part) => moment.amps(part.id),
  (moment, part) => moment.watts(part.id),
  (moment, part) => (part.kind === 'zone' ? moment.reading(part.id).ohms : undefined),
  (moment, part) => (part.kind === 'zone' ? moment.reading(part.id).volts : undefined),
];

/** `volts at P1 10.9 V (10.2 V .. 11.4 V)`; undefined where the finding has no figure or it is not there any more. */
export function broughtFigure(before: Analyses, after: Analyses, finding: ProjectFinding): string | undefined {
  const [named] = finding.figures;
  if (named?.figure.sort !== 'value' || finding.subject === undefined) return undefined;
  const judged = named.figure;
  const found = partNamed(before, finding.subject);
  const foundLater = partNamed(after, finding.subject);
  if (found === undefined || foundLater === undefined) return undefined;
  const { analysis, part } = found;
  const later = foundLater.part;
  for (const one of casesFor(analysis, part, finding.caseName)) {
    const same = foundLater.analysis.cases.find(({ name }) => name === one.name);
    if (same === undefined) continue;
    for (const [index, moment] of one.moments.entries()) {
      const then =
        same.moments.find(({ label, time }) => label === moment.label && time === moment.time) ?? same.moments[index];
      const measure = MEASURES.find((each) => isSame(each(moment, part), judged));
      const figure = then && measure?.(then, later);
      if (figure?.sort === 'value') return `${named.label} ${spread(figure)}`;
    }
  }
  return undefined;
}

function casesFor(analysis: Analysis, part: Component, caseName: string | undefined): readonly CaseAnalysis[] {
  if (caseName === undefined) return analysis.casesOf(part.id);
  return analysis.cases.filter(({ name }) => name === caseName);
}

/** The part as its coupling has it. */
function partNamed(analyses: Analyses, name: string): Coupled | undefined {
  const there = analyses.design.components.find((each) => each.name === name);
  return there && analyses.at(there.id);
}

function isSame(figure: Figure | undefined, judged: Value): boolean {
  if (figure?.sort !== 'value' || figure.unit !== judged.unit) return false;
  return figure.least === judged.least && figure.most === judged.most;
}

function spread({ least, usual, most, unit }: Value): string {
  return formatSpread({ least, usual, most }, unit as Dimension, unit === 'ohm' ? { digits: LOOP_DIGITS } : {});
}
