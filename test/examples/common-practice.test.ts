/**
 * What installers take for granted, checked against the whole tool from text to findings.
 * Origin of every fact in this file: common practice, no published source.
 */
import { expect, test } from 'vitest';
import { couplet, folderOf } from '../cli/command.ts';

interface Reported {
  readonly code: string;
  readonly severity: string;
  readonly message: string;
}

const TYPES = `
type Box : unit {
  rail V12 { volts: 12 V  limit: 3 A  return: GND }
  common GND { earthed: no }
  output BIG { style: sink  return: GND  rated: 2 A  drop: 0.2 V  leak: 20 uA  withstands: 40 V  at-power-up: off }
  output SMALL { style: sink  return: GND  rated: 100 mA  drop: 0.2 V  leak: 20 uA  withstands: 40 V  at-power-up: off }
}
type Relay12 : relay {
  coil: 12 V, 720 ohm  operates: 70%  releases: 15%  range: 75% .. 125%  rise: 20 degC  inductance: 0.9 H
  operate-time: 6 ms  release-time: 4 ms  contacts: changeover  contact-rating: 2 A @ 30 V
  minimum-load: 10 uA @ 10 mV  suppressor: diode
}
type Panel : unit {
  common ZC { earthed: yes }
  zone Z1 .. Z2 { feed: 5 V via 4k7  return: ZC  responds: 400 ms  restores: 400 ms
    bands { short: below 1k  normal: 1k .. 6k8  open: above 6k8 } }
}
`;

async function check(site: string): Promise<Reported[]> {
  const folder = folderOf({ 'site.couplet': `site "Bench" { ambient: 20 degC }\n${TYPES}\n${site}` });
  const outcome = await couplet(['check', '--format', 'json', '--today', '2026-12-01', 'site.couplet'], folder);
  return JSON.parse(outcome.out).findings;
}

interface Row {
  readonly name: string;
  readonly states: readonly string[];
  readonly figures: readonly { readonly quantity: string; readonly usual?: number | string }[];
}

/** The figures of one part in a case, by quantity. */
async function figures(
  site: string,
  caseName: string,
  part: string,
): Promise<{ states: readonly string[]; [quantity: string]: unknown }> {
  const folder = folderOf({ 'site.couplet': `site "Bench" { ambient: 20 degC }\n${TYPES}\n${site}` });
  const outcome = await couplet(['figures', '--format', 'json', 'site.couplet'], folder);
  const document = JSON.parse(outcome.out);
  const found = document.sites[0].cases.find((each: { name: string }) => each.name === caseName);
  const row: Row = found.moments[0].parts.find((each: Row) => each.name === part);
  return { states: row.states, ...Object.fromEntries(row.figures.map((each) => [each.quantity, each.usual])) };
}

/** A relay and a sounder of 15 W, on whichever output each is given. */
function outputs(relayOn: string, sounderOn: string): string {
  return `
unit box : Box
relay K1 : Relay12
load P1 = 15 W @ 12 V "Sounder" { style: resistive  works: 9 V .. 15 V  inrush: 100% @ 10 ms }
spare K1.11, K1.12, K1.14
wire box.V12 -- K1.A1-A2 -- box.${relayOn}
wire box.V12 -- P1 -- box.${sounderOn}
case ringing { turn box.${sounderOn} on  turn box.${relayOn} on  expect P1 on  expect K1 operated }
`;
}

const errors = (findings: readonly Reported[]) =>
  findings.filter((each) => each.severity === 'error').map((each) => each.code);

test('a sounder of 15 W at 12 V draws a little over 1 A', async () => {
  const sounder = await figures(outputs('SMALL', 'BIG'), 'ringing', 'P1');
  expect(sounder.amps).toBeGreaterThan(1);
  expect(sounder.amps).toBeLessThan(1.3);
});

test('it belongs on the terminal rated above that; a relay is fine on one of 100 mA', async () => {
  expect(errors(await check(outputs('SMALL', 'BIG')))).toEqual([]);
  expect(errors(await check(outputs('BIG', 'SMALL')))).toEqual(['output-overloaded']);
});

/** An idle low-side output whose leakage leaves 1.3 V across what hangs on it. */
function idle(load: string, leak: string): string {
  return `
unit box : Box { Q.leak: ${leak} }
${load}
case active { turn box.Q on }
`
    .replaceAll('Q.leak', 'BIG.leak')
    .replaceAll('box.Q', 'box.BIG');
}

const RELAY = 'relay K1 : Relay12\nspare K1.11, K1.12, K1.14\nwire box.V12 -- K1.A1-A2 -- box.BIG';
const SOUNDER =
  'load P1 = 15 W @ 12 V { style: resistive  works: 9 V .. 15 V  inrush: 100% @ 10 ms  off-below: 2 V }\nwire box.V12 -- P1 -- box.BIG';

test.each([
  ['relay', RELAY, 'K1', `${1300 / 720} mA`, 'released', 'operated'],
  ['sounder', SOUNDER, 'P1', `${1300 / 9.6} mA`, 'off', 'on'],
])(
  '1.3 V from an idle low-side output works no %s; close to 12 V stands there when it is active',
  async (_name, text, part, leak, off, on) => {
    const atRest = await figures(idle(text, leak), 'rest', part);
    expect(atRest.volts).toBeCloseTo(1.3, 2);
    expect(atRest.states).not.toContain(on);
    expect(atRest.states).toContain(off);
    const active = await figures(idle(text, leak), 'active', part);
    expect(active.volts).toBeGreaterThan(11.5);
    expect(active.states).toEqual([on]);
  },
);

test('a relay at rest has common to NC closed and common to NO open, and the reverse when operated', async () => {
  const site = `
unit box : Box
relay K1 : Relay12
unit panel : Panel
resistor R1, R2 = 3k3 +-1%
wire box.V12 -- K1.A1-A2 -- box.SMALL
wire panel.Z1 -- K1.11-12 -- R1 -- panel.ZC
case operated { turn box.SMALL on  expect K1 operated  expect panel.Z1 open }
`.replace('R1, R2', 'R1');
  expect(errors(await check(site))).not.toContain('expectation-failed');
  expect((await figures(site, 'rest', 'panel.Z1')).states).toEqual(['normal']);
  const closing = site.replace('11-12', '11-14');
  expect((await figures(closing, 'rest', 'panel.Z1')).states).toEqual(['open']);
  expect((await figures(closing, 'operated', 'panel.Z1')).states).toEqual(['normal']);
});

/** A loop of 3.3 kΩ through a normally closed contact, its resistor where it is told. */
function loop(chain: string, turn: string): string {
  return `
place office
place shed
unit panel : Panel in office
switch S1 in shed { contacts: break }
resistor R1 = 3k3 +-1%
cable W1 { cores: GN, YE  size: 0.22 mm2  length: 30 m  from: office  to: shed  route: indoor }
wire ${chain}
case opened { turn S1 open ${turn}  expect panel.Z1 open }
`;
}

const AT_CONTACT = 'panel.Z1 -- W1.GN -- S1 -- R1 -- W1.YE -- panel.ZC';
const AT_PANEL = 'panel.Z1 -- R1 -- W1.GN -- S1 -- W1.YE -- panel.ZC';

test('a loop of 3.3 kΩ through a normally closed contact reads about 3.3 kΩ at rest and open in alarm', async () => {
  const rest = await figures(loop(AT_CONTACT, ''), 'rest', 'panel.Z1');
  expect(rest.states).toEqual(['normal']);
  expect(rest.ohms).toBeGreaterThan(3290);
  expect(rest.ohms).toBeLessThan(3330);
  expect((await figures(loop(AT_CONTACT, ''), 'opened', 'panel.Z1')).states).toEqual(['open']);
});

test('the end resistor sits at the relay or contact, not at the panel', async () => {
  const far = await check(loop(AT_CONTACT, ''));
  expect(far.map((each) => each.code)).not.toContain('terminator-not-at-far-end');
  const near = await check(loop(AT_PANEL, ''));
  expect(near.map((each) => each.code)).toContain('terminator-not-at-far-end');
});

test('half a second of signal is enough for a panel that needs 400 ms, a third of a second is not', async () => {
  expect(errors(await check(loop(AT_CONTACT, 'for 500 ms')))).not.toContain('signal-too-short');
  expect(errors(await check(loop(AT_CONTACT, 'for 333 ms')))).toContain('signal-too-short');
});
