/** Parts that float against each other: held apart by what blocks, tied where bounds meet, and what hangs together at all. */
import { type Law, solve } from '@couplet/engine';
import { describe, expect, test } from 'vitest';
import { compile } from '../../../packages/engine/src/network/compile.ts';
import { islandsOf } from '../../../packages/engine/src/network/shape.ts';
import {
  across,
  amps,
  curve,
  diode,
  expectClose,
  expectConsistent,
  limitedCurve,
  network,
  ohms,
  volts,
  zenerCurve,
} from './support.ts';

/** A source of so many volts with a resistor across it, on nodes n and n + 1. */
const cell = (n: number, emf: number): Law[] => [volts(n, n + 1, emf), ohms(n, n + 1, 100)];

describe('parts that diodes join', () => {
  test('float within what the diodes allow, wherever the search begins', () => {
    const net = network(6, ...cell(0, 12), ...cell(2, 5), ...cell(4, 3), diode(0, 2, 0.65), diode(3, 5, 0.3));
    for (const start of [undefined, Int32Array.of(0, 0, 0, 0, 0, 0, 1, 1), Int32Array.of(0, 0, 0, 0, 0, 0, 0, 1)]) {
      const point = solve(net, start);
      expectConsistent(net, point);
      expect(new Set(point.group).size).toBe(3);
      expect(across(point, 0, 2)).toBeLessThanOrEqual(0.65 + 1e-9);
      expect(across(point, 3, 5)).toBeLessThanOrEqual(0.3 + 1e-9);
      expect([...point.amps.slice(6)]).toEqual([0, 0]);
    }
  });

  test('conduct where no offset satisfies all of them', () => {
    // 12 V through 57 Ω and a diode into 5 V, and back through another: (12 − 5 − 2 × 0.65) V / 57 Ω = 0.1 A.
    const net = network(5, volts(0, 1, 12), ohms(0, 4, 57), diode(4, 2, 0.65), volts(2, 3, 5), diode(3, 1, 0.65));
    const point = solve(net);
    expectConsistent(net, point);
    expectClose(point.amps[1]!, 0.1, 1e-12);
    expect(new Set(point.group).size).toBe(1);
    // The other way round nothing flows, and they float.
    const turned = network(5, volts(0, 1, -12), ohms(0, 4, 57), diode(4, 2, 0.65), volts(2, 3, 5), diode(3, 1, 0.65));
    expect([...solve(turned).amps].map(Math.abs)).toEqual([0, 0, 0, 0, 0]);
    expect(new Set(solve(turned).group).size).toBe(2);
  });

  test('in a ring of three circuits conduct only as far as the volts of the ring ask', () => {
    // 0→2, 3→4, 5→1 with 9 V, 4 V and 2 V: 3 V are left for 3 × 0.5 V and 15 Ω.
    const ring = (emf: number) =>
      network(
        7,
        ...[volts(0, 1, emf), ohms(0, 6, 15), volts(2, 3, 4), volts(4, 5, 2)],
        ...[diode(6, 2, 0.5), diode(3, 4, 0.5), diode(5, 1, 0.5)],
      );
    const driven = solve(ring(9));
    expectConsistent(ring(9), driven);
    expectClose(driven.amps[1]!, (9 - 4 - 2 - 1.5) / 15, 1e-12);
    const still = solve(ring(7));
    expectConsistent(ring(7), still);
    expect(still.amps[1]).toBe(0);
    expect(new Set(still.group).size).toBe(3);
    expect(across(still, 6, 2)).toBeLessThanOrEqual(0.5 + 1e-9);
  });

  test('are tied where their bounds leave a single offset', () => {
    // 0 − 2 is at most 1 V and at least 1 V.
    const two = network(
      6,
      ...cell(0, 12),
      ...cell(2, 5),
      ...cell(4, 3),
      diode(0, 2, 1),
      diode(2, 0, -1),
      diode(0, 4, 1),
    );
    const point = solve(two);
    expectConsistent(two, point);
    expectClose(across(point, 0, 2), 1, 1e-9);
    expect(point.group[0]).toBe(point.group[2]);
    expect(point.group[4]).not.toBe(point.group[0]);
    // Round a ring of three: 0 − 2 ≤ 1, 2 − 4 ≤ 1, 4 − 0 ≤ −2. A fourth hangs on one bound alone.
    const three = network(
      8,
      ...[...cell(0, 12), ...cell(2, 5), ...cell(4, 3), ...cell(6, 9)],
      ...[diode(0, 2, 1), diode(2, 4, 1), diode(4, 0, -2), diode(2, 6, 1)],
    );
    const round = solve(three);
    expectConsistent(three, round);
    expectClose(across(round, 0, 2), 1, 1e-9);
    expectClose(across(round, 2, 4), 1, 1e-9);
    expect(round.group[0]).toBe(round.group[2]);
    expect(round.group[2]).toBe(round.group[4]);
    expect(round.group[6]).not.toBe(round.group[0]);
  });

  test('two pairs that are tied each are not tied to each other', () => {
    const net = network(
      8,
      ...[...cell(0, 12), ...cell(2, 5), ...cell(4, 3), ...cell(6, 9)],
      ...[diode(0, 2, 1), diode(2, 0, -1), diode(4, 6, 2), diode(6, 4, -2), diode(2, 4, 1)],
    );
    const point = solve(net);
    expectConsistent(net, point);
    expect(point.group[0]).toBe(point.group[2]);
    expect(point.group[4]).toBe(point.group[6]);
    expect(point.group[0]).not.toBe(point.group[4]);
    expectClose(across(point, 4, 6), 2, 1e-9);
  });

  test('a zener between them holds them between its two ends', () => {
    const net = network(4, ...cell(0, 12), ...cell(2, 5), curve(0, 2, zenerCurve(5.1)));
    const point = solve(net);
    expect(across(point, 0, 2)).toBeLessThanOrEqual(0.65 + 1e-9);
    expect(across(point, 0, 2)).toBeGreaterThanOrEqual(-5.1 - 1e-9);
    expect(point.group[0]).not.toBe(point.group[2]);
  });
});

describe('a current just at a limit', () => {
  test('leaves the volts of the supply open, on whichever piece it was found', () => {
    // A held current of exactly the limit: the supply may stand anywhere below its volts.
    const net = network(2, curve(0, 1, limitedCurve(12, 0, 2)), amps(0, 1, 2));
    for (const start of [Int32Array.of(0, 0), Int32Array.of(1, 0)]) {
      const point = solve(net, start);
      expect(point.outcome.sort).toBe('solved');
      expect(point.amps[0]).toBe(-2);
      expect(point.group[0]).not.toBe(point.group[1]);
      expect(across(point, 0, 1)).toBeLessThanOrEqual(12 + 1e-9);
    }
  });

  test('is tied by a resistor beside it', () => {
    const net = network(2, curve(0, 1, limitedCurve(12, 0, 2)), ohms(0, 1, 6));
    const point = solve(net);
    expectConsistent(net, point);
    expectClose(across(point, 0, 1), 12, 1e-12);
    expect(point.group[0]).toBe(point.group[1]);
  });
});

describe('what hangs together', () => {
  const islands = (nodes: number, ...laws: Law[]) => {
    const { islands: found, of } = islandsOf(compile(network(nodes, ...laws), undefined));
    return {
      of: [...of],
      nodes: found.map((one) => [...one.nodes]),
      laws: found.map((one) => [...one.laws]),
      curves: found.map((one) => [...one.curves]),
    };
  };

  test('nodes that anything joins which can carry current, with the laws and curves among them', () => {
    const found = islands(
      6,
      ohms(0, 1, 5),
      diode(2, 3),
      ohms(3, 4, Number.POSITIVE_INFINITY),
      volts(4, 1, 3),
      diode(0, 4),
    );
    expect(found.of[0]).toBe(found.of[1]);
    expect(found.of[0]).toBe(found.of[4]);
    expect(found.of[2]).toBe(found.of[3]);
    expect(new Set(found.of).size).toBe(3);
    const at = (node: number) => found.of[node]!;
    expect(found.nodes[at(0)]).toEqual([0, 1, 4]);
    expect(found.nodes[at(5)]).toEqual([5]);
    expect(found.curves[at(0)]).toEqual([4]);
    expect(found.curves[at(2)]).toEqual([1]);
    expect(found.curves[at(5)]).toEqual([]);
    // An open resistor belongs to one of those it lies between.
    expect(found.laws[at(0)]).toEqual([0, 3, 4]);
    expect([...found.laws[at(2)]!, ...found.laws[at(5)]!].sort()).toEqual([1, 2]);
  });

  test('is told anew for every shape, however alike', () => {
    for (let turn = 0; turn < 2; turn++) {
      expect(islands(3, ohms(0, 1, 5), ohms(1, 2, 5)).of).toEqual([0, 0, 0]);
      expect(new Set(islands(3, ohms(0, 1, 5), ohms(1, 2, Number.POSITIVE_INFINITY)).of).size).toBe(2);
      expect(new Set(islands(3, ohms(0, 1, 5), ohms(1, 1, 5)).of).size).toBe(2);
      expect(new Set(islands(3, ohms(0, 1, 5), ohms(1, 0, 5)).of).size).toBe(2);
      expect(new Set(islands(4, ohms(0, 1, 5), ohms(1, 2, 5)).of).size).toBe(2);
      expect(islands(3, ohms(0, 1, 5), diode(1, 2)).curves).toEqual([[1]]);
      expect(islands(3, diode(0, 1), ohms(1, 2, 5)).curves).toEqual([[0]]);
      expect(islands(2, ohms(0, 1, 5)).laws).toEqual([[0]]);
    }
    expect(islands(0)).toEqual({ of: [], nodes: [], laws: [], curves: [] });
  });

  test('the same in networks too large to be remembered', () => {
    const laws: Law[] = [];
    for (let k = 0; k < 100; k++) laws.push(k % 10 === 0 ? diode(2 * k, 2 * k + 1) : ohms(2 * k, 2 * k + 1, 5));
    const found = islands(200, ...laws);
    expect(found.nodes).toHaveLength(100);
    for (let k = 0; k < 100; k++) {
      const at = found.of[2 * k]!;
      expect(found.of[2 * k + 1]).toBe(at);
      expect([found.laws[at], found.curves[at]]).toEqual([[k], k % 10 === 0 ? [k] : []]);
    }
  });
});
