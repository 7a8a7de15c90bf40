/**
 * What is tried where the flips do not end, each called by itself on small islands: going down along the co-content,
 * Lemke's method, and the proof that there is no operating point at all.
 */
import { type Law, type Network, solve } from '@couplet/engine';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { compile } from '../../../packages/engine/src/network/compile.ts';
import { descend } from '../../../packages/engine/src/network/descend.ts';
import { contradictionIn } from '../../../packages/engine/src/network/feasible.ts';
import { walkToSolution } from '../../../packages/engine/src/network/lemke.ts';
import { holds, type Island } from '../../../packages/engine/src/network/settle.ts';
import { samples } from '../../support/samples.ts';
import { diceFrom } from '../outside/random-networks.ts';
import { anyNetwork } from './generators.ts';
import {
  across,
  amps,
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
  wire,
  zenerCurve,
} from './support.ts';

function islandOf(net: Network): Island {
  const laws = Int32Array.from(net.laws, (_, k) => k);
  return {
    nodes: Int32Array.from({ length: net.nodes }, (_, n) => n),
    laws,
    curves: [...laws].filter((k) => net.laws[k]!.sort === 'curve'),
  };
}

/** A chain of resistors with sources to node 0 and curves between neighbours that all disturb each other. */
function entangled(seed: number, nodes: number): Network {
  const dice = diceFrom(seed);
  const laws: Law[] = [];
  const near = (n: number): number => Math.min(nodes - 1, Math.max(0, n + dice.whole(-4, 4)));
  for (let n = 1; n < nodes; n++) laws.push(ohms(n, dice.whole(Math.max(0, n - 4), n - 1), dice.decades(1, 1e4)));
  for (let k = 0; k < nodes / 4; k++) {
    const shape = limitedCurve(dice.real(5, 25), dice.chance(0.5) ? 0 : dice.real(0, 1), dice.real(0.05, 1));
    laws.push(curve(dice.whole(1, nodes - 1), 0, shape));
  }
  for (let k = 0; k < nodes; k++) {
    const a = dice.whole(0, nodes - 1);
    const shapes = [diodeCurve(0.65), diodeCurve(0.65, 0.5), zenerCurve(5.1), constantCurrentCurve(0.02, 6)];
    laws.push(curve(a, near(a), shapes[dice.whole(0, 3)]!));
  }
  laws.push(amps(dice.whole(1, nodes - 1), 0, dice.real(-0.1, 0.1)));
  return network(nodes, ...laws);
}

describe('going down', () => {
  test('ends in the point that the solver finds, in few steps, wherever it begins', () => {
    for (let seed = 1; seed <= 12; seed++) {
      const net = entangled(seed, 24);
      const point = solve(net);
      expectConsistent(net, point, 1e-8);
      const c = compile(net, undefined);
      const tally = { solves: 0 };
      expect(descend(c, islandOf(net), tally).sort, `seed ${seed}`).toBe('settled');
      expect(tally.solves, `seed ${seed}`).toBeGreaterThan(1);
      expect(tally.solves, `seed ${seed}`).toBeLessThan(60);
      const scale = Math.max(...point.volts.map((v) => Math.abs(v - point.volts[0]!)));
      for (let n = 0; n < net.nodes; n++) {
        expectClose(c.linear.volts[n]! - c.linear.volts[0]!, across(point, n, 0), 1e-7, scale);
      }
    }
  });

  test('holds ideal sources at their volts, and curves on every sort of piece', () => {
    // 24 V over 100 Ω and a zener of 5.1 V beside 1 kΩ: 18.9 V over 100 Ω is 189 mA, 5.1 mA of it in the resistor.
    const net = network(3, volts(0, 1, 24), ohms(0, 2, 100), curve(1, 2, zenerCurve(5.1)), ohms(2, 1, 1000));
    const c = compile(net, undefined);
    expect(descend(c, islandOf(net), { solves: 0 }).sort).toBe('settled');
    expectClose(c.linear.volts[2]! - c.linear.volts[1]!, 5.1, 1e-9);
    expectClose(c.linear.amps[1]!, 0.189, 1e-9);
    expectClose(c.linear.amps[2]!, -0.1839, 1e-9);
  });
});

describe("Lemke's method", () => {
  test('ends in the point that the solver finds, from either end', () => {
    for (let seed = 21; seed <= 26; seed++) {
      const net = entangled(seed, 8);
      const point = solve(net);
      const scale = Math.max(...point.volts.map((v) => Math.abs(v - point.volts[0]!)));
      for (const backwards of [false, true]) {
        const c = compile(net, undefined);
        const island = islandOf(net);
        expect(walkToSolution(c, island, 1e3, backwards), `seed ${seed}`).toBe(true);
        expect(holds(c, island, { solves: 0 }, 1e-8).sort, `seed ${seed}`).toBe('settled');
        for (let n = 0; n < net.nodes; n++) {
          expectClose(c.linear.volts[n]! - c.linear.volts[0]!, across(point, n, 0), 1e-6, scale);
        }
      }
    }
  });
});

describe('no operating point', () => {
  const laws = (net: Network): number[] | undefined => contradictionIn(compile(net, undefined), islandOf(net));

  test.each<[string, Network, readonly number[] | undefined]>([
    ['one source', network(2, volts(0, 1, 12), ohms(0, 1, 100)), undefined],
    ['sources of one voltage in parallel', network(2, volts(0, 1, 12), volts(0, 1, 12)), undefined],
    ['sources of different volts in parallel', network(2, volts(0, 1, 12), volts(0, 1, 5)), [0, 1]],
    ['a shorted source: the wire is not named', network(2, volts(0, 1, 12), wire(0, 1)), [0]],
    ['three that add up', network(3, volts(0, 1, 12), volts(1, 2, -5), volts(0, 2, 7)), undefined],
    ['three that do not', network(3, volts(0, 1, 12), volts(1, 2, -5), volts(0, 2, 8)), [0, 1, 2]],
    ['a diode that gives way to a source', network(2, volts(0, 1, -12), diode(0, 1, 0.65)), undefined],
    ['a diode across a source that it shorts', network(2, volts(0, 1, 12), diode(0, 1, 0.65)), [0, 1]],
    ['the same with ohms of its own', network(2, volts(0, 1, 12), diode(0, 1, 0.65, 1)), undefined],
    ['a held current with a way', network(2, amps(0, 1, 1), ohms(0, 1, 10)), undefined],
    ['a held current without one', network(3, amps(0, 1, 1), ohms(1, 2, 10)), [0]],
    ['two in series that agree', network(3, amps(0, 1, 1), amps(1, 2, 1), ohms(2, 0, 1)), undefined],
    ['two in series that do not', network(3, amps(0, 1, 1), amps(1, 2, 2), ohms(2, 0, 1)), [0, 1]],
    [
      'a limited supply that gives what is asked',
      network(2, curve(0, 1, limitedCurve(12, 0, 2)), amps(0, 1, 1)),
      undefined,
    ],
    ['and one that cannot', network(2, curve(0, 1, limitedCurve(12, 0, 2)), amps(0, 1, 3)), [0, 1]],
    ['a current against a diode', network(2, amps(0, 1, 1), diode(0, 1)), [0, 1]],
    ['a current through a diode', network(2, amps(1, 0, 1), diode(0, 1)), undefined],
    ['nothing that is held', network(3, ohms(0, 1, 1), ohms(1, 2, 1)), undefined],
    ['no current that is held', network(3, amps(0, 1, 0), amps(1, 2, 0)), undefined],
  ])('%s', (_, net, wanted) => {
    expect(laws(net)).toEqual(wanted);
    // The solver says the same, whatever way it takes.
    expect(solve(net).outcome.sort === 'contradictory').toBe(wanted !== undefined);
  });

  test('only what lies on the loop or around the part is named, far from the rest', () => {
    const rest = [ohms(1, 2, 10), ohms(2, 3, 10), volts(3, 4, 5), ohms(4, 0, 10), amps(2, 4, 0.5)];
    expect(laws(network(6, ...rest, volts(0, 5, 3), volts(5, 0, 3)))).toEqual([5, 6]);
    expect(laws(network(6, ...rest, amps(0, 5, 1), amps(0, 5, 1), amps(5, 0, 3)))).toEqual([5, 6, 7]);
    expect(laws(network(6, ...rest, amps(0, 5, 1), amps(0, 5, 1), amps(5, 0, 2)))).toBeUndefined();
  });

  test('is proven just where the solver finds none, in any network', () => {
    fc.assert(
      fc.property(anyNetwork, (net) => {
        const point = solve(net);
        const known = point.outcome.sort;
        if (known === 'bound-reached') return;
        expect(laws(net) !== undefined).toBe(known === 'contradictory');
      }),
      { numRuns: samples(600), seed: 7 },
    );
  });
});
