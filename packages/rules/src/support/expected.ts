/** What cases expect of a zone when one thing alone is turned. */
import type { CaseAnalysis, ComponentId } from '@couplet/engine';
import { NORMAL } from './loop.ts';

/** Classes other than normal that cases which turn one thing alone expect of a zone, by that thing. */
export function expectedByDriver(
  cases: readonly CaseAnalysis[],
  zone: ComponentId,
): ReadonlyMap<ComponentId, readonly string[]> {
  const found = new Map<ComponentId, string[]>();
  for (const { case: what } of cases) {
    if (what === undefined || what.after !== undefined) continue;
    const turned = new Set<ComponentId>();
    for (const step of what.steps) if (step.sort === 'turn') turned.add(step.target);
    if (turned.size !== 1) continue;
    const [driver] = turned;
    for (const step of what.steps) {
      if (step.sort !== 'expect' || step.subject.sort !== 'component' || step.subject.component !== zone) continue;
      if (step.predicate.sort !== 'state' || ['any', NORMAL].includes(step.predicate.word)) continue;
      found.set(driver!, [...(found.get(driver!) ?? []), step.predicate.word]);
    }
  }
  return found;
}
