import { nameOf } from '../circuit/circuits.ts';
import { defineRule } from '../define.ts';
import { factsOf, type ProblemData, problemsOf } from '../support/problems.ts';
import { list } from '../support/words.ts';

export const contradictorySources = defineRule<ProblemData>({
  name: 'contradictory-sources',
  thresholds: [],
  explains: ['output-overloaded', 'expectation-failed'],
  reach: 'downstream',
  find: (context) => problemsOf(context, new Set(['contradictory-sources']), 'error'),
  word({ data }, { design }) {
    const names = list(data.problem.components.map((id) => nameOf(design, id)));
    return (
      `${names} contradict each other: no volts and amperes satisfy them at once, as when a supply is shorted or two supplies ` +
      `are in parallel. ${factsOf(data.problem)}. In truth a very large current flows. Part them, or give each its inner resistance ` +
      `(\`ohms\`) or limit (\`limit\`).`
    );
  },
});
