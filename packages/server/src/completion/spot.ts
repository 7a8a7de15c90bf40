/** What can be written at the cursor, told from the statement before it. */
import { isKind, isMemberKind, type Subject } from '@couplet/language';
import { type Frame, readBefore, type Token } from './tokens.ts';

/** Whose properties and members a body holds. */
export type BodySubject = Subject | 'case' | 'measured';

/** What a reference is written for, which says what may end it. */
export type Purpose = 'wire' | 'spare' | 'turn' | 'expect' | 'between' | 'program' | 'accept' | 'zone' | 'battery';

export type Spot =
  | { readonly at: 'nothing' }
  | { readonly at: 'statement' }
  /** In a body: a property's name, or a member's kind. `given` are the properties that stand there already. */
  | { readonly at: 'item'; readonly subject: BodySubject; readonly given: ReadonlySet<string> }
  /** `owner` is a dotted name before the property's: `Q1.rated:`. */
  | {
      readonly at: 'value';
      readonly subject: BodySubject;
      readonly property: string;
      readonly owner: readonly string[];
      /** The component or type whose body it stands in, at any depth. */
      readonly unit: string;
      /** After `..`, `@` or `via`: the second part of a value. */
      readonly joined: boolean;
    }
  | { readonly at: 'rating'; readonly subject: Subject; readonly names: readonly string[]; readonly joined: boolean }
  /** Right behind a number, which begins at `number`: its unit, or a value that begins like it. */
  | { readonly at: 'unit'; readonly of: Spot; readonly number: number }
  /** `path` are the complete parts before the last dot, without quotes. */
  | { readonly at: 'reference'; readonly purpose: Purpose; readonly path: readonly string[] }
  | { readonly at: 'state'; readonly step: 'turn' | 'expect'; readonly target: readonly string[] }
  | { readonly at: 'setting'; readonly target: readonly string[]; readonly property: string }
  | { readonly at: 'type'; readonly kind: string }
  | { readonly at: 'kind' }
  | { readonly at: 'place' }
  | { readonly at: 'case' }
  | { readonly at: 'rule' }
  | { readonly at: 'file' }
  /** One of these words comes next. */
  | { readonly at: 'words'; readonly words: readonly string[] };

export interface Found {
  readonly spot: Spot;
  /** Where the word that is being written begins; the cursor itself where none is. */
  readonly start: number;
}

const NOTHING: Spot = { at: 'nothing' };

/** What can be written at `offset`. */
export function findSpot(text: string, offset: number): Found {
  const { outer, frames, inside } = readBefore(text, offset);
  if (inside === 'comment') return { spot: NOTHING, start: offset };
  const level = frames.at(-1)?.tokens ?? outer;
  if (inside === 'string') {
    const inUse = level.at(-1)?.text === 'use' && frames.length === 0;
    if (!inUse) return { spot: NOTHING, start: offset };
    return { spot: { at: 'file' }, start: text.lastIndexOf('"', offset - 1) + 1 };
  }
  const last = level.at(-1);
  const touching = last !== undefined && last.end === offset && last.sort !== 'sign' && last.sort !== 'string';
  if (touching && last.sort === 'number' && !belongsToName(level, level.length - 1)) {
    const before = level.slice(0, -1);
    const spot: Spot = { at: 'unit', of: spotOf(before, frames), number: last.start };
    return { spot, start: last.start + numberLength(last.text) };
  }
  const before = touching ? level.slice(0, -1) : level;
  return { spot: spotOf(before, frames), start: touching ? last.start : offset };
}

/** A number right behind a dot, or behind a hyphen after one, is a terminal: `K1.11-14`. */
function belongsToName(tokens: readonly Token[], index: number): boolean {
  const number = tokens[index]!;
  const previous = tokens[index - 1];
  if (previous === undefined || previous.end !== number.start) return false;
  return previous.text === '.' || previous.sort === 'number';
}

function numberLength(text: string): number {
  return /^[-+]?\d+(\.\d+)?/.exec(text)?.[0].length ?? text.length;
}

function spotOf(tokens: readonly Token[], frames: readonly Frame[]): Spot {
  const frame = frames.at(-1);
  if (frame === undefined) return statementSpot(tokens);
  const subject = subjectOf(frame, frames.slice(0, -1));
  if (subject === undefined) return NOTHING;
  if (subject === 'case') return caseSpot(tokens);
  if (subject === 'measured') return measuredSpot(tokens);
  if (subject === 'assembly' && frame.header[0]?.text === 'type') {
    const current = currentStatement(tokens);
    if (current.length === 0 || beginsStatement(current[0]!.text)) return statementSpot(current);
  }
  return bodySpot(tokens, subject, unitOf(frames));
}

// ---- bodies ----

/** The subject of the body that a frame opens, by the words before its brace. */
function subjectOf(frame: Frame, outside: readonly Frame[]): BodySubject | undefined {
  const [first, , third, fourth] = frame.header.map(({ text }) => text);
  if (first === undefined) return undefined;
  if (first === 'case' || first === 'measured') return first;
  if (first === 'type') return third === ':' && fourth !== undefined && isKind(fourth) ? fourth : undefined;
  if (first === 'site' || first === 'place' || first === 'confirm' || first === 'autonomy') return first;
  if (first === 'limits') return 'limits';
  if (first === 'bands') return 'scheme';
  const parent = outside.at(-1);
  const inUnit = parent !== undefined && subjectOf(parent, outside.slice(0, -1)) !== 'assembly';
  if (inUnit && isMemberKind(first)) return first === 'supply' ? 'feed' : first;
  if (first === 'as') return frame.header[1]?.text === 'input' ? 'input' : 'output';
  return isKind(first) ? first : undefined;
}

/** The name of the innermost component or type whose body is open. */
function unitOf(frames: readonly Frame[]): string {
  const frame = frames.findLast(({ header }, index) => {
    const first = header[0]?.text ?? '';
    return first === 'type' || (isKind(first) && subjectOf(frames[index]!, frames.slice(0, index)) === first);
  });
  return frame?.header[1]?.text ?? '';
}

/** In an assembly, statements stand one after the other without a brace between them. */
function currentStatement(tokens: readonly Token[]): readonly Token[] {
  const begin = tokens.findLastIndex(({ text }) => beginsStatement(text));
  return tokens.slice(Math.max(begin, 0));
}

const JOINERS: ReadonlySet<string> = new Set(['..', '@', 'at', 'via', '/', 'below', 'above']);

function bodySpot(tokens: readonly Token[], subject: BodySubject, unit: string): Spot {
  const colon = tokens.findLastIndex(({ text }) => text === ':');
  const last = tokens.at(-1);
  const given = new Set(tokens.flatMap(({ text }, i) => (tokens[i + 1]?.text === ':' ? [text] : [])));
  if (last === undefined || colon <= 0) return { at: 'item', subject, given };
  const joined = JOINERS.has(last.text);
  if (last.text !== ':' && last.text !== ',' && !joined) return { at: 'item', subject, given };
  const name = tokens[colon - 1]!.text;
  const owner: string[] = [];
  for (let i = colon - 2; tokens[i]?.text === '.'; i -= 2) owner.unshift(unquoted(tokens[i - 1]?.text ?? ''));
  return { at: 'value', subject, property: name, owner, unit, joined };
}

// ---- statements ----

function beginsStatement(text: string): boolean {
  return STATEMENT_WORDS.has(text) || isKind(text);
}

const STATEMENT_WORDS: ReadonlySet<string> = new Set([
  'wire',
  'bond',
  'spare',
  'program',
  'confirm',
  'case',
  'accept',
  'given',
  'place',
  'value',
]);

function statementSpot(tokens: readonly Token[]): Spot {
  const first = tokens[0]?.text;
  if (first === undefined) return { at: 'statement' };
  if (isKind(first)) return componentSpot(tokens, first);
  switch (first) {
    case 'wire':
    case 'bond':
      return chainSpot(tokens, first);
    case 'spare':
      return listSpot(tokens.slice(1), 'spare');
    case 'type':
      return typeSpot(tokens);
    case 'program':
      return programSpot(tokens);
    case 'accept':
      return acceptSpot(tokens);
    case 'case':
      return tokens.length === 2 ? words('after') : tokens.at(-1)?.text === 'after' ? { at: 'case' } : NOTHING;
    case 'confirm':
      return tokens.some(({ text }) => text === '=') ? listSpot(afterSign(tokens, '='), 'zone') : NOTHING;
    case 'autonomy':
      return tokens.length === 1 ? { at: 'reference', purpose: 'battery', path: [] } : NOTHING;
    case 'use':
      return tokens.length === 2 ? words('as') : NOTHING;
    case 'given':
      return tokens.at(-1)?.text === ':' ? { at: 'kind' } : NOTHING;
    default:
      return NOTHING;
  }
}

function componentSpot(tokens: readonly Token[], kind: string): Spot {
  const last = tokens.at(-1)!;
  if (last.text === ':') return { at: 'type', kind };
  if (last.text === 'in') return { at: 'place' };
  const equals = tokens.findIndex(({ text }) => text === '=');
  const names = tokens
    .slice(1, equals < 0 ? undefined : equals)
    .filter(({ sort }) => sort === 'word')
    .map(({ text }) => text);
  const joined = JOINERS.has(last.text);
  if (equals > 0 && (last.text === '=' || (last.text === ',' && equals > 0) || joined)) {
    return { at: 'rating', subject: kind as Subject, names, joined };
  }
  if (tokens.length === 1 || last.text === ',') return NOTHING;
  return tokens.some(({ text }) => text === 'in') ? NOTHING : words('in');
}

function typeSpot(tokens: readonly Token[]): Spot {
  return tokens.at(-1)?.text === ':' ? { at: 'kind' } : NOTHING;
}

function chainSpot(tokens: readonly Token[], word: 'wire' | 'bond'): Spot {
  const last = tokens.at(-1)!;
  if (last.text === word || last.text === '--') return { at: 'reference', purpose: 'wire', path: [] };
  const path = pathBefore(tokens);
  if (path !== undefined) return { at: 'reference', purpose: 'wire', path };
  return word === 'bond' ? words('because') : NOTHING;
}

function listSpot(tokens: readonly Token[], purpose: Purpose): Spot {
  const last = tokens.at(-1);
  if (last === undefined || last.text === ',') return { at: 'reference', purpose, path: [] };
  const path = pathBefore(tokens);
  return path === undefined ? NOTHING : { at: 'reference', purpose, path };
}

function programSpot(tokens: readonly Token[]): Spot {
  const rest = tokens.slice(1);
  const equals = rest.findIndex(({ text }) => text === '=');
  if (equals >= 0) {
    const [target, next] = splitReference(rest);
    const last = rest.at(-1)!;
    const open = last.text === '=' || last.text === ',' || JOINERS.has(last.text);
    return open && next?.sort === 'word' ? { at: 'setting', target, property: next.text } : NOTHING;
  }
  if (rest.length === 0) return { at: 'reference', purpose: 'program', path: [] };
  const path = pathBefore(rest);
  if (path !== undefined) return { at: 'reference', purpose: 'program', path };
  const [target, next] = splitReference(rest);
  return next === undefined ? { at: 'setting', target, property: '' } : NOTHING;
}

function acceptSpot(tokens: readonly Token[]): Spot {
  if (tokens.length === 1) return { at: 'rule' };
  const on = tokens.findIndex(({ text }) => text === 'on');
  if (on < 0) return words('on');
  const rest = tokens.slice(on + 1);
  if (rest.length === 0) return { at: 'reference', purpose: 'accept', path: [] };
  const path = pathBefore(rest);
  if (path !== undefined) return { at: 'reference', purpose: 'accept', path };
  if (!rest.some(({ text }) => text === 'because')) return words('because');
  return rest.at(-1)?.sort === 'string' && !rest.some(({ text }) => text === 'until') ? words('until') : NOTHING;
}

// ---- cases ----

const STEPS: ReadonlySet<string> = new Set(['turn', 'expect', 'wait']);

/** Words that a state's own name may not be taken for. */
const AFTER_STATE: Record<'turn' | 'expect', readonly string[]> = {
  turn: ['for', 'turn', 'wait', 'expect'],
  expect: ['within', 'throughout', 'expect', 'turn', 'wait'],
};

function caseSpot(tokens: readonly Token[]): Spot {
  const begin = tokens.findLastIndex(({ text }) => STEPS.has(text));
  if (begin < 0) return words('turn', 'expect', 'wait');
  const step = tokens[begin]!.text;
  const rest = tokens.slice(begin + 1);
  if (step === 'wait') return rest.length === 0 ? NOTHING : words('turn', 'expect', 'wait');
  if (step !== 'turn' && step !== 'expect') return NOTHING;
  if (rest.length === 0) return { at: 'reference', purpose: step, path: [] };
  const measure = rest[0]!.text;
  if (step === 'expect' && (measure === 'volts' || measure === 'ohms' || measure === 'amps')) return measureSpot(rest);
  const path = pathBefore(rest);
  if (path !== undefined) return { at: 'reference', purpose: step, path };
  const [target, next] = splitReference(rest);
  if (next === undefined) return { at: 'state', step, target };
  const last = rest.at(-1)!;
  if (last.text === 'for' || last.text === 'within' || isComparison(last.text)) return NOTHING;
  return words(...AFTER_STATE[step]);
}

function measureSpot(rest: readonly Token[]): Spot {
  const word = rest.findLastIndex(({ text }) => text === 'to' || text === 'in');
  const part = rest.slice(word < 0 ? 1 : word + 1);
  const first = rest[0]!.text;
  if (first === 'amps' && word < 0) return words('in');
  if (part.length === 0) return { at: 'reference', purpose: 'between', path: [] };
  const path = pathBefore(part);
  if (path !== undefined) return { at: 'reference', purpose: 'between', path };
  return word < 0 ? words('to') : NOTHING;
}

function measuredSpot(tokens: readonly Token[]): Spot {
  const colon = tokens.findLastIndex(({ text }) => text === ':');
  if (colon < 0) return { at: 'case' };
  const rest = tokens.slice(colon + 1);
  if (rest.length === 0) return words('volts', 'ohms', 'amps');
  return rest.some(({ text }) => text === '=') ? { at: 'case' } : measureSpot(rest);
}

function isComparison(text: string): boolean {
  return ['>=', '<=', '>', '<', 'about', '..'].includes(text);
}

// ---- references ----

/** The parts before the cursor where it stands right behind a dot, or behind a hyphen or plus after one. */
function pathBefore(tokens: readonly Token[]): readonly string[] | undefined {
  let at = tokens.length - 1;
  if (tokens[at]?.text !== '.') return undefined;
  const path: string[] = [];
  for (; tokens[at]?.text === '.'; at -= 2) {
    const name = tokens[at - 1];
    if (name === undefined || name.sort === 'sign') return undefined;
    path.unshift(unquoted(name.text));
  }
  return path;
}

/** A reference at the beginning of some tokens, and the token that follows it. */
function splitReference(tokens: readonly Token[]): readonly [readonly string[], Token | undefined] {
  const path = [unquoted(tokens[0]?.text ?? '')];
  let at = 1;
  while (tokens[at]?.text === '.' && tokens[at + 1] !== undefined) {
    path.push(unquoted(tokens[at + 1]!.text));
    at += 2;
    while (tokens[at] !== undefined && tokens[at]!.start === tokens[at - 1]!.end && /^[-+]/.test(tokens[at]!.text)) {
      path[path.length - 1] += tokens[at]!.text;
      at += 1;
    }
  }
  return [path, tokens[at]];
}

function afterSign(tokens: readonly Token[], sign: string): readonly Token[] {
  return tokens.slice(tokens.findIndex(({ text }) => text === sign) + 1);
}

function unquoted(text: string): string {
  return text.replace(/^"|"$/g, '');
}

function words(...list: string[]): Spot {
  return { at: 'words', words: list };
}
