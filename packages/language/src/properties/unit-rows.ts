/** Properties of units and their members. */
import { at, COMMON_PRACTICE, halfOpen, nameOf, type PropertyRow, quantity, single, words } from './row.ts';

const DIRECT = ['V'] as const;

export const UNIT_ROWS: readonly PropertyRow[] = [
  {
    name: 'standing',
    on: ['unit'],
    forms: [quantity('A')],
    single: 'at most',
    says: 'Current that the maker states for the whole unit at rest, to be compared with the computed one.',
  },

  // Terminals.
  {
    name: 'plus',
    on: ['feed', 'input', 'rail'],
    forms: [nameOf('terminal')],
    says: 'The terminal at the plus side, as printed on the unit.',
  },
  {
    name: 'minus',
    on: ['feed', 'input'],
    forms: [nameOf('terminal')],
    says: 'The terminal at the minus side, as printed on the unit.',
  },
  {
    name: 'from',
    on: ['contact'],
    forms: [nameOf('terminal')],
    says: 'The terminal of a contact that is met first.',
  },
  { name: 'to', on: ['contact'], forms: [nameOf('terminal')], says: 'The other terminal of a contact.' },
  { name: 'common', on: ['contact'], forms: [nameOf('terminal')], says: 'The common terminal of a changeover.' },
  {
    name: 'nc',
    on: ['contact'],
    forms: [nameOf('terminal')],
    says: 'The terminal that is joined to the common while the contact is released.',
  },
  {
    name: 'no',
    on: ['contact'],
    forms: [nameOf('terminal')],
    says: 'The terminal that is joined to the common while the contact is operated.',
  },
  {
    name: 'return',
    on: ['rail', 'output', 'input', 'zone', 'port'],
    forms: [nameOf('return')],
    says: 'The common or terminal that its current comes back to.',
  },
  {
    name: 'rail',
    on: ['output'],
    forms: [nameOf('rail')],
    says: 'The rail that a sourcing or push-pull output switches.',
  },
  {
    name: 'fed-by',
    on: ['rail', 'supply', 'battery'],
    forms: [nameOf('feed')],
    says: 'The supply terminals that carry what is drawn here; without it the source is one of its own.',
  },

  // Feeds, rails, commons, modes.
  {
    name: 'works',
    on: ['feed'],
    forms: [quantity('V')],
    says: 'Volts between which the unit works.',
  },
  {
    name: 'draws',
    on: ['feed', 'mode'],
    forms: [quantity('A')],
    single: 'at most',
    says: 'Current that the unit takes for itself.',
  },
  {
    name: 'earthed',
    on: ['common'],
    forms: [words('yes', 'no')],
    says: 'Whether this 0 V is joined to earth inside the unit; not saying is a finding.',
  },

  // Outputs.
  {
    name: 'style',
    on: ['output'],
    forms: [words('sink', 'source', 'push-pull')],
    says: 'Whether an output that is on joins its terminal to the return (sink), to the rail (source) or to either.',
  },
  {
    name: 'rated',
    on: ['output'],
    forms: [quantity('A')],
    single: 'at least',
    says: 'Current that the output can carry continuously.',
  },
  {
    name: 'peak',
    on: ['output'],
    forms: [quantity('A'), at(['A'], ['s'])],
    single: 'at least',
    says: 'Current that the output can carry for a short time, with that time.',
  },
  {
    name: 'limit',
    on: ['output', 'rail', 'supply', 'battery'],
    forms: [quantity('A')],
    single: 'at least',
    says: 'Current at which the source holds its current and lets its volts fall.',
  },
  {
    name: 'drop',
    on: ['output'],
    forms: [quantity('V')],
    single: 'at most',
    says: 'Volts across the output while it is on.',
  },
  {
    name: 'ohms',
    on: ['output'],
    forms: [quantity('ohm')],
    says: 'Resistance of the output while it is on, in series with its drop.',
  },
  {
    name: 'leak',
    on: ['output', 'contact'],
    forms: [quantity('A')],
    single: 'at most',
    default: { text: '0 A', origin: `an ideal switch; ${COMMON_PRACTICE}` },
    says: 'Current that flows through the output while it is off.',
  },
  {
    name: 'withstands',
    on: ['output'],
    forms: [quantity('V')],
    single: 'at least',
    says: 'Volts that the output stands while it is off.',
  },
  {
    name: 'clamp',
    on: ['output'],
    forms: [quantity('V')],
    says: 'Volts to which the output itself limits what an inductive load throws back.',
  },
  {
    name: 'body-diode',
    on: ['output'],
    forms: [words('yes', 'no')],
    says: 'Whether an unpowered output conducts backwards into its rail or return.',
  },
  {
    name: 'pattern',
    on: ['output'],
    forms: [{ sort: 'pair', dimensions: ['s'] }, words('steady')],
    default: { text: 'steady', origin: 'of this language' },
    programmable: true,
    says: 'Time on and time off of an output that pulses.',
  },
  {
    name: 'rest',
    on: ['output'],
    forms: [words('on', 'off', 'pulsing')],
    default: { text: 'off', origin: COMMON_PRACTICE },
    programmable: true,
    says: 'State of the output while all is well.',
  },
  {
    name: 'unpowered',
    on: ['output'],
    forms: [words('off', 'on')],
    default: { text: 'off', origin: COMMON_PRACTICE },
    says: 'State of the output while its unit is dead.',
  },
  {
    name: 'at-power-up',
    on: ['output'],
    forms: [words('off', 'on', 'unchanged', 'undefined')],
    programmable: true,
    says: 'State of the output at power-up, at reset and when its link is lost; not saying is a finding.',
  },
  {
    name: 'pulse-length',
    on: ['output'],
    forms: [quantity('s')],
    programmable: true,
    says: 'How long the output stays on each time it is turned on.',
  },
  {
    name: 'repeats',
    on: ['output'],
    forms: [quantity('s')],
    programmable: true,
    says: 'Time after which a pulse comes again while its reason lasts.',
  },
  {
    name: 'follows',
    on: ['output'],
    forms: [{ sort: 'name with state' }],
    list: 'many',
    programmable: true,
    says: 'What the output is on for: while any of these holds.',
  },

  // Inputs and ports.
  {
    name: 'ohms',
    on: ['input'],
    forms: [quantity('ohm')],
    says: 'Resistance of the input, in series with its drop.',
  },
  { name: 'drop', on: ['input'], forms: [quantity('V')], says: 'Forward volts of the input, as of an optocoupler.' },
  {
    name: 'on',
    on: ['input'],
    forms: [halfOpen('A', 'V')],
    says: 'From where the input is certainly on.',
  },
  {
    name: 'off',
    on: ['input'],
    forms: [halfOpen('A', 'V')],
    says: 'Up to where the input is certainly off; between the two it is undecided.',
  },
  {
    name: 'feed',
    on: ['input', 'zone'],
    forms: [{ sort: 'via', value: DIRECT, behind: ['ohm'] }],
    says: 'The source behind a resistance with which it feeds its contact or loop.',
  },
  {
    name: 'as',
    on: ['port'],
    forms: [words('output', 'input')],
    programmable: true,
    says: 'What the port is used as; using it undecided is a finding.',
  },

  // Contacts.
  {
    name: 'rest',
    on: ['contact'],
    forms: [words('open', 'closed', 'operated', 'released')],
    default: { text: 'open or released', origin: COMMON_PRACTICE },
    programmable: true,
    says: 'Where the contact stands while all is well.',
  },
  {
    name: 'unpowered',
    on: ['contact'],
    forms: [words('open', 'closed', 'operated', 'released', 'unchanged')],
    says: 'Where the contact goes when the unit is dead; not saying is a finding.',
  },
  {
    name: 'rating',
    on: ['contact'],
    forms: [at(['A'], ['V', 'V ac']), quantity('A')],
    list: 'many',
    single: 'at least',
    says: 'Current that the contact can switch, at these volts.',
  },

  // Zones.
  {
    name: 'responds',
    on: ['zone', 'input'],
    forms: [quantity('s')],
    single: 'at most',
    programmable: true,
    says: 'How long a signal must stand before it is reported.',
  },
  {
    name: 'restores',
    on: ['zone', 'input'],
    forms: [quantity('s')],
    single: 'at most',
    programmable: true,
    says: 'How long a signal must be gone before the next one counts as another.',
  },
  {
    name: 'scheme',
    on: ['zone'],
    forms: [nameOf('scheme')],
    programmable: true,
    says: 'The set of bands that the zone is programmed to.',
  },
  {
    name: 'loop-limit',
    on: ['zone'],
    forms: [single('ohm')],
    default: { text: '100R', origin: COMMON_PRACTICE },
    single: 'at least',
    says: 'Ohms of cable that the panel allows in the loop.',
  },
];
