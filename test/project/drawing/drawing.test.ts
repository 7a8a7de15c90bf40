/** What a drawing says: the parts as they are wired, and at each moment the figures of the table. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Component } from '@couplet/engine';
import { type CheckedSite, couplingsOf, type Drawing, drawingOf, figureTable } from '@couplet/project';
import { describe, expect, test } from 'vitest';
import { symbolOf } from '../../../packages/project/src/drawing/symbols.ts';
import { valuesOf } from '../../../packages/project/src/drawing/values.ts';
import { exampleSite, MANY_KINDS, SITES, siteOf } from './sites.ts';

const MILL = 'tidewater-mill/site.couplet';

function node(drawing: Drawing, id: string) {
  const found = drawing.shape.nodes.find((each) => each.id === id);
  if (found === undefined) throw new Error(`there is no ${id} among ${drawing.shape.nodes.map((each) => each.id)}`);
  return found;
}

function drawings(site: CheckedSite): Drawing[] {
  return couplingsOf(site).flatMap(({ id }) =>
    site.analysis.cases.flatMap(({ moments, name }) =>
      moments.map((_, moment) => drawingOf(site, { coupling: id, case: name, moment })!),
    ),
  );
}

test('Tidewater Mill: every part with its symbol, place and data', async () => {
  const drawing = drawingOf(await exampleSite(MILL))!;
  expect(drawing.shape.nodes.map(({ frame, id, symbol, values }) => [id, symbol, frame, values.join(', ')])).toEqual([
    ['level', 'unit', 'pit', ''],
    ['panel', 'unit', 'mill', ''],
    ['K1', 'coil', 'pit', '12 V, 720R'],
    ['K1/1', 'changeover', 'pit', ''],
    ['RE', 'resistor', 'pit', '2k2 ±1%'],
    ['RA', 'resistor', 'pit', '4k7 ±1%'],
    ['P1', 'lamp', 'pit', '6 W at 12 V'],
    ['W1', 'cable', undefined, '140 m, 0.22 mm²'],
  ]);
  expect(node(drawing, 'level').terminals.map(({ label, member }) => [label, member])).toEqual([
    ['V12', 'source'],
    ['Q1', 'output'],
    ['Q2', 'output'],
  ]);
  expect(node(drawing, 'W1').cores).toEqual([
    { way: 'W1.GN', label: 'GN' },
    { way: 'W1.YE', label: 'YE' },
    { way: 'W1.RD', label: 'RD', unused: true },
    { way: 'W1.BK', label: 'BK', unused: true },
  ]);
  expect(drawing.shape.links).toEqual([{ from: 'K1', to: 'K1/1' }]);
  expect(drawing.shape.frames.map(({ title }) => title)).toEqual([
    'Wheel pit, pump chamber',
    'Mill house, meter cupboard',
  ]);
});

test('a contact stands as the moment has it', async () => {
  const site = await exampleSite(MILL);
  const closed = (name: string) =>
    drawingOf(site, { case: name })!.figures.nodes['K1/1']!.closed!.map(({ b, state }) => `${b} ${state}`);
  expect(closed('rest')).toEqual(['K1.12 open', 'K1.14 closed']);
  expect(closed('high-water')).toEqual(['K1.12 closed', 'K1.14 open']);
});

test('wires carry the volts of their net, and the amperes where one part decides them, with their direction', async () => {
  const { figures } = drawingOf(await exampleSite(MILL))!;
  const { amps, forward, volts } = figures.wires['panel.Z4 -- W1.GN.mill']!;
  expect([volts?.text, volts?.between, amps?.text, forward]).toEqual(['1.61 V', 'to panel.ZC', '722 µA', true]);
  expect(figures.wires['W1.YE.mill -- panel.ZC']).toMatchObject({ forward: true });
  // Two wires leave V12, but only this one comes to the coil.
  expect(figures.wires['level.V12 -- K1.A1']!.amps?.text).toBe('17.1 mA');
});

test('a wire that current runs through against its direction says so', async () => {
  const site = await siteOf(`site "Bench"
supply G1 = 12 V { limit: 1 A  earthed: no }
resistor R1 = 1k2
wire G1.minus -- R1.2
wire R1.1 -- G1.plus`);
  const { wires } = drawingOf(site)!.figures;
  expect(Object.fromEntries(Object.entries(wires).map(([id, { forward }]) => [id, forward]))).toEqual({
    'G1.minus -- R1.2': false,
    'R1.1 -- G1.plus': false,
  });
});

/** Texts and states of a part wherever a drawing shows it. */
function shownOf(drawing: Drawing, name: string): readonly { states: readonly string[]; texts: readonly string[] }[] {
  const { members, nodes } = drawing.figures;
  const owners = drawing.shape.nodes.filter((each) => each.name === name && each.kind !== 'contact');
  const found = [...owners.map(({ id }) => nodes[id]), members[name]].filter((each) => each !== undefined);
  return found.map(({ figures, states }) => ({ states, texts: figures.map(({ sort, usual }) => `${sort} ${usual}`) }));
}

test.each(['tidewater-mill', 'archive', 'glasshouse', 'pumping-station', 'cold-store'])(
  'figures on the drawings of %s are those of the table',
  async (name) => {
    const site = await exampleSite(`${name}/site.couplet`);
    let compared = 0;
    for (const { moments, name } of figureTable(site.analysis)) {
      for (const [moment, { rows }] of moments.entries()) {
        for (const { id } of couplingsOf(site)) {
          const drawing = drawingOf(site, { coupling: id, case: name, moment })!;
          for (const row of rows) {
            const texts = row.figures.map(({ figure }) => {
              const usual = figure.sort === 'value' && Number.isFinite(figure.usual) ? figure.usual : undefined;
              return `${figure.sort} ${usual}`;
            });
            for (const shown of shownOf(drawing, row.name)) {
              expect(shown).toEqual({ states: row.states, texts });
              compared++;
            }
          }
        }
      }
    }
    expect(compared).toBeGreaterThan(10);
  },
);

test('what lacks a datum says what it needs', async () => {
  const site = await siteOf(`site "Bench"
supply G1 = 12 V { limit: 1 A  earthed: no }
load P1
wire G1.plus -- P1 -- G1.minus`);
  const { figures } = drawingOf(site)!;
  expect(figures.nodes.P1!.figures.map(({ sort }) => sort)).toContain('not-evaluated');
  const texts = figures.nodes.P1!.figures.map(({ text }) => text);
  expect(texts.some((text) => text.startsWith('not evaluated: needs P1 '))).toBe(true);
});

test('each coil of a latching relay has its own volts', async () => {
  const site = await siteOf(MANY_KINDS);
  const drawing = drawings(site).find(({ shape }) => shape.nodes.some(({ id }) => id === 'K2'))!;
  expect(drawing.figures.nodes.K2!.figures.map(({ between }) => between)).toEqual(['A1 to A2']);
  expect(drawing.figures.nodes['K2/B']!.figures.map(({ between }) => between)).toEqual(['B1 to B2']);
});

describe.each(SITES)('%s', (path) => {
  const site = exampleSite(path);

  test('terminals are told apart and wires end at them', async () => {
    for (const { figures, shape } of drawings(await site)) {
      const ids = shape.nodes.flatMap(({ terminals }) => terminals.map(({ id }) => id));
      expect(new Set(ids).size).toBe(ids.length);
      for (const { from, to } of shape.wires) expect(ids).toEqual(expect.arrayContaining([from, to]));
      for (const id of Object.keys(figures.members)) expect(ids).toContain(id);
      const names = shape.nodes.map(({ id }) => id);
      expect(new Set(names).size).toBe(names.length);
      for (const { frame } of shape.nodes) if (frame) expect(shape.frames.map(({ id }) => id)).toContain(frame);
    }
  });

  test('the shape is the same at every moment', async () => {
    for (const { id } of couplingsOf(await site)) {
      const shapes = drawings(await site).filter(({ coupling }) => coupling === id);
      for (const { shape } of shapes) expect(shape).toBe(shapes[0]!.shape);
    }
  });

  test('all of it is plain data that survives JSON', async () => {
    for (const drawing of drawings(await site)) expect(JSON.parse(JSON.stringify(drawing))).toEqual(drawing);
  });

  test('everything that was written leads to its text', async () => {
    const { shape } = drawingOf(await site)!;
    const written = shape.nodes.filter(({ symbol }) => symbol !== 'earth');
    for (const { source } of [...written, ...shape.wires, ...shape.frames]) {
      expect(source?.uri).toMatch(/\.couplet$/);
    }
  });
});

test('what is wished for and does not exist any more is chosen anew', async () => {
  const site = await exampleSite(MILL);
  const chosen = drawingOf(site, { coupling: 'gone', case: 'gone', moment: 99 })!;
  expect([chosen.coupling, chosen.case, chosen.moment]).toEqual(['panel.Z4', 'rest', 0]);
  expect(drawingOf(site, { case: 'high-water', moment: 99 })!.moment).toBe(0);
  expect(drawingOf(site, { case: 'high-water', moment: 1 })!.moment).toBe(1);
});

test('every kind of component has a symbol and a row of data', () => {
  const text = readFileSync(join(import.meta.dirname, '../../../packages/engine/src/design/components.ts'), 'utf8');
  const kinds = [...text.matchAll(/readonly kind: ([^;]+);/g)].flatMap(([, words]) =>
    [...words!.matchAll(/'([a-z]+)'/g)].map(([, word]) => word!),
  );
  expect(kinds.length).toBeGreaterThan(20);
  for (const kind of kinds) {
    const part = { kind, id: 0, name: 'X', origin: -1, closes: 'operated' } as unknown as Component;
    expect(symbolOf(part), kind).toBeTypeOf('string');
    expect(valuesOf(part), kind).toBeInstanceOf(Array);
  }
});
