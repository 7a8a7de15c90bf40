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

/** Of a finding, by their place in the list that was looked at: what explains it directly, and what is shown in its place. */
export interface Cause {
  readonly finding: number;
  readonly cause: number;
  readonly by: readonly number[];
}

/** Which findings follow from which. A finding never explains a graver one: what is shown is always as grave as what was found. */
export function causesOf(design: Design, findings: readonly Finding[]): readonly Cause[] {
  const ordered = findings
    .map((finding, index) => ({ finding, index }))
    .sort((one, other) => (RANK.get(one.finding.rule) ?? 0) - (RANK.get(other.finding.rule) ?? 0));
  const explainers = new Map<ComponentId, { readonly finding: Finding; readonly index: number }[]>();
  for (const each of ordered) {
    const all = ruleOf(each.finding.rule)?.explains;
    if (all === undefined || all.length === 0 || !findings.some(({ rule }) => all.includes(rule))) continue;
    for (const id of reachOf(design, each.finding)) {
      const known = explainers.get(id);
      if (known === undefined) explainers.set(id, [each]);
      else known.push(each);
    }
  }

  // Causes come first in the order, so that the root of a cause is known when what it explains is looked at.
  const rootOf = new Map<number, number>();
  const causes: Cause[] = [];
  for (const { finding, index } of ordered) {
    const by = (explainers.get(finding.subject) ?? []).filter((other) => explains(other.finding, finding));
    const [first] = by;
    if (first === undefined) continue;
    const cause = rootOf.get(first.index) ?? first.index;
    rootOf.set(index, cause);
    causes.push({ finding: index, cause, by: by.map((each) => each.index) });
  }
  return causes;
}

/** Findings that are to be shown, each with what follows from it among its related places, and those explained. */
export function attachExplained(
  findings: readonly Finding[],
  causes: readonly Cause[],
): { readonly shown: readonly Finding[]; readonly explained: readonly Explained[] } {
  const rootOf = new Map(causes.map(({ finding, cause }) => [finding, cause]));
  const attached = new Map<number, Finding[]>();
  for (const { finding, cause } of causes) attached.set(cause, [...(attached.get(cause) ?? []), findings[finding]!]);
  const shown = findings.flatMap((finding, index) => {
    if (rootOf.has(index)) return [];
    const follows = attached.get(index);
    if (follows === undefined) return [finding];
    const related = follows.map((other) => ({ origin: other.origin, message: `Follows from it: ${other.message}` }));
    return [{ ...finding, related: [...finding.related, ...related] }];
  });
  const explained = causes.map(({ finding, cause, by }) => ({
    finding: findings[finding]!,
    cause: findings[cause]!,
    by: by.map((index) => findings[index]!),
  }));
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

const RANK: ReadonlyMap<RuleName, number> = new Map(explanationOrder().map((name, index) => [name, index]));
