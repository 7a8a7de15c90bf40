/** Thresholds that a site sets: each is obeyed, and every finding that one had a part in says so. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { RULES, type Threshold, thresholdsInForce, thresholdText } from '@couplet/rules';
import { describe, expect, test } from 'vitest';
import { checkExamples, TODAY } from '../../scripts/rule-pages/examples.ts';
import { readPage } from '../../scripts/rule-pages/page.ts';

const PAGES = join(import.meta.dirname, '../../docs/rules');

const SETTABLE = RULES.flatMap(({ name, thresholds }) =>
  thresholds.flatMap((threshold) => (threshold.settable ? [{ name, threshold }] : [])),
);

/** The site of a page's example with a threshold of its own. */
function withLimit(text: string, name: string, value: string): string {
  const site = /^site "[^"]*"( \{)?/m.exec(text);
  expect(site, `the example of ${name} is a site`).not.toBeNull();
  const [head, body] = site as RegExpExecArray;
  const limits = `limits { ${name}: ${value} }`;
  return text.replace(head, body === undefined ? `${head} { ${limits} }` : `${head} ${limits} `);
}

function written(threshold: Threshold, value: number): string {
  return threshold.unit === '' ? String(value) : `${value} ${threshold.unit}`;
}

/** Changes of a failing example that fails whatever the threshold is. */
const CHANGES: Readonly<Record<string, readonly (readonly [from: RegExp, to: string])[]>> = {
  'chattering-output': [[/250 ms \/ 250 ms/, '900 ms / 900 ms']],
  'contact-overloaded': [
    [/contact-rating: 500 mA/, 'contact-rating: 2 A'],
    [/style: resistive/, 'style: resistive  inductance: 0.1 H'],
  ],
  'too-many-detectors': [
    [/unit B1, B2[\s\S]*?\n}/, 'switch B1, B2 { contacts: break }'],
    [/B1\.C1-C2 -- B2\.C1-C2/, 'B1.11-12 -- B2.11-12'],
    [/turn B1\.AL open/, 'turn B1 open'],
  ],
};

function changed(name: string, text: string): string {
  return (CHANGES[name] ?? []).reduce((before, [from, to]) => {
    expect(before).toMatch(from);
    return before.replace(from, to);
  }, text);
}

async function told(name: string, kind: 'passing' | 'failing', value?: [Threshold, number]) {
  const page = readPage(readFileSync(join(PAGES, `${name}.md`), 'utf8'));
  const example = page[kind];
  expect(example, `${name} has a ${kind} example`).toBeDefined();
  const own = kind === 'failing' && value !== undefined ? changed(name, example as string) : (example as string);
  const text = value === undefined ? own : withLimit(own, name, written(...value));
  const [outcome] = await checkExamples([{ name: name as never, kind, text }]);
  return (outcome?.findings ?? []).filter((finding) => finding.code === name);
}

test('a rule has one threshold that a site may set, or none', () => {
  expect(SETTABLE.length).toBeGreaterThan(20);
  expect(new Set(SETTABLE.map(({ name }) => name)).size).toBe(SETTABLE.length);
});

describe.each(SETTABLE)('$name', ({ name, threshold }) => {
  test('where it has a part in a finding, the finding says so', async () => {
    // What passes for another reason (a range of its own, a suppressor) cannot be made to fail; what failed tells it then.
    const strict = [];
    for (const kind of ['passing', 'failing'] as const) {
      for (const factor of [0.001, 1000]) strict.push(await told(name, kind, [threshold, threshold.value * factor]));
    }
    const found = strict.find((findings) =>
      findings.some(({ severity }) => severity === 'warning' || threshold.key !== 'warning'),
    );
    expect(found, 'one of the two ends is strict').toBeDefined();
    for (const { message } of found ?? []) {
      expect(message).toMatch(/ Threshold: [\d.]+( k)?.*, set by this site \(.* unless set\)\./);
      expect(message).toContain(`(${thresholdText(threshold, threshold.value)} unless set)`);
    }
  });
});

test('a warning level has no part in an error', async () => {
  const [plain] = await told('output-overloaded', 'failing');
  expect(plain?.message).not.toContain('set by this site');
  const { threshold } = SETTABLE.find(({ name }) => name === 'output-overloaded') as (typeof SETTABLE)[number];
  const [error] = await told('output-overloaded', 'failing', [threshold, 0.5]);
  expect(error?.severity).toBe('error');
  expect(error?.message).not.toContain('set by this site');
});

test('what is in force: the site’s own where it has one of the right dimension', () => {
  const limits = [
    { rule: 'output-overloaded', value: 0.9, dimension: 'ratio', origin: 0 },
    { rule: 'too-many-detectors', value: 4, dimension: 'number', origin: 0 },
    { rule: 'leakage-masks-alarm', value: 3, dimension: 'V', origin: 0 },
  ];
  const all = thresholdsInForce({ title: 'x', origin: 0, limits });
  const of = (name: string) => all.filter(({ rule }) => rule === name).map(({ set, value }) => ({ set, value }));
  expect(of('output-overloaded')).toEqual([{ set: true, value: 0.9 }]);
  expect(of('too-many-detectors')).toEqual([{ set: true, value: 4 }]);
  expect(of('leakage-masks-alarm')).toEqual([{ set: false, value: 5000 }]);
  expect(all).toHaveLength(SETTABLE.length);
  expect(TODAY).toMatch(/^\d{4}-\d{2}-\d{2}$/);
});
