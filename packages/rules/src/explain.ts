/** One mistake, one finding: what follows from another finding is attached to it and not shown by itself. */
import type { ComponentId, Design } from '@couplet/engine';
import type { RuleName } from './catalogue.ts';
import { circuitComponents } from './circuit/circuits.ts';
import { downstreamOf } from './circuit/reach.ts';
import { RULES, ruleOf } from './registry.ts';
import type { Finding, Severity } from './rule.ts';

export interface Explained {
  readonly finding: Finding;
  /** The finding that is shown in its place. */
  readonly cause: Finding;
  /** Every finding that explains it directly, shown or not. */
  readonly by: readonly Finding[];
}

const GRAVITY: Readonly<Record<Severity, number>> = { error: 2, warning: 1, information: 0 };

/**
 * Splits findings into those to be shown, each with what it explains among its related places, and those explained.
 * A finding never explains a graver one: what is shown is always as grave as what was found.
 */
export function attachExplained(
  design: Design,
  findings: readonly Finding[],
): { readonly shown: readonly Finding[]; readonly explained: readonly Explained[] } {
  const rank = new Map(explanationOrder().map((name, index) => [name, index]));
  const ordered = [...findings].sort((one, other) => (rank.get(one.rule) ?? 0) - (rank.get(other.rule) ?? 0));
  const explainers = new Map<ComponentId, Finding[]>();
  for (const finding of ordered) {
    if ((ruleOf(finding.rule)?.explains.length ?? 0) === 0) continue;
    for (const id of reachOf(design, finding)) explainers.set(id, [...(explainers.get(id) ?? []), finding]);
  }

  // Causes come first in the order, so that the root of a cause is known when what it explains is looked at.
  const rootOf = new Map<Finding, Finding>();
  const explained: Explained[] = [];
  for (const finding of ordered) {
    const by = (explainers.get(finding.subject) ?? []).filter((other) => explains(other, finding));
    const [first] = by;
    if (first === undefined) continue;
    const cause = rootOf.get(first) ?? first;
    rootOf.set(finding, cause);
    explained.push({ finding, cause, by });
  }

  const attached = new Map<Finding, Finding[]>();
  for (const [finding, root] of rootOf) attached.set(root, [...(attached.get(root) ?? []), finding]);
  const shown = findings
    .filter((finding) => !rootOf.has(finding))
    .map((finding) => {
      const follows = attached.get(finding);
      if (follows === undefined) return finding;
      const related = follows.map((other) => ({ origin: other.origin, message: `Follows from it: ${other.message}` }));
      return { ...finding, related: [...finding.related, ...related] };
    });
  return { shown, explained };
}

function explains(cause: Finding, finding: Finding): boolean {
  if (cause === finding || GRAVITY[cause.severity] < GRAVITY[finding.severity]) return false;
  return ruleOf(cause.rule)?.explains.includes(finding.rule) ?? false;
}

function reachOf(design: Design, finding: Finding): ReadonlySet<ComponentId> {
  const own = [finding.subject, ...finding.concerns, ...finding.explainsAt];
  const reach = ruleOf(finding.rule)?.reach ?? 'subject';
  const made = new Set<ComponentId>(own);
  for (const id of own) {
    if (reach === 'circuit') for (const near of circuitComponents(design, id)) made.add(near);
    if (reach === 'downstream') for (const far of downstreamOf(design, id)) made.add(far);
  }
  return made;
}

/**
 * Rules so ordered that each stands after all that explain it. Throws where the rules explain one another in a circle,
 * which is a mistake of this program and not of a site.
 */
export function explanationOrder(): readonly RuleName[] {
  const done: RuleName[] = [];
  const state = new Map<RuleName, 'open' | 'done'>();
  const visit = (name: RuleName) => {
    if (state.get(name) === 'done') return;
    if (state.get(name) === 'open') throw new Error(`The rules explain one another in a circle at ${name}.`);
    state.set(name, 'open');
    for (const explained of ruleOf(name)?.explains ?? []) visit(explained);
    state.set(name, 'done');
    done.push(name);
  };
  for (const rule of RULES) visit(rule.name);
  return done.reverse();
}
