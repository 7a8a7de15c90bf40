/** What the mathematics could not accept, as findings. */
import type { Analysis, Problem } from '@couplet/engine';
import { nameOf } from '../circuit/circuits.ts';
import type { Detection, RuleContext, Severity } from '../rule.ts';

export interface ProblemData {
  readonly problem: Problem;
}

/** One detection for each set of components that have a problem of a sort, with the first case in which they have it. */
export function* problemsOf(
  context: RuleContext,
  sorts: ReadonlySet<Problem['sort']>,
  severity: Severity,
): Generator<Detection<ProblemData>> {
  const said = new Set<string>();
  for (const problem of problemsIn(context.analysis, sorts)) {
    const [first] = problem.components;
    const key = `${problem.sort} ${problem.components.join(' ')}`;
    if (first === undefined || said.has(key)) continue;
    said.add(key);
    yield {
      severity,
      origin: context.design.components[first]?.origin ?? context.design.site.origin,
      subject: first,
      alsoConcerns: problem.components.slice(1),
      caseName: problem.caseName,
      related: problem.components.slice(1).map((id) => ({
        origin: context.design.components[id]?.origin ?? -1,
        message: `${nameOf(context.design, id)} is part of it`,
      })),
      data: { problem },
    };
  }
}

function problemsIn(analysis: Analysis, sorts: ReadonlySet<Problem['sort']>): readonly Problem[] {
  return analysis.problems.filter((problem) => sorts.has(problem.sort));
}

/** `K1, K2: facts (case, moment)`. */
export function factsOf(problem: Problem): string {
  const detail = problem.detail.replace(/\.$/, '');
  return `${detail} (case ${problem.caseName}, ${problem.moment})`;
}
