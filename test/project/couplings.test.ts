/** A site judged coupling by coupling says what it says in one piece, and what did not change is not judged again. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { analyse, couplingsOf, type Design, inWhole } from '@couplet/engine';
import { CouplingMemory, checkSites, judge } from '@couplet/project';
import { gather, type Judgement, judgementSteps, run } from '@couplet/rules';
import { describe, expect, test } from 'vitest';
import { diskReader } from '../../packages/cli/src/disk.ts';
import { readPage } from '../../scripts/rule-pages/page.ts';
import { lowered } from '../bench/lowered.ts';
import { ROOT } from '../cli/command.ts';
import { lowerText } from '../language/lower/site.ts';

const TODAY = '2026-12-01';

function judgementOf(design: Design): Judgement {
  const steps = judgementSteps(design, analyse(design), TODAY);
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
  }
}

function inCouplings(design: Design) {
  const judged = couplingsOf(design).map((coupling) => ({ coupling, judgement: judgementOf(coupling.toDesign()) }));
  return gather(design, judged, { today: TODAY });
}

/** Two sites' worth of parts that have nothing in common but a case and what it follows. */
const APART = `site "Two halves" {
  blind: 1
}
place yard { ambient: -10 degC .. 35 degC }
supply G1 in yard {
  volts: 11 V .. 12 V .. 13 V
  limit: 2 A
  earthed: minus
}
supply G2 in yard {
  volts: 11 V .. 12 V .. 13 V
  limit: 2 A
  earthed: minus
}
switch S1 in yard { contacts: make }
load L1 = 6 W @ 12 V in yard { works: 10 V .. 15 V }
load L2 = 60 W @ 12 V in yard { works: 10 V .. 15 V }
wire G1.plus -- S1.13-14 -- L1 -- G1.minus
wire G2.plus -- L2 -- G2.minus
case lit {
  turn S1 closed
  expect L1 >= 10 V
  expect L2 >= 10 V
}
case later after lit {
  wait 2 s
  expect L1 on
  expect L2 >= 14 V
}
accept supply-overloaded on G2 because "its limit is lifted soon"
`;

describe('in one piece and coupling by coupling', () => {
  test('the sites of the examples and their mistakes', async () => {
    const folder = pathToFileURL(join(ROOT, 'examples')).href;
    const roots = ['.', 'mistakes'].flatMap((below) =>
      readdirSync(join(ROOT, 'examples', below), { withFileTypes: true, recursive: false }).map(
        (entry) => pathToFileURL(join(ROOT, 'examples', below, entry.name)).href,
      ),
    );
    let checked = 0;
    for (const root of roots) {
      const files = root.endsWith('.couplet') ? [root] : (await diskReader.list(root)).map(({ uri }) => uri);
      for await (const { design } of checkSites({ reader: diskReader, folder }, files.filter(isText), {
        today: TODAY,
      })) {
        checked += 1;
        expect(inCouplings(design)).toEqual(run(design, analyse(design), { today: TODAY }));
      }
    }
    expect(checked).toBeGreaterThan(15);
  });

  test('the examples of the pages of all rules', () => {
    const folder = join(ROOT, 'docs', 'rules');
    const names = readdirSync(folder).filter((name) => name !== 'README.md');
    for (const name of names) {
      const page = readPage(readFileSync(join(folder, name), 'utf8'));
      for (const text of [page.failing, page.passing]) {
        const { design } = lowerText(text!);
        expect(inCouplings(design), name).toEqual(run(design, analyse(design), { today: TODAY }));
      }
    }
    expect(names.length).toBeGreaterThan(80);
  });

  test('a generated site, of which every coupling stands alone', async () => {
    const { design } = (await lowered(4, 1)).lowered;
    expect(couplingsOf(design)).toHaveLength(4);
    expect(inCouplings(design)).toEqual(run(design, analyse(design), { today: TODAY }));
  });

  test('what is tolerated is counted over all couplings', async () => {
    const { design } = (await lowered(3, 1)).lowered;
    const strict = { ...design, site: { ...design.site, blind: { least: 5, usual: 5, most: 5, origin: 0 } } };
    const found = inCouplings(strict).findings.filter(
      (each) => each.rule === 'silent-fault' && each.severity === 'error',
    );
    expect(found).toHaveLength(3);
    expect(found[0]!.message).toContain('9 do so over all zones, and the site tolerates 5 (`blind: 5`).');
    expect(inCouplings(strict)).toEqual(run(strict, analyse(strict), { today: TODAY }));
  });
});

describe('couplings', () => {
  test('each has its own parts and what its cases do to them', () => {
    const { design, findings } = lowerText(APART);
    expect(findings).toEqual([]);
    const couplings = couplingsOf(design);
    expect(
      couplings.map((coupling) => coupling.toDesign()).map((each) => each.components.map(({ name }) => name).sort()),
    ).toEqual([
      ['G1', 'L1', 'S1', 'S1.13-14'],
      ['G2', 'L2'],
    ]);
    const steps = couplings
      .map((coupling) => coupling.toDesign())
      .map((each) => each.cases.map((one) => one.steps.map(({ sort }) => sort)));
    expect(steps).toEqual([
      [
        ['turn', 'expect'],
        ['wait', 'expect'],
      ],
      [['expect'], ['wait', 'expect']],
    ]);
    expect(couplings.map((coupling) => coupling.toDesign()).map((each) => each.acceptances.length)).toEqual([0, 1]);
    expect(couplings.flatMap(({ components }) => components).length).toBe(design.components.length);
    expect(inCouplings(design)).toEqual(run(design, analyse(design), { today: TODAY }));
  });

  test('what is wired to earth is one coupling', () => {
    const { design } = lowerText(`${APART}wire G1.minus -- earth\nwire G2.minus -- earth\n`);
    expect(couplingsOf(design)).toHaveLength(1);
    expect(inCouplings(design)).toEqual(run(design, analyse(design), { today: TODAY }));
  });

  test('their numbers lead back to the whole', () => {
    const { design } = lowerText(APART);
    for (const coupling of couplingsOf(design)) {
      const back = inWhole(coupling, coupling.toDesign().components);
      back.forEach((part, id) => {
        expect({ ...part, id: coupling.components[id] }).toEqual(design.components[coupling.components[id]!]);
      });
    }
  });

  test('are the same data wherever they stand in the text', () => {
    const apart = couplingsOf(lowerText(APART).design);
    const moved = couplingsOf(lowerText(`// A line more\n\n${APART.replace('load L1', '\n\nload L1')}`).design);
    expect(moved.map((each) => each.toDesign())).toEqual(apart.map((each) => each.toDesign()));
    expect(moved.map(({ digest }) => digest)).toEqual(apart.map(({ digest }) => digest));
  });
});

describe('what is remembered', () => {
  const read = (text: string) => lowerText(text);
  const judged = (text: string, memory: CouplingMemory) =>
    judge(read(text), 'memory:///site.couplet', { today: TODAY, memory }).findings;

  test('gives what judging anew gives, at the places of the text as it is now', () => {
    const memory = new CouplingMemory();
    const texts = [
      APART,
      `// moved\n${APART}`,
      APART.replace('6 W', '7 W'),
      APART.replace('60 W', '16 W'),
      APART.replace('blind: 1', 'blind: 2'),
      APART.replace('load L1 : Lamp = 6 W @ 12 V in yard\n', 'load L1 : Lamp = 6 W @ 12 V in yard\n\n'),
      APART,
    ];
    for (const text of texts) {
      expect(judged(text, memory)).toEqual(judged(text, new CouplingMemory()));
      memory.passed();
    }
  });

  test('is the couplings that did not change, until two passes did without them', () => {
    const memory = new CouplingMemory();
    const keys = (text: string) => couplingsOf(read(text).design).map(({ digest }) => `${TODAY} ${digest}`);
    const known = (text: string) => keys(text).map((key) => memory.get(key) !== undefined);
    judged(APART, memory);
    memory.passed();
    expect(known(APART.replace('60 W', '16 W'))).toEqual([true, false]);
    expect(known(APART)).toEqual([true, true]);
    judged(APART.replace('60 W', '16 W'), memory);
    memory.passed();
    memory.passed();
    memory.passed();
    expect(known(APART)).toEqual([false, false]);
  });

  test('is of its day: acceptances run out', () => {
    const text = APART.replace('lifted soon"', 'lifted soon" until 2026-12-01');
    const memory = new CouplingMemory();
    const stale = (today: string) =>
      judge(read(text), 'memory:///site.couplet', { today, memory }).findings.some(
        ({ code }) => code === 'acceptance-stale',
      );
    expect([stale('2026-12-01'), stale('2026-12-02')]).toEqual([false, true]);
  });
});

function isText(uri: string): boolean {
  return uri.endsWith('.couplet');
}

test('a coupling of which all is as it was is known again; what changed is seen', async () => {
  const { design } = (await lowered(4, 1)).lowered;
  const told = (of: Design) => couplingsOf(of).map(({ toDesign, ...rest }) => ({ ...rest, design: toDesign() }));
  const digests = (of: Design) => couplingsOf(of).map(({ digest }) => digest);
  const before = digests(design);
  const last = <T>(list: readonly T[], change: (item: T) => T) => list.with(-1, change(list.at(-1)!));
  const changes: Partial<Design>[] = [
    {},
    { components: last(design.components, (part) => ({ ...part, description: 'other' })) },
    { terminals: last(design.terminals, (terminal) => ({ ...terminal, place: undefined })) },
    { joins: design.joins.slice(0, -1) },
    { cases: last(design.cases, (one) => ({ ...one, steps: one.steps.slice(1) })) },
    { cases: last(design.cases, (one) => ({ ...one, after: 0 })) },
    { acceptances: last(design.acceptances, (one) => ({ ...one, because: 'other' })) },
    { spare: design.spare.slice(0, -1) },
    { places: last(design.places, (place) => ({ ...place, wet: { word: 'yes', origin: -1 } })) },
    { site: { ...design.site, limits: [{ rule: 'load-undervolted', value: 1, dimension: 'V', origin: -1 }] } },
    { fragment: true },
  ];
  for (const change of changes) {
    const changed = { ...design, ...change };
    // A copy has nothing in common with what was seen before.
    expect(told(changed)).toEqual(told(structuredClone(changed)));
    const [what] = Object.keys(change);
    if (what !== undefined) expect(digests(changed), what).not.toEqual(before);
  }
  expect(digests(design)).toEqual(before);
});
