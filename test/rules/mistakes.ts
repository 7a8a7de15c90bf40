/** One mistake each in the healthy site, and all that may be said of it. */
import type { RuleName } from '@couplet/rules';
import { DRIVING } from './mistakes-driving.ts';
import { LOCKS } from './mistakes-locks.ts';
import { READING } from './mistakes-reading.ts';
import { SHARING } from './mistakes-sharing.ts';
import { SUPPLY } from './mistakes-supply.ts';
import { TIME } from './mistakes-time.ts';
import type { Edit } from './support.ts';

export interface Mistake {
  readonly what: string;
  readonly edits: readonly Edit[];
  /** Every error and warning, in the order of the text. */
  readonly finds: readonly string[];
}

export type Mistakes = Partial<Record<RuleName, readonly Mistake[]>>;

/** Of several lists for one rule, all count. */
function together(...all: readonly Mistakes[]): Mistakes {
  const lists = new Map<string, readonly Mistake[]>();
  for (const mistakes of all) {
    for (const [rule, list] of Object.entries(mistakes)) lists.set(rule, [...(lists.get(rule) ?? []), ...list]);
  }
  return Object.fromEntries(lists);
}

export const MISTAKES: Mistakes = together(DRIVING, LOCKS, READING, SHARING, SUPPLY, TIME);
