/**
 * docs/language.md: the language as the grammar, the property table and the other tables of the language have it.
 * Prose stands here, examples in `language-reference/examples.ts`; everything else is read from the tables.
 */
import { DIMENSIONS, type SingleMeaning, unitsOf } from '@couplet/engine';
import {
  BUNDLED_PATHS,
  bundledText,
  bundledUri,
  FAULTS,
  FORM_TERMINALS,
  format,
  formWords,
  KIND_SAYS,
  MEMBER_SAYS,
  type PropertyRow,
  propertyRows,
  STATEMENT_SAYS,
  STATES,
  type Subject,
  USUAL_CLASSES,
} from '@couplet/language';
import { BUILTIN_LIBRARY } from '../packages/language/src/generated/builtin-library.ts';
import {
  KIND_EXAMPLES,
  MEMBER_EXAMPLES,
  STATEMENT_EXAMPLES,
  STEP_EXAMPLES,
  VALUE_EXAMPLE,
} from './language-reference/examples.ts';
import { alternativesOf, formOf } from './language-reference/syntax.ts';

export const LANGUAGE_PAGE = 'docs/language.md';

/** The page as path and text. */
export function languageReference(): [path: string, text: string] {
  const parts = [head(), values(), statements(), steps(), kinds(), members(), bodies(), states(), faults(), library()];
  return [LANGUAGE_PAGE, `${parts.join('\n\n')}\n`];
}

function head(): string {
  return `# The language

Files end in \`.couplet\`. A file reads like a wiring schedule and a test sheet: what there is, how it is joined, what shall happen.
Every statement but components and wires may be missing; what cannot then be judged says what it needs.
The order of statements never matters, except inside a chain, a case, \`legs\` and \`carries\`.
\`//\` to the end of the line is a note for the reader of the file; a text in quotes behind a name is a description, which findings and sheets show.

Generated from the grammar and the tables of the language by \`npm run generate\`. In the forms, words in capitals are filled in, \`?\` marks what may be missing, \`*\` what may stand any number of times, \`|\` a choice.`;
}

// ---- values ----

const MEANINGS: Readonly<Record<SingleMeaning, string>> = {
  exact: 'exactly this',
  'at most': 'this at most: usually this, at least 0',
  'at least': 'this at least: nothing is known above it',
};

function values(): string {
  const rows = DIMENSIONS.filter(({ dimension }) => dimension !== 'number').map(
    ({ dimension, words, example: text }) => {
      const units = unitsOf(dimension).map(({ symbol, also = [] }) => [symbol, ...also].map(code).join(' or '));
      return [words.replace(/^an? /, ''), units.join(', '), code(text)];
    },
  );
  return `## Values

A number and its unit, with at most one blank between them. Resistance is also written as IEC 60062 has it (\`2k2\`, \`4R7\`, \`470R\`), with the decimals behind the letter. Decimals follow a point; exponents are not read. The typed signs ± Ω µ ² ° – ≥ ≤ are read as the plain ones.
Upper and lower case are one, but for \`m\`/\`M\` (milli, mega) and \`h\`/\`H\` (hour, henry); \`K\` and \`k\` are kilohm.

${table(['what', 'units', 'as in'], rows)}

- \`2k2 +-1%\`, \`12 V -15% +20%\`, \`5 V +-0.5 V\`: a value with its tolerance.
- \`9 V .. 15 V\`: a range. Its middle is taken as usual where one is needed, and that is shown as assumed.
- \`11.4 V .. 12.8 V .. 14.1 V\`: least, usual, most.
- \`below 1k1\`, \`above 10k\`: everything to one side. An edge belongs to the range above it.
- \`5 V via 4k7\`: a source behind a resistance. \`10 A @ 30 V\`: a value under a condition (\`at\` is read too). \`0.5 s / 0.5 s\`: on and off.
- A value that stands alone means what its property says: ${Object.entries(MEANINGS)
    .map(([meaning, words]) => `*${meaning}*: ${words}`)
    .join('; ')}.

Several values of one property are parted by commas. Dates are written \`2028-01-31\`.

${example(VALUE_EXAMPLE)}`;
}

// ---- statements ----

function statements(): string {
  const sections = alternativesOf('Statement').map((rule) => {
    const word = wordOf(rule);
    const says =
      word === 'KIND' ? 'Components: one or several of a kind, of a type where they have one.' : STATEMENT_SAYS[word];
    const more = MORE[rule] === undefined ? '' : `\n\n${MORE[rule]}`;
    return `### ${word === 'KIND' ? 'components' : code(word)}\n\n${says}\n\n${form(rule)}${more}\n\n${example(STATEMENT_EXAMPLES[rule])}`;
  });
  return `## Statements\n\n${sections.join('\n\n')}`;
}

/** The word that a statement or a step begins with. */
function wordOf(rule: string): string {
  return formOf(rule).split(' ')[0] as string;
}

/** What the form does not say. */
const MORE: Readonly<Record<string, string>> = {
  Use: 'The path goes from the folder of the file that it stands in, never out of the workspace folder. `library/…` finds the types that come with the language (see below); `./library/…` is a folder of your own. Everything in the other file counts, wires and cases too. With `as`, its components, places and cases are named under that name: `north.K1`.',
  Component:
    'The body adds to the properties of the type or overrides them; those of a member by its dotted name: `Q1.rated: 400 mA`. A second text in quotes on the next line goes on with the description.',
  Wire: `A chain is written the way the current flows, from plus to minus, and begins and ends at a terminal, a joint or \`earth\`. A part with two terminals, a core or a pole that is named is passed through; a terminal is joined. A core or a fuse may stand in several chains, any other part is passed through once. It may be broken behind \`--\`.

- \`K1.A1-A2\`, \`K1.11-14\`, \`S1.11-12\`: two terminals joined by \`-\` are passed through in that order. Contacts are numbered as EN 50005 has it: ${contactNumbers()}; tens count the poles. \`COM\`, \`NC\`, \`NO\` where there is one pole.
- \`W1.GN\`: a core, from place to place; \`W1.GN.pit\`: its end there; \`W1.RD+WH\`: two cores in parallel.
- \`panel."0V"\`: a name as it is printed on the equipment.`,
  Program:
    'A property that is a setting of the unit is what the computation takes; a text in quotes names a setting that changes nothing computed, or that a case uses as a value (`for level."Beacon time"`).',
  Case: 'A case begins at `rest`, where all is well and everything has settled, or where another case ended. `case rest` turns nothing; it may stand several times and adds up. A zone that no `expect` names must read as at rest.',
  Measured:
    '`volts A to B`, `ohms A to B` (dead, lifted at the first terminal), `amps in A`. Later blocks do not replace earlier ones.',
  Accept:
    'The finding stays listed, with its reason, until the date. For `silent-fault` the word of the fault is required.',
  TypeDeclaration:
    'Types hold properties, members of units, and in an assembly whole circuits with what they are given. A use may override anything in them. In the body of a use that is done by dotted names: `W1.size: 0.5 mm2`, `RE.rating: 3k3`, and `L.run: 12 m` for what a use within it is given. What is found in every use of an assembly is told once, in its text; what only some uses have is told at their rows. `accept … on DoorLoop.RE` accepts for all uses, `accept … on B02.RE` for one.',
};

function contactNumbers(): string {
  return Object.entries(FORM_TERMINALS)
    .map(([name, { digits }]) => `${name.replace('-', ' ')} ${digits.map((digit) => `1${digit}`).join('-')}`)
    .join(', ');
}

function steps(): string {
  const says: Readonly<Record<string, string>> = {
    Turn: 'Acts at once; turns with no `wait` between them act at the same instant. With `for`, it goes back by itself. A fault is turned by its word.',
    Expect:
      'Is judged where it stands: after the turns above it have had their effect. `within`: true at some instant between the last turn or wait above and then. `N times`: entered so often since the case began. `throughout`: at every instant up to this line. Bounds hold at the worst corner; a range holds for the whole spread; `about` compares the usual value within 1 %, or within the tolerance given.',
    Wait: 'Lets time pass.',
  };
  const sections = alternativesOf('CaseStep').map(
    (rule) => `### ${code(wordOf(rule))}\n\n${says[rule]}\n\n${form(rule)}\n\n${example(STEP_EXAMPLES[rule])}`,
  );
  return `## Steps of a case\n\n${sections.join('\n\n')}`;
}

// ---- components, members, other bodies ----

function kinds(): string {
  const sections = Object.entries(KIND_SAYS).map(([kind, says]) => {
    const own = terminalsOf(kind);
    const terminals = own.length === 0 ? '' : `\n\nIts terminals: ${own.join(', ')}.`;
    return `### ${code(kind)}\n\n${says}${terminals}\n\n${properties(kind as Subject)}${example(KIND_EXAMPLES[kind])}`;
  });
  return `## Kinds of components

A property with a default is taken so where it is not given, and results that rest on it say so. What is not given and has no default gives *not evaluated: needs …* where a check asks for it. *Setting* marks what \`program\` can set.

${sections.join('\n\n')}`;
}

/** Terminals that a kind has by itself, as the built-in names have them. */
function terminalsOf(kind: string): string[] {
  const type = new RegExp(`^type ${kind} : ${kind} \\{([^}]*)\\}`, 'm').exec(BUILTIN_LIBRARY)?.[1] ?? '';
  return [...type.matchAll(/terminal (\S+) "([^"]*)"/g)].map(([, name = '', says = '']) => {
    return `${code(name)} (${says.charAt(0).toLowerCase()}${says.slice(1)})`;
  });
}

function members(): string {
  const sections = Object.entries(MEMBER_SAYS).map(([kind, says]) => {
    const subject = kind === 'supply' ? 'feed' : kind;
    return `### ${code(kind)} of a unit\n\n${says}\n\n${properties(subject as Subject)}${example(MEMBER_EXAMPLES[kind])}`;
  });
  return `## Members of a unit

${form('Member')}

\`Z1 .. Z8\` counts the last number up. A name may stand in quotes as it is printed on the unit.

${sections.join('\n\n')}`;
}

const OTHER_BODIES: readonly (readonly [Subject, string, string])[] = [
  ['site', '`site`', ''],
  [
    'limits',
    '`limits` of a site',
    `The name is a rule's; which thresholds there are stands in [the rules](rules/README.md).`,
  ],
  ['place', '`place`', ''],
  ['confirm', '`confirm`', ''],
  ['autonomy', '`autonomy`', ''],
  ['pole', 'a pole of a relay, switch or contact', 'Written with the pole before it: `11-14.carries: 24 V`.'],
];

function bodies(): string {
  const sections = OTHER_BODIES.map(([subject, title, says]) => {
    return `### ${title}\n\n${says === '' ? '' : `${says}\n\n`}${properties(subject).trimEnd()}`;
  });
  return `## Properties of other statements\n\n${sections.join('\n\n')}`;
}

function properties(subject: Subject): string {
  const rows = propertyRows(subject);
  if (rows.length === 0) return '';
  const cells = rows.map((row) => [nameCell(row, subject), takesCell(row), row.says, defaultCell(row)]);
  return `${table(['property', 'takes', 'says', 'default'], cells)}\n\n`;
}

function nameCell({ name, programmable }: PropertyRow, subject: Subject): string {
  const shown = name === '*' ? (subject === 'limits' ? 'a rule' : 'a class') : code(name);
  return programmable === true ? `${shown} *setting*` : shown;
}

function takesCell(row: PropertyRow): string {
  const list = row.list === 'many' ? '; several' : row.list === 'each once' ? '; each of them once' : '';
  const quantities = row.forms.some((form) => form.sort === 'quantity' || form.sort === 'at');
  const alone = quantities && row.single !== undefined ? `; alone: ${row.single}` : '';
  const ways = row.forms.map((form) => formWords({ ...row, forms: [form] }));
  return `${ways.join(', or ')}${list}${alone}`;
}

function defaultCell({ default: taken }: PropertyRow): string {
  return taken === undefined ? '' : `${taken.text} (${taken.origin})`;
}

// ---- states, faults, library ----

function states(): string {
  const rows = STATES.map(({ words, turn, expect, figures, declared }) => {
    const more = declared === 'modes' ? ['a mode’s name'] : declared === 'classes' ? ['a class of its scheme'] : [];
    const turned = [...turn.map(code), ...(declared === 'modes' ? more : [])];
    const expected = [...expect.map(code), ...(declared === 'classes' ? more : [])];
    return [words.replace(/^an? |^this /, ''), turned.join(', '), expected.join(', '), figures.join(', ')];
  });
  return `## States

${table(['of', '`turn`', '`expect`', 'figures in'], rows)}

Classes of a zone without a scheme that names them: ${USUAL_CLASSES.map(code).join(', ')}.`;
}

function faults(): string {
  const rows = FAULTS.map(({ word, group, on, names }) => [
    code(names === undefined ? word : `${word} ${names} …`),
    group === 'service' ? 'happens in use' : 'made when fitting',
    on.map((owner) => (owner === 'part' ? 'resistor, capacitor, diode and the like' : owner)).join(', '),
  ]);
  return `## Words of single faults

One list for \`turn\`, \`accept\`, the fault table and tracing. \`site { blind: N }\` limits the faults in use that may leave the panel blind, \`blind-fitting: N\` the fitting errors.

${table(['word', 'group', 'of'], rows)}`;
}

function library(): string {
  const sections = BUNDLED_PATHS.map((path) => {
    const text = bundledText(bundledUri(path) as string) as string;
    const [, title = ''] = /^\/\/ (.*)$/m.exec(text) ?? [];
    const types = [...text.matchAll(/^type (\S+) : (\S+) "([^"]*)"/gm)].map(([, name = '', kind = '', says = '']) => [
      code(name),
      kind,
      says,
    ]);
    return `### ${code(`use "${path}"`)}\n\n${title}\n\n${table(['type', 'kind', 'is'], types)}`;
  });
  return `## The library

Generic types without makers' names, found from every folder. Their figures are published or usual ones, each with its origin in a note beside it; whatever you know better overrides them at the use: \`relay K1 : RelaySignal12 { rise: 15 degC }\`.

${sections.join('\n\n')}`;
}

// ---- pieces ----

function form(rule: string): string {
  return `\`\`\`text\n${formOf(rule)}\n\`\`\``;
}

/** A missing example is a gap of the reference, not something to leave out. */
function example(text: string | undefined): string {
  if (text === undefined) throw new Error('A section of the language reference has no example.');
  return `\`\`\`couplet\n${format(`${text}\n`).text}\`\`\``;
}

function table(titles: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]) => `| ${cells.map((cell) => cell.replaceAll('|', '\\|')).join(' | ')} |`;
  return [line(titles), `|${titles.map(() => '---').join('|')}|`, ...rows.map(line)].join('\n');
}

function code(text: string): string {
  return `\`${text}\``;
}
