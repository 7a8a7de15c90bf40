/** `couplet draw`: drawings and plots as files. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { couplet, folderOf } from './command.ts';

const MILL = 'examples/tidewater-mill';

const TWO = `site "Two"
supply G1 = 12 V { limit: 1 A  earthed: no }
supply G2 = 12 V { limit: 1 A  earthed: no }
load P1 = 120 ohm { works: 9 V .. 15 V }
load P2 = 120 ohm { works: 9 V .. 15 V }
wire G1.plus -- P1 -- G1.minus
wire G2.plus -- P2 -- G2.minus
case dark { turn G1 off  expect P1 off }
`;

test('the only coupling of a site goes to standard output', async () => {
  const { err, exit, out } = await couplet(['draw', MILL]);
  expect([exit, err]).toEqual([0, '']);
  expect(out).toMatch(/^<svg xmlns="http:\/\/www.w3.org\/2000\/svg"/);
  expect(out).toContain('(rest)</title>');
  expect(out).toContain('normal 2.227 kΩ');
});

test('a case and a moment of it', async () => {
  const out = (await couplet(['draw', MILL, '--case', 'high-water'])).out;
  expect(out).toContain('alarm 6.927 kΩ');
  expect(out).toContain('11–12 closed');
  expect(out).toContain('on · 12.5 V');
  const later = (await couplet(['draw', MILL, '--case', 'high-water', '--moment', '1'])).out;
  expect(later).toContain('(high-water, after 90 s, level.Q2 back)');
  expect(later).not.toContain('on · 12.5 V');
});

test.each(['-o', '--out'])('%s writes a file', async (option) => {
  const folder = folderOf({ 'site.couplet': TWO });
  const { exit, out } = await couplet(['draw', 'site.couplet', '--coupling', 'P2', option, 'two.svg'], folder);
  expect([exit, out]).toEqual([0, '']);
  const text = readFileSync(join(folder, 'two.svg'), 'utf8');
  expect(text).toContain('data-ref="node P2"');
  expect(text).not.toContain('data-ref="node P1"');
});

test('several couplings are several files, named by what they show', async () => {
  const folder = folderOf({ 'site.couplet': TWO });
  const { exit, out } = await couplet(['draw', 'site.couplet', '-o', 'two.svg'], folder);
  expect([exit, out]).toEqual([0, 'two-P1.svg\ntwo-P2.svg\n']);
  expect(readdirSync(folder).sort()).toEqual(['site.couplet', 'two-P1.svg', 'two-P2.svg']);
});

test('plots in place of the drawing', async () => {
  const folder = folderOf({});
  const files = async (plot: string, path: string) => {
    const { err, exit, out } = await couplet(['draw', path, '--plot', plot, '-o', join(folder, `${plot}.svg`)]);
    expect([exit, err], out).toEqual([0, '']);
    return out;
  };
  expect((await files('time', MILL)).split('\n')).toHaveLength(3);
  await files('bands', MILL);
  await files('battery', 'examples/pumping-station');
  const written = (name: string) => readFileSync(join(folder, name), 'utf8');
  expect(readdirSync(folder).sort()).toEqual([
    'bands.svg',
    'battery.svg',
    'time-high-water.svg',
    'time-supply-lost.svg',
  ]);
  expect(written('bands.svg')).toContain('blind: level.Q1 stuck on');
  expect(written('time-high-water.svg')).toContain('panel.Z4 reports');
  expect(written('battery.svg')).toContain('large enough');
});

test('what cannot be drawn is one line and exit 2', async () => {
  const folder = folderOf({ 'two.couplet': TWO, 'empty.couplet': 'site "Empty"\n', 'part.couplet': 'relay K1\n' });
  const refused = async (...args: readonly string[]) => {
    const { err, exit, out } = await couplet(['draw', ...args], folder);
    expect([exit, out]).toEqual([2, '']);
    return err;
  };
  expect(await refused('two.couplet')).toContain('these are 2 pictures (P1, P2): name one, or a file with --out');
  expect(await refused('two.couplet', '--case', 'light')).toContain(
    "there is no case 'light'; the cases are rest, dark",
  );
  expect(await refused('two.couplet', '--moment', '7')).toContain("'7' is no moment of rest: it has 0 to 0");
  expect(await refused('two.couplet', '--coupling', 'K9')).toContain(
    "no coupling shows 'K9'; the couplings are P1, P2",
  );
  expect(await refused('two.couplet', '-o', 'two.pdf')).toContain("'two.pdf' does not end in .svg");
  expect(await refused('two.couplet', '--coupling', 'P1', '-o', 'none/two.svg')).toContain('cannot be written: ENOENT');
  expect(await refused('two.couplet', '--plot', 'bands')).toContain('no zone of it is wired');
  expect(await refused('empty.couplet')).toContain('nothing of it is wired');
  expect(await refused('two.couplet', 'empty.couplet')).toContain('a drawing is of one site, and these are 2');
  expect(await refused('part.couplet')).toContain('name the file or folder of a site');
});

test('a site with errors is drawn as far as it goes', async () => {
  const folder = folderOf({ 'site.couplet': `${TWO}wire P1.plus -- nobody\nload\n` });
  const { exit, out } = await couplet(['draw', 'site.couplet', '--coupling', 'P1'], folder);
  expect(exit).toBe(0);
  expect(out).toContain('data-ref="node P1"');
});

test('the same command writes the same text', async () => {
  const args = ['draw', 'examples/pumping-station', '--case', 'high-water'];
  expect((await couplet(args)).out).toBe((await couplet(args)).out);
});

test('the help names the short option', async () => {
  expect((await couplet(['draw', '--help'])).out).toContain('-o, --out FILE');
});
