/** Where the numbers of a table come from, and how far that was confirmed. */

export interface Provenance {
  /** Standard and clause, book and chapter, or 'common practice'. */
  readonly source: string;
  /**
   * `confirmed`: read on a secondary page that reproduces the source. `partly confirmed`: some of it was.
   * `from memory`: to be confirmed against the text. `common practice`: nothing is published.
   */
  readonly status: 'confirmed' | 'partly confirmed' | 'from memory' | 'common practice';
}
