import { PROPERTIES, propertyRow, propertyRows, type Subject } from '@couplet/language';
import { describe, expect, test } from 'vitest';
import { Workspace } from './support.ts';

/** The words of the language's design, by what they stand on. */
const WORDS: readonly (readonly [readonly Subject[], string])[] = [
  [['site'], 'ambient blind blind-fitting'],
  [['place'], 'ambient wet'],
  [
    ['output'],
    'style rated peak drop ohms leak withstands clamp body-diode pattern rest unpowered at-power-up pulse-length repeats follows return rail',
  ],
  [['rail', 'supply', 'battery'], 'volts limit ohms earthed charges fed-by own-draw'],
  [
    ['relay'],
    'coil operates releases range rise holds inductance operate-time release-time contacts contact-rating minimum-load suppressor latching minimum-pulse self-hold function time retriggerable minimum-trigger works draws rest control-to',
  ],
  [['load'], 'style works off-below inrush inductance suppressor polarised role ='],
  [['diode'], 'drop slope reverse clamps ='],
  [['fuse'], 'speed ='],
  [['arrester'], 'lines ohms clamps'],
  [['switch'], 'contacts rest role'],
  [['cable'], 'cores size length from to legs class core-ohms capacity screen route'],
  [['resistor', 'capacitor', 'supply', 'battery'], '='],
  [['resistor', 'capacitor', 'diode', 'fuse', 'load', 'supply', 'battery'], 'rating'],
  [['joint'], 'terminals'],
  [['feed'], 'plus minus works draws'],
  [['common'], 'earthed'],
  [['input'], 'plus minus ohms drop on off feed'],
  [['port'], 'as'],
  [['contact'], 'from to common nc no rest unpowered'],
  [['zone'], 'feed return responds restores scheme'],
  [['mode'], 'draws'],
  [['confirm'], 'partner-in-trouble'],
  [['autonomy'], 'carries ageing recharge'],
  [['pole'], 'role carries'],
];

describe('the table', () => {
  test.each(
    WORDS.flatMap(([subjects, words]) => subjects.flatMap((on) => words.split(' ').map((word) => [on, word] as const))),
  )('a %s has %s', (on, word) => expect(propertyRow(on, word)?.name).toBe(word));

  test('no two rows say the same', () => {
    const keys = PROPERTIES.flatMap((row) => row.on.map((on) => `${on} ${row.name}`));
    expect(new Set(keys).size).toBe(keys.length);
  });

  test('every row has a sentence, a form, and an origin for its default', () => {
    for (const row of PROPERTIES) {
      expect(row.says, row.name).toMatch(/^[A-Z].*\.$/);
      expect(row.forms.length, row.name).toBeGreaterThan(0);
      if (row.default !== undefined) expect(row.default.origin, row.name).not.toBe('');
    }
  });

  test('every row of every subject is found by its name', () => {
    for (const row of PROPERTIES) for (const on of row.on) expect(propertyRows(on)).toContain(row);
  });
});

/** Values that language.md writes, on what it writes them. */
test.each([
  'site "x" { ambient: -5 degC .. 40 degC  blind: 3  limits { output-overloaded: 90%  leakage-masks-alarm: 10k } }',
  'load P1 = 6 W @ 12 V { style: resistive  works: 10 V .. 15 V  inrush: 150% @ 10 ms }',
  'load P1 = 0.5 A { inrush: 300% at 20 ms  polarised: no  role: emergency-release }',
  'relay K1 { coil: 12 V, 720 ohm +-10%  operates: 70%  releases: 10%  range: 75% .. 125%  suppressor: zener 24 V  contacts: changeover, make }',
  'relay K1 { suppressor: rc  contacts: late-changeover 2  contact-rating: 2 A @ 30 V, 0.5 A @ 48 V ac  minimum-load: 10 uA @ 10 mV }',
  'cable W1 { cores: 20  size: 24 AWG  length: 140 m +-5%  core-ohms: 95 ohm/km  route: outdoor  screen: yes }',
  'place a\nplace b\nplace c\ncable W1 { cores: RD  legs: a, 60 m, b, 60 m, c }',
  'unit u { output Q1 { pattern: 0.5 s / 0.5 s  at-power-up: off }  input D { on: above 2 mA  off: below 1.5 mA }  zone Z { feed: 5 V via 4k7  bands { short: below 1k1  alarm: 3k9 .. 10k, above 20k } } }',
  'battery B1 = 12 V, 17 Ah { chemistry: agm }\nautonomy B1 { carries: rest for 24 h, rest for 30 min  ageing: 125%  recharge: 72 h }',
  'unit u { zone Z1  zone Z2  output Q1 }\nconfirm both = u.Z1, u.Z2 within 30 s { partner-in-trouble: counts-alone }\nprogram u.Q1 follows = both confirmed, u.Z1 alarm',
  'unit u { port X1 { as output { style: sink }  as input { drop: 1.2 V } } }\nprogram u.X1 as = output',
  'supply G1 = 24 V ac',
  'capacitor C1 = 2200 uF -15% +20%',
  'fuse F1 = 1 A { speed: slow }',
  'type Lamp6 : load { rating: 6 W @ 12 V  style: resistive  works: 10 V .. 15 V }\nload P1 : Lamp6\nload P2 : Lamp6 = 5 W @ 12 V',
  'type Battery17 : battery { rating: 12 V, 17 Ah  chemistry: agm }\nbattery B1 : Battery17',
])('%s', async (text) => {
  const workspace = await Workspace.of(text);
  expect(workspace.findings().map((each) => `${each.text}: ${each.message}`)).toEqual([]);
});
