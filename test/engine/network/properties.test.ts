import { type Law, type Network, type OperatingPoint, solve } from '@couplet/engine';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { samples } from '../../support/samples.ts';
import { anyNetwork, resistiveNetwork } from './generators.ts';
import { across, amps, expectClose, expectConsistent, network, ohms } from './support.ts';

const RUNS = { numRuns: samples(400), seed: 20261124 };

const largest = (values: Float64Array): number => Math.max(0, ...values.map(Math.abs));

/** The same laws with every source changed by `change`. */
function withSources(net: Network, change: (value: number, k: number) => number): Network {
  return {
    nodes: net.nodes,
    laws: net.laws.map((law, k): Law => {
      if (law.sort === 'volts') return { ...law, volts: change(law.volts, k) };
      return law.sort === 'amps' ? { ...law, amps: change(law.amps, k) } : law;
    }),
  };
}

/** Equal up to the reference of each group, and up to splits that nothing determines. */
function expectSame(
  one: OperatingPoint,
  other: OperatingPoint,
  relative: number,
  nodeOf = (n: number) => n,
  lawOf = (k: number) => k,
): void {
  expect(other.outcome.sort).toBe(one.outcome.sort);
  if (one.outcome.sort !== 'solved') return;
  const vScale = largest(one.volts);
  // Amperes below 1e-15 A are none.
  const iScale = Math.max(1e-15 / relative, largest(one.amps));
  const first = new Map<number, number>();
  for (let n = 0; n < one.volts.length; n++) {
    const m = first.get(one.group[n]!) ?? n;
    first.set(one.group[n]!, m);
    expect(other.group[nodeOf(n)]).toBe(other.group[nodeOf(m)]);
    expectClose(across(other, nodeOf(n), nodeOf(m)), across(one, n, m), relative, vScale);
    expect(other.live[other.group[nodeOf(n)]!]).toBe(one.live[one.group[n]!]);
  }
  expect(new Set(other.group).size).toBe(new Set(one.group).size);
  for (let k = 0; k < one.amps.length; k++) {
    expect(other.undefinedAmps.has(lawOf(k))).toBe(one.undefinedAmps.has(k));
    if (!one.undefinedAmps.has(k)) expectClose(other.amps[lawOf(k)]!, one.amps[k]!, relative, iScale);
  }
}

describe('any network', () => {
  it('is solved on its curves with Kirchhoff satisfied, or is told why not', () => {
    let solved = 0;
    fc.assert(
      fc.property(anyNetwork, (net) => {
        const point = solve(net);
        for (const x of [...point.volts, ...point.amps, point.residual]) expect(Number.isFinite(x)).toBe(true);
        expect(point.live.length).toBe(new Set(point.group).size);
        if (point.outcome.sort === 'solved') {
          solved++;
          expectConsistent(net, point, 1e-8);
        } else {
          expect(point.outcome.sort).toBe('contradictory');
          expect(point.outcome.laws.length).toBeGreaterThan(0);
        }
      }),
      { numRuns: samples(3000), seed: 1 },
    );
    expect(solved).toBeGreaterThan(samples(1000));
  });

  it('does not depend on the numbers of its nodes, on the order of its laws, or on which way round they are', () => {
    fc.assert(
      fc.property(anyNetwork, fc.infiniteStream(fc.nat()), (net, numbers) => {
        const random = numbers[Symbol.iterator]();
        const shuffle = (length: number): number[] => {
          const order = Array.from({ length }, (_, k) => k);
          for (let k = length - 1; k > 0; k--) {
            const other = random.next().value! % (k + 1);
            [order[k], order[other]] = [order[other]!, order[k]!];
          }
          return order;
        };
        const nodeOf = shuffle(net.nodes);
        const lawOf = shuffle(net.laws.length);
        const laws = new Array<Law>(net.laws.length);
        net.laws.forEach((law, k) => {
          laws[lawOf[k]!] = { ...law, a: nodeOf[law.a]!, b: nodeOf[law.b]! };
        });
        const one = solve(net);
        const other = solve({ nodes: net.nodes, laws });
        // A split that nothing determines may come out either way; that it does not matter elsewhere is what counts.
        expectSame(
          one,
          other,
          1e-7,
          (n) => nodeOf[n]!,
          (k) => lawOf[k]!,
        );
      }),
      RUNS,
    );
  });

  it('does not depend on where the search for pieces begins', () => {
    fc.assert(
      fc.property(anyNetwork, fc.array(fc.nat(8), { minLength: 14, maxLength: 14 }), (net, start) => {
        expectSame(solve(net), solve(net, Int32Array.from(start)), 1e-7);
      }),
      RUNS,
    );
  });

  it('is solved at once from its own pieces', () => {
    fc.assert(
      fc.property(anyNetwork, (net) => {
        const one = solve(net);
        const again = solve(net, one.pieces);
        expectSame(one, again, 1e-9);
        expect(again.solves).toBeLessThanOrEqual(Math.max(one.solves, net.nodes));
      }),
      RUNS,
    );
  });

  it('names laws that contradict each other whatever the rest is', () => {
    let seen = 0;
    fc.assert(
      fc.property(anyNetwork, (net) => {
        const { outcome } = solve(net);
        if (outcome.sort !== 'contradictory') return;
        seen++;
        const named = new Set(outcome.laws);
        expect(impossible(net, named)).toBe(true);
      }),
      { numRuns: samples(3000), seed: 2 },
    );
    expect(seen).toBeGreaterThan(samples(300));
  });
});

/**
 * The named laws and the 0 Ω joins cannot add up around a loop; or, with everything else joined to one, they cannot
 * add up at some node. Checked anew, without the solver: shortest paths, and all subsets of what is left.
 */
function impossible(net: Network, named: ReadonlySet<number>): boolean {
  const bounds: [number, number, number][] = [];
  const flows: { a: number; b: number; low: number; high: number }[] = [];
  const parent = Array.from({ length: net.nodes }, (_, n) => n);
  const find = (n: number): number => (parent[n] === n ? n : find(parent[n]!));
  net.laws.forEach((law, k) => {
    if (law.sort === 'ohms' && law.ohms === 0) bounds.push([law.b, law.a, 0], [law.a, law.b, 0]);
    if (!named.has(k)) {
      parent[find(law.a)] = find(law.b);
      return;
    }
    const end = law.sort === 'curve' ? law.curve.points[law.curve.points.length - 1]! : undefined;
    const begin = law.sort === 'curve' ? law.curve.points[0]! : undefined;
    if (law.sort === 'volts') bounds.push([law.b, law.a, law.volts], [law.a, law.b, -law.volts]);
    if (law.sort === 'curve' && law.curve.after[0] === 0) bounds.push([law.b, law.a, end![0]]);
    if (law.sort === 'curve' && law.curve.before[0] === 0) bounds.push([law.a, law.b, -begin![0]]);
    if (law.sort === 'amps') flows.push({ a: law.a, b: law.b, low: law.amps, high: law.amps });
    if (law.sort === 'curve') {
      flows.push({
        a: law.a,
        b: law.b,
        low: law.curve.before[1] === 0 ? begin![1] : Number.NEGATIVE_INFINITY,
        high: law.curve.after[1] === 0 ? end![1] : Number.POSITIVE_INFINITY,
      });
    }
  });
  const reach = new Float64Array(net.nodes);
  for (let round = 0; round <= net.nodes; round++) {
    let moved = false;
    for (const [from, to, length] of bounds) {
      if (reach[to]! <= reach[from]! + length + 1e-9) continue;
      reach[to] = reach[from]! + length;
      moved = true;
    }
    if (!moved) break;
    if (round === net.nodes) return true;
  }
  const roots = [...new Set(parent.map((_, n) => find(n)))];
  for (let subset = 1; subset < 2 ** roots.length - 1; subset++) {
    const inside = (n: number): boolean => (subset & (1 << roots.indexOf(find(n)))) !== 0;
    let least = 0;
    let most = 0;
    for (const { a, b, low, high } of flows) {
      if (inside(a) === inside(b)) continue;
      least += inside(a) ? low : -high;
      most += inside(a) ? high : -low;
    }
    if (least > 1e-9 || most < -1e-9) return true;
  }
  return false;
}

describe('resistive networks', () => {
  it('superpose', () => {
    fc.assert(
      fc.property(resistiveNetwork, (net) => {
        const all = solve(net);
        expectConsistent(net, all);
        const sources = net.laws.flatMap((law, k) => (law.sort === 'ohms' ? [] : [k]));
        const volts = new Float64Array(net.nodes);
        const currents = new Float64Array(net.laws.length);
        let vScale = 0;
        let iScale = 0;
        for (const source of sources) {
          const alone = solve(withSources(net, (value, k) => (k === source ? value : 0)));
          alone.volts.forEach((_, n) => {
            volts[n]! += across(alone, n, 0);
          });
          alone.amps.forEach((i, k) => {
            currents[k]! += i;
          });
          vScale = Math.max(vScale, largest(alone.volts));
          iScale = Math.max(iScale, largest(alone.amps));
        }
        volts.forEach((v, n) => {
          expectClose(across(all, n, 0), v, 1e-11, vScale);
        });
        currents.forEach((i, k) => {
          expectClose(all.amps[k]!, i, 1e-11, iScale);
        });
      }),
      RUNS,
    );
  });

  it('scale: sources with the sources, volts with ohms at the same amperes', () => {
    fc.assert(
      fc.property(resistiveNetwork, fc.constantFrom(-1, 2, 1e-6, 1e6, 7.3), (net, factor) => {
        const one = solve(net);
        const driven = solve(withSources(net, (value) => factor * value));
        one.volts.forEach((_, n) => {
          expectClose(across(driven, n, 0), factor * across(one, n, 0), 1e-11, Math.abs(factor) * largest(one.volts));
        });
        const size = Math.abs(factor);
        const wider = solve({
          nodes: net.nodes,
          laws: net.laws.map((law): Law => {
            if (law.sort === 'ohms') return { ...law, ohms: law.ohms * size };
            return law.sort === 'volts' ? { ...law, volts: law.volts * size } : law;
          }),
        });
        one.amps.forEach((i, k) => {
          expectClose(wider.amps[k]!, i, 1e-11, largest(one.amps));
        });
      }),
      RUNS,
    );
  });

  it('are reciprocal', () => {
    fc.assert(
      fc.property(resistiveNetwork, fc.nat(), fc.nat(), fc.nat(), (net, p, q, r) => {
        const dead = withSources(net, () => 0);
        const at = (k: number) => k % net.nodes;
        const transfer = (from: number, to: number): number => {
          const point = solve({ nodes: net.nodes, laws: [...dead.laws, amps(at(r), from, 1)] });
          return across(point, to, at(r));
        };
        const [forth, back] = [transfer(at(p), at(q)), transfer(at(q), at(p))];
        expectClose(
          forth,
          back,
          1e-10,
          1e-5 * Math.max(Math.abs(transfer(at(p), at(p))), Math.abs(transfer(at(q), at(q)))),
        );
      }),
      RUNS,
    );
  });

  it('deliver to a resistor what open volts and shorted amperes say', () => {
    fc.assert(
      fc.property(
        resistiveNetwork,
        fc.nat(),
        fc.nat(),
        fc.double({ min: 0.1, max: 1e5, noNaN: true }),
        (net, p, q, load) => {
          const [a, b] = [p % net.nodes, q % net.nodes];
          if (a === b) return;
          const open = solve(net);
          const dead = solve(network(net.nodes, ...withSources(net, () => 0).laws, amps(b, a, 1)));
          const own = across(dead, a, b);
          const loaded = solve(network(net.nodes, ...net.laws, ohms(a, b, load)));
          expectClose(
            across(loaded, a, b),
            (across(open, a, b) * load) / (own + load),
            1e-10,
            1e-2 * largest(open.volts),
          );
        },
      ),
      RUNS,
    );
  });
});
