/** What a site tolerates, by name, with a reason and until a date. */
import type { Acceptance, ComponentId, Design } from '@couplet/engine';
import { catalogueRow, isRuleName } from './catalogue.ts';
import type { GapList } from './gaps.ts';
import { isComputed } from './registry.ts';
import type { Finding } from './rule.ts';

export interface Judged {
  readonly open: readonly Finding[];
  readonly accepted: readonly Finding[];
  /** Indices of acceptances that matched a finding, whether in force or not. */
  readonly matched: ReadonlySet<number>;
}

export function applyAcceptances(design: Design, findings: readonly Finding[], today: string): Judged {
  const open: Finding[] = [];
  const accepted: Finding[] = [];
  const matched = new Set<number>();
  for (const finding of findings) {
    let by: number | undefined;
    design.acceptances.forEach((acceptance, index) => {
      if (!matches(design, acceptance, finding)) return;
      matched.add(index);
      if (by === undefined && isInForce(acceptance, today) && isAcceptable(acceptance.rule)) by = index;
    });
    if (by === undefined) open.push(finding);
    else accepted.push({ ...finding, accepted: by });
  }
  return { open, accepted, matched };
}

function matches(design: Design, acceptance: Acceptance, finding: Finding): boolean {
  if (acceptance.rule !== finding.rule || acceptance.fault !== finding.fault) return false;
  return [finding.subject, ...finding.concerns].some((id) => isTarget(design, acceptance, id));
}

/** A component is accepted for when it, or what it is a part of, is named. */
function isTarget(design: Design, acceptance: Acceptance, component: ComponentId): boolean {
  let at: ComponentId | undefined = component;
  for (let depth = 0; at !== undefined && depth < 100; depth += 1) {
    if (acceptance.targets.includes(at)) return true;
    at = design.components[at]?.owner;
  }
  return false;
}

/** ISO dates compare as text. The last day counts. */
function isInForce(acceptance: Acceptance, today: string): boolean {
  return acceptance.until === undefined || today <= acceptance.until;
}

function isAcceptable(rule: string): boolean {
  return isRuleName(rule) && catalogueRow(rule).acceptable !== false;
}

/**
 * Acceptances that no longer say anything true. A rule that is not computed, or that could not judge the target, leaves
 * its acceptances alone: nobody knows yet whether they match. Names that are no rule are the language's to report.
 */
export function staleAcceptances(
  design: Design,
  matched: ReadonlySet<number>,
  gaps: GapList,
  today: string,
): readonly Finding[] {
  const stale: Finding[] = [];
  design.acceptances.forEach((acceptance, index) => {
    const message = staleness(design, acceptance, matched.has(index), gaps, today);
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
      cures: [],
      assumptions: [],
    });
  });
  return stale;
}

function staleness(
  design: Design,
  acceptance: Acceptance,
  matched: boolean,
  gaps: GapList,
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
  if (design.components.some(({ id }) => gaps.has(rule, id) && isTarget(design, acceptance, id))) return undefined;
  return `This acceptance matches nothing: there is no ${what} on ${targetName}. Remove it, or correct the name.`;
}
