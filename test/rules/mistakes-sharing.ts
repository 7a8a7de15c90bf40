/** One mistake each of what shares a contact, a return or a resistor with something else, and of what is never told. */
import type { Mistakes } from './mistakes.ts';
import { blind, CABLE, CTL, LAMP, LOOP, SHUNT } from './phrases.ts';
import type { Edit } from './support.ts';

const TAMPER = 'in pit { contacts: break  contact-rating: 1 A @ 30 V  minimum-load: 10 uA @ 10 mV }';

/** A second alarm contact with a resistor of its own. */
const SECOND: readonly Edit[] = [
  [LOOP, 'wire panel.Z4 -- W1.GN -- K1.11-14 -- S1.11-12 -- RE -- W1.YE -- panel.ZC'],
  'wire S1.11 -- RB -- S1.12',
  ['resistor RA', 'resistor RB = 4k7 +-1%\nresistor RA'],
  `switch S1 ${TAMPER}`,
  'case second {\n  turn S1 open\n  expect panel.Z4 alarm within 1 s\n}',
];

/** A lamp fed from the panel that returns over the core of the loop. */
export const lampOnReturn = (watts: string): readonly Edit[] => [
  [CABLE, CABLE.replace('GN, YE', 'GN, YE, RD')],
  `load P4 = ${watts} @ 12 V in pit { style: resistive  works: 8 V .. 15 V  inrush: 100% @ 1 ms }`,
  'wire panel.AUX -- W1.RD -- P4 -- W1.YE.pit',
];

/** A lamp on a sourcing output that a switch feeds from another supply; `facts` of the output, `chain` from it to the lamp. */
export const fedTwice = (facts: string, chain = 'ctl.Q3'): readonly Edit[] => [
  [CTL, `unit ctl : Controller in pit { ${facts} }`],
  'supply G1 = 12 V, 1 A in pit { volts: 10.6 V .. 11 V .. 11.3 V  earthed: no }',
  'bond G1.minus -- ctl.GND because "one 0 V for both"',
  'load P2 = 100 mA @ 12 V in pit { style: resistive  works: 9 V .. 15 V  inrush: 100% @ 1 ms }',
  'switch S8 in pit { contacts: make  contact-rating: 2 A @ 30 V  minimum-load: 1 mA @ 1 V }',
  `wire ${chain} -- P2 -- ctl.GND`,
  'wire G1.plus -- S8.13-14 -- P2.plus',
  'case test {\n  turn S8 closed\n  expect P2 on\n}',
];

export const SHARING: Mistakes = {
  'back-feed': [
    {
      what: 'a lamp that two supplies can feed, one of them through an output with a body diode',
      edits: fedTwice('Q3.body-diode: yes'),
      finds: ['error back-feed ctl.Q3'],
    },
  ],
  'several-alarms-misread': [
    {
      what: 'two alarm contacts with a resistor each',
      edits: [blind(5), ...SECOND],
      finds: ['error several-alarms-misread panel.Z4'],
    },
  ],
  'shared-return-shift': [
    {
      what: 'a lamp that lifts the return of the loop',
      edits: [blind(9), ...lampOnReturn('0.15 W')],
      finds: ['warning shared-return-shift panel.Z4'],
    },
    {
      what: 'a lamp that lifts it out of the band',
      edits: [blind(9), ...lampOnReturn('1.5 W')],
      finds: ['error shared-return-shift panel.Z4'],
    },
  ],
  'silent-fault': [
    { what: 'one blind fault more than is tolerated', edits: [blind(2)], finds: ['error silent-fault panel.Z4'] },
    {
      what: 'blind faults where nothing is said of them',
      edits: [['  blind: 3', '']],
      finds: ['error silent-fault panel.Z4'],
    },
    {
      what: 'a blind fitting error where none is tolerated',
      edits: [['blind: 3', 'blind: 3  blind-fitting: 0']],
      finds: ['warning silent-fault panel.Z4'],
    },
  ],
  'contact-shared': [
    {
      what: 'two zones on one pole',
      edits: ['wire panel.Z3 -- W1.GN.hut'],
      finds: ['error contact-shared K1.11-14'],
    },
    {
      what: 'two supplies on the two throws of one pole',
      edits: [
        [LAMP, 'wire ctl.V12 -- ctl.NO-C -- P1 -- ctl.Q2'],
        'supply G1 = 12 V, 1 A in pit { earthed: no }',
        'wire G1.plus -- ctl.NC',
        'bond G1.minus -- ctl.GND because "one 0 V for both"',
      ],
      finds: ['error contact-shared ctl.C-NC'],
    },
  ],
  'tamper-inside-shunt': [
    {
      what: 'a tamper contact inside the resistor of the alarm contact',
      edits: [
        blind(4),
        [LOOP, 'wire panel.Z4 -- W1.GN -- K1.11-14 -- S1.11-12 -- RE -- W1.YE -- panel.ZC'],
        [SHUNT, 'wire K1.11 -- RA -- S1.12'],
        `switch S1 ${TAMPER}`,
        'case cover {\n  turn S1 open\n  expect panel.Z4 open within 1 s\n}',
      ],
      finds: ['error tamper-inside-shunt S1.11-12'],
    },
    {
      what: 'a tamper contact by its name, of which no case says anything',
      edits: [
        [LOOP, 'wire panel.Z4 -- W1.GN -- K1.11-14 -- S1.11-12 -- RE -- W1.YE -- panel.ZC'],
        [SHUNT, 'wire K1.11 -- RA -- S1.12'],
        `switch S1 ${TAMPER.replace('pit', 'pit "Tamper of the cover"')}`,
      ],
      finds: ['error tamper-inside-shunt S1.11-12'],
    },
  ],
};
