/**
 * Runs every rule over a design and its analysis and says what a person shall see: one finding a mistake, what could
 * not be judged, what is tolerated and why. Pure and deterministic: the same input gives the same findings in the same order.
 */
import { type Analysis, type ComponentId, type Design, type Figure, NO_ORIGIN, type Origin } from '@couplet/engine';
import { applyAcceptances, staleAcceptances } from './accept.ts';
import type { RuleName } from './catalogue.ts';
import { attachExplained, type Explained } from './explain.ts';
import { GapList } from './gaps.ts';
import { limitOf, limitSentence } from './limits.ts';
import { notComputedYet } from './not-computed.ts';
import { RULES } from './registry.ts';
import type { Detection, Finding, Rule, RuleContext } from './rule.ts';
import { solveFaults } from './support/faults.ts';

export interface RunOptions {
  /** ISO date by which acceptances are judged. */
  readonly today: string;
  /** What could not be judged counts as a warning. */
  readonly strict?: boolean;
  /** Groups 'not computed yet' by file; without it the whole design is one file. */
  readonly fileOf?: (origin: Origin) => string | undefined;
}

export interface RunResult {
  /** What is to be shown, sorted. */
  readonly findings: readonly Finding[];
  /** Tolerated findings, each with the index of its acceptance. */
  readonly accepted: readonly Finding[];
  /** Findings that another one explains, with that one. */
  readonly explained: readonly Explained[];
}

export function run(design: Design, analysis: Analysis, options: RunOptions): RunResult {
  const steps = runSteps(design, analysis, options);
  for (;;) {
    const step = steps.next();
    if (step.done === true) return step.value;
  }
}

/** As `run`, yielding after each rule and each thing found so that the caller may give way or stop. */
export function* runSteps(design: Design, analysis: Analysis, options: RunOptions): Generator<void, RunResult> {
  const gaps = new GapList(design);
  const found: Finding[] = [];
  yield* solveFaults(design);
  for (const rule of RULES) {
    const context = contextOf(rule, design, analysis, gaps, options.today);
    for (const detection of rule.find(context)) {
      found.push(worded(rule, detection, context));
      yield;
    }
    yield;
  }

  const judged = applyAcceptances(design, merged(found), options.today);
  const { shown, explained } = attachExplained(design, judged.open);
  const findings = [
    ...shown,
    ...staleAcceptances(design, judged.matched, gaps, options.today),
    ...gaps.findings(options.strict ?? false, shown),
    ...notComputedYet(design, analysis, options.fileOf),
  ];
  return { findings: findings.sort(compare), accepted: [...judged.accepted].sort(compare), explained };
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

/** The same words at the same place are one finding, however many parts say them (a type used many times). */
function merged(findings: readonly Finding[]): readonly Finding[] {
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

function compare(one: Finding, other: Finding): number {
  return (
    one.origin - other.origin ||
    byText(one.rule, other.rule) ||
    one.subject - other.subject ||
    byText(one.caseName ?? '', other.caseName ?? '') ||
    byText(one.message, other.message)
  );
}

function byText(one: string, other: string): number {
  if (one === other) return 0;
  return one < other ? -1 : 1;
}

/** The threshold of a rule that a site may set, for validating `limits`. */
export function settableThreshold(name: RuleName): Rule['thresholds'][number] | undefined {
  return RULES.find((rule) => rule.name === name)?.thresholds.find((threshold) => threshold.settable);
}
