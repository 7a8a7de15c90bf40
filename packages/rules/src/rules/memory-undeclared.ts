import { componentOf, nameOf } from '../circuit/circuits.ts';
import { defineRule } from '../define.ts';
import { factsOf, type ProblemData, problemsOf } from '../support/problems.ts';
import { list } from '../support/words.ts';

export const memoryUndeclared = defineRule<ProblemData>({
  name: 'memory-undeclared',
  thresholds: [],
  explains: [],
  *find(context) {
    for (const detection of problemsOf(context, new Set(['memory']), 'warning')) {
      const isMeant = detection.data.problem.components.some((id) => {
        const relay = componentOf(context.design, id, 'relay');
        return relay?.selfHold !== undefined || (relay?.latching !== undefined && String(relay.latching.word) !== 'no');
      });
      if (!isMeant) yield detection;
    }
  },
  word({ data }, { design }) {
    const names = list(data.problem.components.map((id) => nameOf(design, id)));
    return (
      `The state of ${names} depends on what went before, and nothing says that this is meant. ${factsOf(data.problem)}. ` +
      `After a power failure it may stand otherwise. Write \`self-hold: meant\` if it is, or break the path that holds it.`
    );
  },
  cures({ data }, { design }) {
    return data.problem.components.flatMap((id) => {
      const relay = componentOf(design, id, 'relay');
      if (relay === undefined) return [];
      const edits = [{ how: 'within', origin: relay.origin, text: 'self-hold: meant' } as const];
      return [{ title: `Say that ${relay.name} is meant to hold itself`, safe: false, edits }];
    });
  },
});
