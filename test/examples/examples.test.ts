/** The sites of examples/: sound ones have neither error nor warning; each mistake gives exactly what its comment lists. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { couplet, ROOT } from '../cli/command.ts';

interface Reported {
  readonly code: string;
  readonly severity: string;
  readonly message: string;
  readonly accepted?: unknown;
}

const EXAMPLES = join(ROOT, 'examples');
const MISTAKES = join(EXAMPLES, 'mistakes');
const sites = readdirSync(EXAMPLES).filter((name) => name !== 'types' && name !== 'mistakes');
const mistakes = readdirSync(MISTAKES);

async function check(path: string): Promise<{ exit: number; findings: Reported[] }> {
  const outcome = await couplet(['check', '--format', 'json', '--today', '2026-12-01', path]);
  return { exit: outcome.exit, findings: JSON.parse(outcome.out).findings };
}

/** Severity and code of what stands out: no information, nothing accepted. */
function standing(findings: readonly Reported[]): string[] {
  return findings
    .filter((finding) => finding.severity !== 'information' && finding.accepted === undefined)
    .map((finding) => `${finding.severity} ${finding.code}`);
}

test('there are at least four sites, each with at least two mistake variants', () => {
  expect(sites.length).toBeGreaterThanOrEqual(4);
  for (const site of sites) {
    const stem = site.split('-')[0]!;
    expect(mistakes.filter((name) => name.startsWith(stem)).length, site).toBeGreaterThanOrEqual(2);
  }
});

test.each(sites)('the site %s has no error and no warning but accepted ones', async (site) => {
  const { exit, findings } = await check(join('examples', site));
  expect(standing(findings)).toEqual([]);
  expect(exit).toBe(0);
});

test('Tidewater Mill has exactly its two accepted findings', async () => {
  const { findings } = await check(join('examples', 'tidewater-mill'));
  const accepted = findings.filter((finding) => finding.accepted !== undefined).map((finding) => finding.code);
  expect(accepted.sort()).toEqual(['leakage-masks-alarm', 'line-unprotected']);
});

test.each(mistakes)('%s exits 1 with exactly the findings its comment lists', async (name) => {
  const text = readFileSync(join(MISTAKES, name), 'utf8');
  const listed = /^\/\/ Findings: (.+)$/m.exec(text)?.[1]?.split(', ') ?? [];
  expect(listed.some((finding) => finding.startsWith('error '))).toBe(true);
  const { exit, findings } = await check(join('examples', 'mistakes', name));
  expect(standing(findings)).toEqual(listed);
  expect(exit).toBe(1);
});
