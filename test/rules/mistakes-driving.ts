/** One mistake each on the driving side: outputs, loads, coils and contacts. */

import type { Mistakes } from './mistakes.ts';
import { COIL, CTL, LAMP, LOAD, LOOP, RELAY } from './phrases.ts';

const PORTS =
  'type Ports : unit {\n  common G { earthed: no }\n  port X1 .. X2 { as output { style: sink  return: G  rated: 1 A  at-power-up: off }  as input { feed: 5 V via 4k7  return: G } }\n}\nunit ports : Ports in pit\nunit ctl : Controller in pit';

export const DRIVING: Mistakes = {
  'output-overloaded': [
    {
      what: 'a 15 W sounder on an output for a relay',
      edits: [
        [LOAD, 'load P1 = 15 W @ 12 V in pit { style: resistive  works: 10 V .. 15 V  inrush: 100% @ 10 ms }'],
        [CTL, 'unit ctl : Controller in pit { Q2.rated: 100 mA  Q2.peak: 2 A  V12.limit: 3 A }'],
      ],
      finds: ['error output-overloaded ctl.Q2'],
    },
    {
      what: 'a load between the derating and the rating',
      edits: [[CTL, 'unit ctl : Controller in pit { Q2.rated: 650 mA  Q2.peak: 2 A }']],
      finds: ['warning output-overloaded ctl.Q2'],
    },
  ],
  'output-inrush-exceeded': [
    {
      what: 'a lamp with a cold filament on an output with a peak',
      edits: [
        [LOAD, 'load P1 = 6 W @ 12 V in pit { style: resistive  works: 10 V .. 15 V  inrush: 900% @ 50 ms }'],
        [CTL, 'unit ctl : Controller in pit { Q2.peak: 3 A @ 50 ms }'],
      ],
      finds: ['error output-inrush-exceeded ctl.Q2'],
    },
    {
      what: 'a load that does not say its inrush',
      edits: [
        [LOAD, 'load P1 = 6 W @ 12 V in pit { style: resistive  works: 10 V .. 15 V }'],
        [CTL, 'unit ctl : Controller in pit { Q2.peak: 3 A @ 50 ms }'],
      ],
      finds: ['error output-inrush-exceeded ctl.Q2'],
    },
  ],
  'output-voltage-exceeded': [
    {
      what: 'an output that withstands less than the supply',
      edits: [[CTL, 'unit ctl : Controller in pit { Q2.withstands: 12 V }']],
      finds: ['error output-voltage-exceeded ctl.Q2'],
    },
    {
      what: 'a suppressor that adds its volts to those of the supply',
      edits: [
        [CTL, 'unit ctl : Controller in pit { Q1.withstands: 30 V }'],
        [RELAY, 'relay K1 : Relay12 in pit { suppressor: zener 24 V }'],
      ],
      finds: ['error output-voltage-exceeded ctl.Q1'],
    },
    {
      what: 'less than a fifth in hand',
      edits: [[CTL, 'unit ctl : Controller in pit { Q2.withstands: 17 V }']],
      finds: ['warning output-voltage-exceeded ctl.Q2'],
    },
  ],
  'no-return-path': [
    {
      what: 'a beacon fed from the other system',
      edits: [
        [LAMP, 'wire aux.V -- P1 -- ctl.Q2'],
        'unit aux in pit { rail V { volts: 12 V .. 13 V .. 14 V  limit: 1 A  return: M }  common M { earthed: no } }',
        'wire aux.M -- X1',
        'joint X1 in pit',
      ],
      finds: ['error no-return-path ctl.Q2'],
    },
  ],
  'output-polarity-reversed': [
    {
      what: 'a sourcing output at the minus side of a load',
      edits: [
        [LAMP, 'wire ctl.V12 -- P1 -- ctl.Q3'],
        ['turn ctl.Q2 on', 'turn ctl.Q3 on'],
      ],
      finds: ['error output-polarity-reversed ctl.Q3'],
    },
    {
      what: 'a sinking output at the plus side of a load',
      edits: [[LAMP, 'wire ctl.Q2 -- P1 -- ctl.GND']],
      finds: ['error output-polarity-reversed ctl.Q2'],
    },
  ],
  'leakage-holds-load': [
    {
      what: 'a small lamp on a leaking output',
      edits: [
        [LOAD, 'load P1 = 2 mA @ 12 V in pit { style: resistive  works: 10 V .. 15 V  inrush: 150% @ 10 ms }'],
        [CTL, 'unit ctl : Controller in pit { Q2.leak: 400 uA }'],
      ],
      finds: ['error leakage-holds-load P1'],
    },
    {
      what: 'more than half of the drop-out',
      edits: [
        [LOAD, 'load P1 = 2 mA @ 12 V in pit { style: resistive  works: 10 V .. 15 V  inrush: 150% @ 10 ms }'],
        [CTL, 'unit ctl : Controller in pit { Q2.leak: 100 uA }'],
      ],
      finds: ['warning leakage-holds-load P1'],
    },
  ],
  'reset-state-undeclared': [
    {
      what: 'an output that does not say how it starts',
      edits: [
        [
          CTL,
          'unit ctl : Controller in pit { output Q4 { style: sink  return: GND  rated: 1.2 A  drop: 0.3 V  leak: 80 uA  withstands: 36 V } }',
        ],
        [LAMP, 'wire ctl.V12 -- P1 -- ctl.Q4'],
        ['turn ctl.Q2 on', 'turn ctl.Q4 on'],
      ],
      finds: ['warning reset-state-undeclared ctl.Q4'],
    },
  ],
  'contact-unpowered-undeclared': [
    {
      what: 'a contact that does not say where it goes without supply',
      edits: [
        [
          CTL,
          'unit ctl : Controller in pit { contact AX { from: X1  to: X2  rest: closed  rating: 1 A @ 30 V  minimum-load: 10 uA @ 10 mV } }',
        ],
        [LOOP, 'wire panel.Z4 -- W1.GN -- K1.11-14 -- ctl.X1-X2 -- RE -- W1.YE -- panel.ZC'],
      ],
      finds: ['warning contact-unpowered-undeclared ctl.AX'],
    },
  ],
  'load-undervoltage': [
    {
      what: 'a module at the end of a long thin cable',
      edits: [
        ['place pit', 'place shed { ambient: 0 degC .. 40 degC }\nplace pit'],
        'cable W2 { cores: RD, BK  size: 0.22 mm2  length: 60 m  from: hut  to: shed  route: indoor  capacity: 2 A }',
        'load P2 = 4 W @ 12 V in shed { style: constant-power  works: 9.5 V .. 15 V }',
        'wire panel.AUX -- W2.RD -- P2 -- W2.BK -- panel.ZC',
      ],
      finds: ['error load-undervoltage P2'],
    },
    {
      what: 'a beacon that works from 12 V',
      edits: [[LOAD, 'load P1 = 6 W @ 12 V in pit { style: resistive  works: 12 V .. 15 V  inrush: 150% @ 10 ms }']],
      finds: ['error load-undervoltage P1'],
    },
    {
      what: 'less than 3 % in hand',
      edits: [[LOAD, 'load P1 = 6 W @ 12 V in pit { style: resistive  works: 10.9 V .. 15 V  inrush: 150% @ 10 ms }']],
      finds: ['warning load-undervoltage P1'],
    },
  ],
  'load-overvoltage': [
    {
      what: 'a beacon that works up to 14 V',
      edits: [[LOAD, 'load P1 = 6 W @ 12 V in pit { style: resistive  works: 10 V .. 14 V  inrush: 150% @ 10 ms }']],
      finds: ['error load-overvoltage P1'],
    },
    {
      what: 'less than 3 % in hand',
      edits: [[LOAD, 'load P1 = 6 W @ 12 V in pit { style: resistive  works: 10 V .. 14.4 V  inrush: 150% @ 10 ms }']],
      finds: ['warning load-overvoltage P1'],
    },
  ],
  'worst-mode-missing': [
    {
      what: 'a mode without a figure',
      edits: [[CTL, 'unit ctl : Controller in pit { mode sending { } }']],
      finds: ['warning worst-mode-missing ctl'],
    },
  ],
  'load-polarity-reversed': [
    {
      what: 'a beacon met from its minus side',
      edits: [
        [LAMP, 'wire ctl.V12 -- P1.minus\nwire P1.plus -- S1.13-14 -- ctl.GND'],
        'switch S1 in pit { contacts: make  rest: closed  contact-rating: 2 A @ 30 V  minimum-load: 1 mA @ 1 V }',
      ],
      finds: ['error load-polarity-reversed P1'],
    },
  ],
  'coil-may-not-operate': [
    {
      what: 'a relay for 24 V on 12 V',
      edits: [[RELAY, 'relay K1 : Relay12 in pit { coil: 24 V, 2k8 +-10%  range: 40% .. 125% }']],
      finds: ['error coil-may-not-operate K1'],
    },
    {
      what: 'a margin below a tenth',
      edits: [[RELAY, 'relay K1 : Relay12 in pit { operates: 75% }']],
      finds: ['warning coil-may-not-operate K1'],
    },
  ],
  'relay-may-drop-out': [
    {
      what: 'a relay that holds at what the least supply gives',
      edits: [
        [RELAY, 'relay K1 : Relay12 in pit { holds: 80% }'],
        [COIL, 'wire ctl.V12 -- R9 -- K1.A1-A2 -- ctl.Q1\nwire R9.1 -- S9.11-12 -- R9.2'],
        'resistor R9 = 68R +-5%',
        'switch S9 in pit { contacts: break  contact-rating: 1 A @ 30 V  minimum-load: 1 mA @ 100 mV }',
        'case saving {\n  turn S9 open\n  expect panel.Z4 normal\n}',
      ],
      finds: ['error relay-may-drop-out K1'],
    },
  ],
  'port-role-unset': [
    {
      what: 'a port that is wired and programmed as neither',
      edits: [[CTL, PORTS], 'resistor R8 = 1k +-1%\nwire ports.X1 -- R8 -- ports.G'],
      finds: ['error port-role-unset ports.X1'],
    },
    {
      what: 'a port that is programmed as output and has a contact alone in its circuit',
      edits: [
        [CTL, PORTS],
        'switch S8 in pit { contacts: make  contact-rating: 100 mA @ 30 V  minimum-load: 10 uA @ 10 mV }\nwire ports.X1 -- S8.13-14 -- ports.G',
        'program ports.X1 as = output',
      ],
      finds: ['error port-role-unset ports.X1'],
    },
    {
      what: 'a port that is programmed as input and has a lamp alone in its circuit',
      edits: [
        [CTL, PORTS],
        'load P8 = 10 mA @ 5 V in pit { style: resistive  works: 1 V .. 6 V  inrush: 100% @ 1 ms }\nwire ports.X1 -- P8 -- ports.G',
        'program ports.X1 as = input',
      ],
      finds: ['error port-role-unset ports.X1'],
    },
  ],
  'coil-undervoltage': [
    {
      what: 'a range that begins above the least volts',
      edits: [[RELAY, 'relay K1 : Relay12 in pit { range: 92% .. 125% }']],
      finds: ['warning coil-undervoltage K1'],
    },
  ],
  'coil-overvoltage': [
    {
      what: 'a relay without a declared range',
      edits: [[RELAY, 'relay K1 : Relay12 in pit { range: 75% .. 110% }']],
      finds: ['error coil-overvoltage K1'],
    },
  ],
  'coil-may-not-release': [
    {
      what: 'an output that leaks as much as the coil holds with',
      edits: [[CTL, 'unit ctl : Controller in pit { Q1.leak: 2.5 mA }']],
      finds: ['error coil-may-not-release K1'],
    },
    {
      what: 'half of it',
      edits: [[CTL, 'unit ctl : Controller in pit { Q1.leak: 1 mA }']],
      finds: ['warning coil-may-not-release K1'],
    },
  ],
  'contact-overloaded': [
    {
      what: 'a contact for less than the beacon draws',
      edits: [
        [LAMP, 'wire ctl.V12 -- S1.13-14 -- P1 -- ctl.Q2'],
        'switch S1 in pit { contacts: make  rest: closed  contact-rating: 400 mA @ 30 V  minimum-load: 1 mA @ 1 V }',
      ],
      finds: ['error contact-overloaded S1.13-14'],
    },
  ],
  'contact-below-minimum-load': [
    {
      what: 'a silver contact in a loop',
      edits: [[RELAY, 'relay K1 : Relay12 in pit { minimum-load: 10 mA @ 5 V }']],
      finds: ['warning contact-below-minimum-load K1.11-14'],
    },
  ],
  'mains-beside-elv': [
    {
      what: 'a mains pole beside a loop',
      edits: [[RELAY, 'relay K1 : Relay12 in pit { contacts: changeover 2  "21-24".carries: 230 V ac }']],
      finds: ['error mains-beside-elv K1.21-24'],
    },
  ],
  'coil-unsuppressed': [
    {
      what: 'a relay without a diode',
      edits: [[RELAY, 'relay K1 : Relay12 in pit { suppressor: none }']],
      finds: ['warning coil-unsuppressed K1'],
    },
  ],
  'suppressor-reversed': [
    {
      what: 'a coil fed from A2',
      edits: [[COIL, 'wire ctl.V12 -- K1.A2-A1 -- ctl.Q1']],
      finds: ['error suppressor-reversed K1'],
    },
    {
      what: 'a loose diode the wrong way round',
      edits: [[RELAY, 'relay K1 : Relay12 in pit { suppressor: none }'], 'diode D1 = 1 A', 'wire K1.A1 -- D1 -- K1.A2'],
      finds: ['error suppressor-reversed K1'],
    },
  ],
  'relay-oscillates': [
    {
      what: 'a coil fed through its own break contact',
      edits: [
        'relay K2 : Relay12 in pit',
        'wire ctl.GND -- X1\njoint X1 in pit',
        'wire X9 -- K2.11-12 -- K2.A1-A2 -- ctl.GND',
        'joint X9 in pit',
        [COIL, 'wire ctl.V12 -- X9 -- K1.A1-A2 -- ctl.Q1'],
      ],
      finds: ['error relay-oscillates K2'],
    },
  ],
  'memory-undeclared': [
    {
      what: 'a relay that holds itself',
      edits: [
        'relay K2 : Relay12 in pit',
        'switch S1 in pit { contacts: make  contact-rating: 1 A @ 30 V  minimum-load: 1 mA @ 1 V }',
        'joint X9 in pit',
        [COIL, 'wire ctl.V12 -- X9 -- K1.A1-A2 -- ctl.Q1'],
        'wire X9 -- S1.13-14 -- K2.A1-A2 -- ctl.GND',
        'wire S1.13 -- K2.11-14 -- S1.14',
        'case pushed {\n  turn S1 closed for 1 s\n  expect K2 operated\n  wait 5 s\n  expect K2 operated\n}',
      ],
      finds: ['warning memory-undeclared K2'],
    },
  ],
  'chattering-output': [
    {
      what: 'a flashing output on a relay of a loop',
      edits: [
        [
          CTL,
          'unit ctl : Controller in pit { output Q4 { style: sink  return: GND  rated: 200 mA  drop: 0.5 V  leak: 20 uA  withstands: 36 V  at-power-up: off  pattern: 0.3 s / 0.3 s } }',
        ],
        [COIL, 'wire ctl.V12 -- K1.A1-A2 -- ctl.Q4'],
        ['program ctl.Q1 rest = on', 'program ctl.Q4 rest = on'],
        ['turn ctl.Q1 off', 'turn ctl.Q4 pulsing'],
      ],
      finds: ['error chattering-output ctl.Q4'],
    },
  ],
};
