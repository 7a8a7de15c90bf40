import type { ComponentId } from '../design/components.ts';
import type { Problem } from './contract.ts';

/** A problem before it is told in which case and moment it was met. */
export interface ProblemNote {
  readonly sort: Problem['sort'];
  readonly components: readonly ComponentId[];
  readonly detail: string;
}
