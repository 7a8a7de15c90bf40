/**
 * The layout of a file: one blank between words, no columns, so that one change shows as one line in a comparison.
 *
 * What stands on one line, and what does not:
 *   · Every statement begins a line. Steps of a case and readings stand one a line.
 *   · A body with more than one property stands one property a line; a body with one property on the statement's line.
 *   · Rows of a schedule stay on one line, two blanks between their properties: members of a type, groups (`bands`,
 *     `limits`, `as output`) and uses of an assembly. They break where they would be longer than 120 columns.
 *   · A body that is written with a line end behind its `{` stays broken.
 *   · A chain longer than 120 columns breaks behind the `--` after each core, where it comes to another place, and
 *     behind further `--` as needed. Long lists break behind commas, long reasons before `because` and `until`.
 *     Line ends that the author put at such places stay.
 *   · The second of several texts begins a line. Lines that go on are two columns further in.
 *
 * Blank lines stay, at most one at a time and none at either end of a body. Notes stay where they are, two blanks
 * behind what they follow. Signs and quotes: see `spelling.ts`; `in` that a chain says as well: see `places.ts`.
 * A statement with a syntax error is left exactly as it is. Line ends keep the form of the first one in the file.
 */
import { type CoupletServices, createCoupletCoreServices } from '../module.ts';
import { lineEnds } from './elements.ts';
import { type Entry, entriesOf, type Reading } from './entries.ts';
import { linesOf } from './layout.ts';
import { type Context, marksOf } from './marks.ts';
import { contextOf } from './places.ts';
import { rowOf } from './rows.ts';

/** A stretch of the text and what takes its place. */
export interface FormatEdit {
  /** Offsets into the text. */
  readonly start: number;
  readonly end: number;
  readonly text: string;
  /** The offsets of the whole statement or gap that it lies in. */
  readonly within: { readonly start: number; readonly end: number };
}

export interface Formatted {
  readonly text: string;
  /** Only what differs, in the order of the text. */
  readonly edits: readonly FormatEdit[];
  /** Offsets of statements that hold a syntax error and were left alone. */
  readonly unread: readonly number[];
}

let shared: CoupletServices | undefined;

function sharedReading(): Reading {
  shared ??= createCoupletCoreServices().Couplet;
  return shared;
}

/** Lays out a text. `reading` is the language's services where there are some already. */
export function format(text: string, reading: Reading = sharedReading()): Formatted {
  const entries = entriesOf(text, reading);
  const unread = entries.filter((each) => each.sort === 'unread');
  const statements = entries.flatMap((each) => (each.sort === 'statement' ? each.node : []));
  const layout = new Layout(text, contextOf(statements, unread.length === 0), reading);
  const pieces = layout.pieces(entries);
  return {
    text: pieces.map((piece) => piece.text).join(''),
    edits: pieces.flatMap((piece) => layout.edit(piece)),
    unread: unread.map((each) => each.start),
  };
}

interface Piece {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

class Layout {
  private readonly text: string;
  private readonly context: Context;
  private readonly keywords: ReadonlySet<string>;
  private readonly lineEnd: string;

  constructor(text: string, context: Context, reading: Reading) {
    this.text = text;
    this.context = context;
    const { definition } = reading.parser.Lexer;
    this.keywords = new Set(Object.keys(definition).filter((name) => /^[a-z]/.test(name)));
    this.lineEnd = /\r\n|\r|\n/.exec(text)?.[0] ?? '\n';
  }

  /** Entries and the gaps between them, which together are the whole text. */
  pieces(entries: readonly Entry[]): Piece[] {
    const pieces: Piece[] = [];
    const mark = this.text.startsWith(BYTE_ORDER_MARK) ? BYTE_ORDER_MARK.length : 0;
    let end = 0;
    for (const entry of entries) {
      const gap = { start: end, end: entry.start };
      pieces.push({ ...gap, text: pieces.length === 0 ? this.text.slice(0, Math.min(mark, gap.end)) : this.gap(gap) });
      pieces.push({ start: entry.start, end: entry.end, text: this.written(entry) });
      end = entry.end;
    }
    const rest = { start: end, end: this.text.length };
    pieces.push({ ...rest, text: entries.length === 0 ? this.text.slice(0, mark) : this.lineEnd });
    return pieces;
  }

  private gap({ end, start }: Omit<Piece, 'text'>): string {
    return this.lineEnd.repeat(lineEnds(this.text, start, end) > 1 ? 2 : 1);
  }

  private written(entry: Entry): string {
    if (entry.sort === 'unread') return this.text.slice(entry.start, entry.end);
    if (entry.sort === 'note') return this.text.slice(entry.start, entry.end).trimEnd();
    const row = rowOf({
      text: this.text.slice(entry.base),
      elements: entry.elements,
      marks: marksOf(entry.node, this.context),
      isKeyword: (word) => this.keywords.has(word),
    });
    return linesOf(row, 0).join(this.lineEnd);
  }

  /** The edit of a piece without what it has in common with the text at either end. */
  edit({ end, start, text }: Piece): FormatEdit[] {
    const before = this.text.slice(start, end);
    if (before === text) return [];
    const most = Math.min(before.length, text.length);
    let head = 0;
    while (head < most && before[head] === text[head]) head++;
    let tail = 0;
    while (tail < most - head && before.at(-1 - tail) === text.at(-1 - tail)) tail++;
    // A line end of two characters is changed as a whole.
    if (before[head - 1] === '\r' || text[head - 1] === '\r') head--;
    if (before.at(-1 - tail) === '\r' && before.at(-tail) === '\n' && tail > 0) tail--;
    if (text.at(-1 - tail) === '\r' && text.at(-tail) === '\n' && tail > 0) tail--;
    const changed = { start: start + head, end: end - tail, text: text.slice(head, text.length - tail) };
    return [{ ...changed, within: { start, end } }];
  }
}

const BYTE_ORDER_MARK = '\ufeff';
