import { nameOf } from '../circuit/circuits.ts';
import { defineRule } from '../define.ts';
import { factsOf, type ProblemData, problemsOf } from '../support/problems.ts';
import { list } from '../support/words.ts';

export const solutionUnsound = defineRule<ProblemData>({
  name: 'solution-unsound',
  thresholds: [],
  explains: [],
  find: (context) => problemsOf(context, new Set(['residual', 'bound-reached']), 'error'),
  word({ data }, { design }) {
    const names = list(data.problem.components.map((id) => nameOf(design, id)));
    return (
      `The figures of the circuit with ${names} are not to be relied on: ${factsOf(data.problem)}. This is a limit of the ` +
      `computation, not of the site; please report it with the file.`
    );
  },
});
