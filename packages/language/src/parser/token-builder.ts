/**
 * Gives the tokens of the grammar their patterns. The grammar's own patterns describe them to a reader; what is a name,
 * a quantity or a property's key depends on the neighbours (see the head of the grammar), which only a function can ask.
 */
import { DefaultTokenBuilder, type GrammarAST } from 'langium';
import {
  continuesDottedName,
  DATE_PATTERN,
  DOT_KEY_PATTERN,
  DOT_NAME_PATTERN,
  followsDot,
  ID_PATTERN,
  JOIN_PATTERN,
  KEY_PATTERN,
  matchLength,
  OWNER_PATTERN,
  PLUS_MINUS_PATTERN,
  quantityLength,
  SIGN_PATTERN,
  STRING_PATTERN,
  type Token,
} from './patterns.ts';

type TokenType = Token['tokenType'];
type Length = (text: string, offset: number, tokens: readonly Token[]) => number;

const DIGITS = '0123456789';
const WORD_STARTS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz_';
/** Code points of the accented, Greek and Cyrillic letters that a name may begin with. */
const FOREIGN_STARTS = Array.from({ length: 0x500 - 0xc0 }, (_, i) => 0xc0 + i);
const NAME_STARTS = [...WORD_STARTS, ...FOREIGN_STARTS];

interface Recogniser {
  readonly length: Length;
  /** Characters or code points that such a token can begin with. */
  readonly starts: readonly (string | number)[];
}

const fixed =
  (pattern: RegExp): Length =>
  (text, offset) =>
    matchLength(pattern, text, offset);

const afterDot =
  (pattern: RegExp): Length =>
  (text, offset, tokens) =>
    followsDot(tokens, offset) ? matchLength(pattern, text, offset) : 0;

function withQuantity(pattern: RegExp): Length {
  return (text, offset, tokens) => {
    if (continuesDottedName(tokens, offset)) return 0;
    const sign = matchLength(pattern, text, offset);
    return sign === 0 ? 0 : sign + quantityLength(text, offset + sign);
  };
}

/** In the order in which they are tried; keywords come after them, names last. */
const RECOGNISERS: Readonly<Record<string, Recogniser>> = {
  DOT_KEY: { length: afterDot(DOT_KEY_PATTERN), starts: [...DIGITS, ...NAME_STARTS] },
  DOT_NAME: { length: afterDot(DOT_NAME_PATTERN), starts: [...DIGITS, ...NAME_STARTS] },
  OWNER: { length: fixed(OWNER_PATTERN), starts: [...DIGITS, ...NAME_STARTS] },
  KEY: { length: fixed(KEY_PATTERN), starts: NAME_STARTS },
  DATE: { length: fixed(DATE_PATTERN), starts: [...DIGITS] },
  TOLERANCE: { length: withQuantity(PLUS_MINUS_PATTERN), starts: ['+', '\u00b1'] },
  SIGNED: { length: withQuantity(SIGN_PATTERN), starts: ['+', '-', '\u2013', '\u2212'] },
  NUMBER: { length: quantityLength, starts: [...DIGITS] },
  STRING: { length: fixed(STRING_PATTERN), starts: ['"'] },
  ID: { length: fixed(ID_PATTERN), starts: NAME_STARTS },
};

/** Keywords that are read in more than one spelling. */
const SPELLINGS: Readonly<Record<string, Recogniser>> = {
  '--': { length: fixed(JOIN_PATTERN), starts: ['-', '\u2013', '\u2014'] },
  '>=': { length: fixed(/>=|\u2265/y), starts: ['>', '\u2265'] },
  '<=': { length: fixed(/<=|\u2264/y), starts: ['<', '\u2264'] },
};

export class CoupletTokenBuilder extends DefaultTokenBuilder {
  override buildTokens(grammar: GrammarAST.Grammar, options?: { caseInsensitive?: boolean }): TokenType[] {
    const tokens = super.buildTokens(grammar, options) as TokenType[];
    const first = Object.keys(RECOGNISERS).filter((name) => name !== 'ID');
    const rank = (token: TokenType): number => {
      const index = first.indexOf(token.name);
      if (index >= 0) return index;
      return token.name === 'ID' ? first.length + 1 : first.length;
    };
    const hidden = tokens.filter((token) => token.GROUP !== undefined);
    const visible = tokens.filter((token) => token.GROUP === undefined).sort((a, b) => rank(a) - rank(b));
    return [...hidden, ...visible];
  }

  protected override buildTerminalToken(terminal: GrammarAST.TerminalRule): TokenType {
    const token = super.buildTerminalToken(terminal);
    const recogniser = RECOGNISERS[terminal.name];
    return recogniser === undefined ? token : recognise(token, recogniser);
  }

  protected override buildKeywordToken(
    keyword: GrammarAST.Keyword,
    terminals: TokenType[],
    caseInsensitive: boolean,
  ): TokenType {
    const token = super.buildKeywordToken(keyword, terminals, caseInsensitive);
    const recogniser = SPELLINGS[keyword.value];
    return recogniser === undefined ? token : recognise(token, recogniser);
  }

  /** A keyword gives way to a longer name, and to nothing else. */
  protected override findLongerAlt(keyword: GrammarAST.Keyword, terminals: TokenType[]): TokenType[] {
    if (!/^\w/.test(keyword.value)) return [];
    return terminals.filter((token) => token.name === 'ID');
  }
}

function recognise(token: TokenType, { length, starts }: Recogniser): TokenType {
  token.PATTERN = (text: string, offset: number, tokens: Token[]) => {
    const matched = length(text, offset, tokens);
    return matched === 0 ? null : ([text.slice(offset, offset + matched)] as unknown as RegExpExecArray);
  };
  token.LINE_BREAKS = false;
  token.START_CHARS_HINT = [...starts];
  return token;
}
