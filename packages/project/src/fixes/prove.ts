/**
 * Fixes proven by solving again. A candidate is tried on the texts, the changed site is read, linked, lowered, computed
 * and judged like any other, and only what makes its finding go and brings no new error is offered.
 */
import type { TextPlace } from '@couplet/language';
import { isRuleName } from '@couplet/rules';
import { type CheckedSite, type CheckOptions, checkSites, type Workspace } from '../check.ts';
import { decode, MOST_BYTES } from '../decode.ts';
import type { Candidate, CandidateEdit, ProjectFinding } from '../finding.ts';
import type { Reader } from '../reader.ts';
import { broughtFigure } from './brings.ts';
import { candidatesFor } from './candidates.ts';
import { placed, Trees } from './placing.ts';
import { applyEdits, followed, Lines, type TextEdit } from './texts.ts';

export interface ProvenFix {
  /** What is changed, and the figure that it brings: `Use 0.5 mm² for W1: volts at P1 10.9 V (10.2 V .. 11.4 V)`. */
  readonly title: string;
  /** It may be applied without being looked at. */
  readonly safe: boolean;
  readonly edits: readonly TextEdit[];
}

/** A checked site as it stands before a fix. */
export type SiteBefore = Pick<CheckedSite, 'root' | 'files' | 'findings' | 'analyses'>;

export interface ProveOptions extends Pick<CheckOptions, 'today' | 'strict' | 'cancellation'> {
  /** Only fixes that may be applied without being looked at. */
  readonly safeOnly?: boolean;
}

/** Tried fixes of one finding at most, so that a long list of cures does not keep a person waiting. */
const MOST_TRIED = 8;

const trees = new Trees();

/** Whether anything is known that may cure the finding; costs nothing. */
export function mayBeFixed({ accepted, candidates, likely }: ProjectFinding): boolean {
  return accepted === undefined && (likely !== undefined || (candidates?.length ?? 0) > 0);
}

/**
 * Proven fixes of a finding, in the order of its cures. `sites` are all sites that its file belongs to: a fix must cure
 * those in which the finding stands, and harm none. Throws `Cancelled` when the work is called off.
 */
export async function proveFixes(
  workspace: Workspace,
  sites: readonly SiteBefore[],
  finding: ProjectFinding,
  options: ProveOptions,
): Promise<ProvenFix[]> {
  if (!mayBeFixed(finding)) return [];
  const texts = await textsOf(workspace.reader, new Set(sites.flatMap(({ files }) => files)));
  const proven: ProvenFix[] = [];
  const candidates = candidatesFor(finding, writtenAt(finding, texts)).filter(({ safe }) => safe || !options.safeOnly);
  for (const candidate of candidates.slice(0, MOST_TRIED)) {
    // Of values for one place, given from the smallest change up, the first that does is offered.
    if (proven.some((fix) => fix.edits.some(({ place }) => candidate.edits.some((edit) => isOnly(edit, place)))))
      continue;
    const fix = await prove(workspace, sites, finding, candidate, texts, options);
    if (fix !== undefined) proven.push(fix);
  }
  return proven;
}

async function prove(
  workspace: Workspace,
  sites: readonly SiteBefore[],
  finding: ProjectFinding,
  candidate: Candidate,
  texts: ReadonlyMap<string, string>,
  options: ProveOptions,
): Promise<ProvenFix | undefined> {
  const edits = placed(candidate, texts, trees);
  if (edits === undefined) return undefined;
  const changed = new Map<string, string>();
  for (const uri of new Set(edits.map(({ place }) => place.uri))) {
    const text = applyEdits(texts.get(uri) ?? '', editsOf(uri, edits));
    if (text === undefined) return undefined;
    changed.set(uri, text);
  }
  const { cancellation, strict, today } = options;
  const overlaid = { ...workspace, reader: withTexts(workspace.reader, changed) };
  const told: string[] = [];
  for (const before of sites.filter(({ files }) => files.some((uri) => changed.has(uri)))) {
    for await (const after of checkSites(overlaid, [before.root], { cancellation, strict, today })) {
      if (after.root !== before.root) continue;
      const stood = before.findings.some((each) => isSameFinding(each, finding));
      if (stood && !isGone(before, after, finding, { texts, changed, edits })) return undefined;
      const fresh = newFindings(before, after, finding);
      if (fresh.some(({ severity }) => severity === 'error')) return undefined;
      const warnings = fresh.filter(({ severity }) => severity === 'warning');
      if (candidate.safe && warnings.length > 0) return undefined;
      const figure = stood ? broughtFigure(before.analyses, after.analyses, finding) : undefined;
      if (figure !== undefined && told.length === 0) told.push(figure);
      if (warnings.length > 0) told.push(`then warns of ${[...new Set(warnings.map(({ code }) => code))].join(', ')}`);
    }
  }
  const title = told.length === 0 ? candidate.title : `${candidate.title}: ${told.join('; ')}`;
  return { title, safe: candidate.safe, edits };
}

function isOnly(edit: CandidateEdit, place: TextPlace): boolean {
  return (edit.how ?? 'replace') === 'replace' && isSamePlace(edit.place, place);
}

interface Change {
  readonly texts: ReadonlyMap<string, string>;
  readonly changed: ReadonlyMap<string, string>;
  readonly edits: readonly TextEdit[];
}

/** Fewer findings of its code than before, and none of them where it stood. */
function isGone(before: SiteBefore, after: SiteBefore, finding: ProjectFinding, change: Change): boolean {
  const { code, place } = finding;
  const open = (site: SiteBefore) => site.findings.filter((each) => each.code === code && each.accepted === undefined);
  const left = open(after);
  if (left.length >= open(before).length) return false;
  const text = change.changed.get(place.uri);
  if (text === undefined)
    return !left.some((each) => isSamePlace(each.place, place) && each.subject === finding.subject);
  const span = followed(change.texts.get(place.uri) ?? '', editsOf(place.uri, change.edits), place);
  const lines = new Lines(text);
  return !left.some(
    (each) =>
      each.place.uri === place.uri &&
      lines.offset(each.place.start) === span.start &&
      lines.offset(each.place.end) === span.end &&
      each.subject === finding.subject,
  );
}

/**
 * Findings of the changed site beyond those there were, by code and part. A mended mistake of the language lets the
 * rules speak of parts that they could not judge before: that is nothing new in the design.
 */
function newFindings(before: SiteBefore, after: SiteBefore, finding: ProjectFinding): ProjectFinding[] {
  const counts = new Map<string, number>();
  const keyOf = ({ code, severity, subject }: ProjectFinding) => `${severity} ${code} ${subject ?? ''}`;
  for (const each of before.findings) {
    if (each.accepted === undefined) counts.set(keyOf(each), (counts.get(keyOf(each)) ?? 0) + 1);
  }
  return after.findings.filter((each) => {
    if (each.accepted !== undefined) return false;
    if (!isRuleName(finding.code) && isRuleName(each.code)) return false;
    const left = (counts.get(keyOf(each)) ?? 0) - 1;
    counts.set(keyOf(each), left);
    return left < 0;
  });
}

function isSameFinding(one: ProjectFinding, other: ProjectFinding): boolean {
  return one.code === other.code && one.message === other.message && isSamePlace(one.place, other.place);
}

function isSamePlace(one: ProjectFinding['place'], other: ProjectFinding['place']): boolean {
  return (
    one.uri === other.uri &&
    one.start.line === other.start.line &&
    one.start.character === other.start.character &&
    one.end.line === other.end.line &&
    one.end.character === other.end.character
  );
}

function editsOf(uri: string, edits: readonly TextEdit[]): readonly TextEdit[] {
  return edits.filter(({ place }) => place.uri === uri);
}

function writtenAt({ place }: ProjectFinding, texts: ReadonlyMap<string, string>): string | undefined {
  const text = texts.get(place.uri);
  if (text === undefined) return undefined;
  const lines = new Lines(text);
  return text.slice(lines.offset(place.start), lines.offset(place.end));
}

/** The texts of files as a reader gives them; files that cannot be read are left out. */
export async function textsOf(reader: Reader, uris: Iterable<string>): Promise<Map<string, string>> {
  const texts = new Map<string, string>();
  for (const uri of uris) {
    const { text } = decode(uri, await reader.read(uri, MOST_BYTES));
    if (text !== undefined) texts.set(uri, text);
  }
  return texts;
}

/** A reader for which some files have other texts. */
export function withTexts(reader: Reader, texts: ReadonlyMap<string, string>): Reader {
  return {
    list: (folder) => reader.list(folder),
    realPath: (uri) => reader.realPath(uri),
    async read(uri, atMost) {
      const text = texts.get(uri);
      return text === undefined ? reader.read(uri, atMost) : { sort: 'text', text };
    },
  };
}
