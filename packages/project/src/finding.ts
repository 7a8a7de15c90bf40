/** The one shape in which every consumer meets a finding: command line, editor, documents. */
import type { Figure } from '@couplet/engine';
import type { TextPlace } from '@couplet/language';
import type { CureEdit } from '@couplet/rules';

export type Severity = 'error' | 'warning' | 'information';

export interface RelatedPlace {
  readonly place: TextPlace;
  readonly message: string;
}

/** What stands behind a message: SI numbers with their unit, spread and assumptions. */
export interface NamedFigure {
  readonly label: string;
  readonly figure: Figure;
}

/** The written statement that tolerates a finding. */
export interface AcceptedBy {
  readonly because: string;
  /** ISO date, inclusive. */
  readonly until?: string;
  readonly place: TextPlace;
}

/** A change of text that may cure a finding; offered to nobody before it was proven (`fixes/prove.ts`). */
export interface Candidate {
  readonly title: string;
  /** It changes nothing that is bought, fitted or claimed. */
  readonly safe: boolean;
  readonly edits: readonly CandidateEdit[];
}

/** As `CureEdit`, with the place in a text. */
export type CandidateEdit = { readonly place: TextPlace; readonly override?: Override } & WithoutOrigin<CureEdit>;

/** What an assembly says is to be another thing for one of its uses alone: the row of the use overrides it. */
export interface Override {
  readonly row: TextPlace;
  /** What stands before the assembly's own names in the row: '', or 'R.' of a use within the use. */
  readonly path: string;
}

type WithoutOrigin<E> = E extends unknown ? Omit<E, 'origin'> : never;

export interface ProjectFinding {
  /** A rule's name or the language's own code. */
  readonly code: string;
  readonly severity: Severity;
  readonly message: string;
  readonly place: TextPlace;
  readonly related: readonly RelatedPlace[];
  readonly figures: readonly NamedFigure[];
  readonly caseName?: string;
  readonly accepted?: AcceptedBy;
  /** What was most likely meant, to be written in its place. */
  readonly likely?: string;
  /** Name of the part that a rule's finding is about. */
  readonly subject?: string;
  /** What may cure it. */
  readonly candidates?: readonly Candidate[];
  /** Roots of the sites (or files checked alone) in which it stands, sorted. */
  readonly roots: readonly string[];
  /** The titles of those sites, where the file belongs to further sites in which the finding does not stand. */
  readonly site?: string;
}

/** Order of a listing: file, line, column, code, message, then the case. */
export function compareFindings(a: ProjectFinding, b: ProjectFinding): number {
  return (
    compareText(a.place.uri, b.place.uri) ||
    a.place.start.line - b.place.start.line ||
    a.place.start.character - b.place.start.character ||
    compareText(a.code, b.code) ||
    compareText(a.message, b.message) ||
    compareText(a.caseName ?? '', b.caseName ?? '') ||
    compareText(a.site ?? '', b.site ?? '')
  );
}

/** By code units: the same on every machine and in every locale. */
export function compareText(a: string, b: string): number {
  if (a === b) return 0;
  return a < b ? -1 : 1;
}
