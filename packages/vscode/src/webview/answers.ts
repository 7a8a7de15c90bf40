/** Answers of the language server to the preview, as `packages/server/src/preview/protocol.ts` describes them. */
import type { CaseChoice, CouplingChoice } from '@couplet/documents';
import type { Place } from '../preview/messages.ts';

/** What can be chosen, and what was: the same for all sections. */
export interface Choices {
  /** The sites that the file belongs to, by the URI of their first file. */
  readonly sites: readonly { readonly root: string; readonly title: string }[];
  readonly root: string;
  readonly files: readonly string[];
  readonly couplings: readonly CouplingChoice[];
  readonly coupling?: string;
  readonly cases: readonly CaseChoice[];
  readonly case: string;
  readonly moment: number;
}

/** Text that could not be read: what is drawn leaves something out. */
export interface Unread {
  readonly count: number;
  readonly message: string;
  readonly place: Place;
}

export type Answer<T> =
  | { readonly sort: 'shown'; readonly choices: Choices; readonly unread?: Unread; readonly data: T }
  /** With `choices` where there is a site and only this section has nothing to show. */
  | { readonly sort: 'nothing'; readonly because: string; readonly choices?: Choices; readonly unread?: Unread };

/** What of a drawing stands at a position. */
export interface Pointed {
  readonly coupling?: string;
  /** Names by which a drawing may show it, its own first. */
  readonly names: readonly string[];
}
