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
