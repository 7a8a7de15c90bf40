/** `couplet figures`: the table of Tidewater Mill, whose figures language.md states. */
import { describe, expect, test } from 'vitest';
import { couplet, folderOf } from './command.ts';

const SITE = 'examples/tidewater-mill';

/** The lines of a part in a case, as far as the next part. */
function part(out: string, caseTitle: string, name: string): string {
  const from = out.indexOf(`\n${caseTitle}\n`);
  expect(from, `no case '${caseTitle}' in\n${out}`).toBeGreaterThanOrEqual(0);
  const lines = out
    .slice(from + 1)
    .split('\n')
    .slice(1);
  const start = lines.findIndex((line) => line.startsWith('  ') && line.trim().split(/[ :]/)[1] === name);
  const end = lines.findIndex((line, index) => index > start && !line.startsWith('    '));
  return lines.slice(start, end).join('\n');
}

test('usual, least and most with their corners, case by case', async () => {
  const { err, exit, out } = await couplet(['figures', SITE]);
  expect([exit, err]).toEqual([0, '']);
  const coil = part(out, 'rest', 'K1');
  expect(coil).toContain('relay K1: operated');
  expect(coil).toMatch(/volts {2}12\.3 V \(10\.9 V \.\. 14\.1 V\)/);
  expect(coil).toMatch(/least at level\.V12 11\.4 V/);
  expect(coil).toMatch(/most at level\.V12 14\.1 V/);
  const zone = part(out, 'rest', 'panel.Z4');
  expect(zone).toMatch(/ohms {3}2\.227 kΩ \(2\.202 kΩ \.\. 2\.251 kΩ\)/);
  expect(zone).toMatch(/volts {2}1\.607 V/);
  const alarm = part(out, 'high-water, after level.Q1 off, level.Q2 on', 'panel.Z4');
  expect(alarm).toContain('zone panel.Z4: alarm');
  expect(alarm).toMatch(/ohms {3}6\.927 kΩ \(6\.855 kΩ \.\. 6\.998 kΩ\)/);
  expect(alarm).toMatch(/volts {2}2\.979 V/);
  expect(part(out, 'high-water, after level.Q1 off, level.Q2 on', 'P1')).toMatch(
    /volts {2}12\.5 V \(11\.1 V \.\. 14\.1 V\)/,
  );
});

test('a case tells what it may change, and that the rest is as at rest', async () => {
  const folder = folderOf({
    'site.couplet': [
      'site "Bench"',
      'supply G1 = 12 V { limit: 1 A  earthed: no }',
      'supply G2 = 24 V { limit: 1 A  earthed: no }',
      'switch S1 { contacts: make }',
      'load P1 = 120 ohm { style: resistive  works: 9 V .. 15 V }',
      'load P2 = 240 ohm { style: resistive  works: 20 V .. 28 V }',
      'wire G1.plus -- S1.13-14 -- P1 -- G1.minus',
      'wire G2.plus -- P2 -- G2.minus',
      'case pressed { turn S1 closed  expect P1 on }',
    ].join('\n'),
  });
  const { out } = await couplet(['figures', 'site.couplet'], folder);
  expect(part(out, 'rest', 'P2')).toMatch(/amps {3}100 mA/);
  const pressed = out.slice(out.indexOf('\npressed, '));
  expect(pressed).toMatch(/load P1: on\n.*\n {4}amps {3}9\d\.\d mA/);
  expect(pressed).toContain('  everything else as at rest');
  expect(pressed).not.toContain('P2');
  const short = (await couplet(['check', '--figures', 'site.couplet'], folder)).out;
  const rows = short
    .slice(short.indexOf('  pressed, '))
    .split('\n')
    .map((line) => line.trim().split(/ +/)[1]);
  expect(rows).toContain('P1');
  expect(rows).not.toContain('P2');
});

test('--assumptions lists what the file does not say; without it they are counted', async () => {
  const listed = (await couplet(['figures', SITE, '--assumptions'])).out;
  expect(listed).toContain('assumed, because the file does not say');
  expect(listed).toMatch(/^ {2}contact-ohms taken as 0\.1 ohm/m);
  expect((await couplet(['figures', SITE])).out).toMatch(/^\d+ values are assumed; --assumptions lists them$/m);
});

test('--assumptions lists the thresholds in force, those of the site first', async () => {
  const text = `site "Weir" { limits { leakage-masks-alarm: 10k  too-many-detectors: 4 } }
supply G1 = 12 V, 1 A
load P1 = 100 ohm
wire G1.plus -- P1 -- G1.minus
`;
  const folder = folderOf({ 'site.couplet': text });
  const { out } = await couplet(['figures', 'site.couplet', '--assumptions'], folder);
  const [, after = ''] = out.split('\nthresholds set by this site\n');
  const [own = '', usual = ''] = after.split('\n\nthresholds taken, because the site sets none\n');
  expect(own.split('\n')).toEqual([
    '  too-many-detectors  4: passive contacts on one zone (10 unless set)',
    '  leakage-masks-alarm  10 kΩ: least ohms between cores that damp joints reach (5 kΩ unless set)',
  ]);
  expect(usual).toContain(
    '  output-overloaded  80 %: demand over the rating, derated (derating of transistor outputs; common practice)',
  );
  expect(usual).not.toContain('too-many-detectors');
  const [site] = JSON.parse((await couplet(['figures', 'site.couplet', '--format', 'json'], folder)).out).sites;
  const inForce = site.thresholds.filter((each: { set: boolean }) => each.set);
  expect(inForce.map(({ rule, value }: { rule: string; value: number }) => [rule, value])).toEqual([
    ['too-many-detectors', 4],
    ['leakage-masks-alarm', 10_000],
  ]);
});

test('json: the same figures in SI numbers', async () => {
  const { out } = await couplet(['figures', SITE, '--format', 'json']);
  const report = JSON.parse(out);
  expect(report.sites).toHaveLength(1);
  const [site] = report.sites;
  expect(site.cases.map((each: { name: string }) => each.name)).toEqual(['rest', 'high-water', 'supply-lost']);
  const parts = site.cases[0].moments[0].parts;
  const coil = parts.find((each: { name: string }) => each.name === 'K1');
  expect(coil.states).toEqual(['operated']);
  expect(coil.figures[0]).toMatchObject({ quantity: 'volts', unit: 'V', least: expect.closeTo(10.9, 9), proven: true });
  expect(site.assumptions.length).toBeGreaterThan(0);
});

test('csv: a line a figure, quoted where needed, every line with the same cells', async () => {
  const { out } = await couplet(['figures', SITE, '--format', 'csv']);
  const lines = out.trimEnd().split('\r\n').map(cells);
  expect(new Set(lines.map((line) => line.length))).toEqual(new Set([16]));
  const [head, ...rows] = lines as [string[], ...string[][]];
  const row = rows.find((line) => line[5] === 'panel.Z4' && line[7] === 'ohms') as string[];
  expect(row.slice(0, 2)).toEqual(['Tidewater Mill', 'rest']);
  expect(Number(row[head.indexOf('usual')])).toBeCloseTo(2226.7, 1);
  expect(row[head.indexOf('least at')]).toContain('RE 2.18 kΩ, ');
});

/** Cells of a line by RFC 4180. */
function cells(line: string): string[] {
  return [...line.matchAll(/(?:^|,)(?:"((?:[^"]|"")*)"|([^,]*))/g)].map(
    (match) => match[1]?.replaceAll('""', '"') ?? match[2] ?? '',
  );
}

test('what cannot be evaluated says what it needs', async () => {
  const folder = folderOf({
    'site.couplet': [
      'site "Bench"',
      'supply G1 = 12 V { limit: 1 A  earthed: no }',
      'load P1 { works: 9 V .. 15 V }',
      'wire G1.plus -- P1 -- G1.minus',
    ].join('\n'),
  });
  const { exit, out } = await couplet(['figures', 'site.couplet'], folder);
  expect(exit).toBe(0);
  expect(part(out, 'rest', 'P1')).toMatch(/amps {3}not evaluated: needs P1 /);
});

test('a site with errors still has figures, and says so', async () => {
  const folder = folderOf({
    'site.couplet': [
      'site "Bench"',
      'supply G1 = 12 V { limit: 1 A  earthed: no }',
      'resistor R1 = 1k +-1%',
      'resistor R2 = 1 wombat',
      'wire G1.plus -- R1 -- G1.minus',
    ].join('\n'),
  });
  const { exit, out } = await couplet(['figures', 'site.couplet'], folder);
  expect(exit).toBe(0);
  expect(out).toContain("'couplet check' finds an error here");
  expect(part(out, 'rest', 'G1')).toMatch(/amps {3}12\.0 mA/);
});

test('without anything wired there are no figures: status 2 and a hint', async () => {
  const { err, exit, out } = await couplet(['figures', 'a.couplet'], folderOf({ 'a.couplet': 'resistor R1 = 1k\n' }));
  expect([exit, out]).toEqual([2, '']);
  expect(err).toContain('there is nothing wired that has figures');
});

describe('batteries and fuses', () => {
  const PUMPS = 'examples/pumping-station';
  /*
   * rest        60 mA + 150 mA + 20 uA of leakage, for 24 h: 5.04048 Ah; below 12 Ah / 20 h = 0.6 A, so that it counts once.
   * high-water  60 mA + 150 mA + (12.6 V - 1.2 V) / 2.2 k = 5.18 mA, and 28.8 ohm of beacon on a full battery of 13.65 V
   *             behind 40 mohm: (0.21518 + 13.65 / 28.8) / (1 + 0.04 / 28.8) = 0.68818 A, for 2 h: 1.37636 Ah,
   *             x (0.68818 / 0.6)^0.1 = 1.01381 for its haste: 1.39537 Ah.
   * Needed      1.25 x 6.43585 Ah / 0.75 at 0 degC = 10.7264 Ah.
   */
  test('text: what a battery needs, how long it lasts, what opens each fuse', async () => {
    const { out } = await couplet(['figures', PUMPS]);
    const from = out.indexOf('\nbatteries and fuses\n');
    expect(from).toBeGreaterThan(0);
    const told = out.slice(from);
    expect(told).toContain('battery B1: large enough');
    expect(told).toMatch(/needed capacity +8\.00 Ah \(7\.22 Ah \.\. 10\.7 Ah\)/);
    expect(told).toMatch(/current in high-water +609 mA \(550 mA \.\. 688 mA\)/);
    expect(told).toMatch(/volts at end of discharge +10\.5 V/);
    expect(told).toContain('fuse F1: a short at rtu.IN opens it promptly');
    // Worked out on the battery alone too, case by case: the fuse of the battery carries all of it then.
    expect(part(out, 'rest', 'FB')).toMatch(/amps {3}0 A/);
    expect(part(out, 'high-water on B1, after G1 off, S1 closed, rtu.Q1 on', 'FB')).toMatch(
      /amps {3}-609 mA \(-688 mA \.\. -550 mA\)/,
    );
    expect(out).toContain('\nhigh-water on B1, after G1 off, S1 closed, rtu.Q1 on\n');
  });

  test('json: the same in SI numbers, with the runtimes over the current', async () => {
    const { out } = await couplet(['figures', PUMPS, '--format', 'json']);
    const [site] = JSON.parse(out).sites;
    const [battery, ...fuses] = site.supplies;
    expect([battery.kind, battery.name, battery.says]).toEqual(['battery', 'B1', 'large enough']);
    const figure = (label: string) => battery.figures.find((each: { label: string }) => each.label === label);
    expect(figure('needed capacity')).toMatchObject({ unit: 'Ah', most: expect.closeTo(10.7264, 3), proven: true });
    expect(figure('current in rest')).toMatchObject({ unit: 'A', most: expect.closeTo(0.21002, 6) });
    expect(battery.runtimes.length).toBeGreaterThan(10);
    for (const { amps, seconds } of battery.runtimes) {
      expect(seconds.least).toBeLessThan(seconds.most);
      // A battery of 12 Ah gives no more than its capacity.
      expect(amps * seconds.most).toBeLessThanOrEqual(12 * 3600 * (1 + 1e-9));
    }
    expect(fuses.map(({ name }: { name: string }) => name)).toEqual(['FB', 'F1', 'F2', 'F3']);
    // 10.5 V over 40 mohm, and what the beacon draws besides is not counted.
    expect(fuses[1].figures[0]).toMatchObject({ label: 'prospective current', least: expect.closeTo(262.5, 9) });
    expect(site.assumptions).toContain("Peukert's exponent of B1 taken as 1.1 (AGM)");
  });

  test('csv: a line a figure beside those of the cases', async () => {
    const { out } = await couplet(['figures', PUMPS, '--format', 'csv']);
    const lines = out.trimEnd().split('\r\n').map(cells);
    expect(new Set(lines.map((line) => line.length))).toEqual(new Set([16]));
    const row = lines.find((line) => line[5] === 'B1' && line[7] === 'needed capacity')!;
    expect([row[3], row[4], row[6], row[9]]).toEqual(['standby', 'battery', 'large enough', 'Ah']);
    expect(Number(row[12])).toBeCloseTo(10.7264, 3);
    expect(lines.some((line) => line[5] === 'F3' && line[3] === 'short at the far end')).toBe(true);
  });

  test('what cannot be evaluated says what it needs', async () => {
    const folder = folderOf({
      'site.couplet': [
        'site "Bench"',
        'battery B1 = 12 V',
        'fuse F1',
        'load P1 = 1 A { works: 9 V .. 15 V  style: constant-current }',
        'wire B1.plus -- F1 -- P1 -- B1.minus',
        'autonomy B1 { carries: rest for 1 h }',
      ].join('\n'),
    });
    const { out } = await couplet(['figures', 'site.couplet'], folder);
    expect(out).toMatch(/needed capacity +not evaluated: needs B1 ambient, B1 rating/);
    expect(out).toMatch(/prospective current +not evaluated: needs F1 rating/);
  });
});
