/** Why rules that are named are not computed yet: what the computation lacks for them. */
import type { RuleName } from './catalogue.ts';

const LACKS = {
  sources: 'supplies are not yet switched off in pairs',
} as const;

const REASONS: Partial<Readonly<Record<RuleName, keyof typeof LACKS>>> = {
  'back-feed': 'sources',
};

/** What the computation lacks for a rule; nothing for a rule of which nobody said so. */
export function reasonUncomputed(name: RuleName): string | undefined {
  const lacks = REASONS[name];
  return lacks === undefined ? undefined : LACKS[lacks];
}
