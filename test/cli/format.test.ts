/** `couplet format` on real files: what is written, what is only compared, and what is left alone. */
import { readFileSync, statSync, utimesSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { couplet, coupletProcess, folderOf } from './command.ts';

const ROUGH = 'resistor   RE=2k2±1%\nload P1 = 6W @ 12 V { style: resistive  works: 10 V..15 V }\n';
const LAID_OUT = `resistor RE = 2k2 +-1%
load P1 = 6 W @ 12 V {
  style: resistive
  works: 10 V .. 15 V
}
`;

const textOf = (folder: string, name: string) => readFileSync(join(folder, name), 'utf8');

test('a file is laid out and written back', async () => {
  const folder = folderOf({ 'a.couplet': ROUGH });
  const { err, exit, out } = await couplet(['format', 'a.couplet'], folder);
  expect({ err, exit, out }).toEqual({ err: '', exit: 0, out: 'a.couplet: laid out\n1 of 1 file laid out\n' });
  expect(textOf(folder, 'a.couplet')).toBe(LAID_OUT);
});

test('a file that is laid out already is not written', async () => {
  const folder = folderOf({ 'a.couplet': LAID_OUT });
  utimesSync(join(folder, 'a.couplet'), 1000, 1000);
  const { exit, out } = await couplet(['format', 'a.couplet'], folder);
  expect({ exit, out }).toEqual({ exit: 0, out: '0 of 1 file laid out\n' });
  expect(statSync(join(folder, 'a.couplet')).mtimeMs).toBe(1_000_000);
});

test('--check writes nothing and says where the layout differs', async () => {
  const folder = folderOf({ 'a.couplet': LAID_OUT, 'b/c.couplet': `${LAID_OUT}${ROUGH}` });
  const { exit, out } = await couplet(['format', '--check', '.'], folder);
  expect(out).toBe('b/c.couplet:6: is laid out otherwise from here on\n1 of 2 files to be laid out\n');
  expect(exit).toBe(1);
  expect(textOf(folder, 'b/c.couplet')).toBe(`${LAID_OUT}${ROUGH}`);
  expect((await couplet(['format', '--check', 'a.couplet'], folder)).exit).toBe(0);
});

test('folders are gone through, and what is skipped is left out', async () => {
  const folder = folderOf({ 'a/b.couplet': ROUGH, 'c/d.couplet': ROUGH, 'e.txt': ROUGH });
  const { exit, out } = await couplet(['format', '--skip', 'c', '.'], folder);
  expect({ exit, out }).toEqual({ exit: 0, out: 'a/b.couplet: laid out\n1 of 1 file laid out\n' });
  expect(textOf(folder, 'c/d.couplet')).toBe(ROUGH);
  expect(textOf(folder, 'e.txt')).toBe(ROUGH);
});

test('a broken statement is left as it is and named; the rest is laid out', async () => {
  const folder = folderOf({ 'a.couplet': `wire   A -- \n${ROUGH}` });
  const { exit, out } = await couplet(['format', 'a.couplet'], folder);
  expect(out).toBe(
    'a.couplet:1: left as it is: this statement has a syntax error\na.couplet: laid out\n1 of 1 file laid out\n',
  );
  expect(exit).toBe(1);
  expect(textOf(folder, 'a.couplet')).toBe(`wire   A -- \n${LAID_OUT}`);
});

test('line ends and a byte-order mark stay', async () => {
  const folder = folderOf({ 'a.couplet': `\ufeff${ROUGH.replaceAll('\n', '\r\n')}` });
  await couplet(['format', 'a.couplet'], folder);
  expect(textOf(folder, 'a.couplet')).toBe(`\ufeff${LAID_OUT.replaceAll('\n', '\r\n')}`);
});

test('a file that cannot be read is named, and the others are laid out', async () => {
  const folder = folderOf({ 'a.couplet': ROUGH, 'b.couplet': new Uint8Array([0x66, 0xff, 0x66]) });
  const { err, exit, out } = await couplet(['format', 'a.couplet', 'b.couplet', 'none.couplet'], folder);
  expect(err).toMatch(/^b\.couplet: This file is not UTF-8.*\nnone\.couplet: There is no such file\.\n$/);
  expect(out).toBe('a.couplet: laid out\n1 of 1 file laid out\n');
  expect(exit).toBe(1);
});

test.each([
  [['format'], /say what to lay out/],
  [['format', 'none.couplet'], /none\.couplet: There is no such file/],
  [['format', '--chek', 'a.couplet'], /did you mean --check/],
])('%j ends with status 2', async (args, message) => {
  const { err, exit } = await couplet(args, folderOf({}));
  expect(err).toMatch(message);
  expect(exit).toBe(2);
});

test('as a process, after which the check passes', () => {
  const folder = folderOf({ 'a.couplet': ROUGH });
  expect(coupletProcess(['format', 'a.couplet'], folder).exit).toBe(0);
  const { exit, out } = coupletProcess(['format', '--check', 'a.couplet'], folder);
  expect({ exit, out }).toEqual({ exit: 0, out: '0 of 1 file to be laid out\n' });
});
