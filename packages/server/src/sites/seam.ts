/** What the server asks of whatever checks whole sites. It is injected, so that the server runs with and without it. */
import type { Analysis, Design, Origin } from '@couplet/engine';
import type { TextPlace } from '@couplet/language';
import type { Analyses, ProjectFinding, Workspace } from '@couplet/project';
import type { URI } from 'langium';

/** Gives way to other work; throws a cancellation when a newer text has come. To be awaited every few milliseconds. */
export type Pause = () => Promise<void>;

/** Files by their URI, as the language's documents spell it. */
export interface ChangedFiles {
  readonly changed: ReadonlySet<string>;
  readonly deleted: ReadonlySet<string>;
}

/** Findings by file. */
export type Findings = ReadonlyMap<string, readonly ProjectFinding[]>;

/** Takes findings before a check has ended. */
export type Early = (findings: Findings) => void;

/** A site as the last complete pass computed it. */
export interface CheckedSite {
  /** URI of the file that the site begins with. */
  readonly root: string;
  readonly title: string;
  readonly files: readonly string[];
  /** All that was found in it, the documents' own findings among them. */
  readonly findings: readonly ProjectFinding[];
  readonly design: Design;
  /** Of its couplings, each computed when it is asked for. */
  readonly analyses: Analyses;
  place(origin: Origin): TextPlace | undefined;
  /** The analysis of a changed design, for 'what if'. */
  analyse(design: Design): Analysis;
}

export interface Sites {
  /** The sites that a file belonged to in the last complete pass. */
  sitesOf(uri: string): readonly CheckedSite[];
  /** Every site of the last complete pass, sorted by root. */
  all(): readonly CheckedSite[];
  /** Where a file's site is read from when a change of it is tried: the texts as the editor has them. */
  workspaceOf(uri: string): Workspace;
  /**
   * Checks every site that the changed files belong to, or belonged to, on the documents as they are linked now.
   * The answer names every file of those sites, those without findings with an empty list; a file that it does not
   * name keeps what it had. What the documents' own diagnostics say already is not repeated. Sites of open files come
   * first; each site that is done is handed to `early`, stays checked when the rest is called off, and is not repeated.
   */
  check(files: ChangedFiles, pause: Pause, early: Early): Promise<Findings>;
  /** Whether every site of a file has been checked as it is now. */
  isCurrent(uri: string): boolean;
  /** Files that the last pass found used and not loaded; they are loaded after it, and a further pass follows. */
  unloaded(): readonly URI[];
}
