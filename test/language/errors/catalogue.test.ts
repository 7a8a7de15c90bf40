/** The catalogue of wrong texts: each gets one message, word for word, under the characters that are wrong. */
import { describe, expect, test } from 'vitest';
import { Workspace } from '../support.ts';
import { CATALOGUE } from './catalogue.ts';
import { SITE } from './site.ts';

test('what stands below the texts is in order, and there are enough of them', async () => {
  expect((await Workspace.of(SITE)).findings()).toEqual([]);
  expect(CATALOGUE.flatMap(({ rows }) => rows).length).toBeGreaterThanOrEqual(60);
});

describe.each(CATALOGUE)('$title', ({ rows }) => {
  test.each(rows)('%s', async (marked, code, message) => {
    const workspace = await Workspace.of(`${marked}\n${SITE}`);
    const [mark] = workspace.marks.get('main.couplet') ?? [];
    expect(workspace.findings()).toEqual([
      { code, message, severity: 1, text: mark?.text, start: mark?.start, end: mark?.end },
    ]);
  });
});

test('no message speaks of tokens, rules of a grammar or other inner matters', () => {
  const messages = CATALOGUE.flatMap(({ rows }) => rows.map((row) => row[2]));
  expect(
    messages.filter((message) => /token|expecting|parse|syntax|EOF|\b[A-Z]+_[A-Z]+\b|undefined/i.test(message)),
  ).toEqual([]);
  expect(messages.filter((message) => !/^(['A-Z].*[.?…}]|.*: [\d.k]+( [A-Za-z]+)?\.)$/s.test(message))).toEqual([]);
});
