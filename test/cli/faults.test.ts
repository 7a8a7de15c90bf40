/** `couplet faults`: the table of Tidewater Mill, whose blind faults the language page states, in every format. */
import { describe, expect, test } from 'vitest';
import { couplet, folderOf } from './command.ts';

const SITE = 'examples/tidewater-mill';

/** The lines of a section, as far as the next one. */
function section(out: string, head: string): readonly string[] {
  const lines = out.split('\n');
  const from = lines.findIndex((line) => line.trim().startsWith(head));
  const to = lines.findIndex((line, i) => i > from && !line.startsWith('    '));
  return lines.slice(from + 1, to).map((line) => line.trim());
}

describe('as text', async () => {
  const { err, exit, out } = await couplet(['faults', SITE]);

  test('tells blind service faults against what the site tolerates', () => {
    expect([exit, err]).toEqual([0, '']);
    expect(out).toContain('blind service faults: 3; the site tolerates 3');
    expect(out).toContain(
      'zone panel.Z4: 3 blind, 1 misread, 1 quiet, 13 announced of 18 service faults; 1 blind, 1 misread, 2 quiet, 4 announced of 8 fitting errors',
    );
  });

  test('puts the worst first and what reads alike together', () => {
    const blind = section(out, 'blind: the panel shows normal').map((line) => line.split('  ')[0]);
    expect(blind).toEqual(['level.Q1 stuck on', 'K1.11-14 welded', '= RA linked', 'RA a decade low']);
    expect(section(out, 'misread:')[0]).toMatch(/^RA missing +2\.227 kΩ normal {2}open open$/);
  });

  test('tells the window in which leakage hides the alarm', () => {
    expect(section(out, 'leakage')).toEqual([
      'high-water: blind 2.174 kΩ .. 8.925 kΩ; at worst 2.151 kΩ .. 9.047 kΩ, at panel.Z4',
    ]);
  });

  test('tells the end resistor at the panel, which reads right and blinds', () => {
    expect(section(out, 'fitting errors that read as predicted')).toEqual([
      'RE fitted at the other end: W1.GN shorted to W1.YE (high-water)',
      // With the legs crossed the end resistor stands in the hot one: behind it earth closes the loop for good.
      'W1.GN swapped with W1.YE: K1.14 earthed (high-water)',
    ]);
  });

  test('lists what leaves the zone alone and the beacon dark', () => {
    expect(out).toMatch(/load P1\n.*\n {4}level\.Q2 stuck off: high-water\n {4}P1 missing: high-water/);
  });
});

test('only one class, and only one zone', async () => {
  const { out } = await couplet(['faults', SITE, '--class', 'misread', '--zone', 'panel.Z4']);
  expect(out).toContain('RA missing');
  expect(out).not.toContain('welded');
  const wrong = await couplet(['faults', SITE, '--zone', 'panel.Z9']);
  expect([wrong.exit, wrong.err]).toEqual([2, "couplet: no zone is named 'panel.Z9'; there are panel.Z4\n"]);
});

test('as JSON, numbers in SI units and open loops without an end', async () => {
  const { out } = await couplet(['faults', SITE, '--format', 'json']);
  const [site] = JSON.parse(out).sites;
  expect(site.blindService).toEqual(['level.Q1 stuck on', 'K1.11-14 welded', 'RA linked']);
  const [zone] = site.zones;
  expect(zone.columns).toEqual([{ case: 'high-water', expected: 'alarm' }]);
  const missing = zone.faults.find((row: { fault: string }) => row.fault === 'RA missing');
  expect(missing).toMatchObject({
    word: 'missing',
    group: 'service',
    part: 'RA',
    class: 'misread',
    case: 'high-water',
  });
  expect(missing.file).toBe('examples/tidewater-mill/site.couplet');
  expect(missing.cases[0]).toMatchObject({ answer: 'misread', reads: ['open'], ohms: { least: null, most: null } });
  expect(missing.rest.ohms.usual).toBeCloseTo(2226.7, 6);
  expect(zone.leakage[0].usual.from).toBeCloseTo(2173.93, 1);
});

test('as comma-separated values, one line a fault and column', async () => {
  const { out } = await couplet(['faults', SITE, '--format', 'csv', '--class', 'blind']);
  const lines = out.trimEnd().split('\r\n');
  expect(lines).toHaveLength(1 + 4 * 2);
  expect(lines[1]?.split(',').slice(0, 10)).toEqual([
    'Tidewater Mill',
    'panel.Z4',
    'level.Q1 stuck on',
    'service',
    'stuck-on',
    'level.Q1',
    'blind',
    'high-water',
    '1',
    'rest',
  ]);
});

test('an accepted fault is told with its reason, until its date', async () => {
  const { out: text } = await couplet(['faults', SITE]);
  expect(text).not.toContain('accepted:');
  const folder = folderOf({
    'site.couplet': [
      'site "Bench"',
      'unit panel {',
      '  common ZC { earthed: no }',
      '  zone Z { feed: 5 V via 4k7  return: ZC  bands { normal: below 1k  alarm: above 1k } }',
      '}',
      'switch S1 { contacts: break }',
      'wire panel.Z -- S1 -- panel.ZC',
      'case opened { turn S1 open  expect panel.Z alarm }',
      'accept silent-fault welded on S1 because "tested every week" until 2027-01-31',
    ].join('\n'),
  });
  const before = await couplet(['faults', 'site.couplet', '--today', '2027-01-31'], folder);
  expect(before.out).toContain('accepted: tested every week');
  expect(before.out).toContain('1 of them accepted by name');
  const after = await couplet(['faults', 'site.couplet', '--today', '2027-02-01'], folder);
  expect(after.out).not.toContain('accepted:');
});

test('faults are accepted by their words on whatever they are found at: cores by their cable, a unit, a supply, a coil', async () => {
  const folder = folderOf({
    'site.couplet': [
      'site "Bench" { blind: 0 }',
      'place a',
      'place b',
      'unit panel in a {',
      '  common ZC { earthed: no }',
      '  zone Z { feed: 5 V via 4k7  return: ZC  bands { alarm: below 1k  normal: above 1k } }',
      '}',
      'unit ctrl in b {',
      '  rail V { volts: 12 V  limit: 1 A  return: G }',
      '  common G { earthed: yes }',
      '  output Q { style: sink  return: G  rated: 200 mA  drop: 0.5 V  leak: 20 uA }',
      '}',
      'relay K in b { coil: 12 V, 720 ohm  operates: 70%  releases: 10%  contacts: changeover  suppressor: diode }',
      'cable W { cores: GN, YE  size: 0.22 mm2  length: 50 m  from: a  to: b }',
      'spare K.12',
      'wire ctrl.V -- K.A1-A2 -- ctrl.Q',
      'wire panel.Z -- W.GN -- K.11-14 -- W.YE -- panel.ZC',
      'case event { turn ctrl.Q on  expect panel.Z alarm }',
      'accept silent-fault cut on W because "x" until 2027-01-31',
      'accept silent-fault lost on ctrl.V because "x" until 2027-01-31',
      'accept silent-fault lost on ctrl because "x" until 2027-01-31',
      'accept silent-fault coil-open on K because "x" until 2027-01-31',
    ].join('\n'),
  });
  const { out } = await couplet(['faults', 'site.couplet', '--today', '2027-01-01', '--class', 'blind'], folder);
  expect(out).toContain('blind service faults: 8, 5 of them accepted by name; the site tolerates 0');
  const accepted = out.split('\n').filter((line) => line.includes('(accepted: x)'));
  expect(accepted.map((line) => line.replace(/^ *(= )?/, '').split('  ')[0])).toEqual([
    'ctrl lost',
    'ctrl.V lost',
    'K coil open',
    'W.GN cut',
    'W.YE cut',
  ]);
});

test('a zone without bands says what it needs; nothing at all is one plain line', async () => {
  const zone = (facts: string) =>
    [
      'site "Bench"',
      'unit panel {',
      '  common ZC { earthed: no }',
      `  zone Z { feed: 5 V via 4k7  return: ZC ${facts} }`,
      '}',
      'switch S1 { contacts: break }',
      'wire panel.Z -- S1 -- panel.ZC',
      'case opened { turn S1 open  expect panel.Z >= 4 V }',
    ].join('\n');
  const folder = folderOf({ 'a.couplet': zone(''), 'b.couplet': 'site "Empty"\n' });
  const needs = await couplet(['faults', 'a.couplet'], folder);
  expect([needs.exit, needs.out]).toEqual([
    0,
    expect.stringContaining('zone panel.Z: not evaluated: needs panel.Z scheme'),
  ]);
  const nothing = await couplet(['faults', 'b.couplet'], folder);
  expect(nothing.exit).toBe(2);
  expect(nothing.err).toContain('no zone is wired');
});

describe('with something wrong in the site', () => {
  const site = (...lines: readonly string[]) =>
    [
      'site "Bench" { blind: 9 }',
      'unit panel {',
      '  common ZC { earthed: no }',
      '  zone Z1 { feed: 5 V via 4k7  return: ZC  bands { short: below 1k1  normal: 1k1 .. 3k9  alarm: above 3k9 } }',
      '  zone Z2 { feed: 5 V via 4k7  return: ZC  bands { short: below 1k1  normal: 1k1 .. 3k9  alarm: above 3k9 } }',
      '}',
      'unit other {',
      '  rail V { volts: 12 V  limit: 1 A  return: G }',
      '  common G { earthed: no }',
      '}',
      'switch S1, S2 { contacts: break }',
      'resistor R1 = 2k2 +-1%',
      'resistor R2 = 2k2 +-1%',
      'wire panel.Z1 -- S1 -- R1 -- panel.ZC',
      'case one { turn S1 open  expect panel.Z1 alarm }',
      'case two { turn S2 open  expect panel.Z2 alarm }',
      ...lines,
    ].join('\n');

  test('a loop through two supplies is read as it is, and says that nothing can be judged of it', async () => {
    const folder = folderOf({
      'site.couplet': site('wire panel.Z2 -- S2 -- R2 -- other.V', 'bond other.G -- panel.ZC because "one reference"'),
    });
    const { exit, out } = await couplet(['faults', 'site.couplet'], folder);
    expect(exit).toBe(0);
    expect(out).toContain("'couplet check' finds an error here: the table shows the site as it is written.");
    expect(out).toMatch(/zone panel\.Z1: 1 blind, 3 announced of 4 service faults/);
    expect(out).toMatch(/zone panel\.Z2: 6 not evaluated of 6 service faults.*; no case changes it/);
    const { out: checked } = await couplet(['check', 'site.couplet'], folder);
    expect(checked).toMatch(/error foreign-voltage: 9\.75 V/);
  });

  test('a part that does not exist and a value in the wrong unit leave the other zone its table', async () => {
    const folder = folderOf({
      'site.couplet': site('wire panel.Z2 -- S2 -- NOBODY -- panel.ZC', 'resistor R9 = 5 V'),
    });
    const { exit, out } = await couplet(['faults', 'site.couplet'], folder);
    expect(exit).toBe(0);
    expect(out).toContain("'couplet check' finds 2 errors here");
    expect(out).toMatch(/zone panel\.Z1: 1 blind, 3 announced of 4 service faults/);
    expect(out).toContain('S1.11-12 welded          2.200 kΩ normal  2.200 kΩ normal');
    expect(out).toContain('zone panel.Z2: not evaluated: no case changes it');
  });
});
