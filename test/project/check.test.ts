/** Whole sites in memory: from texts to findings, each at its place, one mistake one finding. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import {
  Cancelled,
  type CheckOptions,
  checkSites,
  figureTable,
  mergeFindings,
  Pace,
  type ProjectFinding,
} from '@couplet/project';
import { expect, test } from 'vitest';
import { FOLDER, MemoryReader, uri } from './memory.ts';

const EXAMPLES = join(import.meta.dirname, '..', '..', 'examples');

const TIDEWATER = Object.fromEntries(
  ['tidewater-mill/site', 'types/pit-controller', 'types/panel-eight-zones', 'types/signal-relay'].map((name) => [
    `${name}.couplet`,
    readFileSync(join(EXAMPLES, `${name}.couplet`), 'utf8'),
  ]),
);

const SITE = 'tidewater-mill/site.couplet';

type Files = Readonly<Record<string, string | Uint8Array>>;

const OPTIONS: CheckOptions = { today: '2026-10-02' };

async function check(files: Files, asked: readonly string[] = Object.keys(files), options = OPTIONS) {
  const sites = [];
  for await (const site of checkSites({ reader: new MemoryReader(files), folder: FOLDER }, asked.map(uri), options)) {
    sites.push(site);
  }
  return { sites, findings: mergeFindings(sites) };
}

/** Tidewater Mill with some of its text replaced. */
function tidewater(...changes: readonly (readonly [from: string, to: string])[]): Files {
  let text = TIDEWATER[SITE] as string;
  for (const [from, to] of changes) {
    expect(text, `'${from}' is not in the example`).toContain(from);
    text = text.replace(from, to);
  }
  return { ...TIDEWATER, [SITE]: text };
}

/** Errors and warnings that nobody accepted, as `line:column code`, lines and columns from 1. */
function grave(findings: readonly ProjectFinding[]): string[] {
  return findings
    .filter((each) => each.severity !== 'information' && each.accepted === undefined)
    .map(({ code, place }) => `${place.start.line + 1}:${place.start.character + 1} ${code}`);
}

/** Line and column, from 1, of the first occurrence of a text in Tidewater Mill. */
function at(files: Files, text: string, within = 0): string {
  const content = files[SITE] as string;
  const offset = content.indexOf(text);
  expect(offset, `'${text}' is not in the site`).toBeGreaterThanOrEqual(0);
  const lines = content.slice(0, offset + within).split('\n');
  return `${lines.length}:${(lines.at(-1) as string).length + 1}`;
}

test('Tidewater Mill has no error and no warning beyond the two that are accepted', async () => {
  const { findings, sites } = await check(TIDEWATER, [SITE]);
  expect(grave(findings)).toEqual([]);
  const accepted = findings.filter((each) => each.accepted !== undefined);
  expect(accepted.map((each) => [each.code, each.accepted?.until])).toEqual([
    ['line-unprotected', '2028-01-31'],
    ['leakage-masks-alarm', '2028-01-31'],
  ]);
  expect(sites.map(({ fragment, title, heldBack }) => ({ fragment, title, heldBack }))).toEqual([
    { fragment: false, title: 'Tidewater Mill', heldBack: 0 },
  ]);
});

test('an acceptance past its date no longer holds, and is told', async () => {
  const { findings } = await check(TIDEWATER, [SITE], { today: '2028-02-01' });
  const codes = findings.filter((each) => each.severity !== 'information').map((each) => each.code);
  expect(codes.sort()).toEqual(['acceptance-stale', 'acceptance-stale', 'leakage-masks-alarm', 'line-unprotected']);
});

test('figures come with the site: the coil of K1 gets 10.9 V .. 14.1 V at rest', async () => {
  const { sites } = await check(TIDEWATER, [SITE]);
  const table = [...figureTable(sites[0]?.analysis as NonNullable<(typeof sites)[0]>['analysis'])];
  expect(table.map((each) => each.name)).toEqual(['rest', 'high-water', 'supply-lost']);
  const rows = table[0]?.moments[0]?.rows ?? [];
  expect(rows.map((row) => row.name)).toEqual(['level.V12', 'level.Q1', 'level.Q2', 'K1', 'P1', 'panel.Z4']);
  const volts = rows.find((row) => row.name === 'K1')?.figures.find((each) => each.quantity === 'volts')?.figure;
  expect(volts).toMatchObject({
    sort: 'value',
    unit: 'V',
    least: expect.closeTo(10.9, 3),
    most: expect.closeTo(14.1, 3),
  });
  const zone = rows.find((row) => row.name === 'panel.Z4');
  expect(zone?.states).toEqual(['normal']);
  // language.md states 2,226.6 Ω with contacts at 0 Ω; the assumed 0.1 Ω of the contact is on top.
  expect(zone?.figures[0]?.figure).toMatchObject({ unit: 'ohm', usual: expect.closeTo(2226.7, 1) });
});

test('what is not computed yet is said once for each kind', async () => {
  const swapped = ['one', 'other'].map((name) => `case ${name} { turn RE swapped with P1 }\n`).join('');
  const { findings } = await check({ ...TIDEWATER, [SITE]: `${TIDEWATER[SITE]}\n${swapped}` }, [SITE]);
  const said = findings
    .filter((each) => each.code === 'not-computed-yet')
    .map((each) => `${each.place.uri} ${each.message}`);
  expect(said).toEqual([expect.stringContaining('turning RE swapped is not followed')]);
});

test('a datum that is missing is not evaluated where it belongs; strict makes that a warning', async () => {
  const files = tidewater(['resistor RE = 2k2 +-1%', 'resistor RE']);
  const loose = (await check(files, [SITE])).findings.filter((each) => each.code === 'not-evaluated');
  expect(loose.length).toBeGreaterThan(0);
  expect(loose.every((each) => each.severity === 'information')).toBe(true);
  const strict = (await check(files, [SITE], { ...OPTIONS, strict: true })).findings;
  expect(strict.filter((each) => each.code === 'not-evaluated').every((each) => each.severity === 'warning')).toBe(
    true,
  );
});

/** The same with an output for the beacon that is too weak, which has nothing to do with the loop. */
function withWeakOutput(files: Files): Files {
  const types = files['types/pit-controller.couplet'] as string;
  expect(types).toContain('rated: 1.2 A');
  return { ...files, 'types/pit-controller.couplet': types.replace('rated: 1.2 A', 'rated: 400 mA') };
}

test('a real mistake gives its finding at the characters that cause it', async () => {
  const { findings } = await check(withWeakOutput(TIDEWATER), [SITE]);
  const [overload] = findings.filter((each) => each.code === 'output-overloaded');
  expect(overload).toMatchObject({ severity: 'error', caseName: 'high-water' });
  expect(overload?.figures.length).toBeGreaterThan(0);
});

test.each([
  ['an unknown unit', '6 W @ 12 V in pit', '6 Watt @ 12 V in pit', 0, 'unit-unknown', 'line-unprotected'],
  ['a wrong dimension', 'length: 140 m', 'length: 140 V', 8, 'dimension-wrong', 'output-overloaded'],
  ['an unknown name', '-- P1 -- level.Q2', '-- P9 -- level.Q2', 3, 'name-unknown', 'line-unprotected'],
  ['a decimal comma', 'RE = 2k2', 'RE = 2,2k', 5, 'value-unreadable', 'output-overloaded'],
  ['an unknown terminal', 'K1.11-14 -- RE', 'K1.11-15 -- RE', 6, 'name-unknown', 'output-overloaded'],
  ['an unknown output in a case', 'turn level.Q1 off', 'turn level.Q7 off', 11, 'name-unknown', 'line-unprotected'],
  ['a half-typed wire', '-- P1 -- level.Q2', '-- P1 --', 6, 'syntax-error', 'line-unprotected'],
  ['a file that is not there', '../types/signal-relay', '../types/gone', -1, 'use-missing', 'output-overloaded'],
  [
    'a file outside',
    '../types/signal-relay',
    '../../types/signal-relay',
    -1,
    'use-outside-folder',
    'output-overloaded',
  ],
])(
  '%s is one finding at its place, and the rest of the site is still checked',
  async (_name, from, to, within, code, still) => {
    const files = tidewater([from, to]);
    const { findings, sites } = await check(files, [SITE]);
    expect(grave(findings)).toEqual([`${at(files, to, within)} ${code}`]);
    expect(sites[0]?.heldBack).toBeGreaterThan(0);
    const rest = (await check(withWeakOutput(files), [SITE])).findings;
    expect(rest.map((each) => each.code)).toContain(still);
  },
);

test('two mistakes are two findings: errors do not hide each other', async () => {
  const files = tidewater(['-- P1 -- level.Q2', '-- P9 -- level.Q2'], ['RE = 2k2', 'RE = 2wombat']);
  expect(grave((await check(files, [SITE])).findings).map((each) => each.split(' ')[1])).toEqual([
    'unit-unknown',
    'name-unknown',
  ]);
});

test('an error in one coupling leaves the findings of another', async () => {
  const files = tidewater(['RE = 2k2', 'RE = 2wombat']);
  const { findings } = await check(withWeakOutput(files), [SITE]);
  expect(
    findings
      .filter((each) => each.severity === 'error')
      .map((each) => each.code)
      .sort(),
  ).toEqual(['output-overloaded', 'unit-unknown']);
});

test('a circle of use is allowed: every file counts once', async () => {
  const files = {
    ...TIDEWATER,
    'types/signal-relay.couplet': `use "../tidewater-mill/site.couplet"\n${TIDEWATER['types/signal-relay.couplet']}`,
  };
  const { findings, sites } = await check(files, [SITE]);
  expect(grave(findings)).toEqual([]);
  expect(sites[0]?.files).toHaveLength(4);
});

test('a file used by two sites is checked in each; what differs names its site', async () => {
  const weak = (TIDEWATER['types/pit-controller.couplet'] as string)
    .replace('rated: 1.2 A', 'rated: 560 mA')
    .replace('at-power-up: off', '');
  const smaller = (TIDEWATER[SITE] as string)
    .replace('site "Tidewater Mill"', 'site "Upper Mill"')
    .replace('= 6 W @', '= 3 W @');
  const files = { ...TIDEWATER, 'types/pit-controller.couplet': weak, 'upper/site.couplet': smaller };
  const { findings, sites } = await check(files, [SITE, 'upper/site.couplet']);
  expect(sites.map((site) => site.title)).toEqual(['Tidewater Mill', 'Upper Mill']);
  const overload = findings.filter((each) => each.code === 'output-overloaded');
  expect(overload.every((each) => each.roots.length === 1 && each.roots[0] === uri(SITE))).toBe(true);
  expect(overload).toHaveLength(1);
  // Both sites say the same of the types, and it is listed once.
  const shared = findings.filter(
    (each) => each.code === 'reset-state-undeclared' && each.place.uri.includes('/types/'),
  );
  expect(shared.some((each) => each.roots.length === 2)).toBe(true);
  expect(shared.filter((each) => each.roots.length === 2).every((each) => each.site === undefined)).toBe(true);
});

test('a file without a site is checked alone, and its open ends are no findings', async () => {
  const { findings, sites } = await check({
    'loop.couplet': 'resistor RE = 2k2 +-1%\nresistor RA = 4711R +-1%\nwire RE.2 -- RA.1\n',
  });
  expect(sites.map((site) => [site.fragment, site.title])).toEqual([[true, 'loop.couplet']]);
  expect(findings.map((each) => each.code)).toEqual(['value-not-preferred']);
});

test('a part of a site that is asked for by itself is checked in its site, and only its own findings are told', async () => {
  const files = {
    'mill/site.couplet': 'site "Mill"\nuse "parts/loop.couplet"\nresistor RX = 4711R +-1%\n',
    'mill/parts/loop.couplet': '  use "more.couplet"\n// use "nothing.couplet"\n',
    'mill/parts/more.couplet': 'resistor R1 = 4711R +-1%\nwire R1.2 -- RX.1\n',
  };
  const asked = ['mill/parts/more.couplet'];
  const alone = await check(files, asked);
  expect(alone.findings.map((each) => each.code)).toContain('name-unknown');
  const { findings, sites } = await check(files, asked, { ...OPTIONS, around: () => true });
  expect(sites.map((site) => [site.title, site.fragment])).toEqual([['Mill', false]]);
  expect(new Set(findings.map((each) => each.place.uri))).toEqual(new Set([uri('mill/parts/more.couplet')]));
  expect(findings.map((each) => each.code)).toContain('value-not-preferred');
  expect(findings.map((each) => each.code)).not.toContain('name-unknown');
  const refused = await check(files, asked, { ...OPTIONS, around: (address) => !address.endsWith('site.couplet') });
  expect(refused.findings).toEqual(alone.findings);
});

test('types alone have nothing wrong with them', async () => {
  const { findings } = await check(TIDEWATER, ['types/signal-relay.couplet', 'types/pit-controller.couplet']);
  expect(findings.filter((each) => each.severity !== 'information')).toEqual([]);
});

test('a file that cannot be read further is one finding, and the others are checked', async () => {
  const files = { ...TIDEWATER, 'types/signal-relay.couplet': Uint8Array.of(0x74, 0x00) };
  const { findings } = await check(files, [SITE]);
  expect(
    findings.filter((each) => each.severity !== 'information' && each.accepted === undefined).map((each) => each.code),
  ).toEqual(['file-holds-nul']);
});

test('findings are the same whatever order the files are asked in', async () => {
  const files = { ...TIDEWATER, 'loop.couplet': 'resistor RA = 4711R +-1%\n' };
  const forth = await check(files, Object.keys(files));
  const back = await check(files, Object.keys(files).reverse());
  expect(back.findings).toEqual(forth.findings);
});

test('work that is called off stops at once and says so', async () => {
  const cancellation = { isCancellationRequested: false };
  const reader = new MemoryReader({ ...TIDEWATER, 'other.couplet': 'site "Other"' });
  const seen: string[] = [];
  const work = (async () => {
    const asked = [uri('other.couplet'), uri(SITE)];
    for await (const site of checkSites({ reader, folder: FOLDER }, asked, { ...OPTIONS, cancellation })) {
      seen.push(site.title);
      cancellation.isCancellationRequested = true;
    }
  })();
  await expect(work).rejects.toBeInstanceOf(Cancelled);
  expect(seen).toEqual(['Other']);
});

test('a check can be called off inside a site', async () => {
  const site = TIDEWATER[SITE] as string;
  const cases = Array.from(
    { length: 20 },
    (_, n) => `case again${n} {\n  turn level.Q1 off\n  expect panel.Z4 alarm\n}\n`,
  );
  const reader = new MemoryReader({ ...TIDEWATER, [SITE]: site + cases.join('') });
  let asked = 0;
  const cancellation = {
    get isCancellationRequested() {
      asked += 1;
      return asked > 100;
    },
  };
  const work = (async () => {
    const sites = checkSites({ reader, folder: FOLDER }, [uri(SITE)], { ...OPTIONS, cancellation });
    for await (const each of sites) throw new Error(`${each.title} was finished first`);
  })();
  await expect(work).rejects.toBeInstanceOf(Cancelled);
  expect(asked).toBe(101);
});

test('long work lets others have their turn between its steps', async () => {
  const order: string[] = [];
  function* steps(): Generator<void, string> {
    for (const name of ['first', 'second']) {
      const until = performance.now() + 40;
      while (performance.now() < until);
      order.push(name);
      yield;
    }
    return 'done';
  }
  setTimeout(() => order.push('other'), 0);
  expect(await new Pace().drive(steps())).toBe('done');
  expect(order).toEqual(['first', 'other', 'second']);
});
