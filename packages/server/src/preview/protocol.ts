/**
 * What the preview of an editor asks of this server beside the protocol's own requests, always for the site of a file:
 *   couplet/drawing   → Answer<Drawing>            one coupling, with the figures of one moment of a case
 *   couplet/timeLine  → Answer<TimeLine>           what changes in a case
 *   couplet/bands     → Answer<BandChart[]>        where the readings of the zones of a coupling lie
 *   couplet/runtime   → Answer<RuntimeCurve[]>     how long the batteries of the site last
 *   couplet/pointed   → Pointed                    what of a drawing stands at a position
 * After every complete check the notification `$/couplet/checked` says that the answers may be others.
 */
import type { CaseChoice, CouplingChoice } from '@couplet/project';
import type { Position } from 'vscode-languageserver';

export interface PreviewParams {
  readonly uri: string;
  /** The site, by its first file, where the file belongs to several. */
  readonly root?: string;
  /** The coupling by its id; where it is not there any more, or not asked for, the first one. */
  readonly coupling?: string;
  /** In the file: the coupling of what stands there, where anything does, before the one that is asked for. */
  readonly position?: Position;
  readonly case?: string;
  /** Index within the case. */
  readonly moment?: number;
  /** Bands only: also the readings with each single fault. */
  readonly faults?: boolean;
}

/** What can be chosen, and what was: the same for all requests. */
export interface Choices {
  readonly sites: readonly { readonly root: string; readonly title: string }[];
  readonly root: string;
  readonly files: readonly string[];
  readonly couplings: readonly CouplingChoice[];
  readonly coupling?: string;
  readonly cases: readonly CaseChoice[];
  readonly case: string;
  readonly moment: number;
}

/** Text that could not be read: what is shown leaves something out. */
export interface Unread {
  readonly count: number;
  /** The first finding of it, and where it stands. */
  readonly message: string;
  readonly place: { readonly uri: string; readonly start: Position; readonly end: Position };
}

export type Answer<T> =
  | { readonly sort: 'shown'; readonly choices: Choices; readonly unread?: Unread; readonly data: T }
  /** A sentence in place of an empty picture; with `choices` where there is a site. */
  | { readonly sort: 'nothing'; readonly because: string; readonly choices?: Choices; readonly unread?: Unread };

/** What stands at a position: nothing of a drawing where both are empty. */
export interface Pointed {
  /** The first coupling that shows it. */
  readonly coupling?: string;
  /** Names by which a drawing may show it, its own first; none where it is a wire, or no part. */
  readonly names: readonly string[];
}
