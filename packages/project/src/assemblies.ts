/**
 * Findings of rules at their places, with what every use of an assembly has told once, in the text of the assembly. The
 * rules know nothing of assemblies: they judge each use like any other part of the site.
 */
import type { Origin } from '@couplet/engine';
import {
  type Lowered,
  nameWithin,
  rowsOfUses,
  type TextPlace,
  type ToldOnce,
  tellOnce,
  withoutUse,
  wordsForAll,
} from '@couplet/language';
import type { Finding, Severity } from '@couplet/rules';
import type { Override, RelatedPlace } from './finding.ts';

export interface PlacedFinding {
  /** The gravest of those that are told as one; with the words for all of them, and what all of them concern. */
  readonly finding: Finding;
  /** Undefined where its origin has no place. */
  readonly place: TextPlace | undefined;
  /** Whether it is told in the text of an assembly, for all of its uses. */
  readonly inAssembly: boolean;
  /** Beside what the rule names: the rows of the uses, or what the assembly says there. */
  readonly related: readonly RelatedPlace[];
}

const GRAVITY: Readonly<Record<Severity, number>> = { error: 2, warning: 1, information: 0 };

/** In the order of `findings`; the same finding of all uses stands where the first of them stood. */
export function placeFindings(
  findings: readonly Finding[],
  lowered: Pick<Lowered, 'design' | 'place' | 'withinUses'>,
): PlacedFinding[] {
  const told = tellOnce(findings, lowered, (finding) => ({
    origin: finding.origin,
    key: [finding.rule, finding.fault ?? '', acceptedAt(finding, lowered)].join(' '),
    names: [finding.caseName, partOfUse(finding, lowered)],
  }));
  return told.filter((each) => !isStaleInSome(each)).map((each) => placed(each));
}

/** An acceptance in an assembly is stale once it matches nothing in any of its uses. */
function isStaleInSome({ items, uses, inAssembly }: ToldOnce<Finding>): boolean {
  return items[0]?.rule === 'acceptance-stale' && uses.length > 0 && !inAssembly;
}

/** Where the acceptance is written: one in an assembly holds for each of its uses. */
function acceptedAt({ accepted }: Finding, lowered: Pick<Lowered, 'design' | 'place' | 'withinUses'>): string {
  const acceptance = accepted === undefined ? undefined : lowered.design.acceptances[accepted];
  if (acceptance === undefined) return '';
  const { origin } = acceptance;
  return JSON.stringify(lowered.withinUses(origin)?.place ?? lowered.place(origin) ?? accepted);
}

/** What a finding is about, where that is a part of the use: what a use is given is another part in each of them. */
function partOfUse({ origin, subject }: Finding, lowered: Pick<Lowered, 'design' | 'withinUses'>): string | undefined {
  const name = lowered.design.components[subject]?.name;
  const use = lowered.withinUses(origin)?.uses[0];
  return use !== undefined && name?.startsWith(`${use.name}.`) === true ? name : undefined;
}

/**
 * Where an edit that cures something falls. What every use of an assembly has is mended in the text of the assembly; what
 * is told at the row of a use is overridden there, so that the other uses stay as they are.
 */
export function editPlace(
  lowered: Pick<Lowered, 'place' | 'withinUses'>,
  origin: Origin,
  told: Pick<PlacedFinding, 'place' | 'inAssembly'>,
): { readonly place: TextPlace; readonly override?: Override } | undefined {
  const within = lowered.withinUses(origin);
  if (within === undefined) {
    const place = lowered.place(origin);
    return place && { place };
  }
  const { place, uses } = within;
  const shown = uses.find((use) => isSamePlace(use.place, told.place));
  const row = shown ?? (told.inAssembly ? undefined : uses.at(-1));
  if (row === undefined) return { place };
  const [inner] = uses;
  const path = inner === undefined || inner === row ? '' : `${nameWithin(inner.name, row)}.`;
  return { place, override: { row: row.place, path } };
}

function isSamePlace(one: TextPlace, other: TextPlace | undefined): boolean {
  return (
    one.uri === other?.uri &&
    one.start.line === other.start.line &&
    one.start.character === other.start.character &&
    one.end.line === other.end.line &&
    one.end.character === other.end.character
  );
}

/** Where something beside a finding stands: in the text of the assembly within its own use, at the row of another one. */
export function placeBeside(
  lowered: Pick<Lowered, 'place' | 'withinUses'>,
  origin: Origin,
  finding: Finding,
): TextPlace | undefined {
  const within = lowered.withinUses(origin);
  const uses = lowered.withinUses(finding.origin)?.uses ?? [];
  const isOwn = uses.some(({ id }) => id === within?.uses[0]?.id);
  return within !== undefined && isOwn ? within.place : lowered.place(origin);
}

function placed({ inAssembly, items, place, uses, written }: ToldOnce<Finding>): PlacedFinding {
  const worst = items.reduce((at, { severity }, index) => (graver(severity, items[at]) ? index : at), 0);
  const chosen = items[worst] as Finding;
  if (!inAssembly) {
    const related =
      written === undefined ? [] : [{ place: written.place, message: `This is what ${written.assembly} says.` }];
    return { finding: chosen, place, inAssembly, related };
  }
  const messages = items.map(({ message }) => message);
  const concerns = new Set(items.flatMap((each) => [each.subject, ...each.concerns]));
  concerns.delete(chosen.subject);
  const use = uses.length > 1 ? uses[worst] : undefined;
  const cures = chosen.cures.map((cure) => ({ ...cure, title: use ? withoutUse(cure.title, use) : cure.title }));
  const beside = chosen.related.map((each) => ({
    ...each,
    message: use ? withoutUse(each.message, use) : each.message,
  }));
  const message = wordsForAll(messages, uses, worst);
  const finding = { ...chosen, message, concerns: [...concerns], cures, related: beside };
  const related =
    written === undefined ? [] : [{ place: written.place, message: `This is what ${written.assembly} says.` }];
  return { finding, place, inAssembly, related: [...related, ...rowsOfUses(messages, uses)] };
}

function graver(severity: Severity, than: Finding | undefined): boolean {
  return than === undefined || GRAVITY[severity] > GRAVITY[than.severity];
}
