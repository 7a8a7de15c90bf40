import { nameOf } from '../circuit/circuits.ts';
import { defineRule } from '../define.ts';
import { type ProblemData, problemsOf } from '../support/problems.ts';
import { list } from '../support/words.ts';

export const contradictorySources = defineRule<ProblemData>({
  name: 'contradictory-sources',
  thresholds: [],
  explains: ['output-overloaded', 'expectation-failed'],
  reach: 'downstream',
  find: (context) => problemsOf(context, new Set(['contradictory-sources']), 'error'),
  word({ data }, { design }) {
    const { components, caseName, moment } = data.problem;
    const names = list(components.map((id) => nameOf(design, id)));
    const what =
      components.length === 1
        ? `${names} is shorted or fed backwards: nothing in the file limits its current, so no volts and amperes satisfy it at once`
        : `${names} contradict each other: each fixes the volts between the same two points, or the current through the same wire`;
    return (
      `${what} (case ${caseName}, ${moment}). In truth a very large current flows. Part them, or give each its inner ` +
      'resistance (`ohms`) or limit (`limit`).'
    );
  },
});
