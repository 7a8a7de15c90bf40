/**
 * A coupling from a few answers: what an output drives over which cable, and how a zone hears of it. Pure functions. Only
 * what goes together is offered; the tests write every text that can come of it and check it.
 */

/** Answers by question; a question that does not arise has none. */
export interface Answers {
  readonly title?: string;
  readonly output?: string;
  readonly drives?: string;
  readonly draws?: string;
  readonly cable?: string;
  readonly length?: string;
  readonly zone?: string;
}

export type Asked = Exclude<keyof Answers, 'title'>;

export interface Choice {
  readonly value: string;
  readonly label: string;
  readonly detail?: string;
}

export interface Question {
  readonly asks: Asked;
  readonly words: string;
  readonly choices: readonly Choice[];
}

interface Output {
  readonly label: string;
  readonly type: string;
  readonly sort: 'sink' | 'source' | 'contact';
  /** Rated volts of its supply, loads and relays. */
  readonly volts: 12 | 24;
  /** Volts that a cable may take where a load of these volts still works with a margin. */
  readonly left: number;
  /** Milliamperes of a load: above what leaks, below the rating with a fifth kept in hand. */
  readonly draws: readonly [least: number, most: number];
  /** Whether a signal relay suits it: a contact for more current would not stay clean on so small a coil. */
  readonly relay: boolean;
  /** What the type's usual figures are replaced by, so that it drives something of its rated volts. */
  readonly given?: string;
}

const SOURCE = {
  sort: 'source',
  volts: 24,
  left: 2.7,
  given: 'L.volts: 24.2 V .. 24.6 V .. 25 V  Q1.drop: 0.5 V',
} as const;

const OUTPUTS: Readonly<Record<string, Output>> = {
  sink01: {
    label: 'Open collector of 100 mA, 12 V',
    type: 'OutputsSinking01',
    sort: 'sink',
    volts: 12,
    left: 1,
    draws: [50, 50],
    relay: true,
  },
  sink05: {
    label: 'Open collector of 500 mA, 12 V',
    type: 'OutputsSinking05',
    sort: 'sink',
    volts: 12,
    left: 1,
    draws: [50, 300],
    relay: true,
  },
  'sink05-24': {
    label: 'Open collector of 500 mA, 24 V',
    type: 'OutputsSinking05',
    sort: 'sink',
    volts: 24,
    left: 2.1,
    draws: [50, 300],
    relay: true,
  },
  source05: {
    label: 'Sourcing output of 0.5 A, 24 V',
    type: 'OutputsSourcing05',
    draws: [50, 300],
    relay: true,
    ...SOURCE,
  },
  source2: {
    label: 'Sourcing output of 2 A, 24 V',
    type: 'OutputsSourcing2',
    draws: [100, 300],
    relay: true,
    ...SOURCE,
  },
  contact12: {
    label: 'Volt-free contact of 2 A, 12 V',
    type: 'OutputsContact',
    sort: 'contact',
    volts: 12,
    left: 2.1,
    draws: [50, 300],
    relay: false,
  },
  contact24: {
    label: 'Volt-free contact of 2 A, 24 V',
    type: 'OutputsContact',
    sort: 'contact',
    volts: 24,
    left: 3.2,
    draws: [50, 300],
    relay: false,
  },
};

const RELAYS: Readonly<Record<string, { readonly label: string; readonly spare: string }>> = {
  RelaySignal: { label: 'A signal relay', spare: 'K1.12, K1.21, K1.22, K1.24' },
};

const LOADS: Readonly<Record<string, { readonly label: string; readonly says: string; readonly coil: boolean }>> = {
  Sounder: { label: 'A sounder', says: 'Sounder', coil: false },
  Beacon: { label: 'A flashing light', says: 'Beacon', coil: false },
  LockFailSafe: { label: 'A lock that lets go without supply', says: 'Lock', coil: true },
  LockFailSecure: { label: 'A lock that lets go while it is supplied', says: 'Lock', coil: true },
};

/** Milliamperes that a load is said to draw at its rated volts. */
const DRAWS = [50, 100, 300];

interface Cable {
  readonly label: string;
  readonly section: number;
  /** Cores after the first two. */
  readonly spare: string;
}

const CABLES: Readonly<Record<string, Cable>> = {
  Cable4x022: { label: '4 × 0.22 mm²', section: 0.22, spare: 'W1.YE, W1.BU' },
  Cable4x050: { label: '4 × 0.5 mm²', section: 0.5, spare: 'W1.YE, W1.BU' },
  Cable2x100: { label: '2 × 1 mm²', section: 1, spare: '' },
};

/** Metres. */
const LENGTHS = [15, 50];

/** Amperes. */
const FUSES = [0.1, 0.25, 0.5, 1];

/** Ohms of a core of one square millimetre and one metre, at its worst in the heat; only to leave out what cannot do. */
const OHMS = 0.0235;

const ZONES: Readonly<Record<string, string>> = { Zones1k: '1k', Zones2k2: '2k2', Zones4k7: '4k7', Zones5k6: '5k6' };
const SCHEMES: Readonly<Record<string, string>> = {
  two: 'two resistors: at the end and across the contact',
  one: 'one resistor at the end',
};

const choices = <T>(table: Readonly<Record<string, T>>, label: (row: T) => string): Choice[] =>
  Object.entries(table).map(([value, row]) => ({ value, label: label(row) }));

/** What is to be asked next; undefined once everything is known. */
export function nextQuestion(answers: Answers): Question | undefined {
  const { cable, draws, drives, length, output, zone } = answers;
  if (output === undefined) {
    return { asks: 'output', words: 'What switches?', choices: choices(OUTPUTS, ({ label }) => label) };
  }
  if (drives === undefined) {
    const relays = OUTPUTS[output]?.relay === true ? choices(RELAYS, ({ label }) => label) : [];
    const heard = relays.map((each) => ({ ...each, detail: 'Its contact is heard by a zone of another unit' }));
    const loads = choices(LOADS, ({ label }) => label).map((each) => ({ ...each, detail: 'At the end of a cable' }));
    return { asks: 'drives', words: 'What does it drive?', choices: [...heard, ...loads] };
  }
  if (drives in LOADS && draws === undefined) {
    const [least, most] = OUTPUTS[output]?.draws ?? [0, 0];
    const fitting = DRAWS.filter((each) => each >= least && each <= most);
    const offered = fitting.map((each) => ({ value: String(each), label: `${each} mA` }));
    return { asks: 'draws', words: 'What does it draw at its rated volts?', choices: offered };
  }
  if (cable === undefined) {
    const fitting = choices(CABLES, ({ label }) => label).filter(({ value }) => lengths(answers, value).length > 0);
    return { asks: 'cable', words: 'Over which cable?', choices: fitting };
  }
  if (length === undefined) {
    const offered = lengths(answers, cable).map((each) => ({ value: String(each), label: `${each} m` }));
    return { asks: 'length', words: 'How long is it?', choices: offered };
  }
  if (drives in RELAYS && zone === undefined) {
    const offered = Object.entries(ZONES).flatMap(([value, ohms]) =>
      Object.entries(SCHEMES).map(([scheme, label]) => ({ value: `${value} ${scheme}`, label: `${ohms}, ${label}` })),
    );
    return { asks: 'zone', words: 'How does the zone read its loop?', choices: offered };
  }
  return undefined;
}

/** Lengths over which what is driven still gets enough, and a short at the far end still opens the fuse. */
function lengths({ draws, output }: Answers, cable: string): number[] {
  const { section } = CABLES[cable] ?? {};
  const row = OUTPUTS[output ?? ''];
  if (section === undefined || draws === undefined || row === undefined) return LENGTHS;
  const { left, volts } = row;
  const fuse = fuseFor(row, draws);
  const amperes = Number(draws) / 1000;
  return LENGTHS.filter((metres) => {
    const ohms = (2 * metres * OHMS) / section;
    return amperes * ohms <= left && (volts - 1.2) / ohms >= 4.2 * fuse;
  });
}

/** Amperes of the smallest of the usual fuses that carries for ever what a load, or a relay, and the unit itself draw. */
function fuseFor({ sort }: Output, draws = '25'): number {
  const milliamperes = Number(draws) + (sort === 'source' ? 60 : 0);
  return FUSES.find((each) => 1.5 * milliamperes <= 1000 * each) ?? 1;
}

/** The text, once `nextQuestion` has nothing more to ask. */
export function couplingText(answers: Answers): string {
  const output = OUTPUTS[answers.output ?? ''];
  const cable = CABLES[answers.cable ?? ''];
  if (output === undefined || cable === undefined || nextQuestion(answers) !== undefined) {
    throw new Error('Not everything is answered yet.');
  }
  const title = (answers.title ?? '').replaceAll(/["\\\p{Cc}]/gu, ' ').trim() || 'New coupling';
  const parts =
    (answers.drives ?? '') in LOADS ? loadParts(answers, output, cable) : relayParts(answers, output, cable);
  return `${head(title, parts.blind, parts.uses)}\n${parts.lines.join('\n')}\n`;
}

interface Parts {
  readonly uses: readonly string[];
  readonly lines: readonly string[];
  /** Single faults that nobody would notice before an event. */
  readonly blind?: number;
}

function head(title: string, blind: number | undefined, uses: readonly string[]): string {
  const site =
    blind === undefined ? '{ ambient: 0 degC .. 40 degC }' : `{\n  ambient: 0 degC .. 40 degC\n  blind: ${blind}\n}`;
  return [
    '// Generic types and made-up values: put those of your site in their place.',
    ...(blind === undefined
      ? []
      : [
          "// 'blind' counts the single faults that nobody would notice before an event; a test at intervals finds them.",
        ]),
    `site "${title}" ${site}`,
    '',
    ...[...uses].sort().map((file) => `use "library/${file}.couplet"`),
    '',
  ].join('\n');
}

/** The supply with its fuse, and the unit whose output switches. */
function source(output: Output, draws: string | undefined): string[] {
  const { given, sort, type, volts } = output;
  const range = volts === 12 ? '12.6 V .. 12.9 V .. 13.1 V' : '24.2 V .. 24.6 V .. 25 V';
  const unit = `unit ctl : ${type} in plant`;
  return [
    `supply G1 : SupplyFloating${volts} = 5 A in plant { volts: ${range} }`,
    `fuse F1 = ${1000 * fuseFor(output, draws)} mA in plant`,
    given === undefined ? unit : `${unit} { ${given} }`,
    ...(sort === 'contact' ? ['spare ctl.NC1'] : []),
  ];
}

/** The wires from the supply over what is driven to the output; `driven` is a chain. */
function feed({ sort }: Output, driven: string): string[] {
  if (sort === 'sink') {
    return [`wire G1.plus -- F1 -- ${driven} -- ctl.Q1`, 'wire G1.minus -- ctl.GND'];
  }
  if (sort === 'source') {
    return ['wire G1.plus -- F1 -- ctl.LP', 'wire G1.minus -- ctl.M', `wire ctl.Q1 -- ${driven} -- ctl.M`];
  }
  return [`wire G1.plus -- F1 -- ctl.C1-NO1 -- ${driven} -- G1.minus`];
}

function cableLines(type: string, { spare }: Cable, length: string, from: string, to: string): string[] {
  return [
    `cable W1 : ${type} {`,
    `  length: ${length} m`,
    `  from: ${from}`,
    `  to: ${to}`,
    '  route: indoor',
    '}',
    ...(spare === '' ? [] : [`spare ${spare}`]),
  ];
}

function loadParts(answers: Answers, output: Output, cable: Cable): Parts {
  const load = LOADS[answers.drives ?? ''];
  const on = output.sort === 'contact' ? 'operated' : 'on';
  return {
    uses: ['outputs-and-inputs', 'loads', 'supplies', 'cables'],
    lines: [
      'place plant "Where the output is"',
      'place field "Where the load is"',
      '',
      ...source(output, answers.draws),
      `load P1 : ${answers.drives}${output.volts} = ${answers.draws} mA @ ${output.volts} V in field "${load?.says}"`,
      ...(load?.coil === true ? ['diode D1 in field { drop: 0.7 V }'] : []),
      ...cableLines(answers.cable ?? '', cable, answers.length ?? '', 'plant', 'field'),
      '',
      ...feed(output, 'W1.RD -- P1 -- W1.BK'),
      ...(load?.coil === true ? ['wire P1.minus -- D1 -- P1.plus'] : []),
      '',
      `case signal "The output switches on" {`,
      `  turn ctl.Q1 ${on}`,
      '  expect P1 on',
      '}',
    ],
  };
}

function relayParts(answers: Answers, output: Output, cable: Cable): Parts {
  const relay = RELAYS[answers.drives ?? ''];
  const [zones = '', scheme = ''] = (answers.zone ?? '').split(' ');
  const [held, off] = output.sort === 'contact' ? ['operated', 'released'] : ['on', 'off'];
  const second = scheme === 'two';
  const bled = output.sort === 'source';
  return {
    uses: ['outputs-and-inputs', 'relays', 'supplies', 'zones', 'cables'],
    blind: 2 + (second ? 1 : 0) + (bled ? 1 : 0),
    lines: [
      'place plant "Where the output is"',
      'place hut "Where the panel is"',
      '',
      ...source(output, answers.draws),
      `relay K1 : ${answers.drives}${output.volts} in plant "Held in while all is well" { suppressor: diode }`,
      // What leaks through such an output would hold a small coil.
      ...(bled ? ['resistor RP = 1k5 +-5% in plant "Takes the leakage of the output"'] : []),
      `unit panel : ${zones} in hut`,
      `resistor RE = ${ZONES[zones]} +-1%`,
      ...(second ? [`resistor RA = ${ZONES[zones]} +-1%`] : []),
      ...cableLines(answers.cable ?? '', cable, answers.length ?? '', 'hut', 'plant'),
      `spare ${relay?.spare}`,
      '',
      `program ctl.Q1 rest = ${held}`,
      `program panel.Z1 scheme = ${scheme}`,
      '',
      ...feed(output, 'K1.A1-A2'),
      ...(bled ? ['wire K1.A1 -- RP -- K1.A2'] : []),
      'wire panel.Z1 -- W1.RD -- K1.11-14 -- RE -- W1.BK -- panel.ZC',
      ...(second ? ['wire K1.11 -- RA -- K1.14'] : []),
      '',
      `case report "The output reports" {`,
      `  turn ctl.Q1 ${off}`,
      '  expect panel.Z1 alarm within 1 s',
      '}',
      `case supply-lost "The output loses its supply" {`,
      '  turn G1 off',
      '  expect panel.Z1 alarm within 1 s',
      '}',
    ],
  };
}

/** A file's name from a site's title, the `count`th of that name: `new-coupling.couplet`, `new-coupling-2.couplet`. */
export function fileName(title: string, count: number): string {
  const plain = title
    .normalize('NFKD')
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, '-')
    .replaceAll(/^-|-$/g, '');
  return `${plain || 'coupling'}${count === 1 ? '' : `-${count}`}.couplet`;
}
