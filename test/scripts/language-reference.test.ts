/** docs/language.md: as the tables have it, complete, and with examples that are read without a finding. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import {
  FAULTS,
  format,
  KIND_SAYS,
  MEMBER_SAYS,
  PROPERTIES,
  propertyRows,
  STATES,
  type Subject,
} from '@couplet/language';
import { describe, expect, test } from 'vitest';
import { alternativesOf, formOf } from '../../scripts/language-reference/syntax.ts';
import { LANGUAGE_PAGE, languageReference } from '../../scripts/language-reference.ts';
import { Workspace } from '../language/support.ts';

const PAGE = readFileSync(join(import.meta.dirname, '../..', LANGUAGE_PAGE), 'utf8');

/** Examples with the heading that they stand under. */
function readExamples(): { title: string; text: string }[] {
  const found: { title: string; text: string }[] = [];
  let last = '';
  for (const [, title, text] of PAGE.matchAll(/^##+ (.*)$|```couplet\n([\s\S]*?)```/gm)) {
    if (title !== undefined) last = title;
    else found.push({ title: last, text: text as string });
  }
  return found;
}

const examples = readExamples();

test('the committed page is the one that would be written now', () => {
  expect(languageReference()).toEqual([LANGUAGE_PAGE, PAGE]);
});

test('every statement, step, kind and member has a section with an example', () => {
  const shown = new Set(examples.map(({ title }) => title));
  const statements = alternativesOf('Statement').map((rule) => formOf(rule).split(' ')[0] as string);
  expect(statements).toHaveLength(15);
  for (const word of statements) expect(shown).toContain(word === 'KIND' ? 'components' : `\`${word}\``);
  for (const rule of alternativesOf('CaseStep')) expect(shown).toContain(`\`${formOf(rule).split(' ')[0]}\``);
  for (const kind of Object.keys(KIND_SAYS)) expect(shown).toContain(`\`${kind}\``);
  for (const kind of Object.keys(MEMBER_SAYS)) expect(shown).toContain(`\`${kind}\` of a unit`);
});

/** Headings of the subjects that are neither kinds nor members. */
const TITLES: Partial<Record<Subject, string>> = {
  limits: '`limits` of a site',
  pole: 'a pole of a relay, switch or contact',
  feed: '`supply` of a unit',
};

test('every property stands in the section of each of its subjects, with its sentence and its default', () => {
  let cells = 0;
  for (const subject of new Set(PROPERTIES.flatMap(({ on }) => on))) {
    const member = subject in MEMBER_SAYS && !(subject in KIND_SAYS);
    const title = TITLES[subject] ?? (member ? `\`${subject}\` of a unit` : `\`${subject}\``);
    // `site`, `place`, `confirm` and `autonomy` are statements as well: their properties stand under a second heading.
    const sections = PAGE.split(`\n### ${title}\n`).slice(1);
    const text = sections.map((each) => each.split(/\n##+ /)[0]).join('\n');
    for (const row of propertyRows(subject)) {
      const line = text.split('\n').find((each) => each.includes(row.says.replaceAll('|', '\\|')));
      expect(line, `${subject} ${row.name}`).toBeDefined();
      if (row.name !== '*') expect(line).toContain(`| \`${row.name}\``);
      if (row.default !== undefined) expect(line).toContain(`${row.default.text} (${row.default.origin})`);
      if (row.programmable) expect(line).toContain('*setting*');
      cells++;
    }
  }
  expect(cells).toBeGreaterThan(PROPERTIES.length);
});

test('every state and every word of a fault is listed', () => {
  for (const { words } of STATES) expect(PAGE).toContain(`| ${words.replace(/^an? |^this /, '')} |`);
  for (const { word } of FAULTS) expect(PAGE).toMatch(new RegExp(`\\| \`${word}[ \`]`));
});

test('the form of a statement is read from the grammar', () => {
  expect(formOf('Use')).toBe('use "path" (as NAME)?');
  expect(formOf('Accept')).toBe('accept RULE FAULT? on TARGET (because "reason"+)? (until DATE)?');
  expect(PAGE).toContain(`### \`use\``);
  expect(PAGE).toContain(`\`\`\`text\n${formOf('Use')}\n`);
});

describe('examples', () => {
  test.each(examples)('$title', async ({ text }) => {
    const workspace = await Workspace.of(text);
    expect(workspace.findings().map(({ text: at, message }) => `${at}: ${message}`)).toEqual([]);
    expect(format(text).text).toBe(text);
  });
});
