/** `couplet check` on real files: exit statuses, bad input, formats, paths, folders. */
import { symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { couplet, coupletProcess, folderOf, ROOT } from './command.ts';

/** A site small enough to know by heart: a beacon on an output that is strong enough for it. */
const TYPES = `type Pump : unit "Pump controller" {
  rail V12 { volts: 11 V .. 12 V .. 14 V  limit: 2 A  return: GND }
  common GND { earthed: no }
  output Q1 { style: sink  return: GND  rated: 1 A  drop: 0.3 V  leak: 20 uA  withstands: 36 V  at-power-up: off }
}
`;
const SITE = `site "Pump house"
use "types/pump.couplet"
unit pump : Pump
load P1 = 3 W @ 12 V "Beacon" { style: resistive  works: 9 V .. 15 V  inrush: 100% @ 10 ms  suppressor: none }
spare pump.GND
wire pump.V12 -- P1 -- pump.Q1
case high "Level is high" {
  turn pump.Q1 on
  expect P1 on
}
`;
const SOUND = { 'site.couplet': SITE, 'types/pump.couplet': TYPES };

function weak(files: Readonly<Record<string, string>> = SOUND) {
  return { ...files, 'types/pump.couplet': TYPES.replace('rated: 1 A', 'rated: 200 mA') };
}

async function json(args: readonly string[], folder: string) {
  const { err, exit, out } = await couplet(['check', '--format', 'json', '--today', '2026-10-02', ...args], folder);
  expect(err).toBe('');
  return { exit, report: JSON.parse(out) };
}

test('a sound site: no error, status 0, and a summary', async () => {
  const { err, exit, out } = await couplet(['check', 'site.couplet'], folderOf(SOUND));
  expect(err).toBe('');
  expect(out).toMatch(/^no errors, no warnings, \d+ information, 0 accepted \(1 site, 2 files read\)$/m);
  expect(exit).toBe(0);
});

test('an overloaded output: status 1, the rule named at file:line:column', async () => {
  const { exit, out } = await couplet(['check', 'site.couplet'], folderOf(weak()));
  expect(out).toMatch(/^(site|types\/pump)\.couplet:\d+:\d+: error output-overloaded: .*pump\.Q1/m);
  expect(out).toMatch(/^1 error, /m);
  expect(exit).toBe(1);
});

test('--fail-on warning fails for a warning, which passes otherwise', async () => {
  const folder = folderOf({ 'r.couplet': 'resistor R1 = 4711R +-1%\n' });
  expect((await couplet(['check', 'r.couplet'], folder)).exit).toBe(0);
  expect((await couplet(['check', '--fail-on', 'warning', 'r.couplet'], folder)).exit).toBe(1);
});

test("--strict makes 'not evaluated' a warning", async () => {
  const folder = folderOf({ ...SOUND, 'types/pump.couplet': TYPES.replace('rated: 1 A  ', '') });
  const loose = await json(['site.couplet'], folder);
  expect(loose.report.findings.some((each: { code: string }) => each.code === 'not-evaluated')).toBe(true);
  expect(loose.report.summary.warning).toBe(0);
  const strict = await json(['--strict', '--fail-on', 'warning', 'site.couplet'], folder);
  expect(strict.report.summary.warning).toBeGreaterThan(0);
  expect(strict.exit).toBe(1);
});

test('an accepted finding does not fail, is listed with its reason, and fails again after its date', async () => {
  const accept = 'accept output-overloaded on pump.Q1 because "two seconds a day" until 2027-01-31\n';
  const folder = folderOf(weak({ ...SOUND, 'site.couplet': SITE + accept }));
  const before = await couplet(['check', '--today', '2027-01-31', 'site.couplet'], folder);
  expect(before.exit).toBe(0);
  expect(before.out).toContain('accepted error output-overloaded');
  expect(before.out).toContain('because "two seconds a day" until 2027-01-31');
  const after = await couplet(['check', '--today', '2027-02-01', 'site.couplet'], folder);
  expect(after.exit).toBe(1);
  expect(after.out).toContain('warning acceptance-stale');
});

test('a folder stands for every .couplet file in it and below it; hidden folders and node_modules are passed over', async () => {
  const folder = folderOf({
    ...SOUND,
    'spare/site.couplet': 'site "Spare"\n',
    '.hidden/a.couplet': 'resistor',
    'node_modules/b/b.couplet': 'resistor',
    'note.txt': 'resistor',
  });
  const { report } = await json(['.'], folder);
  expect(report.sites.map((site: { title: string }) => site.title)).toEqual(['Pump house', 'Spare']);
  expect((await json([], folder)).report).toEqual(report);
});

test('--skip leaves a folder out, unless it is named itself', async () => {
  const folder = folderOf({ ...SOUND, 'wrong/a.couplet': 'resistor R1 = 1 wombat\n' });
  expect((await couplet(['check', '.'], folder)).exit).toBe(1);
  expect((await couplet(['check', '.', '--skip', 'wrong'], folder)).exit).toBe(0);
  expect((await couplet(['check', 'wrong', '--skip', 'wrong'], folder)).exit).toBe(1);
  expect((await couplet(['check', 'wrong/a.couplet', '--skip', 'wrong'], folder)).exit).toBe(1);
});

test.each([
  ['an unknown unit', { 'site.couplet': SITE.replace('3 W @', '3 Watt @') }, 'site.couplet:4:11: error unit-unknown'],
  ['a wrong dimension', { 'site.couplet': SITE.replace('9 V .. 15 V', '9 V .. 15 A') }, 'site.couplet:4:'],
  ['an unknown name', { 'site.couplet': SITE.replace('-- P1', '-- P7') }, 'site.couplet:6:18: error name-unknown'],
  [
    'a missing file',
    { 'site.couplet': SITE.replace('types/pump', 'types/pomp') },
    'site.couplet:2:5: error use-missing',
  ],
  [
    'a file outside the workspace folder',
    { 'site.couplet': SITE.replace('types/pump', '../pump') },
    'site.couplet:2:5: error use-outside-folder',
  ],
  ['a half-typed statement', { 'site.couplet': `${SITE}wire pump.V12 --\n` }, 'site.couplet:11:15: error syntax-error'],
  [
    'a file that is not UTF-8',
    { 'types/pump.couplet': Buffer.from(TYPES.replace('Pump controller', 'Größe'), 'latin1') },
    'types/pump.couplet:1:21: error file-not-utf8',
  ],
  ['a NUL', { 'types/pump.couplet': `${TYPES}\0` }, 'types/pump.couplet:6:1: error file-holds-nul'],
  [
    'a file of 10 MB',
    { 'types/pump.couplet': Buffer.alloc(10_000_000, '/') },
    'types/pump.couplet:1:1: error file-too-large',
  ],
])('%s: a clear message at its place, status 1, and the rest is still checked', async (_name, change, line) => {
  const other = 'site "Other"\nuse "../types/valve.couplet"\nresistor R1 = 4711R +-1%\n';
  const files = { ...SOUND, ...change, 'other/site.couplet': other, 'types/valve.couplet': 'type Valve : load\n' };
  const { err, exit, out } = await couplet(['check', '--workspace', '.', '.'], folderOf(files));
  expect(err).toBe('');
  expect(out).toContain(line);
  expect(out.match(/: error /g)).toHaveLength(1);
  expect(out).toContain('other/site.couplet:3:15: warning value-not-preferred');
  expect(out).not.toMatch(/^\s+at .*\d+:\d+\)?$/m);
  expect(exit).toBe(1);
});

test('an empty file is a warning; a circle of use is nothing at all', async () => {
  const empty = await couplet(['check', 'a.couplet'], folderOf({ 'a.couplet': '' }));
  expect(empty.out).toContain('a.couplet:1:1: warning file-empty');
  expect(empty.exit).toBe(0);
  const circle = folderOf({ ...SOUND, 'types/pump.couplet': `use "../site.couplet"\n${TYPES}` });
  expect((await json(['site.couplet'], circle)).report.summary).toMatchObject({ error: 0, warning: 0 });
});

test.each([
  ['a file that is not there', ['nowhere.couplet'], 'nowhere.couplet: There is no such file.'],
  ['a folder without site files', ['empty'], "there is no .couplet file in 'empty'"],
])('%s: nothing could be checked, status 2, nothing on standard output', async (_name, args, words) => {
  const { err, exit, out } = await couplet(['check', ...args], folderOf({ 'empty/note.txt': '' }));
  expect([exit, out]).toEqual([2, '']);
  expect(err).toContain(words);
});

test('a file that is not there beside one that is: a finding, status 1, the other is checked', async () => {
  const { exit, out } = await couplet(['check', 'site.couplet', 'gone.couplet'], folderOf(SOUND));
  expect(out).toContain('gone.couplet:1:1: error file-missing');
  expect(out).toContain('1 site');
  expect(exit).toBe(1);
});

test('a link that leads out of the workspace folder is not followed', async () => {
  const outside = folderOf({ 'pump.couplet': TYPES });
  const folder = folderOf({ 'site.couplet': SITE });
  symlinkSync(outside, join(folder, 'types'));
  const { exit, out } = await couplet(['check', '--workspace', '.', 'site.couplet'], folder);
  expect(out).toContain('site.couplet:2:5: error use-outside-folder');
  expect(exit).toBe(1);
});

test('two names of one file are one file', async () => {
  const folder = folderOf(SOUND);
  symlinkSync(join(folder, 'site.couplet'), join(folder, 'again.couplet'));
  const { report } = await json(['.'], folder);
  expect(report.sites).toHaveLength(1);
});

test('every format says the same, twice over', async () => {
  const folder = folderOf(weak());
  for (const format of ['text', 'json', 'sarif', 'junit', 'github']) {
    const args = ['check', '--format', format, '--today', '2026-10-02', 'site.couplet'];
    const first = await couplet(args, folder);
    expect(first.exit).toBe(1);
    expect(first.out).toContain('output-overloaded');
    expect(await couplet(args, folder)).toEqual(first);
  }
});

test('an internal error is one line and status 3; --debug shows where', async () => {
  const folder = folderOf(SOUND);
  const fails = () => {
    throw new Error('a wire came loose');
  };
  const { run } = await import('@couplet/cli');
  let err = '';
  const hears = (text: string) => {
    err += text;
  };
  const terminal = { out: fails, err: hears, folder, paint: fails, watched: false };
  expect(await run(['check', 'site.couplet'], terminal)).toBe(3);
  expect(err).toMatch(/^couplet: internal error: a wire came loose .*\n$/);
  err = '';
  expect(await run(['check', '--debug', 'site.couplet'], terminal)).toBe(3);
  expect(err).toContain('check.test.ts');
});

test('as a process: statuses 0, 1 and 2, words on the right streams, no colours through a pipe', () => {
  const folder = folderOf({
    ...SOUND,
    'weak/site.couplet': SITE.replace('types/pump', '../weak/pump'),
    'weak/pump.couplet': weak()['types/pump.couplet'],
  });
  const sound = coupletProcess(['check', 'site.couplet'], folder);
  expect([sound.exit, sound.err]).toEqual([0, '']);
  const overloaded = coupletProcess(['check', 'weak/site.couplet'], folder, { FORCE_COLOR: '1' });
  expect([overloaded.exit, overloaded.err]).toEqual([1, '']);
  expect(overloaded.out).toContain('error output-overloaded');
  expect(overloaded.out).not.toContain('\u001b');
  const nothing = coupletProcess(['check', 'gone.couplet'], folder);
  expect([nothing.exit, nothing.out]).toEqual([2, '']);
});

test('the sound examples end with 0, their figures shown', async () => {
  const { exit, out } = await couplet(['check', '--figures', '--skip', 'examples/mistakes', 'examples'], ROOT);
  expect(exit, out).toBe(0);
  expect(out).toContain('Tidewater Mill (examples/tidewater-mill/site.couplet)');
  expect(out).toMatch(/zone +panel\.Z4 +normal +2\.227 kΩ/);
});

test('a part of a site, named by itself, is checked in its site', async () => {
  const folder = folderOf({
    'mill/site.couplet': 'site "Mill"\nuse "loop.couplet"\nresistor RX = 4k7 +-1%\n',
    'mill/loop.couplet': 'resistor R1 = 4711R +-1%\nwire R1.2 -- RX.1\n',
  });
  const { out } = await couplet(['check', '--workspace', '.', 'mill/loop.couplet'], folder);
  expect(out).toContain('mill/loop.couplet:1:15: warning value-not-preferred');
  expect(out).not.toContain('name-unknown');
  expect(out).toContain('1 site, 2 files read');
});
