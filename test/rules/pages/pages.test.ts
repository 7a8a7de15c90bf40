/** The pages of the rules: complete, and their examples do what the pages say of them. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { isComputed, RULE_NAMES, type RuleName } from '@couplet/rules';
import { RULE_PAGES } from '@couplet/rules/pages';
import { beforeAll, describe, expect, it } from 'vitest';
import { checkExamples, type Example, type Outcome, toThePoint } from '../../../scripts/rule-pages/examples.ts';
import { HEADINGS, readPage } from '../../../scripts/rule-pages/page.ts';

const FOLDER = join(import.meta.dirname, '..', '..', '..', 'docs', 'rules');
const named = readdirSync(FOLDER)
  .filter((file) => file !== 'README.md')
  .map((file) => file.replace(/\.md$/, '') as RuleName);
const texts = new Map(named.map((name) => [name, readFileSync(join(FOLDER, `${name}.md`), 'utf8')]));
const pages = new Map([...texts].map(([name, text]) => [name, readPage(text)]));

const outcomes = new Map<string, Outcome>();

beforeAll(async () => {
  const examples: Example[] = [];
  for (const [name, { failing, passing }] of pages) {
    if (failing !== undefined) examples.push({ name, kind: 'failing', text: failing });
    if (passing !== undefined) examples.push({ name, kind: 'passing', text: passing });
  }
  for (const outcome of await checkExamples(examples)) outcomes.set(`${outcome.name} ${outcome.kind}`, outcome);
}, 600_000);

/** Severity and code of what an example says to the point, nothing that is accepted. */
function said(name: RuleName, kind: Example['kind']): readonly string[] {
  const findings = outcomes.get(`${name} ${kind}`)?.findings ?? [];
  return toThePoint(name, findings).map(({ severity, code }) => `${severity} ${code}`);
}

it('every rule that is computed has a page, and no page is about anything else', () => {
  expect(named.sort()).toEqual(RULE_NAMES.filter(isComputed).sort());
});

it('what `couplet explain` prints is made from every page', () => {
  expect(Object.keys(RULE_PAGES).sort()).toEqual(named.sort());
});

describe.each(named)('%s', (name) => {
  const page = pages.get(name)!;

  it('has every section, in order, and something in each', () => {
    expect(page.headings).toEqual(HEADINGS);
    for (const heading of HEADINGS) expect(page.sections.get(heading), heading).not.toBe('');
  });

  it('is found in its failing example exactly once, with nothing else but what the page names', () => {
    expect(page.failing, 'a failing example').toBeDefined();
    const all = said(name, 'failing');
    const own = all.filter((each) => each.endsWith(` ${name}`));
    const others = all.filter((each) => !each.endsWith(` ${name}`));
    expect(own).toHaveLength(1);
    expect(others.filter((each) => each.startsWith('error '))).toEqual([]);
    expect([...new Set(others.map((each) => each.split(' ')[1]))].sort()).toEqual([...page.also].sort());
  });

  it('says a number with its unit where it computed one', () => {
    const finding = outcomes.get(`${name} failing`)?.findings.find(({ code }) => code === name);
    expect(finding).toBeDefined();
    if (finding!.figures.length > 0)
      expect(finding!.message).toMatch(/\d (?:[pnµmkM]?(?:V|A|Ω|W|Ah|s)|h|min|%)(?:\W|$)/);
  });

  it('is not found in its passing example, and nothing else is', () => {
    expect(page.passing, 'a passing example').toBeDefined();
    expect(outcomes.has(`${name} passing`)).toBe(true);
    expect(said(name, 'passing')).toEqual([]);
  });

  it('names no machine, no address and no file of this project', () => {
    expect(texts.get(name)).not.toMatch(/https?:|file:\/|\/(?:home|work|tmp|usr|root|Users)\/|[A-Z]:\\|packages\//);
  });
});
