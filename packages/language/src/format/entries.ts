/**
 * What a file consists of at its outermost: statements that were read, stretches that were not, and notes on lines of
 * their own. In a file with syntax errors every statement is read again by itself, so that one that is broken leaves
 * the others as they are.
 */
import type { Lexer, ParseResult } from 'langium';
import { opens } from '../checks/syntax.ts';
import type { CoupletFile, Statement } from '../generated/ast.ts';
import { type Element, elementsOf, lineEnds, lineStart, lineStop } from './elements.ts';

/** The half of the language's services that reading takes. */
export interface Reading {
  readonly parser: {
    readonly LangiumParser: { parse<T extends CoupletFile>(text: string): ParseResult<T> };
    readonly Lexer: Lexer;
  };
}

interface Stretch {
  /** Offsets into the whole text. */
  readonly start: number;
  readonly end: number;
}

export type Entry =
  | (Stretch & {
      readonly sort: 'statement';
      readonly node: Statement;
      /** With a note that ends its last line. Their offsets, like those of the node, count from `base`. */
      readonly elements: readonly Element[];
      readonly base: number;
    })
  | (Stretch & { readonly sort: 'note' })
  /** Whole lines. */
  | (Stretch & { readonly sort: 'unread' });

export function entriesOf(text: string, reading: Reading): Entry[] {
  const elements = elementsOf(text, reading.parser.Lexer);
  return readWhole(text, elements, reading) ?? readApart(text, elements, reading);
}

/** The entries of a text without a syntax error; undefined where it has one. */
function readWhole(text: string, elements: readonly Element[], reading: Reading, base = 0): Entry[] | undefined {
  if (elements.some((each) => each.type === 'STRAY')) return undefined;
  const { lexerErrors, parserErrors, value } = reading.parser.LangiumParser.parse<CoupletFile>(text);
  if (lexerErrors.length > 0 || parserErrors.length > 0) return undefined;
  const entries: Entry[] = [];
  let next = 0;
  const notesUpTo = (end: number) => {
    for (let note = elements[next]; note !== undefined && note.start < end; note = elements[++next]) {
      entries.push({ sort: 'note', start: note.start + base, end: note.end + base });
    }
  };
  for (const node of value.statements) {
    const segment = node.$cstNode;
    if (segment === undefined) return undefined;
    notesUpTo(segment.offset);
    const first = next;
    while ((elements[next]?.start ?? segment.end) < segment.end) next++;
    const note = elements[next];
    if (note?.type === 'NOTE' && lineEnds(text, segment.end, note.start) === 0) next++;
    const own = elements.slice(first, next);
    const end = own.at(-1)?.end ?? segment.end;
    entries.push({ sort: 'statement', node, elements: own, base, start: segment.offset + base, end: end + base });
  }
  notesUpTo(text.length);
  return entries;
}

function readApart(text: string, elements: readonly Element[], reading: Reading): Entry[] {
  const starts = statementStarts(text, elements);
  return starts.flatMap((first, i) => {
    const own = elements.slice(first, starts[i + 1]);
    if (own.every((each) => each.type === 'NOTE')) {
      return own.map(({ end, start }): Entry => ({ sort: 'note', start, end }));
    }
    const start = (own[0] as Element).start;
    const end = (own.at(-1) as Element).end;
    const part = text.slice(start, end);
    return readWhole(part, elementsOf(part, reading.parser.Lexer), reading, start) ?? unread(text, own);
  });
}

/** A broken statement with the notes in it, and those behind it that are further in; later notes stand for themselves. */
function unread(text: string, elements: readonly Element[]): Entry[] {
  const first = elements.findIndex((each) => each.type !== 'NOTE');
  const begin = (elements[first] as Element).start;
  const column = begin - lineStart(text, begin);
  let last = elements.findLastIndex((each) => each.type !== 'NOTE');
  for (let note = elements[last + 1]; note !== undefined; note = elements[last + 1]) {
    const apart = lineEnds(text, (elements[last] as Element).end, note.start) > 0;
    if (apart && note.start - lineStart(text, note.start) <= column) break;
    last++;
  }
  const notes = (from: number, to?: number) =>
    elements.slice(from, to).map(({ end, start }): Entry => ({ sort: 'note', start, end }));
  const start = lineStart(text, begin);
  const end = lineStop(text, (elements[last] as Element).end);
  return [...notes(0, first), { sort: 'unread', start, end }, ...notes(last + 1)];
}

/**
 * Indices of the elements at which statements begin, and 0. A statement begins at a statement keyword that starts a
 * line: outside braces, or not further in than the statement whose brace is still open.
 */
function statementStarts(text: string, elements: readonly Element[]): number[] {
  const starts = elements.length > 0 ? [0] : [];
  let depth = 0;
  let column = 0;
  for (const [i, element] of elements.entries()) {
    const before = elements[i - 1];
    const first = before === undefined || lineEnds(text, before.end, element.start) > 0;
    if (first && opens(element.type)) {
      const indent = element.start - lineStart(text, element.start);
      // A unit's `supply` is a member: inside braces it begins nothing.
      if (depth <= 0 || (indent <= column && element.type !== 'supply')) {
        if (i > 0) starts.push(i);
        depth = 0;
        column = indent;
      }
    }
    if (element.type === '{') depth++;
    if (element.type === '}') depth--;
  }
  return starts;
}
