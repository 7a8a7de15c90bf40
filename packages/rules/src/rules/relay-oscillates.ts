import { nameOf } from '../circuit/circuits.ts';
import { defineRule } from '../define.ts';
import { type ProblemData, problemsOf } from '../support/problems.ts';
import { list } from '../support/words.ts';

export const relayOscillates = defineRule<ProblemData>({
  name: 'relay-oscillates',
  thresholds: [],
  explains: [],
  reach: 'downstream',
  find: (context) => problemsOf(context, new Set(['relay-oscillates']), 'error'),
  word({ data }, { design }) {
    const names = list(data.problem.components.map((id) => nameOf(design, id)));
    const { components, caseName, moment } = data.problem;
    const at = `(case ${caseName}, ${moment})`;
    // Units whose supply fails because of what they switch on go round in the same way.
    if (!components.every((id) => design.components[id]?.kind === 'relay')) {
      return (
        `${names} ${components.length === 1 ? 'finds' : 'find'} no state to rest in ${at}: what is switched on takes the supply ` +
        `down that it hangs on, and is switched off again without supply. Feed the one or the other from another supply.`
      );
    }
    const what =
      components.length === 1
        ? `${names} finds no stable state ${at}: operated it opens its own circuit, released it closes it again`
        : `${names} find no stable state ${at}: however they stand, one of them must change over`;
    return `${what}. It buzzes and burns. Take the feed of the coil from somewhere that the contact does not switch.`;
  },
});
