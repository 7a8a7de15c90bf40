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

/** A use of an assembly that the site holds, directly or within other assemblies. */
export interface UseOfAssembly {
  /** Each use has a number of its own. */
  readonly id: number;
  /** As the site knows it: 'B03'; 'A.B03' within another use. */
  readonly name: string;
  /** The assembly, and how many uses of it there are in the site. */
  readonly assembly: string;
  readonly uses: number;
  /** Its name in the row that declares it. */
  readonly place: TextPlace;
}

/** Where an origin stands that one or several uses of assemblies share in. */
export interface WithinUses {
  /** What is written there, once for all uses of the first of these assemblies. */
  readonly place: TextPlace;
  /** The uses that say it by that, innermost first; the row of the last one stands in the site itself. */
  readonly uses: readonly UseOfAssembly[];
}

export interface Lowered {
  readonly design: Design;
  /**
   * The place of an origin; absent for NO_ORIGIN and for what the built-in library says. What an assembly says for one of
   * its uses has its place at the row of that use.
   */
  place(origin: Origin): TextPlace | undefined;
  /** For what an assembly says for one of its uses: the place in the assembly, and the uses; absent otherwise. */
  withinUses(origin: Origin): WithinUses | undefined;
  readonly findings: readonly LanguageFinding[];
}
