/** One mistake each that has consequences which other rules find too: an example for every edge of what explains what. */
import type { Edit } from './support.ts';

export interface Consequence {
  readonly what: string;
  readonly edits: readonly Edit[];
  /** What is shown; everything else follows from it. */
  readonly shows: readonly string[];
}

const COIL = 'wire ctl.V12 -- K1.A1-A2 -- ctl.Q1';
const LAMP = 'wire ctl.V12 -- P1 -- ctl.Q2';
const CTL = 'unit ctl : Controller in pit';
const RELAY = 'relay K1 : Relay12 in pit';
const LOOP = 'wire panel.Z4 -- W1.GN -- K1.11-14 -- RE -- W1.YE -- panel.ZC';
const INVERTED: readonly Edit[] = [
  ['K1.11-14 -- RE', 'K1.11-12 -- RE'],
  ['RA -- K1.14', 'RA -- K1.12'],
];
const DETECTOR =
  'type Det : unit {\n  supply IN { plus: V  minus: G  works: 9 V .. 16 V  draws: 60 mA }\n  contact AL { from: A1  to: A2  rest: closed  unpowered: open  rating: 1 A @ 30 V  minimum-load: 10 uA @ 10 mV }\n}';
const NO_LAMP: readonly Edit[] = [
  [LAMP, ''],
  ['  turn ctl.Q2 on for 90 s\n', ''],
  ['  expect P1 >= 10.5 V\n  wait 100 s\n  expect P1 off\n', ''],
  ['  expect P1 off\n', ''],
];

export const CONSEQUENCES: readonly Consequence[] = [
  {
    what: 'an end resistor of ohms where kilohms belong',
    edits: [
      ['blind: 3', 'blind: 9'],
      ['resistor RE = 2k2', 'resistor RE = 2R2'],
    ],
    shows: ['error rest-inverted panel.Z4'],
  },
  {
    what: 'a lamp of another supply that returns over the core of the loop',
    edits: [
      ['blind: 3', 'blind: 9'],
      ['cores: GN, YE', 'cores: GN, YE, RD'],
      'supply G4 = 12 V, 500 mA in hut { earthed: no }',
      'load P4 = 0.15 W @ 12 V in pit { style: resistive  works: 8 V .. 15 V  inrush: 100% @ 1 ms }',
      'wire G4.plus -- W1.RD -- P4 -- W1.YE.pit',
      'wire G4.minus -- panel.ZC',
    ],
    shows: ['error undeclared-bond G4'],
  },
  {
    what: 'a coil fed from the other system',
    edits: [
      [COIL, 'wire aux.V -- K1.A1-A2 -- ctl.Q1'],
      'unit aux in pit { rail V { volts: 12 V .. 13 V .. 14 V  limit: 1 A  return: M }  common M { earthed: no } }',
    ],
    shows: ['error no-return-path ctl.Q1'],
  },
  {
    what: 'a coil between a rail and an output of the same pole',
    edits: [
      [COIL, 'wire ctl.V12 -- K1.A1-A2 -- ctl.Q3'],
      ['program ctl.Q1 rest = on', 'program ctl.Q3 rest = on'],
      ['turn ctl.Q1 off', 'turn ctl.Q3 off'],
      ...NO_LAMP,
    ],
    shows: ['error output-polarity-reversed ctl.Q3'],
  },
  {
    what: 'a beacon turned round on a sourcing output',
    edits: [
      [LAMP, 'wire ctl.Q3 -- P1.minus\nwire P1.plus -- ctl.GND'],
      ['turn ctl.Q2 on', 'turn ctl.Q3 on'],
    ],
    shows: ['error output-polarity-reversed ctl.Q3'],
  },
  {
    what: 'a detector at the end of a long cable',
    edits: [
      DETECTOR,
      ['place pit', 'place shed { ambient: 0 degC .. 40 degC }\nplace pit'],
      'cable W2 { cores: RD, BK, GN, YE  size: 0.22 mm2  length: 600 m  from: hut  to: shed  route: indoor }',
      'unit D1 : Det in shed',
      'wire panel.AUX -- W2.RD -- D1.V',
      'joint X1 in hut',
      'wire D1.G -- W2.BK -- X1 -- panel.ZC',
      ['resistor RE', 'resistor RX = 2k2 +-1%\nprogram panel.Z1 loop-limit = 1k\nresistor RE'],
      'wire panel.Z1 -- W2.GN -- D1.A1-A2 -- RX -- W2.YE -- X1',
      'case intruder {\n  turn D1.AL open\n  expect panel.Z1 open within 1 s\n}',
    ],
    shows: ['error load-undervoltage D1.IN'],
  },
  {
    what: 'a detector at the end of a cable so long that it is dead at every corner',
    edits: [
      DETECTOR.replace('draws: 60 mA', 'draws: 50 mA .. 60 mA'),
      ['place pit', 'place shed { ambient: 0 degC .. 40 degC }\nplace pit'],
      'cable W2 { cores: RD, BK, GN, YE  size: 0.22 mm2  length: 1500 m  from: hut  to: shed  route: indoor }',
      'unit D1 : Det in shed',
      'wire panel.AUX -- W2.RD -- D1.V',
      'joint X1 in hut',
      'wire D1.G -- W2.BK -- X1 -- panel.ZC',
      ['resistor RE', 'resistor RX = 2k2 +-1%\nprogram panel.Z1 loop-limit = 1k\nresistor RE'],
      'wire panel.Z1 -- W2.GN -- D1.A1-A2 -- RX -- W2.YE -- X1',
      'case intruder {\n  turn D1.AL open\n  expect panel.Z1 open within 1 s\n}',
    ],
    shows: ['error load-undervoltage D1.IN'],
  },
  {
    what: 'a beacon that bears less than it gets',
    edits: [
      ['works: 10 V .. 15 V', 'works: 10 V .. 12 V'],
      ['expect P1 >= 10.5 V', 'expect P1 on'],
    ],
    shows: ['error load-overvoltage P1'],
  },
  {
    what: 'a beacon that needs more than it gets',
    edits: [
      ['works: 10 V .. 15 V', 'works: 12 V .. 15 V'],
      ['expect P1 >= 10.5 V', 'expect P1 on'],
    ],
    shows: ['error load-undervoltage P1'],
  },
  {
    what: 'a detector fed the wrong way round',
    edits: [
      DETECTOR,
      'unit D1 : Det in hut',
      'wire panel.AUX -- D1.G',
      'wire D1.V -- X1 -- panel.ZC',
      'resistor RX = 2k2 +-1%',
      'joint X1 in hut',
      'wire panel.Z1 -- D1.A1-A2 -- RX -- X1',
      'case intruder {\n  turn D1.AL open\n  expect panel.Z1 open within 1 s\n}',
    ],
    shows: ['error load-polarity-reversed D1.IN'],
  },
  {
    what: 'a relay for 24 V with the range of its maker',
    edits: [[RELAY, 'relay K1 : Relay12 in pit { coil: 24 V, 2k8 +-10% }']],
    shows: ['error coil-may-not-operate K1'],
  },
  {
    what: 'a resistor before the coil',
    edits: [[COIL, 'wire ctl.V12 -- R9 -- K1.A1-A2 -- ctl.Q1'], 'resistor R9 = 10k +-1%'],
    shows: ['error coil-may-not-operate K1'],
  },
  {
    what: 'the other contact, with a resistor of wide tolerance',
    edits: [...INVERTED, ['resistor RE = 2k2 +-1%', 'resistor RE = 3k3 +-20%']],
    shows: ['error rest-inverted panel.Z4'],
  },
  {
    what: 'the other contact, with a short pulse',
    edits: [...INVERTED, ['turn ctl.Q1 off\n', 'turn ctl.Q1 off for 200 ms\n']],
    shows: ['error rest-inverted panel.Z4'],
  },
  {
    what: 'the other contact, with a case that asks nothing of the zone',
    edits: [...INVERTED, ['turn ctl off\n  expect panel.Z4 alarm within 1 s', 'turn ctl off\n  expect P1 off']],
    shows: ['error rest-inverted panel.Z4'],
  },
  {
    what: 'the other contact, and expected so',
    edits: [
      ...INVERTED,
      ['turn ctl off\n  expect panel.Z4 alarm within 1 s', 'turn ctl off\n  expect panel.Z4 normal'],
      ['expect panel.Z4 alarm within 1 s', 'expect panel.Z4 normal'],
    ],
    shows: ['error rest-inverted panel.Z4'],
  },
  {
    what: 'a resistor of wide tolerance, and a class that is expected',
    edits: [
      ['resistor RE = 2k2 +-1%', 'resistor RE = 3k3 +-20%'],
      ['expect K1 operated\n', 'expect K1 operated\n  expect panel.Z4 normal\n'],
    ],
    shows: ['error reading-outside-band panel.Z4'],
  },
  {
    what: 'a gap between the bands where the loop reads',
    edits: [
      [
        'unit panel : Panel in hut',
        'unit panel : Panel in hut { scheme odd { short: below 1k1  normal: 1k1 .. 2k  alarm: 2k5 .. 10k  open: above 10k } }\nprogram panel.Z4 scheme = odd',
      ],
      ['expect K1 operated\n', 'expect K1 operated\n  expect panel.Z4 normal\n'],
    ],
    shows: ['error bands-unsound panel.Z4'],
  },
  {
    what: 'a rail that gives a tenth of what is asked',
    edits: [
      ['blind: 3', 'blind: 9'],
      [CTL, 'unit ctl : Controller in pit { V12.limit: 60 mA }'],
      [
        '  turn ctl.Q1 off\n  turn ctl.Q2 on for 90 s\n  expect panel.Z4 alarm within 1 s\n',
        '  turn ctl.Q2 on for 90 s\n  expect panel.Z4 normal\n',
      ],
    ],
    shows: ['error supply-overloaded ctl.V12'],
  },
  {
    what: 'a rail that does not even hold the relay',
    edits: [[CTL, 'unit ctl : Controller in pit { V12.limit: 5 mA }']],
    shows: ['error supply-overloaded ctl.V12'],
  },
  {
    what: 'two earthed 0 V joined by a core',
    edits: [
      ['blind: 3', 'blind: 4'],
      ['cores: GN, YE', 'cores: GN, YE, BK'],
      [CTL, 'unit ctl : Controller in pit { GND.earthed: yes }'],
      'wire ctl.GND -- W1.BK -- panel.ZC',
    ],
    shows: ['error undeclared-bond panel.ZC'],
  },
  {
    what: 'a flashing output on an input that takes longer to respond',
    edits: [
      [
        CTL,
        'unit ctl : Controller in pit { output Q4 { style: source  rail: V12  return: GND  rated: 200 mA  drop: 0.5 V  leak: 20 uA  withstands: 36 V  at-power-up: off  pattern: 0.3 s / 0.3 s } }',
      ],
      'unit tele in pit { input DI1 { plus: DP  minus: DN  ohms: 2k2  drop: 1.2 V  on: above 2 mA  off: below 0.5 mA  responds: 500 ms } }',
      'wire ctl.Q4 -- tele.DP',
      'wire tele.DN -- ctl.GND',
      'case flash {\n  turn ctl.Q4 pulsing\n  expect tele.DI1 on\n}',
    ],
    shows: ['error chattering-output ctl.Q4'],
  },
  {
    what: 'a coil turned round behind fuse, contact and cable',
    edits: [
      ['place pit', 'place shed { ambient: 0 degC .. 40 degC }\nplace pit'],
      [RELAY, 'relay K1 : Relay12 in shed'],
      'relay K2 : Relay12 in pit',
      [CTL, 'unit ctl : Controller in pit { V12.ohms: 0.1 ohm }'],
      'fuse F1 = 400 mA in pit { ohms: 0.1 ohm }',
      'switch S1 in pit { contacts: break  contact-rating: 1 A @ 30 V  minimum-load: 1 mA @ 100 mV }',
      'cable W2 { cores: RD, BK  size: 0.5 mm2  length: 2 m  from: pit  to: shed  route: indoor  capacity: 500 mA }',
      [COIL, 'wire ctl.V12 -- F1 -- S1.11-12 -- W2.RD -- K1.A2-A1 -- W2.BK -- ctl.Q1'],
      [LOOP, 'wire panel.Z4 -- W1.GN -- K2.11-14 -- RE -- W1.YE -- panel.ZC'],
      ['wire K1.11 -- RA -- K1.14', 'wire K2.11 -- RA -- K2.14\njoint X1 in pit'],
      [LAMP, 'wire X1 -- P1 -- ctl.Q2\nwire ctl.V12 -- X1 -- K2.A1-A2 -- ctl.Q1'],
      [
        'expect P1 off\n}',
        'expect P1 off\n}\ncase both {\n  turn ctl.Q2 on\n  expect panel.Z4 normal\n  expect P1 >= 10 V\n}',
      ],
    ],
    shows: ['error suppressor-reversed K1'],
  },
  {
    what: 'a beacon with a diode, turned round',
    edits: [
      ['style: resistive  works', 'style: resistive  suppressor: diode  inductance: 50 mH  works'],
      [LAMP, 'wire ctl.V12 -- P1.minus\nwire P1.plus -- ctl.Q2'],
    ],
    shows: ['error suppressor-reversed P1'],
  },
];
