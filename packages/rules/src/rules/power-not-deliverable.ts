import { nameOf } from '../circuit/circuits.ts';
import { defineRule } from '../define.ts';
import { type ProblemData, problemsOf } from '../support/problems.ts';
import { list } from '../support/words.ts';

export const powerNotDeliverable = defineRule<ProblemData>({
  name: 'power-not-deliverable',
  thresholds: [],
  explains: [],
  find: (context) => problemsOf(context, new Set(['no-solution']), 'error'),
  word({ data }, { design }) {
    const { components, caseName, moment, detail } = data.problem;
    const names = list(components.map((id) => nameOf(design, id)));
    const [asks, draws] = components.length === 1 ? ['asks', 'it draws'] : ['ask', 'they draw'];
    const most = /[\d.]+(?:e[+-]?\d+)? W can be delivered/.exec(detail)?.[0];
    const facts = [`case ${caseName}`, moment, ...(most === undefined ? [] : [most])].join(', ');
    return (
      `${names} ${asks} for more power than can be delivered (${facts}): as the volts fall ${draws} more current, until nothing ` +
      `is left. It takes a thicker or shorter cable, or a higher voltage.`
    );
  },
});
