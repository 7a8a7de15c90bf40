/** One mistake each in the healthy site, and all that may be said of it. */
import type { RuleName } from '@couplet/rules';
import { DRIVING } from './mistakes-driving.ts';
import { READING } from './mistakes-reading.ts';
import type { Edit } from './support.ts';

export interface Mistake {
  readonly what: string;
  readonly edits: readonly Edit[];
  /** Every error and warning, in the order of the text. */
  readonly finds: readonly string[];
}

export type Mistakes = Partial<Record<RuleName, readonly Mistake[]>>;

export const MISTAKES: Mistakes = { ...DRIVING, ...READING };
