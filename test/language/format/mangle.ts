/** Texts with another layout: the same tokens, parted by whatever may part them. */
import { createCoupletCoreServices } from '@couplet/language';
import fc from 'fast-check';

export const { Couplet } = createCoupletCoreServices();

export interface Piece {
  readonly type: string;
  readonly text: string;
}

/** Tokens and notes of a text in their order. */
export function piecesOf(text: string): Piece[] {
  const { hidden, tokens } = Couplet.parser.Lexer.tokenize(text);
  return [...tokens, ...hidden.filter((each) => each.image.startsWith('//'))]
    .sort((a, b) => a.startOffset - b.startOffset)
    .map((token) => ({ type: token.tokenType.name, text: token.image }));
}

export function errorsOf(text: string): number {
  const { lexerErrors, parserErrors } = Couplet.parser.LangiumParser.parse(text);
  return lexerErrors.length + parserErrors.length;
}

const BLANKS = [' ', '  ', '\t', '   '];
const LINES = ['\n', '\n\n', '\n\n\n    ', '  \n  ', ' // a note\n', '\n  // a note of its own\n  ', ' //\n\n'];
const CLOSE = new Set(['.', '-', '+']);
const FREEING = new Set([':', '=', ',', '..', '@', '/']);
const DIGIT = /^[-+±–−]?[-+/]*\s?\d/;

/**
 * The text with its blanks drawn anew. Kept as they are: what touches in a dotted name, and what parts a number from a
 * word, since both decide what is read.
 */
export function mangled(text: string): fc.Arbitrary<string> {
  const { tokens } = Couplet.parser.Lexer.tokenize(text);
  const keywords = Object.keys(Couplet.parser.Lexer.definition);
  return fc.array(fc.nat(999), { minLength: tokens.length, maxLength: tokens.length }).map((draws) => {
    let made = '';
    let end = 0;
    for (const [i, token] of tokens.entries()) {
      const before = tokens[i - 1];
      const gap = text.slice(end, token.startOffset);
      const draw = draws[i] as number;
      const sameLine = before !== undefined && !/[\n\r]/.test(gap);
      const fixed =
        (before !== undefined && (CLOSE.has(token.image) || CLOSE.has(before.image))) ||
        token.image === ':' ||
        (before !== undefined && DIGIT.test(before.image) && !/^[^\w%]/.test(token.image)) ||
        (sameLine && FREEING.has(before.image) && keywords.includes(token.image));
      if (before === undefined || fixed || draw % 3 === 0) made += gap;
      else if (draw % 3 === 1 || before.image === ':') made += BLANKS[draw % BLANKS.length];
      else made += LINES[draw % LINES.length];
      made += token.image;
      end = token.startOffset + token.image.length;
    }
    return made + text.slice(end);
  });
}
