/** Expectations that the computation does not bear out. */
import type { CaseAnalysis, ComponentId } from '@couplet/engine';

/** Whether a case expects something of one of some components that does not come about. */
export function failedOn(of: CaseAnalysis, concerns: (component: ComponentId) => boolean): boolean {
  return of.verdicts.some(
    ({ holds, expect: { subject } }) => holds === false && subject.sort === 'component' && concerns(subject.component),
  );
}
