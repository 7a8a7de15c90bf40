/**
 * Syntax findings: at most one a statement. A statement begins at a statement keyword that starts a line; what the
 * parser says further before the next such line follows from the first and is dropped.
 */
import type { Lexer, LexerResult, ParseResult } from 'langium';
import { isOnLaterLine, NOTHING, ruleName } from '../parser/messages.ts';
import { type Token, touches } from '../parser/patterns.ts';
import { opens, type Spot, sentenceFor } from './sentences.ts';

export { opens } from './sentences.ts';

export interface SyntaxFinding {
  readonly message: string;
  /** Offsets into the text. */
  readonly start: number;
  readonly end: number;
}

/** A finding with an offset in the statement that it is of. */
interface Placed extends SyntaxFinding {
  readonly of: number;
}

export function syntaxFindings(text: string, parsed: ParseResult, lexer: Lexer): readonly SyntaxFinding[] {
  if (parsed.lexerErrors.length === 0 && parsed.parserErrors.length === 0) return [];
  const { tokens } = lexer.tokenize(text);
  const starts = statementStarts(tokens);
  const found: Placed[] = [
    ...lexerFindings(text, parsed.lexerErrors),
    ...parserFindings(text, parsed.parserErrors, tokens, starts),
  ];
  found.sort((a, b) => a.of - b.of || a.start - b.start);
  const told: SyntaxFinding[] = [];
  let last = -1;
  for (const finding of found) {
    const statement = starts.findLastIndex((start) => start <= finding.of);
    if (statement === last && told.length > 0) continue;
    told.push({ message: finding.message, start: finding.start, end: finding.end });
    last = statement;
  }
  return told;
}

/**
 * Offsets at which statements begin. Inside a body only an assembly has statements: a keyword that is further in than
 * the statement around it is a member there.
 */
function statementStarts(tokens: readonly Token[]): number[] {
  const starts: number[] = [];
  let column = 1;
  let assembly = false;
  for (const [i, token] of tokens.entries()) {
    if (!opens(token.tokenType.name)) continue;
    const before = tokens[i - 1];
    if (before !== undefined && !isOnLaterLine(before, token)) continue;
    const indent = token.startColumn ?? 1;
    const top = starts.length === 0 || indent <= column;
    if (!top && !assembly) continue;
    starts.push(token.startOffset);
    if (!top) continue;
    column = indent;
    assembly = token.image === 'type' && tokens[i + 3]?.image === 'assembly';
  }
  return starts;
}

function lexerFindings(text: string, errors: LexerResult['errors']): Placed[] {
  return errors.map(({ offset, length }) => {
    const stretch = text.slice(offset, offset + length);
    const line = text.slice(offset).search(/[\n\r]|$/);
    if (stretch.startsWith('"')) {
      return { message: 'The text in quotes does not end on its line.', start: offset, end: offset + line, of: offset };
    }
    const [sign = ''] = stretch;
    const message = OTHER_SIGNS[sign] ?? `'${sign}' has no meaning here.`;
    return { message, start: offset, end: offset + Math.max(1, Math.min(length, line)), of: offset };
  });
}

/** Signs of other notations, with what is written here. */
const OTHER_SIGNS: Readonly<Record<string, string>> = {
  ';': "No ';' is needed: a statement ends with its line, a property where the next one begins.",
  '#': "A note for the reader begins with '//'.",
  "'": 'Texts stand in double quotes.',
  '“': 'Texts stand in straight double quotes: "…".',
  '”': 'Texts stand in straight double quotes: "…".',
  '→': "The parts of a chain are joined by '--'.",
  '(': "'(' has no meaning here: bodies stand in braces, terminals follow a dot.",
  '[': "'[' has no meaning here: bodies stand in braces.",
};

function parserFindings(
  text: string,
  errors: ParseResult['parserErrors'],
  tokens: readonly Token[],
  starts: readonly number[],
): Placed[] {
  return errors.map((error) => {
    const at = tokens.findIndex((token) => token.startOffset >= error.token.startOffset);
    const index = error.token.image !== '' && at >= 0 ? at : tokens.length;
    const spot = spotAt(tokens, index, starts, error);
    const { message, at: where } = sentenceFor(spot);
    // What is missing at the end of a line is told there, not at the beginning of the next statement.
    const told = where === 'before' ? spot.before : (spot.token ?? spot.before);
    // A statement that goes on where the next one begins lacks its end.
    const unfinished = spot.expected !== NOTHING && spot.token !== undefined && starts.includes(spot.token.startOffset);
    const of = (unfinished ? spot.before : told)?.startOffset ?? 0;
    if (told === undefined) return { message, start: 0, end: Math.min(1, text.length), of };
    return { message, start: told.startOffset, end: told.startOffset + told.image.length, of };
  });
}

/** What touches a token and what touches that, to the end of a name. */
function dottedName(tokens: readonly Token[], index: number): string {
  let text = tokens[index]?.image ?? '';
  for (let i = index + 1; i < tokens.length && touches(tokens[i - 1], tokens[i]?.startOffset ?? -1); i++) {
    text += tokens[i]?.image;
  }
  return text;
}

const STEPS = new Set(['turn', 'expect', 'wait']);

function spotAt(
  tokens: readonly Token[],
  index: number,
  starts: readonly number[],
  error: ParseResult['parserErrors'][number],
): Spot {
  const token = tokens[index];
  const here = (token ?? tokens[index - 1])?.startOffset ?? 0;
  const start = starts.findLast((offset) => offset <= here);
  const first = tokens.findIndex((each) => each.startOffset === start);
  const statement = first < 0 ? [] : tokens.slice(first, index);
  const step = statement[0]?.image === 'case' ? statement.findLast(({ image }) => STEPS.has(image)) : undefined;
  return {
    token,
    before: tokens[index - 1],
    next: tokens[index + 1],
    name: dottedName(tokens, index),
    expected: error.message,
    rule: ruleName(error.context.ruleStack.at(-1) ?? ''),
    keyword: (step ?? statement[0])?.image ?? '',
    statement,
  };
}
