/**
 * The text before the cursor as rough tokens, cut into the bodies that are open there. Completion works on half-typed
 * text, where the parser's tree says least just where it is needed; and it looks at one statement only, however long
 * the file.
 */
export interface Token {
  readonly sort: 'word' | 'number' | 'string' | 'sign';
  readonly text: string;
  readonly start: number;
  readonly end: number;
}

/** An open body: the words before its brace, and what has been written in it since the last complete item. */
export interface Frame {
  /** From the beginning of the statement or item that the body belongs to, without the brace. */
  readonly header: readonly Token[];
  readonly tokens: Token[];
}

export interface Before {
  /** Tokens of the statement outside every open body. */
  readonly outer: readonly Token[];
  /** Open bodies, the innermost last. */
  readonly frames: readonly Frame[];
  /** The cursor is in a comment, or in a text that is not closed. */
  readonly inside: 'comment' | 'string' | undefined;
}

const TOKEN =
  /"[^"\n\r]*"?|\/\/[^\n\r]*|[-+]?\d(?:[\w%µμΩ°²/]|\.\d)*|[A-Za-z_]\w*(?:-\w+)*|--|\.\.|>=|<=|\+-|[{}:,=.@<>+\-/]/g;

/** A line that begins a statement in its first column; statements inside bodies are indented. */
const STATEMENT_LINE = /^[A-Za-z]/;

/** What stands before `offset`, from the beginning of the statement that it is in. */
export function readBefore(text: string, offset: number): Before {
  const begin = statementStart(text, offset);
  const part = text.slice(begin, offset);
  const outer: Token[] = [];
  const frames: Frame[] = [];
  let inside: Before['inside'];
  for (const match of part.matchAll(TOKEN)) {
    const found = match[0];
    const start = begin + match.index;
    const end = start + found.length;
    const level = frames.at(-1)?.tokens ?? outer;
    if (found.startsWith('//')) {
      if (end === offset) inside = 'comment';
      continue;
    }
    if (found.startsWith('"') && (found.length === 1 || !found.endsWith('"'))) {
      if (end === offset) inside = 'string';
      continue;
    }
    if (found === '{') {
      frames.push({ header: itemOf(level, frames.length > 0), tokens: [] });
      continue;
    }
    if (found === '}') {
      frames.pop();
      // What a closed body belonged to is complete.
      (frames.at(-1)?.tokens ?? outer).length = 0;
      continue;
    }
    level.push({ sort: sortOf(found), text: found, start, end });
  }
  return { outer, frames, inside };
}

/** The beginning of the last line at or before `offset` that begins a statement, or 0. */
function statementStart(text: string, offset: number): number {
  let start = lineStart(text, offset);
  while (start > 0 && !STATEMENT_LINE.test(text.charAt(start))) start = lineStart(text, start - 1);
  return start;
}

function lineStart(text: string, offset: number): number {
  return text.lastIndexOf('\n', offset - 1) + 1;
}

function sortOf(text: string): Token['sort'] {
  if (text.startsWith('"')) return 'string';
  if (/^[A-Za-z_]/.test(text)) return 'word';
  return /^[-+]?\d/.test(text) ? 'number' : 'sign';
}

/** The last item of a body: from the last word that begins a member, which has no colon behind it. */
function itemOf(tokens: readonly Token[], inBody: boolean): readonly Token[] {
  if (!inBody) return [...tokens];
  const begin = tokens.findLastIndex(({ text }, index) => BEGINS_ITEM.has(text) && tokens[index + 1]?.text !== ':');
  return tokens.slice(Math.max(begin, 0));
}

const BEGINS_ITEM: ReadonlySet<string> = new Set([
  'supply',
  'rail',
  'common',
  'output',
  'input',
  'port',
  'contact',
  'zone',
  'scheme',
  'mode',
  'terminal',
  'limits',
  'bands',
  'as',
  'unit',
  'relay',
  'resistor',
  'capacitor',
  'diode',
  'fuse',
  'load',
  'switch',
  'cable',
  'battery',
  'arrester',
  'joint',
  'assembly',
  'case',
  'place',
  'confirm',
]);
