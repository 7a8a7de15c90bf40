/** What lowering hands over: a site as plain data, and the way back from an origin to a place in a text. */
import type { Design, Origin } from '@couplet/engine';

/** A stretch of text: zero-based lines, UTF-16 columns, as editors count. */
export interface TextPlace {
  readonly uri: string;
  readonly start: { readonly line: number; readonly character: number };
  readonly end: { readonly line: number; readonly character: number };
}

/** A finding of the language itself: syntax, names, values, chains, places. */
export interface LanguageFinding {
  /** The code, as stable as a rule's name. */
  readonly code: string;
  readonly severity: 'error' | 'warning' | 'information';
  readonly message: string;
  readonly place: TextPlace;
  readonly related: readonly { readonly place: TextPlace; readonly message: string }[];
}

export interface Lowered {
  readonly design: Design;
  /** The place of an origin; absent for NO_ORIGIN and for what the built-in library says. */
  place(origin: Origin): TextPlace | undefined;
  readonly findings: readonly LanguageFinding[];
}
