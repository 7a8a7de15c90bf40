/**
 * Islands against the whole: random sites with several supplies that share poles, solved as one network in one piece,
 * must give the same volts between any two terminals and the same amperes as the islands they fall into.
 */
import { analyse, type Design, type Moment } from '@couplet/engine';
import { describe, expect, it } from 'vitest';
import type { Law } from '../../../packages/engine/src/network/contract.ts';
import { solve } from '../../../packages/engine/src/network/index.ts';
import { datum } from '../../support/data.ts';
import { generator } from '../../support/random.ts';
import { samples } from '../../support/samples.ts';
import { SiteBuilder } from '../../support/site.ts';

interface Sketch {
  readonly site: SiteBuilder;
  readonly design: Design;
}

/** Joints in a row of clusters, parts between them, supplies across them; some ends are left in the air. */
function sketch(random: () => number): Sketch {
  const site = new SiteBuilder();
  const nodes = 4 + Math.floor(random() * 8);
  for (let node = 0; node < nodes; node++) site.joint(`X${node}`);
  const any = () => `X${Math.floor(random() * nodes)}`;
  const near = (name: string) => `X${(Number(name.slice(1)) + 1 + Math.floor(random() * 2)) % nodes}`;
  const resistors = nodes + Math.floor(random() * nodes);
  for (let i = 0; i < resistors; i++) {
    const from = any();
    site.resistor(`R${i}`, 10 ** (1 + 2 * random())).wire(from, `R${i}`, near(from));
  }
  for (let i = 0; i < Math.floor(random() * 3); i++) {
    site.diode(`D${i}`, 0.65, { slope: datum(0.4) }).wire(any(), `D${i}`, any());
  }
  // Supplies with a common minus are the usual case; a second minus makes ways across several supplies.
  const supplies = 1 + Math.floor(random() * 3);
  for (let i = 0; i < supplies; i++) {
    const limited = random() < 0.4 ? { limit: datum(0.02 + random() * 0.5) } : {};
    const resistive = random() < 0.3 ? { ohms: datum(1 + random()) } : {};
    site.supply(`G${i}`, { volts: datum(5 + Math.round(random() * 20)), ...limited, ...resistive });
    site.wire(`G${i}.plus`, `X${i + 1}`).wire(`G${i}.minus`, random() < 0.7 ? 'X0' : `X${nodes - 1}`);
  }
  return { site, design: site.build() };
}

/** The same site as one network, straight from its parts. */
function asOneNetwork(design: Design) {
  const parent = design.terminals.map((_, i) => i);
  const find = (i: number): number => (parent[i] === i ? i : find(parent[i]!));
  for (const { a, b } of design.joins) parent[find(a)] = find(b);
  const laws: Law[] = [];
  const lawOf = new Map<number, number>();
  for (const part of design.components) {
    if (part.kind !== 'resistor' && part.kind !== 'diode' && part.kind !== 'source') continue;
    const [a, b] = [find(part.a), find(part.b)];
    lawOf.set(part.id, laws.length);
    if (part.kind === 'resistor') laws.push({ sort: 'ohms', a, b, ohms: part.ohms!.usual });
    else if (part.kind === 'diode') {
      const curve = { points: [[part.drop.usual, 0]], before: [1, 0], after: [part.slope!.usual, 1] } as const;
      laws.push({ sort: 'curve', a, b, curve });
    } else {
      const volts = part.volts!.usual;
      const ohms = part.ohms?.usual ?? 0;
      const limit = part.limit?.usual;
      const points = [limit === undefined ? [volts, 0] : [volts - ohms * limit, -limit]] as const;
      const before = limit === undefined ? ([ohms, 1] as const) : ([1, 0] as const);
      laws.push({ sort: 'curve', a, b, curve: { points: points as never, before, after: [ohms, 1] } });
    }
  }
  return { node: find, lawOf, point: solve({ nodes: design.terminals.length, laws }) };
}

function usual(figure: ReturnType<Moment['volts']>): number | undefined {
  return figure.sort === 'value' ? figure.usual : undefined;
}

describe('islands', () => {
  it('give what the whole network gives, for 300 seeded sites', () => {
    let compared = 0;
    let limited = 0;
    for (let seed = 1; seed <= samples(300); seed++) {
      const { design } = sketch(generator(seed));
      const whole = asOneNetwork(design);
      if (whole.point.outcome.sort !== 'solved' || whole.point.undefinedAmps.size > 0) continue;
      const rest = analyse(design).cases[0]!.moments[0]!;
      const ends = design.components.flatMap((part) => (part.kind === 'joint' ? [part.a] : []));
      for (const a of ends) {
        for (const b of ends) {
          const [na, nb] = [whole.node(a), whole.node(b)];
          const volts = usual(rest.volts(a, b));
          if (volts === undefined || whole.point.group[na] !== whole.point.group[nb]) continue;
          const expected = whole.point.volts[na]! - whole.point.volts[nb]!;
          expect(Math.abs(volts - expected), `seed ${seed} volts`).toBeLessThan(1e-9 * (Math.abs(expected) + 1));
          compared++;
        }
      }
      for (const [id, law] of whole.lawOf) {
        const part = design.components[id]!;
        const amps = usual(rest.amps(id));
        if (amps === undefined) continue;
        const expected = whole.point.amps[law]! * (part.kind === 'source' ? -1 : 1);
        expect(Math.abs(amps - expected), `seed ${seed} ${part.name}`).toBeLessThan(1e-9 * (Math.abs(expected) + 1e-3));
        if (part.kind === 'source' && part.limit !== undefined && amps > part.limit.usual * (1 - 1e-9)) limited++;
        compared++;
      }
    }
    expect(compared).toBeGreaterThan(samples(5000));
    expect(limited).toBeGreaterThan(samples(20));
  });

  it('find a connection wherever the whole has one', () => {
    let found = 0;
    for (let seed = 1; seed <= samples(100); seed++) {
      const { design } = sketch(generator(seed));
      const whole = asOneNetwork(design);
      if (whole.point.outcome.sort !== 'solved' || whole.point.undefinedAmps.size > 0) continue;
      const rest = analyse(design).cases[0]!.moments[0]!;
      const ends = design.components.flatMap((part) => (part.kind === 'joint' ? [part.a] : []));
      for (const a of ends) {
        for (const b of ends) {
          const [na, nb] = [whole.node(a), whole.node(b)];
          if (whole.point.group[na] !== whole.point.group[nb] || whole.point.live[whole.point.group[na]!] !== true)
            continue;
          // Both ends on a branch that carries nothing may count as unconnected; a difference of volts may not.
          if (Math.abs(whole.point.volts[na]! - whole.point.volts[nb]!) < 1e-9) continue;
          expect(rest.volts(a, b).sort, `seed ${seed}`).toBe('value');
          found++;
        }
      }
    }
    expect(found).toBeGreaterThan(samples(500));
  });
});
