/** The search for pieces, held against all combinations of pieces and against Lemke's method alone. */
import { type Law, type Network, solve } from '@couplet/engine';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compile } from '../../../packages/engine/src/network/compile.ts';
import { walkToSolution } from '../../../packages/engine/src/network/lemke.ts';
import { holds } from '../../../packages/engine/src/network/settle.ts';
import { samples } from '../../support/samples.ts';
import { diceFrom } from '../outside/random-networks.ts';
import { anyNetwork } from './generators.ts';
import {
  across,
  constantCurrentCurve,
  curve,
  diode,
  diodeCurve,
  expectClose,
  expectConsistent,
  limitedCurve,
  network,
  ohms,
  volts,
  zenerCurve,
} from './support.ts';

/** The line of piece `p` as ideal laws between a, b and an extra node, and the ranges that the point must keep. */
function pieceAsLaws(law: Law & { sort: 'curve' }, p: number, extra: number) {
  const { points, before, after } = law.curve;
  const low = p === 0 ? undefined : points[p - 1]!;
  const high = p === points.length ? undefined : points[p]!;
  const [dV, dI] = low === undefined ? before : high === undefined ? after : [high[0] - low[0], high[1] - low[1]];
  const [v0, i0] = (low ?? high)!;
  const laws: Law[] =
    dI === 0
      ? [{ sort: 'amps', a: law.a, b: law.b, amps: i0 }]
      : [
          { sort: 'volts', a: law.a, b: extra, volts: v0 - (i0 * dV) / dI },
          { sort: 'ohms', a: extra, b: law.b, ohms: dV / dI },
        ];
  const fits = (v: number, i: number): boolean =>
    (low === undefined || (v >= low[0] - 1e-9 && i >= low[1] - 1e-9)) &&
    (high === undefined || (v <= high[0] + 1e-9 && i <= high[1] + 1e-9));
  return { laws, fits };
}

/** Volts of node 1 … against node 0 for some combination of pieces that fits, found by trying all of them. */
function byEnumeration(net: Network): number[] | undefined {
  const curves = net.laws.flatMap((law) => (law.sort === 'curve' ? [{ law }] : []));
  const rest = net.laws.filter((law) => law.sort !== 'curve');
  const counts = curves.map(({ law }) => law.curve.points.length + 1);
  const total = counts.reduce((product, n) => product * n, 1);
  for (let code = 0; code < total; code++) {
    let left = code;
    let count = net.nodes;
    const laws: Law[] = [...rest];
    const checks: { at: number; law: Law; fits: (v: number, i: number) => boolean }[] = [];
    curves.forEach(({ law }, j) => {
      const { laws: own, fits } = pieceAsLaws(law, left % counts[j]!, count++);
      left = Math.floor(left / counts[j]!);
      checks.push({ at: laws.length, law, fits });
      laws.push(...own);
    });
    const point = solve({ nodes: count, laws });
    if (point.outcome.sort !== 'solved' || point.undefinedAmps.size > 0) continue;
    // Floating combinations leave their volts open: only those that tie everything down decide.
    if (new Set(point.group.slice(0, net.nodes)).size > 1) continue;
    if (checks.every(({ at, law, fits }) => fits(across(point, law.a, law.b), point.amps[at]!))) {
      return [...point.volts.slice(0, net.nodes)].map((v) => v - point.volts[0]!);
    }
  }
  return undefined;
}

describe('the search for pieces', () => {
  it('finds what trying all combinations finds', () => {
    let compared = 0;
    fc.assert(
      fc.property(anyNetwork, (net) => {
        const pieces = net.laws.reduce((n, law) => (law.sort === 'curve' ? n * (law.curve.points.length + 1) : n), 1);
        if (pieces > 300) return;
        const tried = byEnumeration(net);
        if (tried === undefined) return;
        const point = solve(net);
        expectConsistent(net, point, 1e-8);
        // The point of a monotone network is one, wherever volts are defined.
        tried.forEach((v, n) => {
          if (point.group[n] === point.group[0])
            expectClose(across(point, n, 0), v, 1e-7, Math.max(1e-6, ...tried.map(Math.abs)));
        });
        compared++;
      }),
      { numRuns: samples(1500), seed: 3 },
    );
    expect(compared).toBeGreaterThan(samples(200));
  });

  it("ends in the same point by Lemke's method alone, from either end", () => {
    let walked = 0;
    fc.assert(
      fc.property(anyNetwork, fc.boolean(), (net, backwards) => {
        const point = solve(net);
        if (point.outcome.sort !== 'solved' || new Set(point.group).size > 1) return;
        const c = compile(net, undefined);
        const laws = Int32Array.from(net.laws, (_, k) => k);
        const curves = [...laws].filter((k) => net.laws[k]!.sort === 'curve');
        if (curves.length === 0) return;
        const island = { nodes: Int32Array.from({ length: net.nodes }, (_, n) => n), laws, curves };
        expect(walkToSolution(c, island, 1e3, backwards)).toBe(true);
        expect(holds(c, island, { solves: 0 }, 1e-8).sort).toBe('settled');
        const scale = Math.max(...point.volts.map((v) => Math.abs(v - point.volts[0]!)), 1e-6);
        for (let n = 0; n < net.nodes; n++) {
          expectClose(c.linear.volts[n]! - c.linear.volts[0]!, across(point, n, 0), 1e-6, scale);
        }
        walked++;
      }),
      { numRuns: samples(2000), seed: 4 },
    );
    expect(walked).toBeGreaterThan(samples(150));
  });

  it('settles large islands of curves in few rounds', () => {
    const loads = 3000;
    const shape = diodeCurve(0.65, 0.5);
    const laws: Law[] = [curve(0, 1, limitedCurve(24, 0.01, 400))];
    for (let k = 0; k < loads; k++) {
      const [p, q] = [2 + 2 * k, 3 + 2 * k];
      laws.push(ohms(0, p, 0.5), curve(p, q, shape), ohms(q, 1, 300 + (k % 700)), curve(1, q, shape));
    }
    const net = network(2 + 2 * loads, ...laws);
    const point = solve(net);
    expectConsistent(net, point);
    expect(point.solves).toBeLessThan(12);
  });

  it('settles large islands whose curves all disturb each other', () => {
    const dice = diceFrom(12);
    for (let turn = 0; turn < 4; turn++) {
      const nodes = 800;
      const laws: Law[] = [];
      const near = (n: number): number => Math.min(nodes - 1, Math.max(0, n + dice.whole(-20, 20)));
      for (let n = 1; n < nodes; n++) laws.push(ohms(n, dice.whole(Math.max(0, n - 20), n - 1), dice.decades(1, 1e4)));
      for (let k = 0; k < nodes / 4; k++) {
        const shape = limitedCurve(dice.real(5, 25), dice.chance(0.5) ? 0 : dice.real(0, 1), dice.real(0.05, 1));
        laws.push(curve(dice.whole(1, nodes - 1), 0, shape));
      }
      for (let k = 0; k < nodes; k++) {
        const a = dice.whole(0, nodes - 1);
        const shapes = [diodeCurve(0.65), diodeCurve(0.65, 0.5), zenerCurve(5.1), constantCurrentCurve(0.02, 6)];
        laws.push(curve(a, near(a), shapes[dice.whole(0, 3)]!));
      }
      const net = network(nodes, ...laws);
      const point = solve(net);
      expectConsistent(net, point, 1e-8);
    }
  });

  it('orders a ladder of diodes, each of which decides the next', () => {
    const laws: Law[] = [volts(0, 1, 60)];
    const steps = 60;
    for (let k = 0; k < steps; k++) laws.push(diode(k === 0 ? 0 : k + 1, k + 2), ohms(k + 2, 1, 1000));
    const net = network(steps + 2, ...laws);
    const point = solve(net);
    expectConsistent(net, point);
    expectClose(across(point, steps + 1, 1), 60 - 0.65 * steps);
    const longer: Law[] = [volts(0, 1, 270)];
    for (let k = 0; k < 300; k++) longer.push(diode(k === 0 ? 0 : k + 1, k + 2), ohms(k + 2, 1, 1000));
    expectClose(across(solve(network(302, ...longer)), 301, 1), 270 - 0.65 * 300);
  });
});
