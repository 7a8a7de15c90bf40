import { nameOf } from '../circuit/circuits.ts';
import { defineRule } from '../define.ts';
import { factsOf, type ProblemData, problemsOf } from '../support/problems.ts';
import { list } from '../support/words.ts';

export const powerNotDeliverable = defineRule<ProblemData>({
  name: 'power-not-deliverable',
  thresholds: [],
  explains: [],
  find: (context) => problemsOf(context, new Set(['no-solution']), 'error'),
  word({ data }, { design }) {
    const names = list(data.problem.components.map((id) => nameOf(design, id)));
    return (
      `${names} draws constant power and asks for more than can reach it: as its volts fall it draws more, until nothing is left. ` +
      `${factsOf(data.problem)}. It takes a thicker or shorter cable, or a higher voltage.`
    );
  },
});
