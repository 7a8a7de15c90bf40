/** A sheet as data, before it is written in any format. */
import type { Analysis, Design } from '@couplet/engine';

export interface Table {
  readonly columns: readonly string[];
  /** Cells by row; an empty cell is a blank to be filled in by hand. */
  readonly rows: readonly (readonly string[])[];
}

export interface Section {
  readonly heading: string;
  /** Paragraphs above the table. */
  readonly notes: readonly string[];
  readonly table?: Table;
}

export interface Sheet {
  readonly title: string;
  /** What the sheet rests on: file, revision, date. */
  readonly about: readonly (readonly [label: string, value: string])[];
  readonly sections: readonly Section[];
}

/** A finding as a sheet names it. */
export interface SheetFinding {
  readonly code: string;
  readonly severity: 'error' | 'warning' | 'information';
  readonly message: string;
  /** Reason and date of the acceptance. */
  readonly accepted?: { readonly because: string; readonly until?: string };
}

export interface SheetInput {
  readonly design: Design;
  readonly analysis: Analysis;
  readonly findings: readonly SheetFinding[];
  readonly about: Sheet['about'];
}
