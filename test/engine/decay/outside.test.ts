/**
 * The decay of a coil against the transient analysis of an independent circuit simulator, with the same law given to it:
 * the suppression as a behavioural source, the coil as inductance and resistance with its current as initial condition.
 */
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
  suppressionJoules,
} from '@couplet/engine';
import { describe, expect, test } from 'vitest';
import { comesDown, decades, expectNear, integral, seeded, staysWithin, transient } from './support.ts';

const WITHIN = 1e-4;

interface Coil {
  readonly ohms: number;
  readonly henries: number;
  readonly volts: number;
  readonly amps: number;
  /** Amperes at which it lets go. */
  readonly release: number;
}

function coil(random: () => number): Coil {
  const volts = decades(random, 5, 48);
  const ohms = decades(random, 40, 3000);
  const henries = ohms * decades(random, 5e-4, 2e-2);
  const amps = volts / ohms;
  return { ohms, henries, volts, amps, release: amps * (0.05 + 0.4 * random()) };
}

/** Coil from `a` over `m` to `k`; its current leaves at `k` and comes back through the suppression to `a`. */
function lines(coil: Coil, ...suppression: string[]): string[] {
  return [`l1 a m ${coil.henries} ic=${coil.amps}`, `r1 m k ${coil.ohms}`, ...suppression, 'r0 a 0 1'];
}

/** A law of volts over current, as a source of volts that depends on the coil's current. */
function behavioural(branches: readonly ClampBranch[]): string {
  const law = parallelLaw(branches);
  const pieces = law.map(({ from, volts, ohms }) => ({ from, text: `${volts}+${ohms}*(i(l1)-${from})` }));
  let expression = pieces[0]!.text;
  for (const { from, text } of pieces.slice(1)) expression = `(i(l1) > ${from} ? ${text} : ${expression})`;
  return `b1 k a v=i(l1) > 0 ? ${expression} : 0`;
}

const SORTS: readonly { readonly name: string; branches(random: () => number, coil: Coil): ClampBranch[] }[] = [
  { name: 'diode', branches: (random) => [{ volts: 0.6 + 0.4 * random(), ohms: 0 }] },
  { name: 'diode with slope', branches: (random) => [{ volts: 0.65, ohms: decades(random, 0.1, 30) }] },
  { name: 'zener and diode', branches: (random) => [{ volts: decades(random, 5, 60) + 0.7, ohms: 0 }] },
  {
    name: 'zener with slope',
    branches: (random) => [{ volts: decades(random, 5, 60), ohms: decades(random, 1, 200) }],
  },
  { name: 'resistor', branches: (random, { ohms }) => [{ volts: 0, ohms: ohms * decades(random, 0.5, 20) }] },
  {
    name: 'resistor beside a zener',
    branches: (random, { ohms, volts }) => {
      const own = ohms * decades(random, 2, 20);
      return [
        { volts: 0, ohms: own },
        { volts: (volts * own * (0.3 + 0.5 * random())) / ohms, ohms: decades(random, 1, 50) },
      ];
    },
  },
];

describe('a coil dies away as a circuit simulator says', () => {
  test.each(SORTS)('$name', async ({ branches }) => {
    const random = seeded(20261);
    for (let set = 0; set < 8; set++) {
      const made = coil(random);
      const given = branches(random, made);
      const law = parallelLaw(given);
      const seconds = decaySeconds(made, law, made.release);
      const run = await transient(lines(made, behavioural(given)), seconds * 1.05);
      const amps = run.of('i(l1)');
      expectNear(seconds, comesDown(run.seconds, amps, made.release), WITHIN);
      expectNear(made.volts + lawVolts(law, made.amps), made.volts + run.of('v(k)')[1]! - run.of('v(a)')[1]!, 2e-3);
      for (const k of [1000, 2000, 3000]) {
        const at = run.seconds[k]!;
        expectNear(decayAmps(made, law, at), amps[k]!, 1e-4);
      }
    }
  });

  test('a diode given as current over volts, blocking below its drop', async () => {
    const random = seeded(77);
    for (let set = 0; set < 6; set++) {
      const made = coil(random);
      const slope = decades(random, 0.5, 20);
      const seconds = decaySeconds(made, parallelLaw([{ volts: 0.7, ohms: slope }]), made.release);
      const source = `b1 k a i = v(k,a) > 0.7 ? (v(k,a)-0.7)/${slope} : 0`;
      const run = await transient(lines(made, source), seconds * 1.05);
      expectNear(seconds, comesDown(run.seconds, run.of('i(l1)'), made.release), WITHIN);
    }
  });

  test('energy in the suppression', async () => {
    const random = seeded(5);
    for (const { branches } of SORTS) {
      const made = coil(random);
      const given = branches(random, made);
      const law = parallelLaw(given);
      const almost = decaySeconds(made, law, made.amps * 1e-4);
      const run = await transient(lines(made, behavioural(given)), almost);
      const amps = run.of('i(l1)');
      const volts = run.of('v(k)').map((k, index) => k - run.of('v(a)')[index]!);
      const watts = amps.map((each, index) => each * (index === 0 ? lawVolts(law, made.amps) : volts[index]!));
      expectNear(suppressionJoules(made, law), integral(run.seconds, watts), 1e-3);
    }
  });
});

function ring(random: () => number, state: Coil, damped: boolean): RingState {
  const { ohms, henries, amps, volts } = state;
  const seriesOhms = decades(random, 10, 1000);
  // Critical where R + Rs = 2 sqrt(L / C).
  const critical = (4 * henries) / (ohms + seriesOhms) ** 2;
  const farads = critical * (damped ? decades(random, 1.3, 50) : decades(random, 0.002, 0.7));
  return { ohms, henries, amps, seriesOhms, farads, capacitorVolts: volts };
}

describe('a coil with a resistor and capacitor across it swings as a circuit simulator says', () => {
  test.each([
    ['dies away', true],
    ['swings', false],
  ] as const)('%s', async (_name, damped) => {
    const random = seeded(damped ? 31 : 32);
    for (let set = 0; set < 8; set++) {
      const made = coil(random);
      const state = ring(random, made, damped);
      const times = ringTimes(state, made.release);
      const rc = [`rs k x ${state.seriesOhms}`, `c1 a x ${state.farads} ic=${made.volts}`];
      // Long enough for the volts to come to their peak.
      const span = Math.max(times.last * 1.3, damped ? 0 : 5 * Math.sqrt(state.henries * state.farads));
      const run = await transient(lines(made, ...rc), span, 12_000);
      const amps = run.of('i(l1)');
      expectNear(times.first, comesDown(run.seconds, amps, made.release), WITHIN);
      expectNear(times.last, staysWithin(run.seconds, amps, made.release), WITHIN);
      const middle = 6000;
      const error = Math.abs(ringAmps(state, run.seconds[middle]!) - amps[middle]!);
      expect(error).toBeLessThanOrEqual(1e-4 * made.amps);
      const reverse = run.of('v(k)').map((k, index) => (index === 0 ? 0 : k - run.of('v(a)')[index]!));
      const peak = ringPeakVolts(state);
      const seen = Math.max(0, ...reverse);
      expect(Math.abs(peak - seen)).toBeLessThanOrEqual(1e-3 * Math.max(peak, made.volts));
    }
  });

  test('the same element across the switch gives the same current, and the switch sees supply and peak', async () => {
    const random = seeded(33);
    for (let set = 0; set < 4; set++) {
      const made = coil(random);
      const state = ring(random, made, false);
      const { first } = ringTimes(state, made.release);
      const net = [
        `v1 p 0 ${made.volts}`,
        `l1 p m ${made.henries} ic=${made.amps}`,
        `r1 m k ${made.ohms}`,
        `rs k x ${state.seriesOhms}`,
        `c1 x 0 ${state.farads} ic=0`,
      ];
      const run = await transient(net, first * 8, 12_000);
      expectNear(first, comesDown(run.seconds, run.of('i(l1)'), made.release), WITHIN * 3);
      const peak = Math.max(...run.of('v(k)').slice(1));
      expectNear(made.volts + ringPeakVolts(state), peak, 1e-3);
      const watts = run.of('i(l1)').map((amps) => amps ** 2 * state.seriesOhms);
      const long = await transient(net, 20 / ((made.ohms + state.seriesOhms) / (2 * made.henries)), 40_000);
      const all = long.of('i(l1)').map((amps) => amps ** 2 * state.seriesOhms);
      expect(integral(run.seconds, watts)).toBeLessThan(ringJoules(state) * 1.001);
      expectNear(ringJoules(state), integral(long.seconds, all), 2e-3);
    }
  });
});

test('the current of a coil rises as a circuit simulator says', async () => {
  const random = seeded(8);
  for (let set = 0; set < 8; set++) {
    const made = coil(random);
    const operate = made.amps * (0.4 + 0.5 * random());
    const seconds = riseSeconds(made, operate);
    const net = [`v1 p 0 ${made.volts}`, `l1 p m ${made.henries} ic=0`, `r1 m 0 ${made.ohms}`];
    const run = await transient(net, seconds * 1.05);
    const rising = run.of('i(l1)').map((amps) => -amps);
    expectNear(seconds, comesDown(run.seconds, rising, -operate), WITHIN);
  }
});
