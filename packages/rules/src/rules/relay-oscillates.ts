import { nameOf } from '../circuit/circuits.ts';
import { defineRule } from '../define.ts';
import { factsOf, type ProblemData, problemsOf } from '../support/problems.ts';
import { list } from '../support/words.ts';

export const relayOscillates = defineRule<ProblemData>({
  name: 'relay-oscillates',
  thresholds: [],
  explains: [],
  reach: 'downstream',
  find: (context) => problemsOf(context, new Set(['relay-oscillates']), 'error'),
  word({ data }, { design }) {
    const names = list(data.problem.components.map((id) => nameOf(design, id)));
    return (
      `${names} finds no stable state: operated it opens its own circuit, released it closes it again. ${factsOf(data.problem)}. ` +
      `Take the coil's feed from somewhere that its own contact does not switch.`
    );
  },
});
