/** Properties of a site, its places, confirmations and autonomy. */
import {
  COMMON_PRACTICE,
  count,
  FROM_MEMORY,
  halfOpen,
  type PropertyRow,
  quantity,
  range,
  single,
  words,
} from './row.ts';

export const SITE_ROWS: readonly PropertyRow[] = [
  {
    name: 'ambient',
    on: ['site', 'place'],
    forms: [quantity('degC')],
    says: 'Temperatures that occur, least to most; 20 °C is usual where the range holds it. A place that does not say takes those of the site.',
  },
  {
    name: 'wet',
    on: ['place', 'site'],
    forms: [words('yes', 'no')],
    default: { text: 'no', origin: 'of this language' },
    says: 'Whether joints there can get damp.',
  },
  {
    name: 'blind',
    on: ['site'],
    forms: [count(0)],
    default: { text: '0', origin: 'of this language' },
    says: 'How many service faults may leave the panel blind over all zones.',
  },
  {
    name: 'blind-fitting',
    on: ['site'],
    forms: [count(0)],
    says: 'How many fitting errors may leave the panel blind over all zones; no limit where it is not given.',
  },
  {
    name: '*',
    on: ['limits'],
    forms: [quantity('ratio', 'ohm', 'V', 'A', 's', 'degC', 'm', 'number', 'Ah')],
    says: 'The threshold of a rule on this site, in place of its default.',
  },
  {
    name: 'partner-in-trouble',
    on: ['confirm'],
    forms: [words('counts-alone', 'does-not-count')],
    default: { text: 'does-not-count', origin: COMMON_PRACTICE },
    says: 'Whether a zone counts alone while its partner is in trouble.',
  },
  {
    name: 'carries',
    on: ['autonomy'],
    forms: [{ sort: 'case for a time' }],
    list: 'many',
    says: 'Which cases the battery shall carry for how long, one after the other.',
  },
  {
    name: 'ageing',
    on: ['autonomy'],
    forms: [single('ratio')],
    default: { text: '125%', origin: `IEEE 485, ${FROM_MEMORY}` },
    says: 'How much more capacity is asked for so that an old battery still does it.',
  },
  {
    name: 'recharge',
    on: ['autonomy'],
    forms: [single('s')],
    default: { text: '72 h', origin: `EN 50131-1, ${FROM_MEMORY}` },
    says: 'Time in which the charger shall restore 80 % of the charge.',
  },
  {
    name: '*',
    on: ['scheme'],
    forms: [range('ohm', 'V'), halfOpen('ohm', 'V')],
    list: 'many',
    says: 'The ranges in which the panel reports this class, in ohms across zone and return or in volts at the terminal; an edge belongs to the range above it.',
  },
];
