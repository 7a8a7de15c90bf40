/** A text as what stands in it: tokens, notes, and stretches that are no token. Between two of them are only blanks. */
import type { Lexer } from 'langium';

export interface Element {
  /** The token's type, `NOTE`, or `STRAY` for what the lexer could not read. */
  readonly type: string;
  readonly text: string;
  /** Offsets into the text. */
  readonly start: number;
  readonly end: number;
}

export function elementsOf(text: string, lexer: Lexer): Element[] {
  const { errors, hidden, tokens } = lexer.tokenize(text);
  const elements: Element[] = [];
  const add = (type: string, start: number, length: number) => {
    elements.push({ type, text: text.slice(start, start + length), start, end: start + length });
  };
  for (const token of tokens) add(token.tokenType.name, token.startOffset, token.image.length);
  for (const note of hidden) {
    if (note.image.startsWith('//')) add('NOTE', note.startOffset, note.image.length);
  }
  for (const { length, offset } of errors) add('STRAY', offset, length);
  return elements.sort((a, b) => a.start - b.start);
}

const LINE_END = /\r\n|\r|\n/g;

/** How many lines end between two offsets. */
export function lineEnds(text: string, from: number, to: number): number {
  return text.slice(from, to).match(LINE_END)?.length ?? 0;
}

/** The offset at which the line of `offset` begins. */
export function lineStart(text: string, offset: number): number {
  let at = offset;
  while (at > 0 && !isLineEnd(text, at - 1)) at--;
  return at;
}

/** The offset at which the line of `offset` ends, before its line end. */
export function lineStop(text: string, offset: number): number {
  let at = offset;
  while (at < text.length && !isLineEnd(text, at)) at++;
  return at;
}

function isLineEnd(text: string, at: number): boolean {
  const code = text.charCodeAt(at);
  return code === 10 || code === 13;
}
