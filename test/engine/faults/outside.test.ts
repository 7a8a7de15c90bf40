/** Faulted loops against a general-purpose circuit simulator: the fault built into the design, the net list made from that. */
import { type Component, type Design, faultTable, type Law, type Network } from '@couplet/engine';
import { describe, expect, it } from 'vitest';
import { datum, tolerance } from '../../support/data.ts';
import { generator } from '../../support/random.ts';
import { SiteBuilder } from '../../support/site.ts';
import { DOUBLE_SCHEME } from '../../support/tidewater.ts';
import { netlistOf, nodeName, simulate } from '../outside/spice.ts';
import { edited } from './edited.ts';

/** A loop of switches, resistors and cores in random order, one switch with a resistor across. */
function loop(random: () => number): SiteBuilder {
  const site = new SiteBuilder();
  const value = () => 470 + Math.floor(random() * 9000);
  site.place('near').place('far');
  site.unit('panel', { place: 'near' });
  site.common('panel.ZC', { earthed: { word: 'yes', origin: -1 } });
  site.zone('panel.Z', 'panel.ZC', { feedVolts: datum(5), feedOhms: datum(value()), bands: DOUBLE_SCHEME });
  for (const name of ['A', 'B']) site.switch(name, 'break', { place: 'far', contactOhms: 0.1 });
  site.resistor('RE', tolerance(value(), 0.01)).resistor('RA', tolerance(value(), 0.05));
  site.cable('W', ['GN', 'YE'], 1 + random() * 40, 'near', 'far');
  const inside = ['A', 'B', 'RE'].sort(() => random() - 0.5);
  site.wire('panel.Z', 'W.GN', ...inside, 'W.YE', 'panel.ZC').wire('A.11', 'RA', 'A.12');
  site.case('a', site.turn('A', 'open'));
  site.case('b', site.turn('B', 'open'));
  return site;
}

/** The design's parts at their usual figures, with some switches open, as one network; node 0 is the return. */
function networkOf(design: Design, open: ReadonlySet<number>): { network: Network; hot: number } | undefined {
  const parent = design.terminals.map((_, i) => i);
  const find = (i: number): number => (parent[i] === i ? i : find(parent[i]!));
  for (const { a, b } of design.joins) parent[find(a)] = find(b);
  const zone = design.components.find((part) => part.kind === 'zone')!;
  const raw: {
    a: number;
    b: number;
    law: Omit<Extract<Law, { sort: 'ohms' }>, 'a' | 'b'> | { sort: 'volts'; volts: number };
  }[] = [];
  const inner = -1;
  raw.push({ a: inner, b: find(zone.b), law: { sort: 'volts', volts: zone.feedVolts!.usual } });
  raw.push({ a: inner, b: find(zone.a), law: { sort: 'ohms', ohms: zone.feedOhms!.usual } });
  for (const part of design.components) {
    const ohms = ohmsOf(part, open);
    if (ohms === undefined || !('a' in part) || !('b' in part)) continue;
    raw.push({ a: find(part.a), b: find(part.b), law: { sort: 'ohms', ohms } });
  }
  // What hangs in the air is left out: the simulator would tie it down.
  const numbers = new Map([[find(zone.b), 0]]);
  for (let grown = true; grown; ) {
    grown = false;
    for (const { a, b } of raw) {
      for (const [from, to] of [
        [a, b],
        [b, a],
      ] as const) {
        if (!numbers.has(from) || numbers.has(to)) continue;
        numbers.set(to, numbers.size);
        grown = true;
      }
    }
  }
  const laws = raw.flatMap(({ a, b, law }) => {
    const [from, to] = [numbers.get(a), numbers.get(b)];
    return from === undefined || to === undefined || from === to ? [] : [{ ...law, a: from, b: to } as Law];
  });
  return { network: { nodes: numbers.size, laws }, hot: numbers.get(find(zone.a))! };
}

function ohmsOf(part: Component, open: ReadonlySet<number>): number | undefined {
  if (part.kind === 'resistor' || part.kind === 'core') return part.ohms?.usual;
  return part.kind === 'contact' && !open.has(part.driver) ? part.ohms.usual : undefined;
}

describe('faulted loops', () => {
  it('read the volts that a circuit simulator finds, to 1e-6', async () => {
    const netlists: string[] = [];
    const wanted: { what: string; node: string; volts: number }[] = [];
    for (let seed = 1; seed <= 40; seed++) {
      const site = loop(generator(seed));
      const design = site.build();
      const [zone] = faultTable(design).zones;
      for (const { fault, variant, rest, cells } of zone!.rows) {
        const made = edited(design, fault, variant);
        if (made === undefined) continue;
        const states = [new Set<number>(), ...zone!.columns.map(({ name }) => new Set([site.id(name.toUpperCase())]))];
        [rest, ...cells].forEach((cell, i) => {
          const { network, hot } = networkOf(made, states[i]!)!;
          const node = nodeName(hot, 0);
          if (node === '0') {
            expect(cell.volts!.usual).toBe(0);
            return;
          }
          netlists.push(netlistOf(network, { reference: 0 }));
          wanted.push({ what: `seed ${seed}, ${fault.name}`, node: `v(${node})`, volts: cell.volts!.usual });
        });
      }
    }
    const answers = await simulate(netlists);
    const off: string[] = [];
    wanted.forEach(({ node, volts, what }, i) => {
      const answer = answers[i]!;
      const found = typeof answer === 'string' ? Number.NaN : answer[node]!;
      if (!(Math.abs(found - volts) <= 1e-6 * Math.max(Math.abs(found), 1e-3))) off.push(`${what}: ${volts}, ${found}`);
    });
    expect(off).toEqual([]);
    expect(wanted.length).toBeGreaterThan(1500);
  }, 600_000);
});
