/**
 * From what was found in each coupling of a site to what a person shall see: one finding a mistake, what could not be
 * judged, what is tolerated and why. Pure and deterministic: the same input gives the same findings in the same order.
 */
import {
  type Analysis,
  type ComponentId,
  type Coupling,
  type Design,
  numbersOfWhole,
  type Origin,
  type Problem,
  type Renumbering,
  renumbered,
} from '@couplet/engine';
import { staleAcceptances } from './accept.ts';
import type { RuleName } from './catalogue.ts';
import { attachExplained, type Cause, type Explained } from './explain.ts';
import { type GapEntry, gapFindings } from './gaps.ts';
import { type Judgement, judgementSteps, merged } from './judgement.ts';
import { notComputedYet } from './not-computed.ts';
import { RULES, ruleOf } from './registry.ts';
import type { Finding, Rule } from './rule.ts';

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

/** A judgement and the coupling in whose numbers it is; without one it is in the numbers of the whole. */
export interface JudgedCoupling {
  readonly coupling?: Coupling;
  readonly judgement: Judgement;
}

/** A whole design judged in one piece. */
export function run(design: Design, analysis: Analysis, options: RunOptions): RunResult {
  const steps = judgementSteps(design, analysis, options.today);
  for (;;) {
    const step = steps.next();
    if (step.done === true) return gather(design, [{ judgement: step.value }], options);
  }
}

/** What the couplings of a design come to together, in the numbers of the design. */
export function gather(design: Design, judged: readonly JudgedCoupling[], options: RunOptions): RunResult {
  const tallies = new Tallies(design, judged);
  const shown: Finding[] = [];
  const accepted: Finding[] = [];
  const explained: Explained[] = [];
  const matched = new Set<number>();
  const gaps: GapEntry[] = [];
  const unjudged = new Map<RuleName, Set<ComponentId>>();
  const problems: Problem[] = [];
  for (const { coupling, judgement } of judged) {
    const by = coupling && numbersOfWhole(coupling);
    const whole = <T>(data: T): T => (by === undefined ? data : renumbered(data, by));
    const finding = (one: Finding): Finding => (by === undefined ? one : renumberedFinding(one, by));
    const acceptance = (index: number) => coupling?.acceptances[index] ?? index;
    const { findings, causes } = tallies.open(judgement);
    const attached = attachExplained(findings.map(finding), causes);
    shown.push(...attached.shown);
    explained.push(...attached.explained);
    for (const one of judgement.accepted) {
      const counted = tallies.counted(one);
      if (counted !== undefined) accepted.push({ ...finding(counted), accepted: acceptance(one.accepted!) });
    }
    for (const match of judgement.matches) {
      if (tallies.counted(match.finding) !== undefined) matched.add(acceptance(match.acceptance));
    }
    gaps.push(...whole(judgement.gaps));
    for (const { rule, components } of whole(judgement.unjudged)) {
      const known = unjudged.get(rule) ?? new Set();
      for (const id of components) known.add(id);
      unjudged.set(rule, known);
    }
    problems.push(...whole(judgement.problems));
  }
  const findings = [
    ...merged(shown),
    ...staleAcceptances(design, matched, unjudged, options.today),
    ...gapFindings(gaps, options.strict ?? false),
    ...notComputedYet(design, problems, options.fileOf),
  ];
  return { findings: findings.sort(compare), accepted: [...merged(accepted)].sort(compare), explained };
}

/** What a site tolerates a number of, counted over all of its couplings. */
class Tallies {
  private readonly design: Design;
  private readonly totals = new Map<string, number>();

  constructor(design: Design, judged: readonly JudgedCoupling[]) {
    this.design = design;
    for (const { judgement } of judged) {
      const here = new Map<string, number>();
      for (const { rule, tally } of [...judgement.open, ...judgement.accepted]) {
        if (tally !== undefined) here.set(`${rule} ${tally.of}`, tally.total);
      }
      for (const [key, total] of here) this.totals.set(key, (this.totals.get(key) ?? 0) + total);
    }
  }

  /** The finding with what the site says of it; undefined where the site tolerates it. */
  counted(finding: Finding): Finding | undefined {
    const { rule, tally } = finding;
    if (tally === undefined) return finding;
    const total = this.totals.get(`${rule} ${tally.of}`) ?? tally.total;
    const sentence = ruleOf(rule)?.beyondTolerated?.(tally, total, this.design.site);
    return sentence === undefined
      ? undefined
      : { ...finding, message: `${finding.message} ${sentence}`, tally: { ...tally, total } };
  }

  /** Open findings that the site does not tolerate, and what follows from what among them. */
  open({ open, causes }: Judgement): { readonly findings: readonly Finding[]; readonly causes: readonly Cause[] } {
    const findings: Finding[] = [];
    const place = new Map<number, number>();
    open.forEach((finding, index) => {
      const counted = this.counted(finding);
      if (counted !== undefined) place.set(index, findings.push(counted) - 1);
    });
    const left = causes.flatMap(({ finding, cause, by }): Cause[] => {
      const [at, from] = [place.get(finding), place.get(cause)];
      if (at === undefined || from === undefined) return [];
      return [{ finding: at, cause: from, by: by.flatMap((index) => place.get(index) ?? []) }];
    });
    return { findings, causes: left };
  }
}

/** Figures are the bulk of a finding, and only one that there is not says of which parts it needs something. */
function renumberedFinding(finding: Finding, by: Renumbering): Finding {
  const { figures, ...rest } = finding;
  const lacking = figures.some(({ figure }) => figure.sort === 'not-evaluated');
  return { ...renumbered(rest, by), figures: lacking ? renumbered(figures, by) : figures };
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
