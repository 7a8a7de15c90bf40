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
      const [finds, they, switches, their] =
        components.length === 1 ? ['finds', 'it', 'switches', 'its'] : ['find', 'they', 'switch', 'their'];
      return (
        `${names} ${finds} no state to rest in ${at}: what ${they} ${switches} on takes ${their} own supply down, and without ` +
        `supply ${they} ${switches} it off again. Feed ${names}, or what ${they} ${switches}, from another supply.`
      );
    }
    const what =
      components.length === 1
        ? `${names} finds no stable state ${at}: operated it opens its own circuit, released it closes it again`
        : `${names} find no stable state ${at}: however they stand, one of them must change over`;
    return `${what}. It buzzes and burns. Take the feed of the coil from somewhere that the contact does not switch.`;
  },
});
