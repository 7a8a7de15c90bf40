/** One mistake each on the way out: locks that stay shut. */
import type { Mistakes } from './mistakes.ts';
import type { Edit } from './support.ts';

const RATED = 'contact-rating: 2 A @ 30 V  minimum-load: 10 uA @ 10 mV';

/** A magnet on a door with a supply of its own and a break-glass unit of two poles; `lock` is how its current runs. */
export function door(lock: string, ...more: readonly Edit[]): readonly Edit[] {
  return [
    'supply G7 = 12 V, 1 A in pit { volts: 11.5 V .. 12 V .. 12.5 V  earthed: no }',
    'load L7 = 300 mA @ 12 V in pit "Magnet of the way out" { style: resistive  works: 10 V .. 15 V  inrush: 100% @ 1 ms  role: escape-lock }',
    `switch S7 in pit "Break-glass unit" { contacts: break, break  ${RATED}  role: emergency-release }`,
    `wire ${lock}`,
    ...more,
  ];
}

export const BOTH_POLES = 'G7.plus -- S7.11-12 -- L7 -- S7.21-22 -- G7.minus';

/** A relay of the controller comes in to open the door. */
export const OPENED_BY_RELAY: readonly Edit[] = [
  'relay K7 : Relay12 in pit { operates: 60% }\nspare K7.14',
  'wire ctl.Q3 -- K7.A1-A2 -- ctl.GND',
];

export const LOCKS: Mistakes = {
  'lock-held-without-supply': [
    {
      what: 'a relay that must come in to open the door, on another supply than the lock',
      edits: door('G7.plus -- S7.11-12 -- K7.11-12 -- L7 -- S7.21-22 -- G7.minus', ...OPENED_BY_RELAY),
      finds: ['error lock-held-without-supply L7'],
    },
  ],
  'release-can-be-defeated': [
    {
      what: 'a release that a key switch bridges',
      edits: door(
        BOTH_POLES,
        `switch S8 in pit { contacts: make, make  ${RATED} }`,
        'wire S7.11 -- S8.13-14 -- S7.12\nwire S7.21 -- S8.23-24 -- S7.22',
      ),
      finds: ['error release-can-be-defeated S7'],
    },
    {
      what: 'a release that breaks one conductor only',
      edits: door('G7.plus -- S7.11-12 -- L7 -- G7.minus', 'spare S7.21, S7.22'),
      finds: ['error release-can-be-defeated S7'],
    },
  ],
};
