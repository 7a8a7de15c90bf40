/** Patterns of the tokens, and the rules by which what stands before a token decides what it is. */
import { QUANTITY_PATTERN } from '@couplet/engine';
import type { LexerResult } from 'langium';

export type Token = LexerResult['tokens'][number];

/** Letters of names: Latin with accents, Greek and Cyrillic. Digits and the low line follow. */
const LETTER = 'A-Za-z_\\u00c0-\\u00d6\\u00d8-\\u00f6\\u00f8-\\u024f\\u0370-\\u03ff\\u0400-\\u04ff';
const WORD_PART = `[${LETTER}0-9]+`;
const WORD = `[${LETTER}][${LETTER}0-9]*(?:-${WORD_PART})*`;
const DOTTED_PART = `(?:${WORD_PART}(?:-${WORD_PART})*|"[^"\\n\\r]*")`;
const COLON_AHEAD = '(?=[ \\t]*:)';
const BLANK = '[ \\u00a0\\u2009\\u202f]';

export const ID_PATTERN = new RegExp(WORD, 'y');
export const KEY_PATTERN = new RegExp(`${WORD}(?:\\+${WORD})*${COLON_AHEAD}`, 'y');
/** Also a number or a pole before a dot and a word, as in `11-14.carries:`. */
export const OWNER_PATTERN = new RegExp(
  `(?:${WORD}|\\d${WORD_PART}(?:-${WORD_PART})*(?=\\.[${LETTER}]))(?=(?:\\.${DOTTED_PART})+[ \\t]*:)`,
  'y',
);
export const DOT_KEY_PATTERN = new RegExp(`${WORD_PART}(?:-${WORD_PART})*${COLON_AHEAD}`, 'y');
export const DOT_NAME_PATTERN = new RegExp(WORD_PART, 'y');
export const STRING_PATTERN = /"[^"\n\r]*"/y;
export const DATE_PATTERN = /\d{4}-\d{1,2}-\d{1,2}(?![\d-])/y;
/** A join, typed plainly or as the dash that a word processor makes of it. */
export const JOIN_PATTERN = /--|[\u2013\u2014](?!\d)/y;
export const SIGN_PATTERN = /[-+\u2013\u2212](?=\d)/y;
export const PLUS_MINUS_PATTERN = new RegExp(`(?:\\+-|\\+/-|\\u00b1)${BLANK}?(?=\\d)`, 'y');

const QUANTITY = new RegExp(QUANTITY_PATTERN, 'iy');
const KEY_AHEAD = /[ \t]*:/y;

/** Length of the match of a sticky pattern at an offset, 0 where it does not match. */
export function matchLength(pattern: RegExp, text: string, offset: number): number {
  pattern.lastIndex = offset;
  return pattern.exec(text)?.[0].length ?? 0;
}

/**
 * Length of the number with its unit that begins at an offset. A unit that a blank parts from its number is none when a
 * colon follows it: then it is the name of the next property.
 */
export function quantityLength(text: string, offset: number): number {
  const length = matchLength(QUANTITY, text, offset);
  const blank = text.slice(offset, offset + length).search(/[^\d.,]/);
  const parted = blank > 0 && /\s/.test(text.charAt(offset + blank));
  return parted && matchLength(KEY_AHEAD, text, offset + length) > 0 ? blank : length;
}

/** Whether the last token ends right before an offset. */
export function touches(token: Token | undefined, offset: number): token is Token {
  return token !== undefined && token.startOffset + token.image.length === offset;
}

/**
 * Whether a name that begins at an offset belongs to a dotted name: after a dot, or after the hyphen or plus of one.
 * `tokens` are those before the offset.
 */
export function followsDot(tokens: readonly Token[], offset: number): boolean {
  const last = tokens.at(-1);
  if (!touches(last, offset)) return false;
  if (last.image === '.') return true;
  return (last.image === '-' || last.image === '+') && endsDottedName(tokens, tokens.length - 1);
}

/** Whether a hyphen or plus that begins at an offset goes on with a dotted name. */
export function continuesDottedName(tokens: readonly Token[], offset: number): boolean {
  return touches(tokens.at(-1), offset) && endsDottedName(tokens, tokens.length);
}

/** Whether the tokens before `end` end with a name after a dot, up to the offset at which token `end` begins. */
function endsDottedName(tokens: readonly Token[], end: number): boolean {
  const name = tokens[end - 1];
  const before = tokens[end - 2];
  if (name === undefined || !touches(before, name.startOffset)) return false;
  const next = tokens[end];
  if (next !== undefined && !touches(name, next.startOffset)) return false;
  if (name.tokenType.name === 'DOT_NAME') return true;
  return name.tokenType.name === 'STRING' && before.image === '.';
}
