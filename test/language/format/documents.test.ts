/** Examples in the documents: each is read, laid out once and for all, and says the same before and after. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { format } from '@couplet/language';
import { describe, expect, test } from 'vitest';
import { said } from '../lower/design.ts';
import { lowerText } from '../lower/site.ts';
import { errorsOf } from './mangle.ts';

const ROOT = join(import.meta.dirname, '..', '..', '..');

/** Examples by document and their number in it. */
const EXAMPLES = [
  'README.md',
  ...readdirSync(join(ROOT, 'docs'), { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.md'))
    .map((name) => join('docs', name))
    .sort(),
].flatMap((path) =>
  [...readFileSync(join(ROOT, path), 'utf8').matchAll(/^```couplet\n([\s\S]*?)^```/gm)].map(
    ([, text], index) => [`${path} ${index + 1}`, text as string] as const,
  ),
);

function meaning(text: string) {
  const { design, findings } = lowerText(text);
  return { ...said(design), findings: findings.map(({ code }) => code).sort() };
}

test('there are some in every rule page and in the reference of the language', () => {
  const documents = new Set(EXAMPLES.map(([name]) => name.replace(/ \d+$/, '')));
  expect(documents).toContain('docs/language.md');
  expect([...documents].filter((name) => name.startsWith('docs/rules/')).length).toBeGreaterThan(80);
});

describe.each(EXAMPLES)('%s', (_, text) => {
  const { text: once, unread } = format(text);

  test('is read', () => {
    expect(errorsOf(text)).toBe(0);
    expect(unread).toEqual([]);
  });

  test('is laid out once and for all', () => {
    expect(errorsOf(once)).toBe(0);
    expect(format(once).text).toBe(once);
  });

  test('says the same in its layout', () => expect(meaning(once)).toEqual(meaning(text)));
});
