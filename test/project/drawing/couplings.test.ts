/** A site in pieces that fit on one drawing: nothing is lost, nothing is parted that belongs together. */
import { couplingsOf, couplingWith, drawingOf } from '@couplet/project';
import { expect, test } from 'vitest';
import { exampleSite, MANY_KINDS, SITES, siteOf } from './sites.ts';

test.each(SITES)('every wire of %s is drawn, and once in each drawing', async (path) => {
  const site = await exampleSite(path);
  const { design } = site;
  const drawn = new Set<string>();
  for (const { id } of couplingsOf(site)) {
    const { shape } = drawingOf(site, { coupling: id })!;
    const pairs = shape.wires.map(({ from, to }) => `${from} ${to}`);
    expect(new Set(pairs).size).toBe(pairs.length);
    for (const pair of pairs) drawn.add(pair);
  }
  const wanted = design.joins.map(({ a, b }) => `${design.terminals[a]!.name} ${design.terminals[b]!.name}`);
  expect([...drawn].sort()).toEqual([...wanted].sort());
});

test('a small site is one drawing, named from what drives to what reads', async () => {
  expect(couplingsOf(await exampleSite('tidewater-mill/site.couplet'))).toEqual([
    { id: 'panel.Z4', title: 'level.Q1, level.Q2 to panel.Z4, P1' },
  ]);
});

test('a contact of a unit ties its loop to the unit', async () => {
  expect(couplingsOf(await exampleSite('cold-store/site.couplet'))).toHaveLength(1);
});

/** A panel of zones, each with a loop of its own, and loops of a second panel that shares nothing with it. */
function loops(count: number): string {
  const loop = (n: number) =>
    `resistor R${n} = 2k2\nresistor Q${n} = 2k2\nwire p.Z${n} -- R${n} -- p.C\nwire q.Z${n} -- Q${n} -- q.C`;
  return `site "Loops"
type Panel : unit { common C { earthed: no }  zone Z1 .. Z${count} { feed: 5 V via 4k7  return: C } }
unit p : Panel
unit q : Panel
${Array.from({ length: count }, (_, index) => loop(index + 1)).join('\n')}`;
}

test('circuits that meet at a unit share a drawing while it has room; what meets nowhere does not', async () => {
  const few = couplingsOf(await siteOf(loops(3)));
  expect(few.map(({ id }) => id)).toEqual(['p.Z1', 'q.Z1']);
  const many = couplingsOf(await siteOf(loops(30)));
  expect(many.length).toBeGreaterThan(2);
  const site = await siteOf(loops(30));
  for (const { id } of many) {
    const { nodes } = drawingOf(site, { coupling: id })!.shape;
    expect(nodes.length).toBeLessThanOrEqual(20);
    expect(nodes.filter(({ symbol }) => symbol === 'unit')).toHaveLength(1);
  }
});

test('a circuit is never parted, however long it is', async () => {
  const chain = Array.from({ length: 40 }, (_, index) => `R${index + 1}`);
  const site = await siteOf(`site "Chain"
supply G1 = 12 V { limit: 1 A  earthed: no }
${chain.map((name) => `resistor ${name} = 10R`).join('\n')}
wire G1.plus -- ${chain.join(' -- ')} -- G1.minus`);
  const couplings = couplingsOf(site);
  expect(couplings).toHaveLength(1);
  expect(drawingOf(site)!.shape.nodes).toHaveLength(41);
});

test('a relay and its contacts stay together, and so do all poles of a switch', async () => {
  const site = await siteOf(MANY_KINDS);
  for (const { id } of couplingsOf(site)) {
    const names = drawingOf(site, { coupling: id })!.shape.nodes.map((node) => node.id);
    for (const [coil, pole] of [
      ['K1', 'K1/1'],
      ['K1', 'K1/2'],
      ['K2', 'K2/1'],
      ['K2', 'K2/B'],
    ] as const) {
      expect(names.includes(pole)).toBe(names.includes(coil));
    }
  }
});

test('the coupling that shows a part is found by the names of its parts', async () => {
  const site = await siteOf(MANY_KINDS);
  expect(couplingWith(site, 'panel.Z3')).toBe(couplingWith(site, 'K2'));
  expect(couplingWith(site, 'R1')).toBe(couplingWith(site, 'panel.Z1'));
  expect(couplingWith(site, 'nobody')).toBeUndefined();
});

test('where nothing is wired there is nothing to draw', async () => {
  const site = await siteOf('site "Empty"\nrelay K1 { coil: 12 V, 1k }\n');
  expect(couplingsOf(site)).toEqual([]);
  expect(drawingOf(site)).toBeUndefined();
});

test('the order of statements changes no drawing', async () => {
  const lines = MANY_KINDS.trim().split('\n');
  const wires = lines.filter((line) => line.startsWith('wire '));
  const rest = lines.filter((line) => !line.startsWith('wire '));
  const turned = await siteOf([...rest, ...wires.toReversed()].join('\n'));
  const site = await siteOf(MANY_KINDS);
  expect(couplingsOf(turned)).toEqual(couplingsOf(site));
  for (const { id } of couplingsOf(site)) {
    const ids = (of: typeof site) => {
      const { nodes, wires } = drawingOf(of, { coupling: id })!.shape;
      return [nodes.map((node) => node.id).sort(), wires.map((wire) => wire.id).sort()];
    };
    expect(ids(turned)).toEqual(ids(site));
  }
});

test('what a return passes in another drawing is a terminal with its name', async () => {
  const names = Array.from({ length: 30 }, (_, index) => index + 1);
  const site = await siteOf(`site "Row"
type Board : unit {
  rail V { volts: 12 V  limit: 9 A  return: N }
  common N { earthed: no }
  output Q1 .. Q30 { style: source  rail: V  return: N  rated: 1 A }
}
unit u : Board
${names.map((n) => `load P${n} = 100 mA @ 12 V`).join('\n')}
${names.map((n) => `wire u.Q${n} -- P${n}.plus`).join('\n')}
wire ${names.map((n) => `P${n}.minus`).join(' -- ')} -- u.N`);
  const couplings = couplingsOf(site);
  expect(couplings.length).toBeGreaterThan(1);
  const first = drawingOf(site, { coupling: couplings[0]!.id })!;
  const foreign = first.shape.nodes.filter(({ symbol }) => symbol === 'terminal');
  expect(foreign.map(({ name }) => name)).toContain('P30.minus');
  const drawn = couplings.flatMap(({ id }) => drawingOf(site, { coupling: id })!.shape.wires.map((wire) => wire.id));
  expect(new Set(drawn).size).toBe(site.design.joins.length);
});
