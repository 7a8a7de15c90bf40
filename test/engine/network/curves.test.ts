import { solve } from '@couplet/engine';
import { describe, expect, it } from 'vitest';
import {
  across,
  constantCurrentCurve,
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

describe('piecewise-linear laws', () => {
  it('conducts through a diode with its drop', () => {
    const net = network(3, volts(0, 2, 12), ohms(0, 1, 1000), diode(1, 2));
    const point = solve(net);
    expectConsistent(net, point);
    expectClose(across(point, 1, 2), 0.65);
    expectClose(point.amps[2]!, 0.01135);
  });

  it('blocks a reversed diode, and leaves what hangs behind two of them without connection', () => {
    const net = network(4, volts(0, 1, 12), diode(1, 2), ohms(2, 3, 100), diode(3, 0));
    const point = solve(net);
    expectConsistent(net, point);
    expect([...point.amps.slice(1)]).toEqual([0, 0, 0]);
    expect(point.group[2]).toBe(point.group[3]);
    expect(point.group[2]).not.toBe(point.group[0]);
    expect(point.live[point.group[2]!]).toBe(false);
  });

  it('puts two blocking diodes in series into conduction when nothing else is feasible', () => {
    const net = network(4, volts(0, 1, 12), diode(0, 2), diode(2, 3), ohms(3, 1, 1000));
    const point = solve(net);
    expectConsistent(net, point);
    expectClose(point.amps[3]!, 0.0107);
  });

  it('limits a source', () => {
    const net = network(2, curve(0, 1, limitedCurve(12, 0, 1)), ohms(0, 1, 5));
    const point = solve(net);
    expectConsistent(net, point);
    expectClose(across(point, 0, 1), 5);
    expect(point.pieces[0]).toBe(0);
    expectClose(solve(network(2, curve(0, 1, limitedCurve(12, 0, 1)), ohms(0, 1, 50))).amps[1]!, 0.24);
  });

  it('lets the higher of two limited sources give its limit, the lower one take the rest', () => {
    const net = network(2, curve(0, 1, limitedCurve(12, 0, 1)), curve(0, 1, limitedCurve(13, 0, 1)), ohms(0, 1, 6));
    const point = solve(net);
    expectConsistent(net, point);
    expectClose(across(point, 0, 1), 12);
    expectClose(point.amps[1]!, -1);
    expectClose(point.amps[0]!, -1);
  });

  it('shares between equal limited sources and says that the split is open', () => {
    const net = network(2, curve(0, 1, limitedCurve(12, 0, 1)), curve(0, 1, limitedCurve(12, 0, 1)), ohms(0, 1, 8));
    const point = solve(net);
    expectConsistent(net, point);
    expectClose(across(point, 0, 1), 12);
    expect([...point.undefinedAmps].sort()).toEqual([0, 1]);
  });

  it('clamps with a zener either way', () => {
    const net = (emf: number) => network(3, volts(0, 2, emf), ohms(0, 1, 1000), curve(1, 2, zenerCurve(12.6)));
    for (const [emf, wanted] of [
      [-45, -12.6],
      [5, 0.65],
      [-5, -5],
    ] as const) {
      const point = solve(net(emf));
      expectConsistent(net(emf), point);
      expectClose(across(point, 1, 2), wanted);
    }
  });

  it('draws constant current above its range, as a resistance below', () => {
    const net = (emf: number) =>
      network(3, volts(0, 2, emf), ohms(0, 1, 10), curve(1, 2, constantCurrentCurve(0.3, 9)));
    expectClose(solve(net(15)).amps[2]!, 0.3);
    expectClose(across(solve(net(15)), 1, 2), 12);
    expectClose(solve(net(8)).amps[2]!, 8 / 40);
  });

  it('starts from the pieces of a neighbouring solve', () => {
    const net = network(4, volts(0, 1, 12), diode(0, 2), diode(2, 3), ohms(3, 1, 1000));
    const first = solve(net);
    const again = solve(net, first.pieces);
    expect(again.solves).toBe(1);
    expect(again.volts).toEqual(first.volts);
  });
});
