/** Why rules that are named are not computed yet: what the computation lacks for them. */
import type { RuleName } from './catalogue.ts';

const LACKS = {
  faults: 'single faults are not yet solved one by one',
  sources: 'supplies are not yet switched off in pairs',
  ports: 'terminals of two roles are not yet part of a design',
  loops: 'the combinations of several contacts of a loop are not yet tried',
} as const;

const REASONS: Partial<Readonly<Record<RuleName, keyof typeof LACKS>>> = {
  'back-feed': 'sources',
  'port-role-unset': 'ports',
};

/** What the computation lacks for a rule; nothing for a rule of which nobody said so. */
export function reasonUncomputed(name: RuleName): string | undefined {
  const lacks = REASONS[name];
  return lacks === undefined ? undefined : LACKS[lacks];
}
