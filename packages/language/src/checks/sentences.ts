/**
 * What a syntax finding says, from what stands around the token at which the parser gave up. The table is asked from its
 * top; what no row knows is told by what the parser expected there.
 */
import { isKind, isMemberKind } from '../generated/ast.ts';
import { isOnLaterLine, NOTHING } from '../parser/messages.ts';
import type { Token } from '../parser/patterns.ts';
import { faultRow } from '../properties/states.ts';
import { PROPERTIES, propertyRow } from '../properties/table.ts';
import { meant, nearest } from '../values/words.ts';

/** Words that begin a statement, besides those of kinds. */
const OPENERS: readonly string[] =
  'site use place value type wire bond spare program confirm case measured accept autonomy given'.split(' ');

const COMPONENT_KINDS = [...new Set(PROPERTIES.flatMap((row) => row.on))].filter(isKind);

/** Whether a word begins a statement of a file or an assembly. */
export function opens(word: string): boolean {
  return OPENERS.includes(word) || isKind(word);
}

/** A token at which the parser gave up, with its surroundings. */
export interface Spot {
  /** Absent at the end of the text. */
  readonly token: Token | undefined;
  readonly before: Token | undefined;
  readonly next: Token | undefined;
  /** The dotted name that begins at the token: `Q1.rated`. */
  readonly name: string;
  /** The words for what could have stood there (`parser/messages.ts`). */
  readonly expected: string;
  /** The rule of the grammar that was being read. */
  readonly rule: string;
  /** The word that begins the statement, or the step of a case. */
  readonly keyword: string;
  /** Tokens from the beginning of the statement up to the spot. */
  readonly statement: readonly Token[];
}

export interface Said {
  readonly message: string;
  /** Where it is told: at the token itself, or at the one before it, which something is missing after. */
  readonly at: 'token' | 'before';
}

export function sentenceFor(spot: Spot): Said {
  for (const row of ROWS) {
    const message = row(spot);
    if (message !== undefined) return placed(message, spot);
  }
  return placed(expectation(spot), spot);
}

/** What is missing after a line, or before the token that was read last, is told there. */
function placed(message: string, spot: Spot): Said {
  const last = `'${shown(spot.before)}'.`;
  const after = endsLine(spot) && message.endsWith(` is missing after ${last}`);
  return { message, at: after || message.endsWith(` is missing before ${last}`) ? 'before' : 'token' };
}

type Row = (spot: Spot) => string | undefined;

const image = (token: Token | undefined): string => token?.image ?? '';
const type = (token: Token | undefined): string => token?.tokenType.name ?? '';

/** Nothing more could stand there: the statement, the body or the value is complete. */
const complete = ({ expected }: Spot): boolean => expected === NOTHING || expected === "'}'";
const isNumber = (token: Token | undefined): boolean => type(token) === 'NUMBER' || type(token) === 'SIGNED';
const isValue = (token: Token | undefined): boolean =>
  isNumber(token) || type(token) === 'ID' || type(token) === 'STRING';
const inChain = ({ keyword }: Spot): boolean => keyword === 'wire' || keyword === 'bond';
const inBody = ({ rule }: Spot): boolean => rule === 'Body' || rule === 'AssemblyBody' || rule === 'Measured';
const inStep = ({ keyword }: Spot): boolean => keyword === 'turn' || keyword === 'expect' || keyword === 'wait';
const begins = (spot: Spot): boolean => spot.before === undefined || image(spot.before) === '{' || endsLine(spot);

/** Joins of two quantities, which call for a second one. */
const JOINS = new Set(['..', '@', '/', 'via', 'at']);

/** Words that people write for those of a step. */
const STEP_WORDS: Readonly<Record<string, string>> = {
  in: 'within',
  after: 'within',
  before: 'within',
  during: 'throughout',
  always: 'throughout',
  once: '1 times',
  twice: '2 times',
  never: '0 times',
};

const ROWS: readonly Row[] = [
  // Chains.
  (spot) => {
    const sign = image(spot.token);
    if (!inChain(spot)) return undefined;
    if (sign === '/' && type(spot.before) === 'DOT_NAME') return "A pole is written with '-', such as 11-14.";
    if (image(spot.before) === '+') return 'Cores in parallel are written without blanks: W1.RD+WH.';
    if (sign === ',' || sign === 'to' || sign === '/')
      return `The parts of a chain are joined by '--', not by '${sign}'.`;
    return sign === '-' ? "The parts of a chain are joined by '--', not by a single '-'." : undefined;
  },
  (spot) => {
    if (!inChain(spot) || spot.expected !== NOTHING || type(spot.token) !== 'ID' || begins(spot)) return undefined;
    return `'--' is missing between '${shown(spot.before)}' and '${shown(spot.token)}'.`;
  },

  // Names.
  ({ token, before, next }) => {
    const points = `${image(before)}${image(token)}`;
    if (points.endsWith('...') || (image(token) === '..' && image(next) === '.')) {
      return "A range is written with two points: '..'.";
    }
    if (image(token) !== '.' || !/^\d/.test(image(next)) || type(before) === 'ID') return undefined;
    return `A value begins with a digit: write 0.${image(next)}.`;
  },
  (spot) => {
    const { expected, rule, token } = spot;
    if (rule !== 'Name' && rule !== 'ComponentName') return undefined;
    if (isNumber(token)) return `A name begins with a letter, not with '${shown(token)}'.`;
    if (/^[a-z]/.test(type(token)) && !endsLine(spot))
      return `'${shown(token)}' is a word of the language and cannot be a name.`;
    return type(token) === 'STRING' && expected === 'a name' ? `A name stands here without quotes.` : undefined;
  },
  ({ rule, token }) => {
    if (image(token) !== '.' || (rule !== 'Component' && rule !== 'CoupletFile')) return undefined;
    return "The name of a component has no '.'; a dot leads to what is inside one.";
  },
  ({ rule, expected, before, token }) => {
    if (rule !== 'Case' || expected !== "'{'" || type(token) !== 'ID' || type(before) !== 'ID') return undefined;
    if (/^(follows|from|then)$/.test(image(token))) return `'${image(token)}' does not belong here. Is 'after' meant?`;
    return `A name is one word, such as ${image(before)}-${image(token)}; anything else stands in quotes behind it.`;
  },
  ({ expected, token, before }) => {
    if (type(token) !== 'KEY' || expected !== 'a name' || image(before) === '') return undefined;
    return `':' does not belong behind '${image(token)}'.`;
  },

  // Statements that end too early or go on too long.
  (spot) => {
    const { token, before } = spot;
    if (spot.expected !== NOTHING || token === undefined) return undefined;
    if (image(token) === '}') return "This '}' closes nothing.";
    if (!begins(spot)) return undefined;
    if (type(token) === 'KEY' && opens(image(token))) return `A name is missing after '${image(token)}'.`;
    if (type(token) === 'KEY')
      return `'${shown(token)}' stands outside of a body: properties stand in braces behind a name.`;
    if (image(token) === '/') return "A note for the reader begins with '//'.";
    if (isMemberKind(image(token))) return `'${image(token)}' is a member of a unit and stands in its body.`;
    if (STEPS.has(image(token))) return `'${image(token)}' is a step of a case and stands in its body.`;
    const home = HOMES[image(token)];
    if (home !== undefined) return `'${image(token)}' stands in the body of ${home}.`;
    if (before === undefined || endsLine(spot)) {
      const near = meant(nearest(image(token), [...OPENERS, ...COMPONENT_KINDS]));
      return `'${shown(token)}' begins no statement: a line begins with a word such as unit, wire or case.${near}`;
    }
    return undefined;
  },
  ({ expected, keyword, token }) => {
    if (expected !== NOTHING) return undefined;
    if (type(token) === 'STRING' && (keyword === 'accept' || keyword === 'bond')) {
      return `'because' is missing before '${shown(token)}'.`;
    }
    if (keyword === 'site' && type(token) === 'ID') return `A title stands in quotes: "${image(token)}".`;
    const lists = keyword === 'spare' || keyword === 'confirm';
    if (lists) return `'${shown(token)}' does not belong here: several are parted by commas.`;
    return type(token) === 'KEY' ? `'{' is missing before '${shown(token)}': properties stand in braces.` : undefined;
  },
  (spot) => {
    const { before, expected, keyword, token } = spot;
    if (!isKind(keyword) || expected !== NOTHING) return undefined;
    if (image(token) === 'in') return "'in' and its place stand before the description.";
    if (image(token) === 'at') return "'at' does not belong here: a place follows 'in'.";
    if (type(token) === 'ID' && isDeclared(spot)) {
      return `'${shown(token)}' does not belong here: several names are parted by commas, a type follows ':'.`;
    }
    if (!isNumber(token)) return undefined;
    if (isNumber(before)) return afterNumber(spot);
    const rated = propertyRow(keyword, '=') !== undefined;
    return isDeclared(spot) && rated ? `'=' is missing before '${shown(token)}'.` : undefined;
  },
  ({ before, expected, rule, token }) => {
    if (rule !== 'Component' || expected !== 'a name' || image(before) !== ':') return undefined;
    if (isNumber(token)) return `The name of a type follows ':'; a rating follows '='.`;
    return token === undefined || isOnLaterLine(before, token)
      ? undefined
      : `The name of a type is expected after ':', not '${shown(token)}'.`;
  },
  ({ before, rule, expected }) => {
    if (rule !== 'Accept' || expected !== "'on'" || type(before) !== 'ID') return undefined;
    const fault = faultRow(image(before)) !== undefined;
    return fault ? undefined : `'on' is missing before '${shown(before)}'.`;
  },
  ({ rule, token }) =>
    rule === 'Program' && type(token) === 'KEY' ? `A setting follows its name with '=', not with ':'.` : undefined,

  // Values.
  (spot) => {
    const { before, token } = spot;
    if (!complete(spot)) return undefined;
    const join = [token, before].find((each, i) => JOINS.has(image(each)) && (i === 1 || isNumber(before)));
    if (join !== undefined && (join !== token || !isNumber(spot.next)))
      return `A value is missing after '${image(join)}'.`;
    if (image(token) === '-' && isNumber(before)) return "A range is written with '..', not with '-'.";
    if (image(token) === 'to' && isNumber(before)) return "A range is written with '..', not with 'to'.";
    return isNumber(token) && (isNumber(before) || type(before) === 'TOLERANCE') ? afterNumber(spot) : undefined;
  },
  ({ rule, token, before }) => {
    if (image(token) !== '-' || rule === 'Step') return undefined;
    return type(before) === 'ID' || type(before) === 'DOT_NAME'
      ? "Members are counted up with '..', such as Z1 .. Z8."
      : undefined;
  },
  ({ before, expected, token }) => {
    if (image(before) !== ',' || type(token) !== 'KEY' || expected !== 'a value') return undefined;
    return `',' parts the values of one property; before the next one, '${image(token)}', stands a blank.`;
  },

  // Bodies.
  (spot) => {
    const { next, token } = spot;
    if (!inBody(spot) || !complete(spot) || token === undefined) return undefined;
    if (spot.rule === 'Measured' && MEASURES.has(image(token))) {
      return `A reading begins with its case: rest: ${image(token)} …`;
    }
    if (begins(spot) && type(token) === 'ID') {
      if (image(next) === '=') return `A value follows '${shown(token)}' with ':', not with '='.`;
      const member = type(next) === 'ID' && spot.rule === 'Body' ? nearest(image(token), MEMBERS) : undefined;
      if (member !== undefined) return `'${shown(token)}' is no member of a unit.${meant(member)}`;
      return `':' is missing after '${spot.name}'.`;
    }
    if (begins(spot) || !isValue(token)) return undefined;
    return `'${shown(token)}' does not belong here: several values are parted by commas.`;
  },

  // Steps of a case.
  (spot) => {
    const { before, expected, keyword, rule, token } = spot;
    if (token === undefined) return undefined;
    if (keyword === 'turn' && expected === 'a name' && image(before) === 'turn' && image(token) === 'on') {
      return 'What is turned comes first, then its state: turn X on.';
    }
    if (rule !== 'Case' || expected !== "'}'" || !inStep(spot) || endsLine(spot)) return undefined;
    const meantWord = STEP_WORDS[image(token)] ?? nearest(image(token), ['within', 'times', 'throughout', 'for']);
    return `'${shown(token)}' does not belong here.${meant(meantWord)}`;
  },
];

const STEPS = new Set(['turn', 'expect', 'wait']);
const MEASURES = new Set(['volts', 'ohms', 'amps']);
const HOMES: Readonly<Record<string, string>> = { limits: "'site'", bands: 'a zone', given: 'an assembly' };
const MEMBERS = 'supply rail common output input port contact zone scheme mode terminal'.split(' ');

/** A number right behind another one. */
function afterNumber({ token }: Spot): string {
  const text = image(token);
  if (text.endsWith('%')) return `A tolerance has its sign: +-${text}.`;
  return `'${shown(token)}' does not belong here: several values are parted by commas, a condition follows '@'.`;
}

/** Whether nothing but names and what parts them stands between a component's kind and the spot. */
function isDeclared({ statement }: Spot): boolean {
  return statement.slice(1).every((token) => type(token) === 'ID' || image(token) === ',');
}

/** What the parser expected, as a sentence. */
function expectation(spot: Spot): string {
  const { before, expected, rule, token } = spot;
  if (expected === NOTHING) return `'${shown(token)}' does not belong here.`;
  const closes = expected === "'}'";
  const words = capital(closes && rule === 'Case' && token !== undefined ? "turn, expect, wait or '}'" : expected);
  const stepNext =
    rule === 'Case' && expected !== "'{'" && before !== undefined && token !== undefined && endsLine(spot);
  if (stepNext) return `${words} is expected, not '${shown(token)}'.`;
  if (token === undefined || (before !== undefined && endsLine(spot))) {
    return before === undefined ? `${words} is missing.` : `${words} is missing after '${shown(before)}'.`;
  }
  const after = before === undefined ? '' : ` after '${shown(before)}'`;
  return `${words} is expected${after}, not '${shown(token)}'.`;
}

/** Whether the token before is the last one of its line. */
export function endsLine({ before, token }: Pick<Spot, 'before' | 'token'>): boolean {
  return before !== undefined && (token === undefined || isOnLaterLine(before, token));
}

function shown(token: Token | undefined): string {
  const text = image(token);
  return text.length > 24 ? `${text.slice(0, 23)}…` : text;
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
