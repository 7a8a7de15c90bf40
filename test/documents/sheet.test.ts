/** The sheet of a site: cautions first, every predicted value beside a blank, the same content in each format. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { csvSheet, htmlSheet, markdownSheet, type Sheet } from '@couplet/documents';
import { expect, test } from 'vitest';
import { couplet, folderOf, ROOT } from '../cli/command.ts';

async function sheetOf(path: string): Promise<string> {
  const outcome = await couplet(['sheet', '--today', '2026-12-01', path]);
  expect(outcome.err).toBe('');
  return outcome.out;
}

/** The rows of the table below a heading, as cells. */
function table(markdown: string, heading: string): string[][] {
  const section = markdown.split(`## ${heading}\n`)[1]?.split('\n## ')[0] ?? '';
  return section
    .split('\n')
    .filter((line) => line.startsWith('| '))
    .slice(2)
    .map((line) => line.slice(2, -2).split(' | '));
}

test('cautions come first', async () => {
  const text = await sheetOf('examples/tidewater-mill');
  expect(text.indexOf('## Cautions')).toBe(text.indexOf('## '));
  expect(text).toContain('Isolate the machine');
});

test('the loops of Tidewater Mill stand with their predicted values and a blank beside each', async () => {
  const rows = table(await sheetOf('examples/tidewater-mill'), 'Loops');
  expect(rows.map((row) => [row[0], row[2], row[3], row[4]])).toEqual([
    ['panel.Z4', 'normal', '2.227 kΩ (2.202 kΩ .. 2.251 kΩ)', ''],
    ['panel.Z4', 'alarm', '6.927 kΩ (6.855 kΩ .. 6.998 kΩ)', ''],
    ['panel.Z4', 'alarm', '6.927 kΩ (6.855 kΩ .. 6.998 kΩ)', ''],
    ['panel.Z4', 'alarm', '6.927 kΩ (6.855 kΩ .. 6.998 kΩ)', ''],
  ]);
});

test('settings, cables and acceptances are on it', async () => {
  const text = await sheetOf('examples/tidewater-mill');
  expect(table(text, 'Settings').map((row) => row.slice(0, 3))).toContainEqual(['level', 'Beacon time', '90 s']);
  expect(table(text, 'Cables').map((row) => row.slice(0, 2))).toContainEqual(['W1', 'GN']);
  expect(table(text, 'Accepted findings').map((row) => row[0])).toEqual(['line-unprotected', 'leakage-masks-alarm']);
  expect(text).toContain('no error and no warning is open');
});

test('an open error is on the sheet of a site that has one', async () => {
  const rows = table(await sheetOf('examples/mistakes/tidewater-beacon-on-small-output.couplet'), 'Open findings');
  expect(rows.map((row) => row.slice(0, 2))).toEqual([['error', 'output-overloaded']]);
});

test('the file that is named says the format', async () => {
  const folder = folderOf({ 'site.couplet': 'site "Shed"\nplace shed\n' });
  for (const name of ['sheet.html', 'sheet.md', 'sheet.csv']) {
    const outcome = await couplet(['sheet', '--out', name, 'site.couplet'], folder);
    expect(outcome).toMatchObject({ exit: 0, err: '' });
    expect(readFileSync(join(folder, name), 'utf8')).toContain('Shed');
  }
  expect(await couplet(['sheet', '--out', 'sheet.pdf', 'site.couplet'], folder)).toMatchObject({ exit: 2 });
});

test('a folder with several sites is told to name one', async () => {
  const outcome = await couplet(['sheet', '--skip', 'examples/mistakes', 'examples'], ROOT);
  expect(outcome.exit).toBe(2);
  expect(outcome.err).toContain('a sheet is of one site');
});

test('signs of each format are kept apart from text', () => {
  const sheet: Sheet = {
    title: 'A & B <shed>',
    about: [['File', 'a,b.couplet']],
    sections: [{ heading: 'Rows', notes: [], table: { columns: ['x'], rows: [['"q" | <i>']] } }],
  };
  expect(htmlSheet(sheet)).toContain('<td>&quot;q&quot; | &lt;i&gt;</td>');
  expect(htmlSheet(sheet)).toContain('<h1>A &amp; B &lt;shed&gt;</h1>');
  expect(markdownSheet(sheet)).toContain('| "q" \\| <i> |');
  expect(csvSheet(sheet)).toBe('sheet,A & B <shed>\r\nabout,File,"a,b.couplet"\r\nRows,x\r\nRows,"""q"" | <i>"\r\n');
});
