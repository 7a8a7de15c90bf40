/** `couplet trace`: readings of Tidewater Mill, as the site file has them and as somebody types them. */
import { describe, expect, test } from 'vitest';
import { couplet, folderOf } from './command.ts';

const SITE = 'examples/tidewater-mill';
const rest = (volts: string) => ['--reading', `rest: volts panel.Z4 to panel.ZC = ${volts}`];
const water = (volts: string) => ['--reading', `high-water: volts panel.Z4 to panel.ZC = ${volts}`];

describe('the readings of the site', () => {
  test('are in band and as predicted, and nothing is wrong', async () => {
    const { err, exit, out } = await couplet(['trace', SITE]);
    expect([exit, err]).toEqual([0, '']);
    expect(out.match(/in band: /g)).toHaveLength(2);
    expect(out).toMatch(/as predicted: predicted 1\.607 V \(1\.595 V \.\. 1\.619 V\), allowed/);
    expect(out).toContain('the site as written explains what was read: fits both readings');
    expect(out).toContain('these would not show in it: W1.YE earthed');
    expect(out).not.toContain('measure next');
  });
});

describe('typed readings', () => {
  test('rank the causes, ties together, and name the reading to take next', async () => {
    const { exit, out } = await couplet(['trace', SITE, ...rest('1.61 V'), ...water('1.61 V')]);
    expect(exit).toBe(0);
    expect(out).toContain('not in band: the panel takes it as normal, and should take it as alarm');
    expect(out).toMatch(/33 % {2}level\.Q1 stuck on: fits both readings\n +K1\.11-14 welded\n +RA linked\n/);
    expect(out).toMatch(
      /measure next: high-water: volts level\.Q1 to level\.GND\n {2}0 V \.\. 500\.0 mV: level\.Q1 stuck on/,
    );
  });

  test('say so where no single fault explains them', async () => {
    const { out } = await couplet(['trace', SITE, ...rest('0.9 V'), ...water('4.4 V')]);
    expect(out).toContain('no single fault explains this');
  });

  test('may be ohms of the lifted loop', async () => {
    const { out } = await couplet(['trace', SITE, '--reading', 'rest: ohms panel.Z4 to panel.ZC = 4k73']);
    expect(out).toMatch(/\d+ % {2}RE swapped with RA: fits the reading/);
  });

  test('come as data too', async () => {
    const { out } = await couplet(['trace', SITE, ...rest('4.99 V'), '--format', 'json']);
    const { traces } = JSON.parse(out);
    expect(traces[0].readings[0]).toMatchObject({ inBand: false, asPredicted: false, class: 'open' });
    const best = traces[0].candidates.filter((each: { readsLike: number }) => each.readsLike === 0);
    expect(best.map((each: { name: string }) => each.name)).toEqual(['RE missing', 'W1.GN cut', 'W1.YE cut']);
    expect(traces[0].next.what).toBe('volts RE.1 to RE.2');
  });
});

describe('what cannot be traced', () => {
  test('is told reading by reading: a name, a unit, a case', async () => {
    const { err, exit } = await couplet([
      'trace',
      SITE,
      '--reading',
      'rest: volts panel.Z9 to panel.ZC = 1.6 V',
      '--reading',
      'rest: volts panel.Z4 to panel.ZC = 1.6 ohm',
      '--reading',
      'floods: volts panel.Z4 to panel.ZC = 1.6 V',
    ]);
    expect(exit).toBe(2);
    expect(err).toContain("'rest: volts panel.Z9 to panel.ZC = 1.6 V': The unit 'panel' has no 'Z9'.");
    expect(err).toContain("'rest: volts panel.Z4 to panel.ZC = 1.6 ohm': This needs a voltage");
    expect(err).toContain("'floods: volts panel.Z4 to panel.ZC = 1.6 V': There is no case 'floods'");
  });

  test('is no stack trace: nonsense, a site without readings, two sites, a file that is not there', async () => {
    const nonsense = await couplet(['trace', SITE, '--reading', '}} what']);
    expect([nonsense.exit, nonsense.out]).toEqual([2, '']);
    expect(nonsense.err).not.toMatch(/ at |internal/);
    const folder = folderOf({ 'a.couplet': 'site "A"\n', 'b.couplet': 'site "B"\n' });
    const without = await couplet(['trace', 'a.couplet'], folder);
    expect([without.exit, without.err]).toEqual([2, expect.stringContaining('no measured statement')]);
    const two = await couplet(['trace', '.'], folder);
    expect([two.exit, two.err]).toEqual([2, expect.stringContaining('readings are of one site, and these are 2')]);
    const gone = await couplet(['trace', 'c.couplet'], folder);
    expect(gone.exit).toBe(2);
  });
});
