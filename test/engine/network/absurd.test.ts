import type { Law } from '@couplet/engine';
import { solve } from '@couplet/engine';
import { describe, expect, it } from 'vitest';
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
  power,
  volts,
  wire,
} from './support.ts';

const contradiction = (nodes: number, ...laws: Law[]): readonly number[] => {
  const point = solve(network(nodes, ...laws));
  expect(point.outcome.sort).toBe('contradictory');
  for (const x of [...point.volts, ...point.amps]) expect(Number.isFinite(x)).toBe(true);
  return point.outcome.sort === 'contradictory' ? point.outcome.laws : [];
};

describe('contradictory laws', () => {
  it('names sources of different volts in parallel', () => {
    expect(contradiction(2, volts(0, 1, 12), ohms(0, 1, 100), volts(0, 1, 24))).toEqual([0, 2]);
    expect(contradiction(4, volts(0, 1, 12), wire(0, 2), volts(2, 3, 13), wire(3, 1), ohms(0, 3, 5))).toEqual([0, 2]);
  });

  it('names a shorted ideal source', () => {
    expect(contradiction(2, volts(0, 1, 12), wire(0, 1))).toEqual([0]);
    expect(contradiction(1, volts(0, 0, 12))).toEqual([0]);
  });

  it('names different currents in series', () => {
    expect(contradiction(3, amps(0, 1, 1), amps(1, 2, 2), ohms(2, 0, 5))).toEqual([0, 1]);
    expect(contradiction(2, amps(0, 1, 1))).toEqual([0]);
  });

  it('names a current forced against a diode, and a source across one', () => {
    expect(contradiction(3, ohms(0, 1, 5), diode(1, 2), amps(0, 2, 1))).toEqual([1, 2]);
    expect(contradiction(2, volts(0, 1, 12), diode(0, 1))).toEqual([0, 1]);
    expect(contradiction(3, volts(0, 2, 12), diode(0, 1), diode(1, 2))).toEqual([0, 1, 2]);
  });

  it('finds the conflict behind parts that float', () => {
    const laws = [amps(0, 1, 1), ohms(1, 2, 5), diode(3, 2), diode(4, 3), ohms(4, 0, 5)];
    expect(contradiction(5, ...laws)).toEqual(expect.arrayContaining([0]));
  });

  it('takes equal ones', () => {
    const twice = network(2, volts(0, 1, 12), volts(0, 1, 12), ohms(0, 1, 6));
    const point = solve(twice);
    expectConsistent(twice, point);
    expect([...point.undefinedAmps].sort()).toEqual([0, 1]);
    expectClose(point.amps[0]! + point.amps[1]!, -2);
    const series = network(3, amps(0, 1, 0.1), amps(1, 2, 0.1), ohms(2, 0, 5));
    expectConsistent(series, solve(series));
    const thirds = network(4, amps(0, 1, 0.1), amps(0, 1, 0.2), amps(1, 2, 0.3), ohms(2, 3, 5), wire(3, 0));
    expectConsistent(thirds, solve(thirds));
  });
});

describe('absurd values', () => {
  it('solves ohms from 1e-12 to 1e12', () => {
    for (const values of [
      [1e-12, 1e12],
      [1e12, 1e-12, 1e12],
      [1e-12, 1e-12, 1e-12],
      [1e12, 1e12],
      [1e-12, 1, 1e12, 1e-6],
    ]) {
      const last = values.length;
      const net = network(last + 1, volts(0, last, 12), ...values.map((r, k) => ohms(k, k + 1, r)));
      const point = solve(net);
      expectConsistent(net, point);
      const total = values.reduce((sum, r) => sum + r, 0);
      for (let k = 1; k <= last; k++) expectClose(point.amps[k]!, 12 / total, 1e-12);
    }
  });

  it('divides currents among parallel ones however far apart', () => {
    const values = [1e-12, 1e-6, 1, 1e6, 1e12];
    const net = network(3, amps(2, 0, 1), ...values.map((r) => ohms(0, 1, r)), ohms(1, 2, 3));
    const point = solve(net);
    expectConsistent(net, point);
    const sum = values.reduce((s, r) => s + 1 / r, 0);
    values.forEach((r, k) => {
      expectClose(point.amps[1 + k]!, 1 / r / sum, 1e-9);
    });
  });

  it('keeps a bridge of tiny and huge ohms right', () => {
    const net = network(
      4,
      volts(0, 3, 10),
      ohms(0, 1, 1e-12),
      ohms(1, 2, 1e12),
      ohms(0, 2, 1e12),
      ohms(1, 3, 1e12),
      ohms(2, 3, 1e-12),
    );
    const point = solve(net);
    expectConsistent(net, point);
    expectClose(point.amps[0]!, -3e-11, 1e-9);
  });

  it('takes sources of 0 V and 0 A', () => {
    const net = network(3, volts(0, 1, 0), ohms(1, 2, 5), volts(2, 0, 0), amps(0, 2, 0));
    const point = solve(net);
    expectConsistent(net, point);
    expect([...point.amps].every((i) => i === 0)).toBe(true);
    const loop = network(2, volts(0, 1, 0), volts(1, 0, 0), wire(0, 1));
    expectConsistent(loop, solve(loop));
    expect(solve(loop).undefinedAmps.size).toBe(3);
  });

  it('takes a network with nothing in it', () => {
    for (const nodes of [0, 1, 5]) {
      const point = solve(network(nodes));
      expect(point.outcome.sort).toBe('solved');
      expect(point.volts.length).toBe(nodes);
      expect(new Set(point.group).size).toBe(nodes);
      expect(point.live.length).toBe(nodes);
      expect(point.live.some(Boolean)).toBe(false);
    }
  });

  it('takes laws from a node to itself', () => {
    const net = network(
      2,
      ohms(0, 0, 5),
      amps(0, 0, 1),
      wire(1, 1),
      diode(0, 0),
      volts(0, 1, 5),
      ohms(0, 1, 5),
      volts(1, 1, 0),
    );
    const point = solve(net);
    expectConsistent(net, point);
    expect([...point.undefinedAmps].sort()).toEqual([2, 6]);
    expectClose(point.amps[5]!, 1);
  });

  it('lets infinite ohms be no connection', () => {
    const net = network(3, volts(0, 1, 5), ohms(0, 2, Number.POSITIVE_INFINITY), ohms(0, 1, 5));
    const point = solve(net);
    expect(point.outcome.sort).toBe('solved');
    expect(point.amps[1]).toBe(0);
    expect(point.group[2]).not.toBe(point.group[0]);
    expect(point.live[point.group[2]!]).toBe(false);
  });

  it('refuses what is no number, names it, and solves the rest', () => {
    const nonsense: Law[] = [
      ohms(0, 1, Number.NaN),
      ohms(0, 1, -5),
      volts(0, 1, Number.NaN),
      volts(0, 1, Number.POSITIVE_INFINITY),
      amps(0, 1, Number.NEGATIVE_INFINITY),
      ohms(0, 7, 5),
      ohms(-1, 0, 5),
      ohms(0.5, 1, 5),
      power(0, 1, -5),
      power(0, 1, 5, 9, 3),
      power(0, 1, Number.NaN),
      curve(0, 1, { points: [], before: [1, 0], after: [1, 0] }),
      curve(0, 1, {
        points: [
          [0, 0],
          [1, -1],
        ],
        before: [1, 0],
        after: [1, 0],
      }),
      curve(0, 1, { points: [[0, 0]], before: [0, 0], after: [1, 0] }),
      curve(0, 1, { points: [[0, Number.NaN]], before: [1, 0], after: [1, 0] }),
      curve(0, 1, { points: [[0, 0]], before: [-1, 0], after: [1, 0] }),
    ];
    for (const law of nonsense) {
      const point = solve(network(4, volts(2, 3, 6), ohms(2, 3, 3), law));
      expect(point.outcome).toEqual({ sort: 'bound-reached', laws: [2] });
      expectClose(point.amps[1]!, 2);
      expectClose(across(point, 2, 3), 6);
      for (const x of [...point.volts, ...point.amps, point.residual]) expect(Number.isFinite(x)).toBe(true);
    }
  });

  it('takes start pieces that make no sense', () => {
    const net = network(3, volts(0, 2, 12), ohms(0, 1, 1000), diode(1, 2));
    for (const start of [
      new Int32Array(0),
      Int32Array.of(0, 0, 99),
      Int32Array.of(-5, 7, -1),
      Int32Array.of(9, 9, 1),
    ]) {
      expectConsistent(net, solve(net, start));
    }
  });

  it('shorts a limited source', () => {
    const net = network(2, curve(0, 1, limitedCurve(12, 0, 1)), wire(0, 1));
    const point = solve(net);
    expectConsistent(net, point);
    expectClose(point.amps[1]!, 1);
  });

  it('forgets the failure of one island in the other', () => {
    const point = solve(network(4, volts(0, 1, 12), wire(0, 1), volts(2, 3, 6), ohms(2, 3, 3)));
    expect(point.outcome).toEqual({ sort: 'contradictory', laws: [0] });
    expectClose(point.amps[3]!, 2);
    expect(point.group[0]).not.toBe(point.group[1]);
    expect(point.live[point.group[0]!]).toBe(false);
    expect(point.live[point.group[2]!]).toBe(true);
  });
});
