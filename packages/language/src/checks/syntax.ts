/**
 * Syntax findings: at most one a statement. A statement begins at a statement keyword that starts a line; what the
 * parser says further before the next such line follows from the first and is dropped.
 */
import type { Lexer, LexerResult, ParseResult } from 'langium';
import { isKind } from '../generated/ast.ts';
import { isOnLaterLine, NOTHING, ruleName } from '../parser/messages.ts';
import type { Token } from '../parser/patterns.ts';
import { PROPERTIES } from '../properties/table.ts';
import { meant, nearest } from '../values/words.ts';

export interface SyntaxFinding {
  readonly message: string;
  /** Offsets into the text. */
  readonly start: number;
  readonly end: number;
}

/** Words that begin a statement, besides those of kinds. */
const OPENERS: readonly string[] =
  'site use place value type wire bond spare program confirm case measured accept autonomy given'.split(' ');

const COMPONENT_KINDS = [...new Set(PROPERTIES.flatMap((row) => row.on))].filter(isKind);

/** Whether a word begins a statement of a file or an assembly. */
export function opens(word: string): boolean {
  return OPENERS.includes(word) || isKind(word);
}

export function syntaxFindings(text: string, parsed: ParseResult, lexer: Lexer): readonly SyntaxFinding[] {
  if (parsed.lexerErrors.length === 0 && parsed.parserErrors.length === 0) return [];
  const { tokens } = lexer.tokenize(text);
  const starts = statementStarts(tokens);
  const found = [
    ...lexerFindings(text, parsed.lexerErrors),
    ...parserFindings(text, parsed.parserErrors, tokens, starts),
  ];
  found.sort((a, b) => a.start - b.start);
  const told: SyntaxFinding[] = [];
  let last = -1;
  for (const finding of found) {
    const statement = starts.findLastIndex((start) => start <= finding.start);
    if (statement === last && told.length > 0) continue;
    told.push(finding);
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

function lexerFindings(text: string, errors: LexerResult['errors']): SyntaxFinding[] {
  return errors.map(({ offset, length }) => {
    const stretch = text.slice(offset, offset + length);
    const line = text.slice(offset).search(/[\n\r]|$/);
    if (stretch.startsWith('"')) {
      return { message: 'The text in quotes does not end on its line.', start: offset, end: offset + line };
    }
    const [sign = ''] = stretch;
    const message = OTHER_SIGNS[sign] ?? `'${sign}' has no meaning here.`;
    return { message, start: offset, end: offset + Math.max(1, Math.min(length, line)) };
  });
}

/** Signs of other notations, with what is written here. */
const OTHER_SIGNS: Readonly<Record<string, string>> = {
  ';': "A statement ends with its line: no ';' is needed.",
  '#': "A note for the reader begins with '//'.",
  "'": 'Texts stand in double quotes.',
  '“': 'Texts stand in straight double quotes: "…".',
  '”': 'Texts stand in straight double quotes: "…".',
  '→': "The parts of a chain are joined by '--'.",
  '(': 'Bodies stand in braces: { … }.',
  '[': 'Bodies stand in braces: { … }.',
};

function parserFindings(
  text: string,
  errors: ParseResult['parserErrors'],
  tokens: readonly Token[],
  starts: readonly number[],
): SyntaxFinding[] {
  return errors.map((error) => {
    const at = tokens.findIndex((token) => token.startOffset >= error.token.startOffset);
    const known = error.token.image !== '' && at >= 0;
    const index = known ? at : tokens.length;
    const rule = ruleName(error.context.ruleStack.at(-1) ?? '');
    const message = new Sentence(tokens, index, starts).about(error.message, rule);
    const before = tokens[index - 1];
    const token = tokens[index];
    // What is missing at the end of a line is told there, not at the beginning of the next statement.
    const ended = before !== undefined && endsLine(before, token) && message.endsWith(missingAfter(before));
    const told = ended ? before : (token ?? before);
    if (told === undefined) return { message, start: 0, end: Math.min(1, text.length) };
    return { message, start: told.startOffset, end: told.startOffset + told.image.length };
  });
}

const JOINS = new Set(['..', '@', '/', 'via', 'at']);
const VALUES = new Set(['ID', 'NUMBER', 'SIGNED', 'STRING']);

/** The words for one error, from what stands around the token at which the parser gave up. */
class Sentence {
  private readonly tokens: readonly Token[];
  private readonly index: number;
  private readonly starts: readonly number[];

  constructor(tokens: readonly Token[], index: number, starts: readonly number[]) {
    this.tokens = tokens;
    this.index = index;
    this.starts = starts;
  }

  about(expected: string, rule: string): string {
    const token = this.tokens[this.index];
    const before = this.tokens[this.index - 1];
    if (token?.image === '-' && rule !== 'Step') return "The parts of a chain are joined by '--', not by a single '-'.";
    const closes = expected === "'}'";
    const join = [token, before].find((each) => each !== undefined && JOINS.has(each.image));
    if (join !== undefined && (closes || expected === NOTHING)) return `A value${missingAfter(join)}`;
    if (token !== undefined && expected === NOTHING) return this.notHere(token, before);
    if (token !== undefined && closes) {
      const inBody = this.inBody(token, before, rule);
      if (inBody !== undefined) return inBody;
    }
    const words = capital(closes && rule === 'Case' && token !== undefined ? "turn, expect, wait or '}'" : expected);
    const after = before === undefined ? '' : ` after '${shown(before.image)}'`;
    if (token === undefined || (before !== undefined && endsLine(before, token) && rule !== 'Case')) {
      return `${words}${before === undefined ? ' is missing.' : missingAfter(before)}`;
    }
    if (rule === 'Case' && before !== undefined && endsLine(before, token))
      return `${words} is expected, not '${shown(token.image)}'.`;
    return `${words} is expected${after}, not '${shown(token.image)}'.`;
  }

  private notHere(token: Token, before: Token | undefined): string {
    const { image } = token;
    if (image === '}') return "This '}' closes nothing.";
    if (before === undefined || endsLine(before, token)) {
      const near = meant(nearest(image, [...OPENERS, ...COMPONENT_KINDS]));
      return `'${shown(image)}' begins no statement: a line begins with a word such as unit, wire or case.${near}`;
    }
    const start = this.starts.findLast((offset) => offset <= token.startOffset);
    const keyword = this.tokens.find((each) => each.startOffset === start)?.image;
    if ((keyword === 'wire' || keyword === 'bond') && token.tokenType.name === 'ID') {
      return `'--' is missing between '${shown(before.image)}' and '${shown(image)}'.`;
    }
    if (token.tokenType.name === 'KEY') return `'{' is missing before '${shown(image)}': properties stand in braces.`;
    return `'${shown(image)}' does not belong here.`;
  }

  /** A body goes on with something that is neither a property nor a member. */
  private inBody(token: Token, before: Token | undefined, rule: string): string | undefined {
    const type = token.tokenType.name;
    const first = before === undefined || before.image === '{' || endsLine(before, token);
    if (rule === 'Measured' || rule === 'Body' || rule === 'AssemblyBody') {
      if (first && type === 'ID') return `':' is missing after '${shown(this.dotted())}'.`;
      if (!first && VALUES.has(type))
        return `'${shown(token.image)}' does not belong here: several values are parted by commas.`;
    }
    return undefined;
  }

  /** The dotted name that begins at the token. */
  private dotted(): string {
    let text = '';
    for (let i = this.index; i < this.tokens.length; i++) {
      const token = this.tokens[i] as Token;
      const before = this.tokens[i - 1];
      const touches = before !== undefined && before.startOffset + before.image.length === token.startOffset;
      if (i > this.index && !touches) break;
      text += token.image;
    }
    return text;
  }
}

function missingAfter(before: Token): string {
  return ` is missing after '${shown(before.image)}'.`;
}

function endsLine(before: Token, token: Token | undefined): boolean {
  return token === undefined || isOnLaterLine(before, token);
}

function shown(image: string): string {
  return image.length > 24 ? `${image.slice(0, 23)}…` : image;
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
