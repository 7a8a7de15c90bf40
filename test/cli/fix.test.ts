/** `couplet check --fix` writes what is safe and proven, says it, and leaves the rest alone. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { couplet, folderOf } from './command.ts';

const TEXT = [
  'site "Shed" { ambient: 0 degC .. 30 degC }',
  'supply G1 = 24 V { volts: 23 V .. 24 V .. 25 V  limit: 1 A  earthed: no }',
  'resistor RA = 2k3 +-5%',
  'wire G1.plus -- Ra -- G1.minus',
  '',
].join('\n');

describe('check --fix', () => {
  test('mends the spelling, says what it did, and reports what is left', async () => {
    const folder = folderOf({ 'shed.couplet': TEXT });
    const { exit, out } = await couplet(['check', '--fix', '--today', '2026-11-01'], folder);
    const [first, ...rest] = out.split('\n');
    expect(first).toBe("shed.couplet:4:17: fixed name-unknown: Write 'RA'");
    expect(rest.join('\n')).toContain('value-not-preferred');
    expect(out).not.toContain('error name-unknown');
    expect(exit).toBe(0);
    expect(readFileSync(join(folder, 'shed.couplet'), 'utf8')).toBe(TEXT.replace('Ra', 'RA'));
  });

  test('says it beside a format that programs read', async () => {
    const folder = folderOf({ 'shed.couplet': TEXT });
    const { err, out } = await couplet(['check', '--fix', '--format', 'json'], folder);
    expect(err).toContain("fixed name-unknown: Write 'RA'");
    expect(() => JSON.parse(out)).not.toThrow();
  });

  test('keeps the mark before a text and the ends of its lines', async () => {
    const windows = `\ufeff${TEXT.replaceAll('\n', '\r\n')}`;
    const folder = folderOf({ 'shed.couplet': windows });
    await couplet(['check', '--fix'], folder);
    expect(readFileSync(join(folder, 'shed.couplet'), 'utf8')).toBe(windows.replace('Ra', 'RA'));
  });

  test('without it nothing is written', async () => {
    const folder = folderOf({ 'shed.couplet': TEXT });
    const { exit } = await couplet(['check'], folder);
    expect(exit).toBe(1);
    expect(readFileSync(join(folder, 'shed.couplet'), 'utf8')).toBe(TEXT);
  });
});
