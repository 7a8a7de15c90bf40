/** Why rules that are named are not computed yet: what the computation lacks for them. */
import type { RuleName } from './catalogue.ts';

/** One row a rule that is named and not computed; none is left at present. */
const REASONS: Partial<Readonly<Record<RuleName, string>>> = {};

/** What the computation lacks for a rule; nothing for a rule of which nobody said so. */
export function reasonUncomputed(name: RuleName): string | undefined {
  return REASONS[name];
}
