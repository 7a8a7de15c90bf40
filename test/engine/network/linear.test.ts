import { solve } from '@couplet/engine';
import { describe, expect, it } from 'vitest';
import { across, amps, expectClose, expectConsistent, network, ohms, volts, wire } from './support.ts';

describe('linear networks', () => {
  it('divides volts', () => {
    const net = network(3, volts(0, 1, 12), ohms(0, 2, 1000), ohms(2, 1, 3000));
    const point = solve(net);
    expectConsistent(net, point);
    expectClose(across(point, 2, 1), 9);
    expectClose(point.amps[0]!, -0.003);
    expect([...point.pieces]).toEqual([0, 0, 0]);
    expect(new Set(point.group).size).toBe(1);
    expect(point.live).toEqual([true]);
  });

  it('gives the current of wires and merged joins by Kirchhoff', () => {
    const net = network(
      6,
      volts(0, 5, 10),
      wire(0, 1),
      wire(1, 2),
      wire(1, 3),
      ohms(2, 4, 10),
      ohms(3, 4, 20),
      wire(4, 5),
    );
    const point = solve(net);
    expectConsistent(net, point);
    expectClose(point.amps[1]!, 1.5);
    expectClose(point.amps[2]!, 1);
    expectClose(point.amps[3]!, 0.5);
    expectClose(point.amps[6]!, 1.5);
    expect(point.undefinedAmps.size).toBe(0);
  });

  it('names the joins of a loop without ohms', () => {
    const net = network(5, volts(0, 4, 10), wire(0, 1), wire(1, 2), wire(0, 2), wire(2, 3), ohms(3, 4, 5));
    const point = solve(net);
    expectConsistent(net, point);
    expect([...point.undefinedAmps].sort()).toEqual([1, 2, 3]);
    expectClose(point.amps[4]!, 2);
  });

  it('keeps currents closed through contacts far below the other ohms', () => {
    const net = network(4, volts(0, 3, 5), ohms(0, 1, 0.1), ohms(1, 2, 1e7), ohms(2, 3, 1e-12));
    const point = solve(net);
    expectConsistent(net, point);
    for (const k of [1, 2, 3]) expectClose(point.amps[k]!, 5 / (1e7 + 0.1), 1e-12);
  });

  it('treats parts that only a current joins as groups of their own', () => {
    const net = network(4, volts(0, 1, 5), ohms(0, 1, 10), ohms(2, 3, 10), amps(0, 2, 0));
    const point = solve(net);
    expectConsistent(net, point);
    expect(point.group[0]).toBe(point.group[1]);
    expect(point.group[2]).toBe(point.group[3]);
    expect(point.group[0]).not.toBe(point.group[2]);
    expect(point.live[point.group[0]!]).toBe(true);
    expect(point.live[point.group[2]!]).toBe(false);
  });

  it('solves chains and stars of many thousand nodes', () => {
    const laws = [volts(0, 1, 24)];
    const loads = 20_000;
    for (let k = 0; k < loads; k++)
      laws.push(ohms(0, 2 + 2 * k, 10), ohms(2 + 2 * k, 3 + 2 * k, 1000), ohms(3 + 2 * k, 1, 10));
    const net = network(2 + 2 * loads, ...laws);
    const point = solve(net);
    expect(point.residual).toBe(0);
    expectClose(point.amps[0]!, (-loads * 24) / 1020, 1e-11);

    const ladder = [volts(0, 1, 24)];
    for (let k = 0; k < loads; k++) ladder.push(ohms(k === 0 ? 0 : k + 1, k + 2, 0.5), ohms(k + 2, 1, 1000));
    const long = solve(network(2 + loads, ...ladder));
    expect(long.residual).toBe(0);
    // The characteristic resistance of an endless ladder: r/2 + sqrt(r²/4 + r·R).
    expectClose(-24 / long.amps[0]!, 0.25 + Math.sqrt(0.0625 + 500), 1e-9);
  });
});
