import { deliverableWatts, type Law, solve } from '@couplet/engine';
import { describe, expect, it } from 'vitest';
import { samples } from '../../support/samples.ts';
import { diceFrom, powerNetwork } from '../outside/random-networks.ts';
import {
  across,
  curve,
  diode,
  expectClose,
  expectConsistent,
  limitedCurve,
  network,
  ohms,
  power,
  volts,
} from './support.ts';

describe('constant power', () => {
  it('takes its watts at the higher of the two volts that give them', () => {
    const net = network(3, volts(0, 2, 12), ohms(0, 1, 2), power(1, 2, 10));
    const point = solve(net);
    expectConsistent(net, point, 1e-11);
    expectClose(across(point, 1, 2), 6 + Math.sqrt(36 - 20), 1e-12);
    expect(point.pieces[2]).toBe(1);
  });

  it('is found next to the most that can be delivered', () => {
    for (const share of [0.9, 0.999, 0.999999]) {
      const watts = 18 * share;
      const net = network(3, volts(0, 2, 12), ohms(0, 1, 2), power(1, 2, watts));
      const point = solve(net);
      expectConsistent(net, point, 1e-9);
      expectClose(across(point, 1, 2), 6 + Math.sqrt(36 - 2 * watts), 1e-8);
    }
  });

  it('falls through the lower end of its range, where it is a resistance', () => {
    const net = network(3, volts(0, 2, 12), ohms(0, 1, 2), power(1, 2, 20, 9, 16));
    const point = solve(net);
    expectConsistent(net, point, 1e-11);
    expect(point.pieces[2]).toBe(0);
    const own = 81 / 20;
    expectClose(across(point, 1, 2), (12 * own) / (own + 2), 1e-12);
  });

  it('is a resistance above its range', () => {
    const net = network(3, volts(0, 2, 24), ohms(0, 1, 2), power(1, 2, 10, 9, 16));
    const point = solve(net);
    expectConsistent(net, point, 1e-11);
    expect(point.pieces[2]).toBe(2);
    const own = 256 / 10;
    expectClose(across(point, 1, 2), (24 * own) / (own + 2), 1e-12);
  });

  it('says what can be delivered where it asks for more', () => {
    for (const share of [1.000001, 1.01, 2, 100]) {
      const { outcome } = solve(network(3, volts(0, 2, 12), ohms(0, 1, 2), power(1, 2, 18 * share)));
      expect(outcome.sort).toBe('no-solution');
      if (outcome.sort !== 'no-solution') return;
      expect(outcome.laws).toEqual([2]);
      expectClose(outcome.deliverable!, 18, 1e-8);
    }
  });

  it('reaches the limit of a source, and no further', () => {
    const net = (watts: number) => network(2, curve(0, 1, limitedCurve(12, 0.1, 1)), power(0, 1, watts));
    const within = solve(net(11.8));
    expectConsistent(net(11.8), within, 1e-10);
    const { outcome } = solve(net(12.1));
    expect(outcome.sort).toBe('no-solution');
    if (outcome.sort === 'no-solution') expectClose(outcome.deliverable!, 11.9, 1e-8);
  });

  it('works behind a diode, which blocks without load', () => {
    const net = network(3, volts(0, 2, 12), diode(0, 1), power(1, 2, 6));
    const point = solve(net);
    expectConsistent(net, point, 1e-11);
    expectClose(across(point, 1, 2), 11.35);
    expectClose(point.amps[2]!, 6 / 11.35);
  });

  it('finds the battery that takes over', () => {
    const laws = [curve(0, 3, limitedCurve(12, 0.1, 0.5)), diode(0, 1), volts(2, 3, 9), ohms(2, 4, 0.5), diode(4, 1)];
    const net = network(5, ...laws, power(1, 3, 12));
    const point = solve(net);
    expectConsistent(net, point, 1e-10);
    expect(across(point, 1, 3)).toBeGreaterThan(7);
    expect(point.amps[4]!).toBeGreaterThan(0.5);
  });

  it('shares a supply with others of its sort', () => {
    const laws = [volts(0, 1, 24), ohms(0, 2, 1)];
    for (let k = 0; k < 12; k++) laws.push(ohms(2 + k, 3 + k, 0.4), power(3 + k, 1, 3 + 0.5 * k, 12, 30));
    const net = network(15, ...laws);
    const point = solve(net);
    expectConsistent(net, point, 1e-10);
    expect(point.solves).toBeLessThan(60);
  });

  it('draws nothing without a source, and nothing in reverse beyond its resistance', () => {
    const idle = solve(network(3, ohms(0, 1, 10), power(1, 2, 5, 9, 16), ohms(2, 0, 3)));
    expect(idle.outcome.sort).toBe('solved');
    expect([...idle.amps]).toEqual([0, 0, 0]);
    const reversed = network(3, volts(2, 0, 12), ohms(0, 1, 2), power(1, 2, 10, 9, 16));
    expectConsistent(reversed, solve(reversed), 1e-11);
  });

  it('is solved on its law in random networks, with no solution above the one found', () => {
    const dice = diceFrom(9);
    let within = 0;
    let fallen = 0;
    for (let k = 0; k < samples(400); k++) {
      const { network: net } = powerNetwork(dice);
      const point = solve(net);
      expectConsistent(net, point, 1e-9);
      const loads = net.laws.flatMap((law, n) => (law.sort === 'power' ? [{ law, n }] : []));
      for (const { n } of loads) {
        if (point.pieces[n] === 1) within++;
        if (point.pieces[n] === 0) fallen++;
      }
      if (loads.length > 1) continue;
      // As the resistance that takes its watts at v it must settle below v, for every v above the solution.
      const { law, n } = loads[0]!;
      const found = across(point, law.a, law.b);
      const top = 1.5 * law.most;
      for (let step = 1; step <= 60; step++) {
        const v = found + ((top - found) * step) / 60;
        const at = Math.min(Math.max(v, law.least), law.most);
        const laws = net.laws.map((l, m): Law => (m === n ? ohms(law.a, law.b, (at * at) / law.watts) : l));
        expect(across(solve({ ...net, laws }), law.a, law.b)).toBeLessThan(v);
      }
    }
    expect(within).toBeGreaterThan(samples(100));
    expect(fallen).toBeGreaterThan(samples(50));
  });

  it('is told apart: what could be delivered where it fell through', () => {
    const net = network(3, volts(0, 2, 12), ohms(0, 1, 2), power(1, 2, 20, 9, 16));
    expect(solve(net).pieces[2]).toBe(0);
    expectClose(deliverableWatts(net, 2), 18, 1e-8);
    expect(deliverableWatts(network(3, ohms(0, 1, 2), power(1, 2, 20, 9, 16)), 1)).toBe(0);
  });
});
