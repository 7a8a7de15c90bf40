/**
 * Runs every rule over one design and its analysis: what was found, what follows from what, what could not be judged.
 * Pure data, in the numbers of that design, from which a site puts together what a person shall see.
 */
import { type Analysis, type ComponentId, type Design, type Figure, NO_ORIGIN, type Problem } from '@couplet/engine';
import { applyAcceptances, unjudgedBy } from './accept.ts';
import type { RuleName } from './catalogue.ts';
import { type Cause, causesOf } from './explain.ts';
import { type GapEntry, GapList } from './gaps.ts';
import { limitOf, limitSentence } from './limits.ts';
import { RULES } from './registry.ts';
import type { Detection, Finding, Rule, RuleContext } from './rule.ts';
import { solveFaults } from './support/faults.ts';

export interface Judgement {
  /** Not accepted; explained ones among them. */
  readonly open: readonly Finding[];
  readonly causes: readonly Cause[];
  /** Each with the index of its acceptance. */
  readonly accepted: readonly Finding[];
  readonly matches: readonly { readonly acceptance: number; readonly finding: Finding }[];
  readonly gaps: readonly GapEntry[];
  /** By rule, the components that it could not judge, with what they are a part of. */
  readonly unjudged: readonly { readonly rule: RuleName; readonly components: readonly ComponentId[] }[];
  /** What the analysis met and did not follow. */
  readonly problems: readonly Problem[];
}

/** `today` is the ISO date by which acceptances are judged. Yields after each piece of work. */
export function* judgementSteps(design: Design, analysis: Analysis, today: string): Generator<void, Judgement> {
  const gaps = new GapList(design);
  const found: Finding[] = [];
  yield* solveFaults(design);
  for (const rule of RULES) {
    const context = contextOf(rule, design, analysis, gaps, today);
    for (const detection of rule.find(context)) {
      found.push(worded(rule, detection, context));
      yield;
    }
    yield;
  }
  const { open, accepted, matches } = applyAcceptances(design, merged(found), today);
  const causes = causesOf(design, open);
  const explained = new Set(causes.map(({ finding }) => finding));
  return {
    open,
    causes,
    accepted,
    matches,
    gaps: gaps.entries(open.filter((_, index) => !explained.has(index))),
    unjudged: [...unjudgedBy(design, gaps)].map(([rule, components]) => ({ rule, components })),
    problems: analysis.problems.filter(({ sort }) => sort === 'not-computed'),
  };
}

/** The same words at the same place are one finding, however many parts say them (a type used many times). */
export function merged(findings: readonly Finding[]): readonly Finding[] {
  const kept = new Map<string, Finding>();
  const alone: Finding[] = [];
  for (const finding of findings) {
    if (finding.origin === NO_ORIGIN) {
      alone.push(finding);
      continue;
    }
    const key = `${finding.rule}\n${finding.origin}\n${finding.fault ?? ''}\n${finding.message}`;
    const known = kept.get(key);
    if (known === undefined) {
      kept.set(key, finding);
      continue;
    }
    const concerns = new Set<ComponentId>([...known.concerns, finding.subject, ...finding.concerns]);
    concerns.delete(known.subject);
    kept.set(key, { ...known, concerns: [...concerns] });
  }
  return [...kept.values(), ...alone];
}

function contextOf(rule: Rule, design: Design, analysis: Analysis, gaps: GapList, today: string): RuleContext {
  return {
    design,
    analysis,
    today,
    threshold(key) {
      const threshold = rule.thresholds.find((item) => item.key === key);
      if (threshold === undefined) throw new Error(`The rule ${rule.name} has no threshold '${key}'.`);
      const limit = limitOf(design.site, rule.name, threshold);
      return { value: limit ?? threshold.value, set: limit !== undefined };
    },
    gap: (gap) => gaps.add(rule.name, gap),
  };
}

function worded(rule: Rule, detection: Detection<unknown>, context: RuleContext): Finding {
  const figures = rule.figures?.(detection) ?? [];
  const assumptions = [
    ...new Set([...(detection.assumptions ?? []), ...figures.flatMap(({ figure }) => assumptionsOf(figure))]),
  ]
    .filter((clause) => !ABOUT_USUAL.test(clause))
    .sort();
  const limit = limitSentence(rule, detection, context.design.site);
  const message = [rule.word(detection, context), ...(limit === undefined ? [] : [limit])].join(' ');
  return {
    rule: rule.name,
    severity: detection.severity,
    message: assumptions.length === 0 ? message : `${message} Assumed: ${assumptions.join('; ')}.`,
    origin: detection.origin,
    subject: detection.subject,
    concerns: [...new Set(detection.alsoConcerns ?? [])].filter((id) => id !== detection.subject),
    explainsAt: detection.alsoExplains ?? [],
    caseName: detection.caseName,
    fault: detection.fault,
    related: (detection.related ?? []).filter((item) => item.origin !== NO_ORIGIN),
    figures,
    cures: rule.cures?.(detection, context) ?? [],
    assumptions,
    ...(detection.tally && { tally: detection.tally }),
  };
}

/** Rules judge least and most: what was taken as usual between the two moved none of them. */
const ABOUT_USUAL = /^usual |taken as usual$/;

/** What a coil is assumed to warm by. */
const ABOUT_RISE = /^rise taken as /;

/** Clauses of a figure; one on how a coil warms only where a warm coil made its least or its most. */
function assumptionsOf(figure: Figure): readonly string[] {
  if (figure.sort !== 'value') return [];
  const isWarm = [...figure.leastCorner, ...figure.mostCorner].some(
    ({ what, unit, value }) => unit === 'degC' && what.endsWith(' rise') && value > 0,
  );
  return isWarm ? figure.assumptions : figure.assumptions.filter((clause) => !ABOUT_RISE.test(clause));
}
