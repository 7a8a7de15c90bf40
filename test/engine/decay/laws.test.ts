/** The closed forms against their own differential equations, integrated step by step, and against the laws they join. */
import {
  type ClampBranch,
  decayAmps,
  decaySeconds,
  lawVolts,
  parallelLaw,
  type RingState,
  ringAmps,
  ringJoules,
  ringPeakVolts,
  ringTimes,
  riseSeconds,
  storedJoules,
  suppressionJoules,
} from '@couplet/engine';
import { describe, expect, test } from 'vitest';
import { decades, expectNear, NEVER, seeded } from './support.ts';

/** Amperes that branches in parallel carry at `volts`. */
function carried(branches: readonly ClampBranch[], volts: number): number {
  return branches.reduce((sum, each) => sum + Math.max(0, volts - each.volts) / each.ohms, 0);
}

function randomBranches(random: () => number): ClampBranch[] {
  const count = 1 + Math.floor(random() * 3);
  return Array.from({ length: count }, () => ({
    volts: random() < 0.3 ? 0 : decades(random, 0.5, 40),
    ohms: decades(random, 1, 2000),
  }));
}

describe('branches in parallel', () => {
  test('carry together what each carries at the common volts', () => {
    const random = seeded(21);
    for (let set = 0; set < 200; set++) {
      const branches = randomBranches(random);
      const amps = decades(random, 1e-3, 1);
      expectNear(carried(branches, lawVolts(parallelLaw(branches), amps)), amps, 1e-9);
    }
  });

  test('one without ohms holds its volts, and those above it carry nothing', () => {
    const held = { volts: 24, ohms: 0 };
    const law = parallelLaw([{ volts: 30, ohms: 1 }, held, { volts: 0, ohms: 1200 }]);
    expectNear(lawVolts(law, 0.01), 12, 1e-12);
    // 24 V / 1200 Ω = 20 mA.
    expect(lawVolts(law, 0.02)).toBe(24);
    expect(lawVolts(law, 5)).toBe(24);
    expect(law).toHaveLength(2);
    expect(parallelLaw([held, held])).toEqual([{ from: 0, volts: 24, ohms: 0 }]);
  });

  test('nothing, or only what never conducts', () => {
    expect(parallelLaw([])).toEqual([]);
    expect(
      parallelLaw([
        { volts: 0, ohms: NEVER },
        { volts: NEVER, ohms: 0 },
      ]),
    ).toEqual([]);
    expect(lawVolts([], 0.1)).toBe(NEVER);
    expect(lawVolts([], 0)).toBe(0);
  });
});

describe('decay', () => {
  test('current and time are each other’s inverse, over all segments', () => {
    const random = seeded(22);
    for (let set = 0; set < 300; set++) {
      const coil = {
        ohms: decades(random, 20, 2000),
        henries: decades(random, 0.01, 5),
        amps: decades(random, 1e-3, 1),
      };
      const law = parallelLaw(randomBranches(random));
      const level = coil.amps * (0.02 + 0.97 * random());
      expectNear(decayAmps(coil, law, decaySeconds(coil, law, level)), level, 1e-9);
    }
  });

  test('the slope of the current is −(R i + v) / L everywhere', () => {
    const random = seeded(23);
    for (let set = 0; set < 100; set++) {
      const coil = {
        ohms: decades(random, 20, 2000),
        henries: decades(random, 0.01, 5),
        amps: decades(random, 1e-2, 1),
      };
      const law = parallelLaw(randomBranches(random));
      const time = decaySeconds(coil, law, coil.amps * (0.1 + 0.8 * random()));
      const step = time * 1e-4;
      const amps = decayAmps(coil, law, time);
      const slope = (decayAmps(coil, law, time + step) - decayAmps(coil, law, time - step)) / (2 * step);
      // A kink of the law within the step changes the slope by less than this.
      expectNear(slope, -(coil.ohms * amps + lawVolts(law, amps)) / coil.henries, 1e-3);
    }
  });

  test('energy in the suppression is L ∫ i v / (R i + v) di', () => {
    const random = seeded(24);
    for (let set = 0; set < 100; set++) {
      // From suppression that hardly feels the current to one that is all but a resistor.
      const clamp = { volts: set % 3 === 0 ? 0 : decades(random, 0.5, 5000), ohms: decades(random, 0.5, 500) };
      const branches = set % 2 === 0 ? [clamp] : [clamp, { volts: clamp.volts * 2, ohms: 1 }];
      const coil = { ohms: decades(random, 20, 2000), henries: 0.5, amps: decades(random, 1e-3, 1) };
      const law = parallelLaw(branches);
      const slices = 4000;
      let sum = 0;
      for (let k = 0; k < slices; k++) {
        const amps = ((k + 0.5) / slices) * coil.amps;
        const volts = lawVolts(law, amps);
        sum += (((coil.henries * amps * volts) / (coil.ohms * amps + volts)) * coil.amps) / slices;
      }
      expectNear(suppressionJoules(coil, law), sum, 1e-6);
      expect(suppressionJoules(coil, law)).toBeLessThan(storedJoules(coil));
    }
  });

  test('a coil without ohms against constant volts falls in a straight line', () => {
    const coil = { ohms: 0, henries: 0.5, amps: 0.1 };
    const law = parallelLaw([{ volts: 10, ohms: 0 }]);
    expectNear(decaySeconds(coil, law, 0.02), 0.004, 1e-12);
    expectNear(decayAmps(coil, law, 0.003), 0.04, 1e-12);
    expectNear(suppressionJoules(coil, law), storedJoules(coil), 1e-12);
    expectNear(riseSeconds({ ohms: 0, henries: 0.5, volts: 10 }, 0.1), 0.005, 1e-12);
    expect(riseSeconds({ ohms: 0, henries: 0.5, volts: 0 }, 0.1)).toBe(NEVER);
  });

  test('ends of the range', () => {
    const coil = { ohms: 400, henries: 0.5, amps: 0.03 };
    const diode = parallelLaw([{ volts: 0.7, ohms: 0 }]);
    const resistor = parallelLaw([{ volts: 0, ohms: 100 }]);
    expect(decaySeconds(coil, diode, 0.03)).toBe(0);
    expect(decaySeconds(coil, diode, 0.04)).toBe(0);
    expect(decaySeconds({ ...coil, henries: 0 }, diode, 0.01)).toBe(0);
    expect(decaySeconds({ ...coil, amps: NEVER }, diode, 0.01)).toBe(NEVER);
    // A diode lets the current end, a resistor does not.
    expectNear(decaySeconds(coil, diode, 0), 1.25e-3 * Math.log(12.7 / 0.7), 1e-12);
    expect(decaySeconds(coil, resistor, 0)).toBe(NEVER);
    expect(decayAmps(coil, diode, 1)).toBe(0);
    expect(decayAmps(coil, diode, 0)).toBe(0.03);
    expect(decayAmps(coil, [], 1e-9)).toBe(0);
    expect(decayAmps({ ...coil, henries: 0 }, diode, 1e-9)).toBe(0);
    expect(suppressionJoules(coil, [])).toBe(0);
    expect(suppressionJoules({ ...coil, amps: 0 }, diode)).toBe(0);
  });
});

/** Fourth-order Runge–Kutta of the coil with its element; the current after `steps` of `step`, all along. */
function integrated(
  state: RingState,
  step: number,
  steps: number,
): { amps: number[]; reverse: number[]; joules: number } {
  const { ohms, henries, seriesOhms, farads } = state;
  const slopes = (i: number, u: number): [number, number] => [(u - (ohms + seriesOhms) * i) / henries, -i / farads];
  let [i, u, joules] = [state.amps, state.capacitorVolts, 0];
  const amps = [i];
  const reverse = [seriesOhms * i - u];
  for (let k = 0; k < steps; k++) {
    const [a1, b1] = slopes(i, u);
    const [a2, b2] = slopes(i + (a1 * step) / 2, u + (b1 * step) / 2);
    const [a3, b3] = slopes(i + (a2 * step) / 2, u + (b2 * step) / 2);
    const [a4, b4] = slopes(i + a3 * step, u + b3 * step);
    const before = i;
    i += ((a1 + 2 * a2 + 2 * a3 + a4) * step) / 6;
    u += ((b1 + 2 * b2 + 2 * b3 + b4) * step) / 6;
    joules += ((before ** 2 + i ** 2) / 2) * step * seriesOhms;
    amps.push(i);
    reverse.push(seriesOhms * i - u);
  }
  return { amps, reverse, joules };
}

describe('a coil with a resistor and capacitor', () => {
  // Farads over those of critical damping: swinging, just swinging, critical, just not swinging, far from it.
  test.each([0.002, 0.05, 0.5, 0.999, 1, 1.001, 3, 40])('%f of the critical capacitance', (ratio) => {
    const random = seeded(25);
    for (let set = 0; set < 5; set++) {
      const ohms = decades(random, 50, 2000);
      const seriesOhms = decades(random, 10, 1000);
      const henries = ohms * decades(random, 5e-4, 5e-3);
      const amps = 12 / ohms;
      const farads = (ratio * 4 * henries) / (ohms + seriesOhms) ** 2;
      const state: RingState = { ohms, henries, amps, seriesOhms, farads, capacitorVolts: 12 };
      const damping = (2 * henries) / (ohms + seriesOhms);
      const span = ratio < 1 ? 12 * damping : 12 * ratio * 2 * damping;
      const steps = 20_000;
      const run = integrated(state, span / steps, steps);
      for (const k of [500, 2000, 8000, 15_000]) {
        expect(Math.abs(ringAmps(state, (k * span) / steps) - run.amps[k]!)).toBeLessThan(1e-6 * amps);
      }
      for (const share of [0.03, 0.1, 0.4, 0.8]) {
        const times = ringTimes(state, amps * share);
        const first = run.amps.findIndex((each) => each <= amps * share);
        const last = run.amps.findLastIndex((each) => Math.abs(each) > amps * share);
        expect(Math.abs(times.first - (first * span) / steps)).toBeLessThanOrEqual((span / steps) * 1.01);
        expect(Math.abs(times.last - (last * span) / steps)).toBeLessThanOrEqual((span / steps) * 1.01);
        expectNear(ringAmps(state, times.first), amps * share, 1e-9);
        expectNear(Math.abs(ringAmps(state, times.last)), amps * share, 1e-9);
      }
      expect(Math.abs(ringPeakVolts(state) - Math.max(0, ...run.reverse))).toBeLessThan(1e-3);
      expectNear(ringJoules(state), run.joules, 1e-4);
    }
  });

  test('ends of the range', () => {
    const state: RingState = { ohms: 400, henries: 0.5, amps: 0.03, seriesOhms: 100, farads: 1e-7, capacitorVolts: 12 };
    expect({ ...ringTimes(state, 0.03) }).toEqual({ first: 0, last: 0 });
    expect(ringTimes(state, 0).last).toBe(NEVER);
    expect(ringTimes(state, 0).first).toBeLessThan(1e-3);
    // Overdamped it never passes nothing.
    expect(ringTimes({ ...state, farads: 1e-3 }, 0).first).toBe(NEVER);
    expect({ ...ringTimes({ ...state, farads: 0 }, 0.01) }).toEqual({ first: 0, last: 0 });
    expect(ringAmps(state, 0)).toBe(0.03);
    expect(ringAmps({ ...state, henries: 0 }, 1)).toBe(0);
    expect(ringJoules({ ...state, ohms: 0 })).toBe(0);
    // Without a coil's worth of anything the first jump is all there is: 100 Ω × 30 mA − 1 V.
    expectNear(ringPeakVolts({ ...state, farads: NEVER, capacitorVolts: 1 }), 2, 1e-12);
  });

  test('a current that still rises at first', () => {
    const state: RingState = { ohms: 400, henries: 0.5, amps: 0.01, seriesOhms: 100, farads: 1e-6, capacitorVolts: 12 };
    const run = integrated(state, 1e-6, 20_000);
    expect(Math.max(...run.amps)).toBeGreaterThan(0.011);
    const first = run.amps.findIndex((each) => each < 0.009);
    expect(Math.abs(ringTimes(state, 0.009).first - first * 1e-6)).toBeLessThanOrEqual(1.01e-6);
  });
});
