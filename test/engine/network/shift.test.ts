import { type Law, type Network, solve } from '@couplet/engine';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { samples } from '../../support/samples.ts';
import { anyNetwork, resistiveNetwork } from './generators.ts';
import {
  across,
  curve,
  diode,
  diodeCurve,
  expectClose,
  limitedCurve,
  network,
  ohms,
  power,
  volts,
  wire,
} from './support.ts';

/** The law with its value (or the points of its curve) changed a little. */
function nudged(law: Law, by: number): Law {
  switch (law.sort) {
    case 'ohms':
      return { ...law, ohms: law.ohms * (1 + by) };
    case 'volts':
      return { ...law, volts: law.volts + by };
    case 'amps':
      return { ...law, amps: law.amps + by * 1e-3 };
    case 'power':
      return { ...law, watts: law.watts * (1 + by) };
    case 'curve':
      return {
        ...law,
        curve: { ...law.curve, points: law.curve.points.map(([v, i]) => [v + by, i + by * 1e-3] as const) },
      };
  }
}

/** `shift` against a solve of either side, for every law in turn. Counts those whose pieces stayed. */
function compare(net: Network, step: number, relative: number): number {
  const point = solve(net);
  if (point.outcome.sort !== 'solved' || point.undefinedAmps.size > 0) return 0;
  let compared = 0;
  net.laws.forEach((law, k) => {
    const changed = (by: number): Law[] => net.laws.map((l, m) => (m === k ? nudged(law, by) : l));
    const [above, below] = [
      solve({ ...net, laws: changed(step) }, point.pieces),
      solve({ ...net, laws: changed(-step) }, point.pieces),
    ];
    const kept = [above, below].every(
      (p) =>
        p.outcome.sort === 'solved' &&
        p.pieces.every((piece, m) => piece === point.pieces[m]) &&
        p.group.every((g, n) => g === point.group[n]),
    );
    if (!kept) return;
    const shift = point.shift(changed(step));
    const vScale = Math.max(...point.volts.map(Math.abs)) * step;
    // Amperes below 1e-15 A are none.
    const iScale = Math.max(Math.max(...point.amps.map(Math.abs)) * step, 1e-15 / relative);
    for (let n = 1; n < net.nodes; n++) {
      if (point.group[n] !== point.group[0]) continue;
      expectClose(shift.volts[n]! - shift.volts[0]!, (across(above, n, 0) - across(below, n, 0)) / 2, relative, vScale);
    }
    net.laws.forEach((_, m) => {
      expectClose(shift.amps[m]!, (above.amps[m]! - below.amps[m]!) / 2, relative, iScale);
    });
    compared++;
  });
  return compared;
}

describe('shift', () => {
  it('is the change that a small step makes, for every law of resistive networks', () => {
    fc.assert(
      fc.property(resistiveNetwork, (net) => {
        expect(compare(net, 1e-4, 1e-4)).toBe(net.laws.length);
      }),
      { numRuns: samples(150), seed: 5 },
    );
  });

  it('is the change that a small step makes where no curve leaves its piece', () => {
    let compared = 0;
    fc.assert(
      fc.property(anyNetwork, (net) => {
        compared += compare(net, 1e-5, 1e-3);
      }),
      { numRuns: samples(600), seed: 6 },
    );
    expect(compared).toBeGreaterThan(samples(300));
  });

  it('follows constant watts inside, below and above their range', () => {
    for (const [emf, least, most] of [
      [24, 9, 30],
      [24, 22, 30],
      [24, 9, 15],
    ] as const) {
      const net = network(
        4,
        volts(0, 3, emf),
        ohms(0, 1, 2),
        power(1, 3, 30, least, most),
        ohms(1, 2, 1),
        diode(2, 3, 0.65, 50),
      );
      expect(compare(net, 1e-5, 1e-4)).toBe(net.laws.length);
    }
  });

  it('turns a join into a small resistance', () => {
    const net = network(4, volts(0, 3, 12), wire(0, 1), ohms(1, 2, 10), wire(2, 3));
    const point = solve(net);
    const { volts: v, amps: i } = point.shift(net.laws.map((law, k) => (k === 1 ? ohms(0, 1, 1e-3) : law)));
    expectClose(v[0]! - v[1]!, 1.2e-3);
    expectClose(i[2]!, -1.2 * 1e-4);
  });

  it('takes a changed slope and a changed limit', () => {
    const net = network(3, curve(0, 2, limitedCurve(12, 0.5, 5)), ohms(0, 1, 10), curve(1, 2, diodeCurve(0.65, 1)));
    const point = solve(net);
    const wider = net.laws.map((law, k) => (k === 2 ? curve(1, 2, diodeCurve(0.65, 1.001)) : law));
    const i = point.amps[1]!;
    expectClose(point.shift(wider).amps[1]!, (-0.001 * i) / 11.5, 1e-3);
    const limited = network(2, curve(0, 1, limitedCurve(12, 0.5, 1)), ohms(0, 1, 2));
    const shifted = solve(limited).shift([curve(0, 1, limitedCurve(12, 0.5, 1.01)), limited.laws[1]!]);
    expectClose(shifted.amps[1]!, 0.01, 1e-9);
  });

  it('asks nothing of laws that are the same, and survives a network that is not solved', () => {
    const net = network(3, volts(0, 2, 12), ohms(0, 1, 5), ohms(1, 2, 5));
    const still = solve(net).shift(net.laws);
    expect([...still.volts, ...still.amps].every((x) => x === 0)).toBe(true);
    const broken = solve(network(2, volts(0, 1, 12), volts(0, 1, 13), ohms(0, 1, 1)));
    const none = broken.shift([volts(0, 1, 12.1), volts(0, 1, 13), ohms(0, 1, 1)]);
    for (const x of [...none.volts, ...none.amps]) expect(Number.isFinite(x)).toBe(true);
  });

  it('gives the slope of a re-solve in a large network', () => {
    const laws: Law[] = [volts(0, 1, 24)];
    for (let k = 0; k < 5000; k++) laws.push(ohms(k === 0 ? 0 : k + 1, k + 2, 0.1), ohms(k + 2, 1, 1e5));
    const net = network(5002, ...laws);
    const point = solve(net);
    const change = [...laws];
    change[2 * 4000 + 1] = ohms(4001, 4002, 0.2);
    const shift = point.shift(change);
    const again = solve(network(5002, ...laws.map((law, k) => (k === 8001 ? ohms(4001, 4002, 0.1001) : law))));
    expectClose(shift.volts[5001]! - shift.volts[1]!, 1000 * (across(again, 5001, 1) - across(point, 5001, 1)), 1e-2);
  });
});
