/** The moments at which a component can be other than at rest, and the worst of a figure over them. */
import type { Analysis, CaseAnalysis, ComponentId, Figure, Moment, Value } from '@couplet/engine';
import type { RuleContext } from '../rule.ts';

export interface Instant {
  readonly moment: Moment;
  readonly of: CaseAnalysis;
  /** Index among the moments of its case. */
  readonly index: number;
  readonly isRest: boolean;
}

/** Cases that somebody wrote, rest first, in which a component may change. */
export function casesOf(analysis: Analysis, component: ComponentId): readonly CaseAnalysis[] {
  return analysis.casesOf(component).filter((one) => one.onBattery === undefined);
}

/** Every moment of every case in which a component may change, rest first, those on batteries included. */
export function instantsOf(analysis: Analysis, component: ComponentId): readonly Instant[] {
  return analysis
    .casesOf(component)
    .flatMap((of) =>
      of.moments.map((moment, index) => ({ moment, of, index, isRest: of === analysis.cases[0] && index === 0 })),
    );
}

export function restOf(analysis: Analysis): Moment | undefined {
  return analysis.cases[0]?.moments[0];
}

export interface Worst {
  readonly value: Value;
  readonly score: number;
  readonly at: Instant;
}

/**
 * The instant at which `score` of a figure is greatest. Figures that lack a datum become gaps of `subject`; instants
 * without connection, and scores of -Infinity, are passed over.
 */
export function worstOf(
  context: RuleContext,
  subject: ComponentId,
  instants: Iterable<Instant>,
  pick: (at: Instant) => Figure | undefined,
  score: (value: Value, at: Instant) => number,
): Worst | undefined {
  let worst: Worst | undefined;
  for (const at of instants) {
    const value = evaluated(context, subject, pick(at));
    if (value === undefined) continue;
    const scored = score(value, at);
    if (scored > (worst?.score ?? Number.NEGATIVE_INFINITY)) worst = { value, score: scored, at };
  }
  return worst;
}

/** The value of a figure; a missing datum is reported as a gap, no connection is nothing to judge. */
export function evaluated(context: RuleContext, subject: ComponentId, figure: Figure | undefined): Value | undefined {
  if (figure === undefined || figure.sort === 'no-connection') return undefined;
  if (figure.sort === 'value') return figure;
  context.gap({ subject, needs: figure.needs, reason: figure.reason });
  return undefined;
}

/** A missing datum of a component, as a gap. */
export function lacks(context: RuleContext, subject: ComponentId, property: string, component = subject): void {
  const origin = context.design.components[component]?.origin ?? -1;
  context.gap({ subject, needs: [{ component, property, origin }] });
}

/** Whether a component may be in a state at a moment. */
export function mayBe(at: Instant, component: ComponentId, ...words: readonly string[]): boolean {
  return at.moment.states(component).some((state) => words.includes(state));
}

/** Whether a case expects a component to be in a state, and the computation bears it out. */
export function isExpected(of: CaseAnalysis, component: ComponentId, word: string): boolean {
  return of.verdicts.some(
    ({ expect, holds }) =>
      holds === true &&
      expect.subject.sort === 'component' &&
      expect.subject.component === component &&
      expect.predicate.sort === 'state' &&
      expect.predicate.word === word,
  );
}
