/** Texts as they are while somebody types, and worse: never an exception, every finding at a place that exists. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { checkSites, figureTable, mergeFindings, type ProjectFinding } from '@couplet/project';
import { expect, test } from 'vitest';
import { FOLDER, MemoryReader, uri } from './memory.ts';

const EXAMPLES = join(import.meta.dirname, '..', '..', 'examples');
const SITES = ['tidewater-mill', 'archive', 'cold-store', 'glasshouse'];
const TYPES = Object.fromEntries(
  readdirSync(join(EXAMPLES, 'types')).map((name) => [
    `types/${name}`,
    readFileSync(join(EXAMPLES, 'types', name), 'utf8'),
  ]),
);

type Files = Readonly<Record<string, string>>;

async function check(files: Files): Promise<ProjectFinding[]> {
  const sites = [];
  const workspace = { reader: new MemoryReader(files), folder: FOLDER };
  for await (const site of checkSites(workspace, [uri('site/site.couplet')], { today: '2026-10-02' })) {
    expect([...figureTable(site.analysis)].length).toBeGreaterThan(0);
    sites.push(site);
  }
  return mergeFindings(sites);
}

function siteText(name: string): string {
  return readFileSync(join(EXAMPLES, name, 'site.couplet'), 'utf8');
}

function expectSound(findings: readonly ProjectFinding[], files: Files, what: string): void {
  const lines = new Map(Object.entries(files).map(([path, text]) => [uri(path), text.split('\n')]));
  for (const { code, message, place } of findings) {
    expect(message, what).not.toMatch(/NaN|\bundefined\.|of undefined|\[object/);
    expect(message, what).not.toContain('An error occurred');
    const of = lines.get(place.uri);
    expect(of, `${what}: ${code} stands in ${place.uri}`).toBeDefined();
    expect(place.start.line, `${what}: ${code}`).toBeLessThan(of?.length ?? 0);
    expect(place.start.character, `${what}: ${code}`).toBeLessThanOrEqual(of?.[place.start.line]?.length ?? 0);
  }
}

/** Pseudo-random whole numbers, the same on every run. */
function random(seed: number): (below: number) => number {
  let state = seed;
  return (below) => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return Math.floor((state / 2 ** 32) * below);
  };
}

/** Words left out, doubled, put in another's place; lines left out. */
function mutated(text: string, next: (below: number) => number): string {
  const words = text.split(/(\s+|[{}:,]|--)/);
  for (let times = 1 + next(3); times > 0; times--) {
    const at = next(words.length);
    const other = words[next(words.length)] as string;
    const change = next(4);
    if (change === 0) words.splice(at, 1);
    else if (change === 1) words[at] = other;
    else if (change === 2) words.splice(at, 0, other);
    else words.splice(at, next(12));
  }
  return words.join('');
}

test.each(SITES)('%s cut off anywhere', async (name) => {
  const text = siteText(name);
  for (let end = 7; end < text.length; end += 101) {
    const files = { ...TYPES, 'site/site.couplet': text.slice(0, end) };
    expectSound(await check(files), files, `the first ${end} characters`);
  }
});

test('sites and types with words left out, doubled and exchanged', async () => {
  const next = random(20261002);
  let wrong = 0;
  for (let round = 0; round < 120; round++) {
    const files: Record<string, string> = {
      ...TYPES,
      'site/site.couplet': siteText(SITES[next(SITES.length)] as string),
    };
    const paths = Object.keys(files);
    const path = next(3) > 0 ? 'site/site.couplet' : (paths[next(paths.length)] as string);
    files[path] = mutated(files[path] as string, next);
    const findings = await check(files);
    expectSound(findings, files, `round ${round}`);
    if (findings.some((finding) => finding.severity === 'error')) wrong += 1;
  }
  expect(wrong).toBeGreaterThan(60);
});
