/** One mistake each on the reading side and around it: loops, times, supplies, cables, papers. */

import type { Mistakes } from './mistakes.ts';
import { blind, CABLE, CTL, LAMP, LOAD, LOOP, SHUNT } from './phrases.ts';

export const READING: Mistakes = {
  'rest-inverted': [
    {
      what: 'the other contact',
      edits: [
        [LOOP, 'wire panel.Z4 -- W1.GN -- K1.11-12 -- RE -- W1.YE -- panel.ZC'],
        [SHUNT, 'wire K1.11 -- RA -- K1.12'],
      ],
      finds: ['error rest-inverted panel.Z4'],
    },
  ],
  'reading-outside-band': [
    {
      what: 'a resistor of wide tolerance near an edge',
      edits: [['resistor RE = 2k2 +-1%', 'resistor RE = 3k3 +-20%']],
      finds: ['error reading-outside-band panel.Z4'],
    },
    {
      what: 'a reading less than a tenth from the edge',
      edits: [['resistor RE = 2k2 +-1%', 'resistor RE = 3k3 +-10%']],
      finds: ['warning reading-outside-band panel.Z4'],
    },
  ],
  'bands-unsound': [
    {
      what: 'a gap between two bands',
      edits: [
        [
          'unit panel : Panel in hut',
          'unit panel : Panel in hut { scheme odd { short: below 1k1  normal: 1k1 .. 3k5  alarm: 3k9 .. 10k  open: above 10k } }\nprogram panel.Z4 scheme = odd',
        ],
      ],
      finds: ['error bands-unsound panel.Z4'],
    },
  ],
  'states-collide': [
    {
      what: 'a contact with the resistor that another one has, of which another answer is expected',
      edits: [
        blind(5),
        [LOOP, 'wire panel.Z4 -- W1.GN -- K1.11-14 -- S1.11-12 -- RE -- W1.YE -- panel.ZC'],
        'wire S1.11 -- RB -- S1.12',
        ['resistor RA', 'resistor RB = 4k7 +-1%\nresistor RA'],
        'switch S1 in pit { contacts: break  contact-rating: 1 A @ 30 V  minimum-load: 10 uA @ 10 mV }',
        'case cover {\n  turn S1 open\n  expect panel.Z4 open within 1 s\n}',
      ],
      finds: ['error states-collide panel.Z4'],
    },
  ],
  'loop-resistance-high': [
    {
      what: 'a long thin cable',
      edits: [
        [
          CABLE,
          'cable W1 { cores: GN, YE  size: 0.22 mm2  core-ohms: 95 ohm/km  length: 600 m  from: hut  to: pit  route: indoor }',
        ],
      ],
      finds: ['warning loop-resistance-high panel.Z4'],
    },
  ],
  'terminator-not-at-far-end': [
    {
      what: 'both resistors at the panel',
      edits: [
        [LOOP, 'wire panel.Z4 -- RE -- W1.GN -- K1.11-14 -- W1.YE -- panel.ZC'],
        [SHUNT, 'wire W1.GN.hut -- RA -- panel.ZC'],
      ],
      finds: ['error terminator-not-at-far-end panel.Z4'],
    },
    {
      what: 'a loop without an end resistor',
      edits: [
        blind(4),
        [LOOP, 'wire panel.Z4 -- W1.GN -- K1.11-14 -- W1.YE -- panel.ZC'],
        [SHUNT, 'program panel.Z4 scheme = plain'],
        ['resistor RE = 2k2 +-1%\n', ''],
        ['resistor RA = 4k7 +-1%\n', ''],
      ],
      finds: ['warning terminator-not-at-far-end panel.Z4'],
    },
  ],
  'terminator-in-hot-leg': [
    {
      what: 'the end resistor before the contact',
      edits: [blind(4), [LOOP, 'wire panel.Z4 -- W1.GN -- RE -- K1.11-14 -- W1.YE -- panel.ZC']],
      finds: ['warning terminator-in-hot-leg panel.Z4'],
    },
  ],
  'too-many-detectors': [
    {
      what: 'two powered detectors in one loop',
      edits: [
        [LOOP, 'wire panel.Z4 -- W1.GN -- K1.11-14 -- D1.A1-A2 -- D2.A1-A2 -- RE -- W1.YE -- panel.ZC'],
        'type Det : unit {\n  contact AL { from: A1  to: A2  rest: closed  unpowered: open  rating: 1 A @ 30 V  minimum-load: 10 uA @ 10 mV }\n}',
        'unit D1, D2 : Det in pit',
      ],
      finds: ['warning too-many-detectors panel.Z4'],
    },
  ],
  'leakage-masks-alarm': [
    {
      what: 'a loop outdoors',
      edits: [['place pit { ambient: -5 degC .. 40 degC }', 'place pit { ambient: -5 degC .. 40 degC  wet: yes }']],
      finds: ['warning leakage-masks-alarm panel.Z4'],
    },
  ],
  'signal-too-short': [
    {
      what: 'a pulse that the panel cannot see',
      edits: [['turn ctl.Q1 off\n', 'turn ctl.Q1 off for 200 ms\n']],
      finds: ['error signal-too-short panel.Z4'],
    },
    {
      what: 'a pulse with less than twice the time',
      edits: [['turn ctl.Q1 off\n', 'turn ctl.Q1 off for 600 ms\n']],
      finds: ['warning signal-too-short panel.Z4'],
    },
  ],
  'supply-overloaded': [
    {
      what: 'a rail that gives less than the beacon draws',
      edits: [[CTL, 'unit ctl : Controller in pit { V12.limit: 500 mA }']],
      finds: ['error supply-overloaded ctl.V12'],
    },
    {
      what: 'a rail with less than a tenth in hand',
      edits: [[CTL, 'unit ctl : Controller in pit { V12.limit: 640 mA }']],
      finds: ['warning supply-overloaded ctl.V12'],
    },
  ],
  'fuse-overloaded': [
    {
      what: 'a fuse that is too small',
      edits: [
        [CTL, 'unit ctl : Controller in pit { V12.limit: 5 A }'],
        [LAMP, 'wire ctl.V12 -- F1 -- P1 -- ctl.Q2'],
        'fuse F1 = 500 mA in pit',
      ],
      finds: ['error fuse-overloaded F1'],
    },
    {
      what: 'a fuse with little in hand',
      edits: [
        [CTL, 'unit ctl : Controller in pit { V12.limit: 5 A }'],
        [LAMP, 'wire ctl.V12 -- F1 -- P1 -- ctl.Q2'],
        'fuse F1 = 630 mA in pit',
      ],
      finds: ['warning fuse-overloaded F1'],
    },
  ],
  'core-overloaded': [
    {
      what: 'a cable that carries less than the beacon draws',
      edits: [
        [LAMP, 'wire ctl.V12 -- W2.RD -- P1 -- W2.BK -- ctl.Q2'],
        [LOAD, 'load P1 = 6 W @ 12 V in shed { style: resistive  works: 10 V .. 15 V  inrush: 150% @ 10 ms }'],
        'place shed { ambient: 0 degC .. 40 degC }',
        'cable W2 { cores: RD, BK  size: 0.5 mm2  length: 5 m  from: pit  to: shed  route: indoor  capacity: 500 mA }',
        [CTL, 'unit ctl : Controller in pit { V12.limit: 1 A }'],
      ],
      finds: ['error core-overloaded W2.RD'],
    },
  ],
  'feed-unfused': [
    {
      what: 'a thin core on a strong rail',
      edits: [
        [LAMP, 'wire ctl.V12 -- W2.RD -- P1 -- W2.BK -- ctl.Q2'],
        [LOAD, 'load P1 = 6 W @ 12 V in shed { style: resistive  works: 10 V .. 15 V  inrush: 150% @ 10 ms }'],
        'place shed { ambient: 0 degC .. 40 degC }',
        'cable W2 { cores: RD, BK  size: 0.22 mm2  length: 5 m  from: pit  to: shed  route: indoor }',
      ],
      finds: ['warning feed-unfused ctl.V12'],
    },
  ],
  'undeclared-bond': [
    {
      what: 'two 0 V joined by a core',
      edits: [blind(4), [CABLE, CABLE.replace('GN, YE', 'GN, YE, BK')], 'wire ctl.GND -- W1.BK -- panel.ZC'],
      finds: ['error undeclared-bond panel.ZC'],
    },
  ],
  'earthing-undeclared': [
    {
      what: 'a supply that does not say',
      edits: [
        'supply G1 = 12 V, 1 A in pit',
        'load P2 = 100 mA @ 12 V in pit { style: resistive  works: 10 V .. 15 V }',
        'wire G1.plus -- P2 -- G1.minus',
      ],
      finds: ['warning earthing-undeclared G1'],
    },
  ],
  'voltage-above-elv': [
    {
      what: 'a supply of 150 V',
      edits: [
        'supply G1 = 150 V, 1 A in pit { earthed: no }',
        'load P2 = 100 mA @ 110 V in pit { style: resistive  works: 90 V .. 160 V }',
        'wire G1.plus -- P2 -- G1.minus',
      ],
      finds: ['error voltage-above-elv G1'],
    },
  ],
  'line-unprotected': [
    {
      what: 'a buried cable without an arrester',
      edits: [
        [CABLE, CABLE.replace('indoor', 'buried')],
        ['resistor RE', 'program panel.Z4 responds = 400 ms\nresistor RE'],
      ],
      finds: ['warning line-unprotected W1', 'warning leakage-masks-alarm panel.Z4'],
    },
  ],
  'terminal-overfilled': [
    {
      what: 'three conductors in one terminal',
      edits: [
        'load P2 = 10 mA @ 12 V in pit { style: resistive  works: 10 V .. 15 V }',
        'wire ctl.V12 -- P2 -- ctl.GND',
      ],
      finds: ['warning terminal-overfilled ctl.V12'],
    },
  ],
  'zone-without-case': [
    {
      what: 'a loop that no case changes',
      edits: [
        blind(4),
        [CABLE, CABLE.replace('GN, YE', 'GN, YE, RD, BK')],
        'resistor RX = 2k2 +-1%',
        'wire panel.Z1 -- W1.RD -- RX -- W1.BK -- panel.ZC',
      ],
      finds: ['warning zone-without-case panel.Z1'],
    },
  ],
  'value-not-preferred': [
    {
      what: 'a value that is not made',
      edits: [['resistor RE = 2k2 +-1%', 'resistor RE = 2k23 +-1%']],
      finds: ['warning value-not-preferred RE'],
    },
  ],
  'places-joined-without-cable': [
    {
      what: 'a wire from one place to another',
      edits: [
        'wire panel.AUX -- P2 -- panel.ZC',
        'load P2 = 50 mA @ 12 V in pit { style: resistive  works: 10 V .. 15 V }',
      ],
      finds: ['error places-joined-without-cable panel.AUX'],
    },
  ],
  'changed-unasked': [
    {
      what: 'a case that does not name the zone it changes',
      edits: [
        [
          'case supply-lost {\n  turn ctl off\n  expect panel.Z4 alarm within 1 s\n}',
          'case supply-lost {\n  turn ctl off\n  expect P1 off\n}',
        ],
      ],
      finds: ['warning changed-unasked panel.Z4'],
    },
  ],
  'expectation-failed': [
    {
      what: 'an alarm that does not come',
      edits: [['turn ctl.Q1 off\n', '']],
      finds: ['error expectation-failed panel.Z4'],
    },
    {
      what: 'more volts than there are',
      edits: [['expect P1 >= 10.5 V', 'expect P1 >= 12 V']],
      finds: ['error expectation-failed P1'],
    },
  ],
  'reading-disagrees': [
    {
      what: 'a reading that is not what was computed',
      edits: ['measured 2026-10-02 with "meter 7" at 12 degC {\n  rest: volts panel.Z4 to panel.ZC = 1.95 V\n}'],
      finds: ['error reading-disagrees panel.Z4'],
    },
    {
      what: 'a reading that is older than one that is as computed: the loop was changed in between',
      edits: [
        'measured 2026-09-02 with "meter 7" {\n  rest: volts panel.Z4 to panel.ZC = 1.95 V\n}',
        'measured 2026-10-02 with "meter 7" {\n  high-water: volts panel.Z4 to panel.ZC = 2.98 V\n}',
      ],
      finds: ['warning reading-disagrees panel.Z4'],
    },
    {
      what: 'a reading that a later one at another place says nothing of',
      edits: [
        'measured 2026-09-02 with "meter 7" {\n  rest: volts panel.Z4 to panel.ZC = 1.95 V\n}',
        'measured 2026-10-02 with "meter 7" {\n  rest: volts ctl.V12 to ctl.GND = 12.8 V\n}',
      ],
      finds: ['error reading-disagrees panel.Z4'],
    },
    {
      what: 'a reading that is later than one that was as computed',
      edits: [
        'measured 2026-10-12 with "meter 7" {\n  rest: volts panel.Z4 to panel.ZC = 1.95 V\n}',
        'measured 2026-10-02 with "meter 7" {\n  high-water: volts panel.Z4 to panel.ZC = 2.98 V\n}',
      ],
      finds: ['error reading-disagrees panel.Z4'],
    },
    {
      what: 'ohms of a resistor that is another one than is written',
      edits: ['measured 2026-10-02 with "meter 7" {\n  rest: ohms RE.1 to RE.2 = 2.4 kohm\n}'],
      finds: ['error reading-disagrees RE'],
    },
  ],
  'safety-function-interposed': [
    {
      what: 'a stop of a machine in the loop',
      edits: [
        [LOOP, 'wire panel.Z4 -- W1.GN -- K1.11-14 -- S1.11-12 -- RE -- W1.YE -- panel.ZC'],
        'switch S1 in pit { contacts: break  role: safety-function  contact-rating: 2 A @ 30 V  minimum-load: 10 uA @ 10 mV }',
      ],
      finds: ['error safety-function-interposed S1'],
    },
  ],
  'contradictory-sources': [
    {
      what: 'two supplies in parallel',
      edits: [
        'supply G1 = 12 V in pit { earthed: no }',
        'supply G2 = 13 V in pit { earthed: no }',
        'load P2 = 50 mA @ 12 V in pit { style: resistive  works: 10 V .. 15 V }',
        'wire G1.plus -- P2 -- G1.minus',
        'wire G1.plus -- G2.plus',
        'wire G1.minus -- G2.minus',
      ],
      finds: ['error contradictory-sources G1'],
    },
  ],
  'standing-load-omitted': [
    {
      what: 'a total that leaves a part out',
      edits: [
        'type Det : unit {\n  supply IN { plus: V  minus: G  works: 9 V .. 16 V  draws: 60 mA }\n  standing: 40 mA\n}',
        'unit D1 : Det in hut',
        'wire panel.AUX -- D1.V',
        'wire D1.G -- panel.ZC',
      ],
      finds: ['warning standing-load-omitted D1'],
    },
  ],
  'supply-loss-silent': [
    {
      what: 'a relay that is energised on alarm',
      edits: [
        ['program ctl.Q1 rest = on\n', ''],
        ['turn ctl.Q1 off\n', 'turn ctl.Q1 on\n'],
        ['expect K1 operated', 'expect K1 released'],
        [LOOP, 'wire panel.Z4 -- W1.GN -- K1.11-12 -- RE -- W1.YE -- panel.ZC'],
        [SHUNT, 'wire K1.11 -- RA -- K1.12'],
        ['case supply-lost {\n  turn ctl off\n  expect panel.Z4 alarm within 1 s\n}\n', ''],
      ],
      finds: ['error supply-loss-silent ctl.V12'],
    },
  ],
  'foreign-voltage': [
    {
      what: 'a sourcing output on a zone',
      edits: [
        [CTL, 'unit ctl : Controller in pit { GND.earthed: no }'],
        ['place pit', 'program ctl.Q3 rest = on\nplace pit'],
        ['cores: GN, YE', 'cores: GN, YE, BK'],
        'bond ctl.GND -- W1.BK -- panel.ZC because "for the test"',
        'wire ctl.Q3 -- RX -- RE.1',
        'resistor RX = 1k +-1%',
      ],
      finds: ['error foreign-voltage panel.Z4'],
    },
  ],
};
