/** What nothing carries, what is nothing and what starts where it ends; and the clauses that figures rest on. */
import {
  assumedInductance,
  type CoilState,
  capacitorSeconds,
  capacitorVolts,
  chargeSeconds,
  coilDecay,
  decayAmps,
  decaySeconds,
  extremesOf,
  firstOrderSeconds,
  firstOrderValue,
  fixed,
  lawVolts,
  notEvaluated,
  operateRise,
  operateSeconds,
  parallelLaw,
  type Ranged,
  type RingState,
  ranged,
  releaseLevel,
  releaseSeconds,
  ringAmps,
  ringJoules,
  ringPeakVolts,
  ringTimes,
  riseSeconds,
  type Suppression,
  type SwitchedCoil,
  storedJoules,
  suppressionJoules,
  type Value,
} from '@couplet/engine';
import { describe, expect, test } from 'vitest';
import { box, expectNear, NEVER } from './support.ts';

describe('capacitors', () => {
  const fed = { farads: 1e-3, ohms: 100, sourceVolts: 12, fromVolts: 0, drawnAmps: 0.02 };
  const alone = { farads: 1e-3, ohms: NEVER, sourceVolts: 0, fromVolts: 10, drawnAmps: 0.05 };

  test('behind ohms with a draw it settles lower by what the draw drops there', () => {
    // 12 V − 20 mA × 100 Ω = 10 V, with 100 ms.
    expectNear(capacitorVolts(fed, 0.1), 10 * (1 - Math.exp(-1)), 1e-12);
    expectNear(capacitorSeconds(fed, 5), 0.1 * Math.log(2), 1e-12);
    expect(capacitorSeconds(fed, 11)).toBe(NEVER);
  });

  test('alone it stands still unless something is drawn', () => {
    expect(capacitorSeconds(alone, 10)).toBe(0);
    expectNear(capacitorSeconds(alone, 5), 0.1, 1e-12);
    expectNear(capacitorVolts(alone, 0.1), 5, 1e-12);
    expect(capacitorVolts(alone, 0)).toBe(10);
    expect(capacitorVolts(alone, -1)).toBe(10);
    expect(capacitorVolts({ ...alone, farads: 0 }, 1)).toBe(10);
    expect(capacitorSeconds({ ...alone, drawnAmps: 0 }, 10)).toBe(0);
    expect(capacitorSeconds({ ...alone, drawnAmps: 0 }, 5)).toBe(NEVER);
    // What charges it is a draw below nothing.
    expectNear(capacitorSeconds({ ...alone, drawnAmps: -0.05 }, 12), 0.04, 1e-12);
    expect(capacitorSeconds({ ...alone, drawnAmps: -0.05 }, 5)).toBe(NEVER);
  });

  const charge = (from: number, to: number, source = 12) =>
    chargeSeconds({
      farads: fixed('C1', 'F', 1e-3),
      ohms: fixed('R1', 'ohm', 100),
      source: fixed('V1', 'V', source),
      from: fixed('start', 'V', from),
      to: fixed('threshold', 'V', to),
    }).usual;

  test('what starts at its threshold or beyond it takes no time', () => {
    expectNear(charge(0, 6), 0.1 * Math.log(2), 1e-12);
    expect(charge(6, 6)).toBe(0);
    expect(charge(8, 6)).toBe(0);
    expect(charge(4, 6, 0)).toBe(0);
    expectNear(charge(8, 4, 0), 0.1 * Math.log(2), 1e-12);
    expect(charge(0, 12)).toBe(NEVER);
  });
});

describe('first order', () => {
  test('before the start and without a time constant', () => {
    const line = { from: 2, towards: 10, tau: 1 };
    expect(firstOrderValue(line, -1)).toBe(2);
    expect(firstOrderValue({ ...line, tau: -1 }, 1)).toBe(10);
    expect(firstOrderSeconds({ ...line, tau: 0 }, 6)).toBe(0);
    expect(firstOrderSeconds({ ...line, tau: 0 }, 1)).toBe(NEVER);
    expect(firstOrderSeconds({ from: 10, towards: 2, tau: 0 }, 6)).toBe(0);
    expect(firstOrderSeconds({ from: 10, towards: 2, tau: 1 }, 12)).toBe(NEVER);
  });
});

describe('a coil', () => {
  const coil: CoilState = { ohms: 400, henries: 0.5, amps: 0.03 };
  const diode = parallelLaw([{ volts: 0.7, ohms: 0 }]);

  test('without current, without inductance, without a way', () => {
    for (const amps of [0, -1]) {
      expect(decaySeconds({ ...coil, amps }, diode, 0)).toBe(0);
      expect(decayAmps({ ...coil, amps }, diode, 1e-3)).toBe(0);
      expect(suppressionJoules({ ...coil, amps }, diode)).toBe(0);
    }
    for (const henries of [0, -1]) {
      expect(decaySeconds({ ...coil, henries }, diode, 0)).toBe(0);
      expect(decayAmps({ ...coil, henries }, diode, 1e-3)).toBe(0);
      expect(suppressionJoules({ ...coil, henries }, diode)).toBe(0);
      expect(storedJoules({ henries, amps: 1 })).toBe(0);
    }
    expect(decaySeconds(coil, [], 0)).toBe(0);
    expect(decayAmps(coil, [], 1e-3)).toBe(0);
    expect(decayAmps(coil, [], 0)).toBe(0.03);
    expect(decayAmps({ ...coil, amps: -1 }, diode, 0)).toBe(0);
    expect(decaySeconds({ ...coil, amps: NEVER }, [], 0)).toBe(0);
    expect(suppressionJoules({ ...coil, amps: NEVER }, [])).toBe(0);
    expect(suppressionJoules({ ...coil, amps: NEVER }, diode)).toBe(NEVER);
    expect(decayAmps(coil, diode, -1)).toBe(0.03);
  });

  test('hardly any fall takes as long as its straight line', () => {
    // dI/dt = −(R i + V) / L, 1e-12 of the current down: the second term of the series counts, not more.
    const fall = 1e-9 * 0.03;
    expectNear(decaySeconds(coil, diode, 0.03 - fall), (0.5 * fall) / (400 * 0.03 + 0.7), 1e-6);
    expectNear(decaySeconds(coil, diode, 0.03 - 0.003), 1.25e-3 * Math.log(12.7 / 11.5), 1e-12);
    expectNear(0.03 - decayAmps(coil, diode, 1e-9), (1e-9 * 12.7) / 0.5, 1e-5);
  });

  test('without ohms of its own all it holds ends in the suppression, stretch by stretch', () => {
    const two = parallelLaw([
      { volts: 2, ohms: 100 },
      { volts: 3, ohms: 1 },
    ]);
    expectNear(suppressionJoules({ ...coil, ohms: 0 }, two), storedJoules(coil), 1e-12);
  });

  test('the law of several branches: volts at a corner, one in place of another that starts with it', () => {
    const law = parallelLaw([
      { volts: 2, ohms: 100 },
      { volts: 2, ohms: 100 },
      { volts: 3, ohms: 1 },
    ]);
    expect(law.map(({ from, volts }) => [from, volts])).toEqual([
      [0, 2],
      [0.02, 3],
    ]);
    expect(law[0]!.ohms).toBe(50);
    expect(lawVolts(law, 0.02)).toBe(3);
    expect(lawVolts(law, 0)).toBe(2);
    expect(lawVolts([], 0)).toBe(0);
    expect(lawVolts([], 1)).toBe(NEVER);
  });

  test('its rise: no level, no ohms, no volts', () => {
    expect(riseSeconds({ ohms: 400, henries: 0.5, volts: 12 }, 0)).toBe(0);
    expect(riseSeconds({ ohms: 400, henries: 0.5, volts: 12 }, -1)).toBe(0);
    expect(riseSeconds({ ohms: 0, henries: 0.5, volts: 0 }, 0)).toBe(0);
    expectNear(riseSeconds({ ohms: 0, henries: 0.5, volts: 12 }, 0.03), 0.00125, 1e-12);
    expect(riseSeconds({ ohms: 0, henries: 0.5, volts: -12 }, 0.03)).toBe(NEVER);
    expect(riseSeconds({ ohms: 400, henries: 0.5, volts: 12 }, 0.03)).toBe(NEVER);
  });

  test('inductance is only assumed of a coil that has ohms', () => {
    expect(assumedInductance('K1', 12, 0)).toBeUndefined();
    expect(assumedInductance('K1', 12, -1)).toBeUndefined();
    expect(assumedInductance('K1', 12, NEVER)).toBeUndefined();
  });
});

describe('a coil with resistor and capacitor', () => {
  const state: RingState = { ohms: 400, henries: 0.5, amps: 0.03, seriesOhms: 100, farads: 1e-7, capacitorVolts: 12 };

  test.each([
    ['ohms', 0],
    ['henries', 0],
    ['amps', 0],
    ['seriesOhms', -1],
    ['farads', 0],
    ['capacitorVolts', Number.NaN],
    ['ohms', NEVER],
    ['henries', NEVER],
  ])('with %s of %d is none', (key, value) => {
    const none = { ...state, [key]: value };
    expect(ringAmps(none, 1)).toBe(0);
    expect({ ...ringTimes(none, -1) }).toEqual({ first: 0, last: 0 });
    expect(ringJoules(none)).toBe(0);
    expect(ringPeakVolts(none)).not.toBeNaN();
  });

  test('may have no resistor at all', () => {
    // 500 mH and 100 nF without loss but the coil's: it swings up to near i √(L/C) = 67 V.
    const bare = { ...state, seriesOhms: 0, capacitorVolts: 0 };
    expect(ringPeakVolts(bare)).toBeGreaterThan(55);
    expect(ringPeakVolts(bare)).toBeLessThan(0.03 * Math.sqrt(0.5 / 1e-7));
    expect(ringJoules(bare)).toBe(0);
    expect(ringAmps(state, -1)).toBe(0.03);
  });

  test('far above critical damping it dies away at once fast and then slowly', () => {
    // 1 mF: a second's worth of RC, against 1 ms of L/R.
    const slow = { ...state, farads: 1e-3, capacitorVolts: 0 };
    const times = ringTimes(slow, 0.001);
    expect(times.first).toBeGreaterThan(2e-3);
    expect(times.first).toBeLessThan(5e-3);
    // It turns once, below nothing, and comes back from there: its size passes the level for good when it does.
    expect(Math.abs(ringAmps(slow, times.last))).toBeLessThanOrEqual(0.001 * (1 + 1e-9));
    expect(Math.abs(ringAmps(slow, times.last * 1.5))).toBeLessThanOrEqual(0.001);
    expectNear(Math.abs(ringAmps(slow, times.last)), 0.001, 1e-9);
  });

  test('a level that is passed on the way back as well', () => {
    // With so low a level the current swings through nothing many times before it stays within.
    const { first, last } = ringTimes(state, 1e-6);
    expect(last).toBeGreaterThan(10 * first);
    expectNear(ringAmps(state, first), 1e-6, 1e-6);
    expectNear(Math.abs(ringAmps(state, last)), 1e-6, 1e-6);
    const omega = Math.sqrt(1 / (0.5 * 1e-7) - 500 ** 2);
    for (let t = last * 1.0001; t < last + 20 / omega; t += 0.05 / omega) {
      expect(Math.abs(ringAmps(state, t))).toBeLessThanOrEqual(1e-6);
    }
  });
});

describe('extremes', () => {
  const at = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0);
  const one = (what: string, assumption?: string): Ranged =>
    ranged(what, 'V', { least: 1, usual: 2, most: 4, ...(assumption === undefined ? {} : { assumption }) });

  test('clauses of what moves the figure, sorted and once, not of what does not', () => {
    const found = extremesOf({
      unit: 'V',
      variables: [
        { of: one('b', 'b assumed'), direction: 'rises' },
        { of: one('a', 'a assumed'), direction: 'falls' },
        { of: one('c', 'c assumed'), direction: 'none' },
        { of: one('d'), direction: 'rises' },
      ],
      at: ([b = 0, a = 0, , d = 0]) => b - a + d,
      assumptions: ['of the formula', 'a assumed'],
    });
    expect(found.assumptions).toEqual(['a assumed', 'b assumed', 'of the formula']);
    expect([found.least, found.usual, found.most, found.proven]).toEqual([1 - 4 + 1, 2, 4 - 1 + 4, true]);
    expect(extremesOf({ unit: 'V', variables: [{ of: one('d'), direction: 'rises' }], at }).assumptions).toEqual([]);
  });

  test('a cause that does not count stays at its usual value', () => {
    const found = extremesOf({
      unit: 'V',
      variables: [
        { of: one('a'), direction: 'none' },
        { of: one('b'), direction: 'rises' },
      ],
      at,
    });
    expect([found.least, found.most]).toEqual([3, 6]);
    expect(found.mostCorner.map(({ what }) => what)).toEqual(['b']);
  });

  test('doubtful causes that act together are tried together, at their ends and usual values', () => {
    // Greatest where both are at an end; alone neither moves it.
    const found = extremesOf({
      unit: 'V',
      variables: [
        { of: one('a'), direction: 'unknown' },
        { of: one('b'), direction: 'unknown' },
      ],
      at: ([a = 0, b = 0]) => (a - 2) * (b - 2),
    });
    expect([found.least, found.most]).toEqual([-2, 4]);
    expect(found.proven).toBe(false);
  });

  test('one doubtful cause without a spread leaves it proven; one of both ends does not', () => {
    const flat = { of: fixed('a', 'V', 1), direction: 'unknown' } as const;
    expect(extremesOf({ unit: 'V', variables: [flat], at }).proven).toBe(true);
    const [x, ...others] = [1, 2, 3, 4, 5, 6, 7, 8].map((k) => ({ of: one(`x${k}`), direction: 'unknown' }) as const);
    const many = extremesOf({ unit: 'V', variables: [x!, ...others], at });
    expect([many.least, many.most, many.proven]).toEqual([8, 32, false]);
  });

  test('corners name first what moved the figure most; what has no bound takes all', () => {
    const found = extremesOf({
      unit: 'V',
      variables: [
        { of: one('small'), direction: 'rises' },
        { of: one('great'), direction: 'rises' },
      ],
      at: ([a = 0, b = 0]) => a + 10 * b,
    });
    expect(found.mostCorner.map(({ what, value, unit }) => [what, value, unit])).toEqual([
      ['great', 4, 'V'],
      ['small', 4, 'V'],
    ]);
    expectNear(found.mostCorner[0]!.share, 20 / 22, 1e-12);
    const boundless = extremesOf({
      unit: 's',
      variables: [
        { of: one('a'), direction: 'rises' },
        { of: one('b'), direction: 'rises' },
      ],
      at: ([a = 0, b = 0]) => (b > 3 ? NEVER : a),
    });
    expect(boundless.mostCorner.map(({ what, share }) => [what, share])).toEqual([
      ['b', 1],
      ['a', 0],
    ]);
  });

  test('what is not evaluated has its reason and needs nothing', () => {
    expect(notEvaluated('why')).toEqual({ sort: 'not-evaluated', needs: [], reason: 'why' });
    expect(fixed('a', 'V', 1, 'taken')).toEqual({
      what: 'a',
      unit: 'V',
      least: 1,
      usual: 1,
      most: 1,
      assumption: 'taken',
    });
    expect('assumption' in fixed('a', 'V', 1)).toBe(false);
  });
});

describe('relays', () => {
  const coil: SwitchedCoil = {
    name: 'K1',
    ohms: box('K1 coil', 'ohm', 720, 0.1, 0.1),
    celsius: fixed('K1 winding', 'degC', 20),
    henries: fixed('K1 inductance', 'H', 0.9),
    volts: fixed('K1 volts', 'V', 12),
  };
  const own = fixed('K1 release time', 's', 4e-3);
  const level = releaseLevel('K1', { least: 1.2, usual: 1.2 }, { most: 8.4 }, coil.volts);
  const rc: Suppression = { sort: 'rc', ohms: fixed('R1', 'ohm', 100), farads: fixed('C1', 'F', 1e-7) };

  test('the level rests on what it was made of', () => {
    expect('assumption' in level).toBe(false);
    const of = (releases?: string, holds?: string) =>
      releaseLevel(
        'K1',
        { least: 1.2, usual: 1.2, ...(releases === undefined ? {} : { assumption: releases }) },
        { most: 8.4, ...(holds === undefined ? {} : { assumption: holds }) },
        coil.volts,
      ).assumption;
    expect(of('releases assumed', 'holds assumed')).toBe('releases assumed; holds assumed');
    expect(of('releases assumed')).toBe('releases assumed');
    expect(of(undefined, 'holds assumed')).toBe('holds assumed');
  });

  test('an element without bound is named, in the decay and in the release', () => {
    const open: Suppression = { ...rc, farads: ranged('C1', 'F', { least: 1e-7, usual: 1e-7, most: NEVER }) };
    expect(coilDecay(coil, [open], level)).toMatchObject({ reason: 'C1 is without bound' });
    expect(releaseSeconds(coil, [open], level, own)).toMatchObject({ reason: 'C1 is without bound' });
  });

  test('figures rest on constant inductance; only a coil that nothing carries is taken to stop at once', () => {
    const diode: Suppression = { sort: 'diode', drop: fixed('K1 diode', 'V', 0.7) };
    const found = (suppressions: readonly Suppression[]) =>
      (releaseSeconds(coil, suppressions, level, own) as Value).assumptions;
    expect(found([diode]).join()).toContain('inductance');
    expect(found([diode]).join()).not.toContain('stop at once');
    expect(found([]).join()).toContain('current of K1 taken to stop at once');
  });

  test('a relay that swings lets go at the earliest when its current first passes the level', () => {
    const found = releaseSeconds(coil, [rc], level, own) as Value;
    const state = { ohms: 720, henries: 0.9, amps: 12 / 720, seriesOhms: 100, farads: 1e-7, capacitorVolts: 12 };
    const { first, last } = ringTimes(state, 1.2 / 720);
    expect(last).toBeGreaterThan(2 * first);
    expectNear(found.usual, 4e-3 + last, 1e-9);
    expect(found.least).toBeLessThanOrEqual(4e-3 + first);
    const decay = coilDecay(coil, [rc], level);
    if (decay.sort !== 'decay') return expect.fail(decay.reason);
    expect(decay.seconds.least).toBeLessThanOrEqual(first);
    expectNear(decay.switchVolts.usual, 12 + ringPeakVolts(state), 1e-9);
    expectNear(decay.reverseVolts.usual, ringPeakVolts(state), 1e-9);
  });

  test('a clamp across one of two parts of the suppression is that of the switch', () => {
    const clamp: Suppression = { sort: 'switch-clamp', volts: fixed('VD1', 'V', 40) };
    const resistor: Suppression = { sort: 'resistor', ohms: fixed('R1', 'ohm', 1e5) };
    const decay = coilDecay({ ...coil, supplyVolts: box('supply', 'V', 12, 0.1, 0.1) }, [resistor, clamp], level);
    if (decay.sort !== 'decay') return expect.fail(decay.reason);
    expectNear(decay.switchVolts.usual, 40, 1e-9);
    // The higher the supply, the less the clamp leaves across the coil, and the slower it lets go.
    expect(decay.seconds.mostCorner.find(({ what }) => what === 'supply')?.value).toBeCloseTo(13.2, 9);
  });

  test('a level of nothing is reached only where something ends the current', () => {
    const zero = releaseLevel('K1', { least: 0, usual: 0 }, { most: 8.4 }, coil.volts);
    const cold = { ...coil, ohms: fixed('K1 coil', 'ohm', 0) };
    const found = coilDecay(cold, [{ sort: 'diode', drop: fixed('K1 diode', 'V', 0.7) }], zero);
    if (found.sort !== 'decay') return expect.fail(found.reason);
    expect(found.seconds.most).toBe(NEVER);
    expect(found.seconds.usual).not.toBeNaN();
  });

  test('an operate time says what it was taken to hold at', () => {
    const operated = { ...coil, operates: fixed('K1 operates', 'V', 8.4) };
    const found = operateSeconds(operated, 12, fixed('own', 's', 5e-3));
    expect(found.assumptions).toEqual([
      'inductance of the coil taken as constant: the movement of the armature is neglected',
      'operate time taken to hold at rated volts and 20 °C',
      'resistance of the driving side neglected while the current of the coil rises',
    ]);
    expect(operateRise(operated).assumptions).toHaveLength(2);
    expect(operateRise({ ...operated, operates: fixed('K1 operates', 'V', 0) }).most).toBe(0);
    expect(
      operateRise({ ...operated, operates: fixed('K1 operates', 'V', 0), ohms: fixed('K1 coil', 'ohm', 0) }).most,
    ).toBe(0);
  });
});
