/** Why rules that are named are not computed yet: what the computation lacks for them. */
import type { RuleName } from './catalogue.ts';

const LACKS = {
  memory: 'relays that hold or latch are not followed through time beyond the moments of a case',
  timers: 'timers and slow releases are not yet followed through time',
  sources: 'supplies are not yet switched off in pairs',
  confirmation: 'zones that count only together are not yet followed',
  ports: 'terminals of two roles are not yet part of a design',
} as const;

const REASONS: Partial<Readonly<Record<RuleName, keyof typeof LACKS>>> = {
  'back-feed': 'sources',
  'port-role-unset': 'ports',
  'latching-pulse-too-short': 'memory',
  'latching-both-coils': 'memory',
  'latching-state-unproven': 'memory',
  'latch-without-reset': 'memory',
  'events-merge': 'timers',
  'timer-function-wrong': 'timers',
  'release-too-slow': 'timers',
  'signals-never-overlap': 'confirmation',
};

/** What the computation lacks for a rule; nothing for a rule of which nobody said so. */
export function reasonUncomputed(name: RuleName): string | undefined {
  const lacks = REASONS[name];
  return lacks === undefined ? undefined : LACKS[lacks];
}
