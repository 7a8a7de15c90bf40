/** What completion offers beside names: words of the syntax, classes, states. */
export { KIND_SAYS, MEMBER_SAYS, STATEMENT_SAYS } from '@couplet/language';

/** What may stand in an assembly beside components. */
export const ASSEMBLY_STATEMENTS: readonly string[] = [
  'place',
  'value',
  'wire',
  'bond',
  'spare',
  'program',
  'confirm',
  'case',
  'accept',
];

/** Classes that schemes usually have; any other name is one too. */
export const CLASSES: readonly string[] = ['normal', 'alarm', 'short', 'open', 'tamper', 'masked', 'fault'];

/** States by what is turned or expected (language reference, 'Time in a case'). */
export const STATES: Readonly<Record<'turn' | 'expect', Readonly<Record<string, readonly string[]>>>> = {
  turn: {
    output: ['on', 'off', 'pulsing', 'stuck-on', 'stuck-off'],
    contact: ['open', 'closed', 'operated', 'released', 'welded', 'never-closes'],
    switch: ['open', 'closed', 'operated', 'released'],
    pole: ['welded', 'never-closes'],
    relay: ['coil-open', 'coil-shorted'],
    unit: ['on', 'off', 'lost'],
    feed: ['on', 'off', 'lost'],
    supply: ['on', 'off', 'lost'],
    rail: ['on', 'off', 'lost'],
    battery: ['on', 'off', 'lost'],
    fuse: ['blown'],
    resistor: ['missing', 'linked'],
    diode: ['missing', 'linked', 'reversed'],
    load: ['missing', 'linked'],
    core: ['cut', 'earthed', 'shorted to'],
  },
  expect: {
    output: ['on', 'off'],
    contact: ['open', 'closed', 'operated', 'released'],
    switch: ['open', 'closed', 'operated', 'released'],
    relay: ['operated', 'released', 'set', 'reset'],
    load: ['on', 'off'],
    input: ['on', 'off', 'undecided'],
    unit: ['on', 'off'],
    zone: ['any'],
    confirm: ['confirmed', 'unconfirmed'],
  },
};
