/** Codes of findings: each means one thing, and each is shown by a test. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { RULE_NAMES } from '@couplet/rules';
import { expect, test } from 'vitest';

const ROOT = join(import.meta.dirname, '..', '..');

function texts(folder: string): string[] {
  return readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.(?:ts|json)$/.test(name) && !name.includes('node_modules') && !name.includes('generated'))
    .map((name) => readFileSync(join(ROOT, folder, name), 'utf8'));
}

/** Codes that the sources of a folder report, as they stand there. */
function codesIn(folder: string, written: RegExp): Set<string> {
  return new Set(texts(folder).flatMap((text) => [...text.matchAll(written)].map(([, code]) => code as string)));
}

const OF_LANGUAGE = codesIn('packages/language/src/checks', /(?:\bcode: |^ {2}\| )'([a-z]+(?:-[a-z]+)+)'/gm);
const OF_LOWERING = codesIn('packages/language/src/lower', /\breport\(\s*'([a-z]+(?:-[a-z]+)+)'/g);
const OF_FILES = codesIn('packages/project/src', /'((?:use|file)-[a-z0-9-]+)'/g);

test('codes are found where they are reported', () => {
  expect(OF_LANGUAGE).toContain('syntax-error');
  expect(OF_LOWERING).toContain('chain-short');
  expect(OF_FILES).toContain('use-missing');
  expect(OF_LANGUAGE.size + OF_LOWERING.size + OF_FILES.size).toBeGreaterThan(50);
});

test('no two rules have one name, and no code of the language or of files is a rule', () => {
  expect(new Set(RULE_NAMES).size).toBe(RULE_NAMES.length);
  const rules = new Set<string>(RULE_NAMES);
  expect([...OF_LANGUAGE, ...OF_LOWERING, ...OF_FILES].filter((code) => rules.has(code))).toEqual([]);
});

test('every code of the language, of lowering and of files stands in a test', () => {
  const tests = texts('test').filter((text) => !text.includes('Codes of findings: each means one thing'));
  const all = tests.join('\n');
  const untested = [...OF_LANGUAGE, ...OF_LOWERING, ...OF_FILES].filter((code) => !all.includes(code));
  expect(untested).toEqual([]);
});

test('every rule stands in a test beside its page', () => {
  const all = texts('test/rules').join('\n');
  expect(RULE_NAMES.filter((name) => !all.includes(name))).toEqual([]);
});
