import { RULES } from '@couplet/rules';
import { describe, expect, it } from 'vitest';
import { MISTAKES } from './mistakes.ts';
import { changed, HEALTHY, verdicts } from './support.ts';

describe('the healthy site', () => {
  it('has neither error nor warning', () => {
    expect(verdicts(HEALTHY)).toEqual([]);
  });
});

describe.each(Object.entries(MISTAKES).filter(([, mistakes]) => mistakes.length > 0))('%s', (_, mistakes) => {
  it.each(mistakes.map((mistake) => [mistake.what, mistake] as const))(
    'is all that is found in: %s',
    (_what, mistake) => {
      expect(verdicts(changed(...mistake.edits))).toEqual(mistake.finds);
    },
  );
});

/** Rules whose findings only inform, or that only a computation that failed brings about: `information.test.ts`. */
const ELSEWHERE = [
  'core-colour-reversed',
  'core-unused',
  'pole-unused',
  'power-not-deliverable',
  'solution-unsound',
  'terminal-unused',
];

it('has a mistake for every rule that is computed', () => {
  const without = RULES.map((rule) => rule.name).filter((name) => (MISTAKES[name] ?? []).length === 0);
  expect(without.sort()).toEqual(ELSEWHERE);
});
