/** One mistake each in time: pulses, timers, latches, orders, what never meets. */

import type { Mistakes } from './mistakes.ts';
import { blind, CTL, LAMP } from './phrases.ts';
import type { Edit } from './support.ts';

/** Joints for plus and minus, so that no terminal of the controller gets too many conductors. */
const JOINTS: readonly Edit[] = [
  [LAMP, 'wire ctl.V12 -- X1 -- P1 -- ctl.Q2'],
  'joint X1 in pit\njoint X2 in pit\nwire X2 -- ctl.GND',
];
const SMALL = 'contact-rating: 1 A @ 30 V  minimum-load: 10 uA @ 10 mV';

/** A latching relay: a button sets it, an output that is on at power-up resets it. */
const latch = (facts: string, atPowerUp = 'on'): readonly Edit[] => [
  ...JOINTS,
  [
    CTL,
    `unit ctl : Controller in pit { output Q4 { style: source  rail: V12  return: GND  rated: 500 mA  drop: 0.8 V  leak: 50 uA  withstands: 40 V  at-power-up: ${atPowerUp} } }`,
  ],
  `
relay K2 in pit { coil: 12 V, 720 ohm +-10%  latching: two-coil  operates: 70%  ${facts}  operate-time: 6 ms  contacts: changeover  contact-rating: 2 A @ 30 V  minimum-load: 10 uA @ 10 mV  suppressor: diode  range: 75% .. 125% }
switch S1 in pit { contacts: make  ${SMALL} }
wire X1 -- S1 -- K2.A1-A2 -- X2
wire ctl.Q4 -- K2.B1-B2 -- X2
load P2 = 100 mA @ 12 V in pit { style: resistive  works: 10 V .. 15 V  inrush: 100% @ 1 ms }
wire X1 -- K2.11-14 -- P2 -- X2`,
];

/** A timer whose control a button works, a lamp behind it. */
const timer = (facts: string) => `
relay K2 in pit { ${facts}  works: 9 V .. 16 V  draws: 15 mA  contacts: changeover  contact-rating: 2 A @ 30 V  minimum-load: 10 uA @ 10 mV }
switch S1 in pit { contacts: make  ${SMALL} }
load P2 = 100 mA @ 12 V in pit { style: resistive  works: 10 V .. 15 V  inrush: 100% @ 1 ms }
wire X1 -- K2.15-18 -- P2 -- X2`;
const FED = 'wire X1 -- K2.A1-A2 -- X2\nwire X1 -- S1 -- K2.B1';

/** Two relays behind buttons with their contacts in series before a lamp. */
const SERIES = `
relay K2 : Relay12 in pit
relay K3 : Relay12 in pit
switch S1 in pit { contacts: make  ${SMALL} }
switch S2 in pit { contacts: make  ${SMALL} }
load P2 = 100 mA @ 12 V in pit { style: resistive  works: 10 V .. 15 V  inrush: 100% @ 1 ms }
wire X1 -- S1 -- K2.A1-A2 -- X2
wire X1 -- S2 -- K3.A1-A2 -- X2
wire X1 -- K2.11-14 -- K3.11-14 -- P2 -- X2`;

/** A second zone behind a switch, which counts together with the first. */
const CONFIRMED = `
switch S1 in hut { contacts: break  ${SMALL} }
resistor RE1 = 2k2 +-1%
resistor RA1 = 4k7 +-1%
wire panel.Z3 -- S1.11-12 -- RE1 -- panel.ZC
wire S1.11 -- RA1 -- S1.12
confirm BOTH = panel.Z3, panel.Z4 within 30 s`;

/** A relay that holds itself once S1 was pressed. */
const held = (own: string, press = 'X1 -- S1') => `
relay K2 : Relay12 in pit { self-hold: meant }
switch S1 in pit { contacts: make  ${SMALL} }
switch S2 in pit { contacts: break  ${SMALL} }
wire ${press} -- K2.A1-A2 -- X2
${own}
case pressed { turn S1 closed for 1 s  wait 5 s  expect K2 operated }`;

export const TIME: Mistakes = {
  'latching-pulse-too-short': [
    {
      what: 'a pulse of one and a half times the minimum',
      edits: [...latch('minimum-pulse: 20 ms'), 'case set { turn S1 closed for 30 ms  wait 1 s  expect K2 set }'],
      finds: ['error latching-pulse-too-short K2'],
    },
    {
      what: 'a pulse that is shorter than the minimum, with the expectation that fails for it',
      edits: [...latch('minimum-pulse: 20 ms'), 'case set { turn S1 closed for 10 ms  wait 1 s  expect K2 set }'],
      finds: ['error latching-pulse-too-short K2'],
    },
  ],
  'latching-both-coils': [
    {
      what: 'both buttons pressed at once',
      edits: [
        ...latch('minimum-pulse: 20 ms'),
        'case both { turn S1 closed for 1 s  turn ctl.Q4 on for 1 s  wait 5 s  expect K2 reset }',
      ],
      finds: ['error latching-both-coils K2'],
    },
  ],
  'latching-state-unproven': [
    {
      what: 'a latching relay that nothing drives at power-up',
      edits: [...latch('minimum-pulse: 20 ms', 'off'), 'case set { turn S1 closed for 1 s  wait 5 s  expect K2 set }'],
      finds: ['warning latching-state-unproven K2'],
    },
  ],
  'latch-without-reset': [
    {
      what: 'a self-hold straight from the rail',
      edits: [...JOINTS, held('wire X1 -- K2.11-14 -- K2.A1\nspare S2.11, S2.12')],
      finds: ['error latch-without-reset K2'],
    },
    {
      what: 'a reset that lies in the path of the button alone',
      edits: [...JOINTS, held('wire X1 -- K2.11-14 -- K2.A1', 'X1 -- S2 -- S1')],
      finds: ['error latch-without-reset K2'],
    },
  ],
  'events-merge': [
    {
      what: 'two alarms with less between them than the zone takes to restore',
      edits: [
        'case twice { turn ctl.Q1 off for 2 s  wait 2.3 s  turn ctl.Q1 off for 2 s  expect panel.Z4 alarm within 1 s }',
      ],
      finds: ['warning events-merge panel.Z4'],
    },
  ],
  'timer-function-wrong': [
    {
      what: 'an on-delay where a short press shall start it',
      edits: [
        ...JOINTS,
        timer('function: on-delay  time: 10 s'),
        FED,
        'case pressed { turn S1 closed for 1 s  expect P2 on within 15 s }',
      ],
      finds: ['error timer-function-wrong K2'],
    },
    {
      what: 'a press that is too short for the timer to see',
      edits: [
        ...JOINTS,
        timer('function: off-delay  time: 10 s  minimum-trigger: 100 ms'),
        FED,
        'case pressed { turn S1 closed for 60 ms  expect P2 on within 1 s }',
      ],
      finds: ['error timer-function-wrong K2'],
    },
    {
      what: 'a timer whose supply goes off with the switch that feeds it',
      edits: [
        ...JOINTS,
        timer('function: off-delay  time: 10 s'),
        `switch S2 in pit { contacts: make  ${SMALL} }\nwire X1 -- S2 -- K2.A1-A2 -- X2\nwire X1 -- S1 -- K2.B1`,
        'case pressed { turn S1 closed for 1 s  expect P2 on within 1 s }',
      ],
      finds: ['error timer-function-wrong K2'],
    },
  ],
  'release-too-slow': [
    {
      what: 'a large magnet behind a plain diode',
      edits: [['relay K1 : Relay12 in pit', 'relay K1 : Relay12 in pit { inductance: 40 H  releases: 5% }']],
      finds: ['warning release-too-slow K1'],
    },
    {
      what: 'a lock that takes more than half a second',
      edits: [
        ...JOINTS,
        [CTL, 'unit ctl : Controller in pit { Q2.rated: 2 A }'],
        'load Y1 = 500 mA @ 12 V in pit { style: resistive  works: 10 V .. 15 V  inrush: 100% @ 1 ms  inductance: 12 H  suppressor: diode }',
        'wire X1 -- Y1 -- ctl.Q2',
      ],
      finds: ['warning release-too-slow Y1'],
    },
  ],
  'signals-never-overlap': [
    {
      what: 'two zones that report further apart than they count together',
      edits: [
        blind(9),
        CONFIRMED,
        'case burglary { turn S1 open for 5 s  wait 60 s  turn ctl.Q1 off for 5 s  expect panel.Z3 any  expect panel.Z4 any  expect BOTH confirmed within 1 s }',
      ],
      finds: ['error signals-never-overlap BOTH'],
    },
    {
      what: 'two contacts in series that are worked one after the other',
      edits: [
        ...JOINTS,
        SERIES,
        'case drive { turn S1 closed for 2 s  wait 5 s  turn S2 closed for 2 s  expect P2 on within 1 s }',
      ],
      finds: ['error signals-never-overlap P2'],
    },
  ],
  'order-decides': [
    {
      what: 'a press as long as the relay that it works may take',
      edits: [...JOINTS, held('wire X1 -- S2 -- K2.11-14 -- K2.A1').replace('for 1 s', 'for 5 ms')],
      finds: ['error order-decides K2'],
    },
  ],
};
