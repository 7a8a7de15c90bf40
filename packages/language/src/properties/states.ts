/** Which states a thing can be turned to and expected in, and the words of single faults. One row a kind of thing. */

/** What a state is asked of: a kind of thing, as `turn` and `expect` tell them apart. */
export type StateOwner =
  | 'output'
  | 'contact'
  | 'changeover contact'
  | 'switch with one contact'
  | 'switch'
  | 'relay'
  | 'latching relay'
  | 'unit'
  | 'source'
  | 'fuse'
  | 'load'
  | 'zone'
  | 'input'
  | 'confirm'
  | 'pole'
  | 'core'
  | 'part';

export interface StateRow {
  readonly owner: StateOwner;
  /** With its article, for messages. */
  readonly words: string;
  readonly turn: readonly string[];
  readonly expect: readonly string[];
  /** Dimensions in which a figure can be expected of it. */
  readonly figures: readonly ('V' | 'A' | 'W' | 'ohm')[];
  /** States that the site declares: modes of a unit, classes of a zone's bands. */
  readonly declared?: 'modes' | 'classes';
}

export const STATES: readonly StateRow[] = [
  { owner: 'output', words: 'an output', turn: ['on', 'off', 'pulsing'], expect: ['on', 'off'], figures: ['A', 'V'] },
  { owner: 'contact', words: 'a contact', turn: ['open', 'closed'], expect: ['open', 'closed'], figures: [] },
  {
    owner: 'changeover contact',
    words: 'a changeover contact',
    turn: ['operated', 'released'],
    expect: ['operated', 'released'],
    figures: [],
  },
  {
    owner: 'switch with one contact',
    words: 'a switch with one contact',
    turn: ['open', 'closed'],
    expect: ['open', 'closed'],
    figures: [],
  },
  {
    owner: 'switch',
    words: 'a switch',
    turn: ['operated', 'released'],
    expect: ['operated', 'released'],
    figures: [],
  },
  { owner: 'relay', words: 'a relay', turn: [], expect: ['operated', 'released'], figures: ['V', 'A'] },
  {
    owner: 'latching relay',
    words: 'a latching relay',
    turn: [],
    expect: ['set', 'reset', 'operated', 'released'],
    figures: ['V', 'A'],
  },
  { owner: 'unit', words: 'a unit', turn: ['on', 'off'], expect: [], figures: ['V', 'A'], declared: 'modes' },
  { owner: 'source', words: 'a source', turn: ['on', 'off'], expect: [], figures: ['V', 'A'] },
  { owner: 'fuse', words: 'a fuse', turn: ['blown'], expect: [], figures: ['V', 'A'] },
  { owner: 'load', words: 'a load', turn: [], expect: ['on', 'off'], figures: ['V', 'A', 'W'], declared: 'modes' },
  { owner: 'zone', words: 'a zone', turn: [], expect: ['any'], figures: ['ohm', 'V'], declared: 'classes' },
  { owner: 'input', words: 'an input', turn: [], expect: ['on', 'off', 'undecided'], figures: ['V', 'A'] },
  { owner: 'confirm', words: 'a confirmation', turn: [], expect: ['confirmed', 'unconfirmed'], figures: [] },
  { owner: 'pole', words: 'a pole', turn: [], expect: ['open', 'closed'], figures: ['V', 'A'] },
  { owner: 'core', words: 'a core', turn: [], expect: [], figures: ['V', 'A'] },
  { owner: 'part', words: 'this part', turn: [], expect: [], figures: ['V', 'A', 'W'] },
];

const BY_OWNER = new Map(STATES.map((row) => [row.owner, row]));

export function stateRow(owner: StateOwner): StateRow {
  return BY_OWNER.get(owner) as StateRow;
}

/** Classes that a zone can report without a scheme that names them. */
export const USUAL_CLASSES: readonly string[] = ['normal', 'alarm', 'short', 'open', 'tamper', 'masked', 'trouble'];

export interface FaultRow {
  readonly word: string;
  readonly group: 'service' | 'fitting';
  readonly on: readonly StateOwner[];
  /** The word between it and another part that it names. */
  readonly names?: 'to' | 'with';
}

/** What a wire can be cut at, and earthed at: a bare join is named after the part that it leads to. */
const WIRED: readonly StateOwner[] = [
  'core',
  'part',
  'load',
  'fuse',
  'pole',
  'contact',
  'changeover contact',
  'switch with one contact',
  'switch',
  'relay',
  'latching relay',
  'output',
  'zone',
  'input',
  'source',
];

/** The list of language.md, 'Fault words'. */
export const FAULTS: readonly FaultRow[] = [
  { word: 'cut', group: 'service', on: WIRED },
  { word: 'earthed', group: 'service', on: WIRED },
  { word: 'shorted', group: 'service', on: ['core'], names: 'to' },
  { word: 'missing', group: 'service', on: ['part', 'load'] },
  { word: 'linked', group: 'service', on: ['part', 'load'] },
  {
    word: 'welded',
    group: 'service',
    on: ['contact', 'changeover contact', 'switch with one contact', 'switch', 'relay', 'latching relay', 'pole'],
  },
  {
    word: 'never-closes',
    group: 'service',
    on: ['contact', 'changeover contact', 'switch with one contact', 'switch', 'relay', 'latching relay', 'pole'],
  },
  { word: 'coil-open', group: 'service', on: ['relay', 'latching relay'] },
  { word: 'coil-shorted', group: 'service', on: ['relay', 'latching relay'] },
  { word: 'stuck-on', group: 'service', on: ['output'] },
  { word: 'stuck-off', group: 'service', on: ['output'] },
  { word: 'lost', group: 'service', on: ['source', 'unit'] },
  { word: 'blown', group: 'service', on: ['fuse'] },
  { word: 'reversed', group: 'fitting', on: ['part', 'load', 'core', 'relay', 'latching relay'] },
  { word: 'swapped', group: 'fitting', on: ['part', 'load', 'core'], names: 'with' },
  { word: 'at-other-end', group: 'fitting', on: ['part', 'load'] },
  { word: 'a-decade-low', group: 'fitting', on: ['part'] },
  { word: 'a-decade-high', group: 'fitting', on: ['part'] },
];

export function faultRow(word: string): FaultRow | undefined {
  return FAULTS.find((row) => row.word === word);
}
