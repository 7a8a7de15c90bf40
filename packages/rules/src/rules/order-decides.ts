import { defineRule } from '../define.ts';
import { factsOf, type ProblemData, problemsOf } from '../support/problems.ts';

export const orderDecides = defineRule<ProblemData>({
  name: 'order-decides',
  thresholds: [],
  explains: ['expectation-failed'],
  reach: 'downstream',
  *find(context) {
    for (const detection of problemsOf(context, new Set(['order-decides']), 'warning')) {
      const one = context.analysis.cases.find(({ name }) => name === detection.caseName);
      const fails = one?.verdicts.some(({ holds, order }) => order !== undefined && holds === false) === true;
      yield fails ? { ...detection, severity: 'error' } : detection;
    }
  },
  word({ data }) {
    return (
      `Two events may come in either order, and it makes a difference: ${factsOf(data.problem)}. ` +
      `Lengthen one of the times until they do not overlap, or wire it so that the order does not matter.`
    );
  },
});
