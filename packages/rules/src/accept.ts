/** What a site tolerates, by name, with a reason and until a date. */
import type { Acceptance, ComponentId, Design } from '@couplet/engine';
import { catalogueRow, isRuleName, type RuleName } from './catalogue.ts';
import type { GapList } from './gaps.ts';
import { isComputed } from './registry.ts';
import type { Finding } from './rule.ts';

export interface Judged {
  readonly open: readonly Finding[];
  readonly accepted: readonly Finding[];
  /** Acceptances (indices) that name a finding, whether in force or not, with the findings that they name. */
  readonly matches: readonly { readonly acceptance: number; readonly finding: Finding }[];
}

export function applyAcceptances(design: Design, findings: readonly Finding[], today: string): Judged {
  const open: Finding[] = [];
  const accepted: Finding[] = [];
  const matches: { acceptance: number; finding: Finding }[] = [];
  const named = namedTargets(design);
  for (const finding of findings) {
    let by: number | undefined;
    for (const index of acceptancesFor(design, named, finding)) {
      const acceptance = design.acceptances[index]!;
      if (acceptance.rule !== finding.rule || acceptance.fault !== finding.fault) continue;
      matches.push({ acceptance: index, finding });
      if (by === undefined && isInForce(acceptance, today) && isAcceptable(acceptance.rule)) by = index;
    }
    if (by === undefined) open.push(finding);
    else accepted.push({ ...finding, accepted: by });
  }
  return { open, accepted, matches };
}

/** Acceptances by the components that they name. */
function namedTargets(design: Design): ReadonlyMap<ComponentId, readonly number[]> {
  const named = new Map<ComponentId, number[]>();
  design.acceptances.forEach(({ targets }, index) => {
    for (const target of targets) {
      const known = named.get(target);
      if (known === undefined) named.set(target, [index]);
      else known.push(index);
    }
  });
  return named;
}

/** Acceptances, in their order, that name a component of the finding or what it is a part of. */
function acceptancesFor(
  design: Design,
  named: ReadonlyMap<ComponentId, readonly number[]>,
  finding: Finding,
): readonly number[] {
  const found = new Set<number>();
  for (const id of [finding.subject, ...finding.concerns]) {
    for (const at of withOwners(design, id)) for (const index of named.get(at) ?? []) found.add(index);
  }
  return [...found].sort((one, other) => one - other);
}

/** A component is accepted for when it, or what it is a part of, is named. */
function* withOwners(design: Design, component: ComponentId): Generator<ComponentId> {
  let at: ComponentId | undefined = component;
  for (let depth = 0; at !== undefined && depth < 100; depth += 1) {
    yield at;
    at = design.components[at]?.owner;
  }
}

/** ISO dates compare as text. The last day counts. */
function isInForce(acceptance: Acceptance, today: string): boolean {
  return acceptance.until === undefined || today <= acceptance.until;
}

function isAcceptable(rule: string): boolean {
  return isRuleName(rule) && catalogueRow(rule).acceptable !== false;
}

/** Components that a rule could not judge, and what they are a part of. */
export function unjudgedBy(design: Design, gaps: GapList): ReadonlyMap<RuleName, readonly ComponentId[]> {
  const unjudged = new Map<RuleName, readonly ComponentId[]>();
  for (const rule of gaps.rules()) {
    unjudged.set(rule, [...new Set([...gaps.subjectsOf(rule)].flatMap((id) => [...withOwners(design, id)]))]);
  }
  return unjudged;
}

/**
 * Acceptances that no longer say anything true. A rule that is not computed, or that could not judge the target, leaves
 * its acceptances alone: nobody knows yet whether they match. Names that are no rule are the language's to report.
 */
export function staleAcceptances(
  design: Design,
  matched: ReadonlySet<number>,
  unjudged: ReadonlyMap<RuleName, ReadonlySet<ComponentId>>,
  today: string,
): readonly Finding[] {
  const stale: Finding[] = [];
  const isUnjudged = (rule: RuleName, targets: readonly ComponentId[]) => {
    const parts = unjudged.get(rule);
    return parts !== undefined && targets.some((id) => parts.has(id));
  };
  design.acceptances.forEach((acceptance, index) => {
    const message = staleness(acceptance, matched.has(index), isUnjudged, today);
    if (message === undefined) return;
    stale.push({
      rule: 'acceptance-stale',
      severity: 'warning',
      message,
      origin: acceptance.origin,
      subject: acceptance.targets[0] ?? 0,
      concerns: acceptance.targets.slice(1),
      explainsAt: [],
      related: [],
      figures: [],
      cures: [
        { title: 'Strike this acceptance out', safe: false, edits: [{ how: 'strike', origin: acceptance.origin }] },
      ],
      assumptions: [],
    });
  });
  return stale;
}

function staleness(
  acceptance: Acceptance,
  matched: boolean,
  isUnjudged: (rule: RuleName, targets: readonly ComponentId[]) => boolean,
  today: string,
): string | undefined {
  const { rule, until, targetName, fault } = acceptance;
  if (!isRuleName(rule)) return undefined;
  const what = fault === undefined ? rule : `${rule} ${fault}`;
  if (!isAcceptable(rule)) return `${rule} cannot be accepted by anyone: this acceptance has no effect.`;
  if (!isInForce(acceptance, today)) {
    return `This acceptance of ${what} on ${targetName} ran out on ${until}. Look at it again, then give it a later date or remove it.`;
  }
  if (matched || !isComputed(rule)) return undefined;
  if (isUnjudged(rule, acceptance.targets)) return undefined;
  return `This acceptance matches nothing: there is no ${what} on ${targetName}. Remove it, or correct the name.`;
}
