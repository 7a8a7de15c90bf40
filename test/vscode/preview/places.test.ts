/** What is drawn of what stands at a point of a text. */
import { expect, test } from 'vitest';
import { writtenAt } from '../../../packages/vscode/src/preview/places.ts';

const uri = 'file:///a';
const place = (line: number, from: number, to: number, last = line) => ({
  uri,
  start: { line, character: from },
  end: { line: last, character: to },
});

const parts = [
  { id: 'frame', source: place(0, 0, 1, 3) },
  { id: 'load', source: place(1, 2, 20) },
  { id: 'name', source: place(1, 7, 9) },
  { id: 'one wire', source: place(5, 0, 30) },
  { id: 'other wire', source: place(5, 0, 30) },
  { id: 'elsewhere', source: { ...place(1, 8, 9), uri: 'file:///b' } },
  { id: 'nowhere' },
];

test.each([
  [{ line: 1, character: 8 }, ['name']],
  [{ line: 1, character: 9 }, ['name']],
  [{ line: 1, character: 10 }, ['load']],
  [{ line: 2, character: 40 }, ['frame']],
  [{ line: 5, character: 3 }, ['one wire', 'other wire']],
  [{ line: 3, character: 2 }, []],
  [{ line: 9, character: 0 }, []],
])('%j: the shortest stretches that hold it', (point, ids) => {
  expect(writtenAt(parts, uri, point)).toEqual(ids);
});
