/** Every folder of `fixtures/` holds a text before and after it is laid out. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { format } from '@couplet/language';
import { expect, test } from 'vitest';

const FIXTURES = join(import.meta.dirname, 'fixtures');

test.each(readdirSync(FIXTURES))('%s', async (name) => {
  const before = readFileSync(join(FIXTURES, name, 'before.couplet'), 'utf8');
  const after = join(FIXTURES, name, 'after.couplet');
  expect(existsSync(after), `${after} is missing; vitest -u writes it`).toBe(true);
  const { text } = format(before);
  expect(text).not.toBe(before);
  await expect(text).toMatchFileSnapshot(after);
  expect(format(text).text).toBe(text);
});
