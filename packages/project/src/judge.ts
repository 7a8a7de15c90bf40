/**
 * From a lowered site to its findings: every coupling computed once and judged by every rule, unless it is remembered as
 * it is; each finding led back to its place in a text.
 */
import { analyseSteps, type ComponentId, couplingsOf, type Design, type Origin } from '@couplet/engine';
import type { LanguageFinding, Lowered, TextPlace } from '@couplet/language';
import { type Finding, gather, type JudgedCoupling, judgementSteps } from '@couplet/rules';
import { Analyses } from './analyses.ts';
import { editPlace, type PlacedFinding, placeBeside, placeFindings } from './assemblies.ts';
import { type Broken, brokenComponents, isBrokenCase } from './broken.ts';
import type { CouplingMemory } from './coupling-memory.ts';
import type { Candidate, CandidateEdit, ProjectFinding, RelatedPlace } from './finding.ts';

export interface JudgeOptions {
  /** ISO date by which acceptances are judged. */
  readonly today: string;
  /** What could not be judged counts as a warning. */
  readonly strict?: boolean;
  /** Of earlier passes over the same site or one much like it. */
  readonly memory?: CouplingMemory;
}

export interface Judged {
  readonly analyses: Analyses;
  /** Of the rules; accepted ones among them. */
  readonly findings: readonly ProjectFinding[];
  /** How many findings are held back because they may follow from errors of the language. */
  readonly heldBack: number;
}

/** `root` is the file that a finding without a place of its own is shown in; `broken` what the language left half said. */
export function judge(lowered: Lowered, root: string, options: JudgeOptions, broken: Broken = NOTHING_BROKEN): Judged {
  const steps = judgeSteps(lowered, root, options, broken);
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
  }
}

/** As `judge`, yielding after each piece of work so that the caller may give way or stop. */
export function* judgeSteps(
  lowered: Lowered,
  root: string,
  options: JudgeOptions,
  broken: Broken = NOTHING_BROKEN,
): Generator<void, Judged> {
  const { design } = lowered;
  const { analyses, judged } = yield* judgedCouplings(design, options);
  const fileOf = (origin: Origin) => lowered.place(origin)?.uri;
  const result = gather(design, judged, { today: options.today, strict: options.strict, fileOf });
  const start = { line: 0, character: 0 };
  const fallback: TextPlace = lowered.place(design.site.origin) ?? { uri: root, start, end: start };
  const half = brokenComponents(design, broken);
  const all = [...result.findings, ...result.accepted];
  const sound = all.filter((each) => {
    if (each.rule === 'not-computed-yet') return true;
    // What an acceptance is for may not have been found only because something is half said.
    if (each.caseName !== undefined && isBrokenCase(design, each.caseName, broken)) return false;
    return !isAbout(each, half) && !(broken.any && each.rule === 'acceptance-stale');
  });
  const findings = placeFindings(sound, lowered).map((told) => {
    const place = told.place ?? placeOfSubject(told.finding, lowered) ?? fallback;
    return fromRule({ ...told, place }, lowered, design);
  });
  return { analyses, findings, heldBack: all.length - sound.length };
}

function* judgedCouplings(
  design: Design,
  { memory, today }: JudgeOptions,
): Generator<void, { readonly analyses: Analyses; readonly judged: readonly JudgedCoupling[] }> {
  const couplings = couplingsOf(design);
  const analyses = new Analyses(design, couplings);
  const judged: JudgedCoupling[] = [];
  for (const coupling of couplings) {
    yield;
    const key = `${today} ${coupling.digest}`;
    const known = memory?.get(key);
    if (known !== undefined) {
      judged.push({ coupling, judgement: known });
      continue;
    }
    const own = coupling.toDesign();
    const analysis = yield* analyseSteps(own);
    const judgement = yield* judgementSteps(own, analysis, today);
    memory?.set(key, judgement);
    // Of a large site nothing is kept but what was found.
    if (couplings.length === 1) analyses.keep(coupling, analysis);
    judged.push({ coupling, judgement });
  }
  return { analyses, judged };
}

/** What the language says, in the shape of all findings. */
export function fromLanguage(finding: LanguageFinding): ProjectFinding {
  const { code, message, place, related, severity } = finding;
  return { code, severity, message, place, related, figures: [], roots: [] };
}

const NOTHING_BROKEN: Broken = { any: false, names: new Set(), cases: new Set(), wiring: false };

function isAbout(finding: Finding, components: ReadonlySet<ComponentId>): boolean {
  return components.has(finding.subject) || finding.concerns.some((id) => components.has(id));
}

function fromRule(
  told: PlacedFinding & { readonly place: TextPlace },
  lowered: Lowered,
  design: Design,
): ProjectFinding {
  const { finding, place } = told;
  const { caseName, figures, message, rule, severity } = finding;
  const named = finding.related.flatMap((each): RelatedPlace[] => {
    const at = placeBeside(lowered, each.origin, finding);
    return at === undefined ? [] : [{ place: at, message: each.message }];
  });
  const related = [...named, ...told.related];
  const by = finding.accepted === undefined ? undefined : design.acceptances[finding.accepted];
  return {
    code: rule,
    severity,
    message,
    place,
    related,
    figures,
    roots: [],
    subject: design.components[finding.subject]?.name,
    ...(finding.cures.length === 0 ? {} : { candidates: candidatesOf(told, lowered) }),
    ...(caseName === undefined ? {} : { caseName }),
    ...(by === undefined
      ? {}
      : {
          accepted: {
            because: by.because,
            place: placeBeside(lowered, by.origin, finding) ?? place,
            ...(by.until === undefined ? {} : { until: by.until }),
          },
        }),
  };
}

/** Cures of which every edit stands somewhere in a text. */
function candidatesOf(told: PlacedFinding, lowered: Lowered): readonly Candidate[] {
  return told.finding.cures.flatMap(({ edits, safe, title }) => {
    const placed = edits.flatMap(({ origin, ...edit }): CandidateEdit[] => {
      const at = editPlace(lowered, origin, told);
      return at === undefined ? [] : [{ ...edit, ...at }];
    });
    return placed.length < edits.length ? [] : [{ title, safe, edits: placed }];
  });
}

/** The declaration of what a finding is about, or of what that is a part of. */
function placeOfSubject(finding: Finding, lowered: Lowered): TextPlace | undefined {
  let part = lowered.design.components[finding.subject];
  for (let depth = 0; part !== undefined && depth < 100; depth++) {
    const place = lowered.place(part.origin);
    if (place !== undefined) return place;
    part = part.owner === undefined ? undefined : lowered.design.components[part.owner];
  }
  return undefined;
}
