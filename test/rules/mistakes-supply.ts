/** Mistakes in what feeds a site: batteries, chargers, and fuses that do not do what they are there for. */
import type { Mistakes } from './mistakes.ts';
import type { Edit } from './support.ts';

/**
 * A 7 Ah battery with its charger and a modem of 100 mA, in a hut of 5 °C .. 35 °C. It needs 1.25 × 2.4 Ah / 0.80 = 3.75 Ah,
 * and 0.8 × 7 Ah / 0.8 / 72 h = 97.2 mA to be charged again; it bears 1.75 A.
 */
export function cabinet(
  facts: {
    readonly battery?: string;
    readonly charger?: string;
    readonly modem?: string;
    readonly autonomy?: string;
  } = {},
): readonly Edit[] {
  const { battery = '12 V, 7 Ah in hut', charger = 'limit: 1.5 A  charge-limit: 1 A', modem = '100 mA' } = facts;
  return [
    battery.includes('{') ? `battery B1 = ${battery}` : `battery B1 = ${battery} { ohms: 50 mohm }`,
    `supply G1 = 13.65 V in hut { ${charger}  charges: B1  earthed: no }`,
    'fuse FB = 2 A in hut',
    `load P9 = ${modem} @ 12 V in hut "Modem" { style: constant-current  works: 9 V .. 16 V  inrush: 100% @ 20 ms }`,
    'wire G1.plus -- FB -- B1.plus',
    'wire G1.minus -- B1.minus',
    'wire G1.plus -- P9 -- G1.minus',
    facts.autonomy ?? 'autonomy B1 { carries: rest for 24 h  recharge: 72 h }',
  ];
}

const FROST: Edit = ['place hut { ambient: 5 degC .. 35 degC }', 'place hut { ambient: -5 degC .. 35 degC }'];

/** The beacon of the healthy site behind a fuse. */
export function fusedBeacon(fuse: string, rail: string): readonly Edit[] {
  return [
    ['unit ctl : Controller in pit', `unit ctl : Controller in pit { V12.limit: ${rail} }`],
    ['wire ctl.V12 -- P1 -- ctl.Q2', 'wire ctl.V12 -- F1 -- P1 -- ctl.Q2'],
    `fuse F1 = ${fuse} in pit`,
  ];
}

/** A lamp of 50 mA at the far end of 140 m, behind a fuse: 26.6 Ω at 20 °C, 28.69 Ω at 40 °C; 11.4 V drive 397.3 mA. */
export function farLamp(fuse: string, cable = 'core-ohms: 95 ohm/km  length: 140 m'): readonly Edit[] {
  return [
    ['wire ctl.V12 -- P1 -- ctl.Q2', 'wire ctl.V12 -- X7\nwire X7 -- P1 -- ctl.Q2'],
    'joint X7 in pit',
    `fuse F3 = ${fuse} in pit`,
    'load P3 = 50 mA @ 12 V in hut { style: constant-current  works: 9 V .. 15 V  inrush: 100% @ 20 ms }',
    `cable W3 { cores: RD, BK  size: 0.22 mm2  ${cable}  from: pit  to: hut  route: indoor }`,
    'wire X7 -- F3 -- W3.RD -- P3 -- W3.BK -- ctl.GND',
  ];
}

/** A small panel with one zone and a sounder; `line` feeds the sounder. */
function smallPanel(line: string): readonly Edit[] {
  return [
    ['blind: 3', 'blind: 4'],
    'supply G5 = 12 V in pit { limit: 5 A  earthed: no }',
    [
      'type Small : unit {',
      '  supply IN { plus: P  minus: M  works: 9 V .. 16 V  draws: 20 mA .. 30 mA }',
      '  common ZC { earthed: no }',
      '  output Q1 { style: sink  return: M  rated: 500 mA  drop: 0.3 V  leak: 20 uA  withstands: 36 V  at-power-up: off }',
      '  zone Z1 { feed: 5 V via 4k7  return: ZC  responds: 400 ms  restores: 400 ms  bands { normal: below 10k  alarm: above 10k } }',
      '}',
    ].join('\n'),
    'unit small : Small in pit',
    'fuse F5 = 500 mA in pit\nfuse F6 = 500 mA in pit\nspare F6.1, F6.2',
    'switch S5 in pit { contacts: break  minimum-load: 10 uA @ 10 mV }',
    'resistor R5 = 2k2 +-1%',
    'load P5 = 100 mA @ 12 V in pit { style: constant-current  works: 9 V .. 15 V  inrush: 100% @ 20 ms }',
    'wire G5.plus -- F5 -- small.P',
    'wire small.M -- G5.minus',
    'wire small.Z1 -- S5.11-12 -- R5 -- small.ZC',
    line,
    'case open {\n  turn S5 open\n  turn small.Q1 on\n  expect small.Z1 alarm within 1 s\n  expect P5 on\n}',
  ];
}

export const SUPPLY: Mistakes = {
  'battery-too-small': [
    {
      what: 'a modem that draws more than the battery was bought for',
      edits: cabinet({ modem: '250 mA' }),
      finds: ['error battery-too-small B1'],
    },
    {
      what: 'two days asked of a battery for one',
      edits: cabinet({ autonomy: 'autonomy B1 { carries: rest for 48 h  recharge: 72 h }' }),
      finds: ['error battery-too-small B1'],
    },
    {
      what: 'an alarm that nobody counted',
      edits: [
        ...cabinet({ autonomy: 'autonomy B1 { carries: rest for 24 h, horn for 4 h  recharge: 72 h }' }),
        'switch S9 in hut { contacts: make  contact-rating: 5 A @ 30 V }',
        'load P8 = 1 A @ 12 V in hut { style: constant-current  works: 9 V .. 15 V  inrush: 100% @ 20 ms }',
        'wire FB.1 -- S9 -- P8 -- B1.minus',
        'case horn { turn S9 closed  expect P8 on }',
      ],
      finds: ['error battery-too-small B1'],
    },
    {
      what: 'a battery that stands in frost',
      edits: [FROST, ...cabinet({ battery: '12 V, 4 Ah in hut', charger: 'limit: 1.5 A  charge-limit: 500 mA' })],
      finds: ['error battery-too-small B1'],
    },
  ],
  'charger-too-small': [
    {
      what: 'a charger that trickles',
      edits: cabinet({ charger: 'limit: 1.5 A  charge-limit: 50 mA' }),
      finds: ['error charger-too-small G1'],
    },
    {
      what: 'a day for what takes a week',
      edits: cabinet({
        charger: 'limit: 1.5 A  charge-limit: 100 mA',
        autonomy: 'autonomy B1 { carries: rest for 24 h  recharge: 24 h }',
      }),
      finds: ['error charger-too-small G1'],
    },
  ],
  'charger-too-strong': [
    {
      what: 'a large supply straight onto a small battery',
      edits: cabinet({ charger: 'limit: 5 A' }),
      finds: ['error charger-too-strong G1'],
    },
    {
      what: 'lithium iron phosphate charged in frost',
      edits: [FROST, ...cabinet({ battery: '12.8 V, 7 Ah in hut { chemistry: lifepo4  ohms: 50 mohm }' })],
      finds: ['warning charger-too-strong G1'],
    },
  ],
  'supply-overloaded': [
    {
      what: 'a supply that carries its loads and cannot charge its battery besides',
      edits: cabinet({ charger: 'limit: 150 mA  charge-limit: 150 mA' }),
      finds: ['error supply-overloaded G1'],
    },
  ],
  'fuse-will-not-clear': [
    {
      what: 'a supply that limits before its fuse opens',
      edits: fusedBeacon('1 A', '1.6 A'),
      finds: ['error fuse-will-not-clear F1'],
    },
    {
      what: 'a fuse for the load, not for the length of the line',
      edits: farLamp('200 mA'),
      finds: ['error fuse-will-not-clear F3'],
    },
    {
      what: 'a fuse that takes its time at the far end',
      edits: farLamp('150 mA'),
      finds: ['warning fuse-will-not-clear F3'],
    },
  ],
  'feed-unfused': [
    {
      what: 'one fuse for the panel and its sounder',
      edits: smallPanel('wire F5.2 -- P5 -- small.Q1'),
      finds: ['warning feed-unfused F5'],
    },
  ],
};

/** The same with a fuse for each. */
export const FUSED_APART = smallPanel('wire G5.plus -- F6 -- P5 -- small.Q1').map((edit) =>
  typeof edit === 'string' ? edit.replace('\nspare F6.1, F6.2', '') : edit,
);
