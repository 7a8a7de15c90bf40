/** Least and most of each figure against all corners, dense grids and seeded samples of the box. */
import {
  assumedDrop,
  coilDecay,
  copperFactor,
  decaySeconds,
  fixed,
  operateRise,
  operateSeconds,
  parallelLaw,
  peakSwitchVolts,
  type Ranged,
  ranged,
  releaseLevel,
  releaseSeconds,
  ringTimes,
  riseSeconds,
  type Suppression,
  type SwitchedCoil,
  storedJoules,
  suppressionJoules,
  type Value,
} from '@couplet/engine';
import { describe, expect, test } from 'vitest';
import { samples } from '../../support/samples.ts';
import { box, decades, expectNear, NEVER, seeded } from './support.ts';

function randomCoil(random: () => number): SwitchedCoil & { level: Ranged } {
  const ohms = decades(random, 40, 2000);
  const volts = decades(random, 5, 40);
  return {
    name: 'K1',
    ohms: box('K1 coil', 'ohm', ohms, 0.1, 0.1),
    celsius: ranged('K1 winding', 'degC', { least: -10, usual: 20, most: 70 }),
    henries: box('K1 inductance', 'H', ohms * 2e-3, 0.5, 1),
    volts: box('K1 volts', 'V', volts, 0.15, 0.2),
    level: ranged('K1 lets go', 'V', { least: volts * 0.1, usual: volts * 0.1, most: volts * 0.7 }),
  };
}

/** Values of all variables at random ends, or anywhere between. */
function draw(random: () => number, variables: readonly Ranged[], ends: boolean): number[] {
  return variables.map(({ least, most }) => {
    if (ends) return random() < 0.5 ? least : most;
    return least + (most - least) * random();
  });
}

const BUILDS: readonly {
  name: string;
  suppression(random: () => number): [Suppression, Ranged[], (v: number[]) => { volts: number; ohms: number }];
}[] = [
  {
    name: 'diode with slope',
    suppression: (random) => {
      const drop = box('D1 drop', 'V', 0.7, 0.2, 0.4);
      const slope = box('D1 slope', 'ohm', decades(random, 0.1, 100), 0.3, 0.3);
      return [{ sort: 'diode', drop, slope }, [drop, slope], ([volts, ohms]) => ({ volts: volts!, ohms: ohms! })];
    },
  },
  {
    name: 'zener',
    suppression: (random) => {
      const volts = box('D2', 'V', decades(random, 5, 60), 0.05, 0.05);
      const drop = assumedDrop('K1');
      return [{ sort: 'zener', volts, drop }, [volts, drop], ([held, own]) => ({ volts: held! + own!, ohms: 0 })];
    },
  },
  {
    name: 'resistor',
    suppression: (random) => {
      const ohms = box('R1', 'ohm', decades(random, 100, 5000), 0.05, 0.05);
      return [{ sort: 'resistor', ohms }, [ohms], ([own]) => ({ volts: 0, ohms: own! })];
    },
  },
  {
    name: 'varistor',
    suppression: (random) => {
      const volts = box('V1', 'V', decades(random, 15, 80), 0.1, 0.1);
      return [{ sort: 'varistor', volts }, [volts], ([held]) => ({ volts: held!, ohms: 0 })];
    },
  },
];

describe('figures of a switched coil', () => {
  test.each(BUILDS)(
    '$name: proven extremes are those of all corners, and no sample lies outside',
    ({ suppression }) => {
      const random = seeded(4);
      for (let set = 0; set < 20; set++) {
        const coil = randomCoil(random);
        const [built, own, branch] = suppression(random);
        const decay = coilDecay(coil, [built], coil.level);
        if (decay.sort !== 'decay') return expect.fail(decay.reason);
        const variables = [coil.ohms, coil.celsius, coil.henries, coil.volts, coil.level, ...own];
        const at = (values: number[]) => {
          const [cold, celsius, henries, volts, level, ...rest] = values as [number, number, number, number, number];
          const ohms = cold * copperFactor(celsius);
          const state = { ohms, henries, amps: volts / ohms };
          const law = parallelLaw([branch(rest)]);
          return {
            seconds: decaySeconds(state, law, level / cold),
            switchVolts: peakSwitchVolts(volts, state, law),
            reverseVolts: peakSwitchVolts(0, state, law),
            storedJoules: storedJoules(state),
            suppressionJoules: suppressionJoules(state, law),
          };
        };
        const figures = ['seconds', 'switchVolts', 'reverseVolts', 'storedJoules', 'suppressionJoules'] as const;
        const lows = figures.map(() => NEVER);
        const highs = figures.map(() => -NEVER);
        for (let corner = 0; corner < 2 ** variables.length; corner++) {
          const found = at(variables.map(({ least, most }, k) => ((corner >> k) & 1 ? most : least)));
          figures.forEach((name, k) => {
            lows[k] = Math.min(lows[k]!, found[name]);
            highs[k] = Math.max(highs[k]!, found[name]);
          });
        }
        figures.forEach((name, k) => {
          expect(decay[name].proven).toBe(true);
          expectNear(decay[name].least, lows[k]!, 1e-12);
          expectNear(decay[name].most, highs[k]!, 1e-12);
        });
        for (let sample = 0; sample < samples(100); sample++) {
          const found = at(draw(random, variables, false));
          for (const name of figures) {
            expect(found[name]).toBeGreaterThanOrEqual(decay[name].least * (1 - 1e-12));
            expect(found[name]).toBeLessThanOrEqual(decay[name].most * (1 + 1e-12));
          }
        }
        const usual = at(variables.map((each) => each.usual));
        for (const name of figures) expectNear(decay[name].usual, usual[name], 1e-12);
      }
    },
  );

  test('a resistor beside a diode: the one with the lower volts carries the current', () => {
    const random = seeded(5);
    for (let set = 0; set < 10; set++) {
      const coil = randomCoil(random);
      const diode: Suppression = { sort: 'diode', drop: fixed('D1 drop', 'V', 0.7) };
      const beside: Suppression = { sort: 'resistor', ohms: fixed('R1', 'ohm', 1e9) };
      const alone = coilDecay(coil, [diode], coil.level);
      const both = coilDecay(coil, [beside, diode], coil.level);
      if (alone.sort !== 'decay' || both.sort !== 'decay') return expect.fail('not evaluated');
      expectNear(both.seconds.most, alone.seconds.most, 1e-6);
      expectNear(both.switchVolts.most, alone.switchVolts.most, 1e-9);
    }
  });

  test('a clamp across the switch leaves the coil its volts less those of the supply', () => {
    const coil = { ...randomCoil(seeded(6)), supplyVolts: box('B1', 'V', 40, 0.2, 0.15) };
    const clamp: Suppression = { sort: 'switch-clamp', volts: box('Q1 clamp', 'V', 60, 0.1, 0.1) };
    const decay = coilDecay(coil, [clamp], coil.level);
    if (decay.sort !== 'decay') return expect.fail(decay.reason);
    expectNear(decay.switchVolts.most, 66, 1e-12);
    expectNear(decay.reverseVolts.most, 66 - 32, 1e-12);
    expectNear(decay.reverseVolts.least, 54 - 46, 1e-12);
    // The slowest: full supply, lowest clamp, coldest and smallest ohms, most inductance, lowest level.
    const cold = coil.ohms.least;
    const ohms = cold * copperFactor(-10);
    const state = { ohms, henries: coil.henries.most, amps: coil.volts.most / ohms };
    const slowest = decaySeconds(state, parallelLaw([{ volts: 54 - 46, ohms: 0 }]), coil.level.least / cold);
    expectNear(decay.seconds.most, slowest, 1e-12);
    expect(decay.seconds.mostCorner.map((part) => part.what)).toContain('B1');
    const fast = { ohms: coil.ohms.most * copperFactor(70), henries: coil.henries.least };
    const quickest = { ...fast, amps: coil.volts.least / fast.ohms };
    const highest = decaySeconds(
      quickest,
      parallelLaw([{ volts: 66 - 32, ohms: 0 }]),
      coil.level.most / coil.ohms.most,
    );
    expectNear(decay.seconds.least, highest, 1e-12);
    // The hungriest: full coil against the highest clamp and the lowest supply.
    expectNear(
      decay.suppressionJoules.most,
      suppressionJoules(state, parallelLaw([{ volts: 66 - 32, ohms: 0 }])),
      1e-12,
    );
    expectNear(
      decay.suppressionJoules.least,
      suppressionJoules(quickest, parallelLaw([{ volts: 54 - 46, ohms: 0 }])),
      1e-12,
    );
    // A diode beside it takes the current first, and the switch sees the supply and its drop.
    const both = coilDecay(coil, [clamp, { sort: 'diode', drop: fixed('D1 drop', 'V', 0.7) }], coil.level);
    if (both.sort !== 'decay') return expect.fail(both.reason);
    expectNear(both.switchVolts.least, 32.7, 1e-12);
    expectNear(both.switchVolts.most, 46.7, 1e-12);
  });

  test('an rc element is searched, not proven, and holds every sample', () => {
    const random = seeded(7);
    for (let set = 0; set < 5; set++) {
      const coil = randomCoil(random);
      const ohms = box('R1', 'ohm', decades(random, 22, 470), 0.05, 0.05);
      const farads = box('C1', 'F', decades(random, 22e-9, 4.7e-6), 0.2, 0.2);
      const decay = coilDecay(coil, [{ sort: 'rc', ohms, farads }], coil.level);
      if (decay.sort !== 'decay') return expect.fail(decay.reason);
      expect(decay.seconds.proven).toBe(false);
      expect(decay.storedJoules.proven).toBe(true);
      const variables = [coil.ohms, coil.celsius, coil.henries, coil.volts, coil.level, ohms, farads];
      for (let sample = 0; sample < samples(2000); sample++) {
        const values = draw(random, variables, sample % 2 === 0);
        const [cold, celsius, henries, volts, level, seriesOhms, capacity] = values as [
          number,
          number,
          number,
          number,
          number,
          number,
          number,
        ];
        const hot = cold * copperFactor(celsius);
        const state = { ohms: hot, henries, amps: volts / hot, seriesOhms, farads: capacity, capacitorVolts: volts };
        const times = ringTimes(state, level / cold);
        expect(times.first).toBeGreaterThanOrEqual(decay.seconds.least * (1 - 1e-6));
        expect(times.last).toBeLessThanOrEqual(decay.seconds.most * (1 + 1e-6));
      }
    }
  });

  test('an rc element beside other suppression is not evaluated, and says so', () => {
    const coil = randomCoil(seeded(8));
    const rc: Suppression = { sort: 'rc', ohms: fixed('R1', 'ohm', 100), farads: fixed('C1', 'F', 1e-7) };
    const found = coilDecay(coil, [rc, { sort: 'diode', drop: assumedDrop('K1') }], coil.level);
    expect(found).toMatchObject({ sort: 'not-evaluated', reason: expect.stringContaining('K1 has an rc element') });
  });

  test('a coil with a datum without bound is not evaluated, and says which', () => {
    const coil = {
      ...randomCoil(seeded(8)),
      henries: ranged('K1 inductance', 'H', { least: 1, usual: 1, most: NEVER }),
    };
    const found = coilDecay(coil, [{ sort: 'diode', drop: assumedDrop('K1') }], coil.level);
    expect(found).toMatchObject({ sort: 'not-evaluated', reason: 'K1 inductance is without bound' });
  });

  test('without suppression it stops at once and nothing bounds the volts', () => {
    const coil = randomCoil(seeded(9));
    const decay = coilDecay(coil, [], coil.level);
    if (decay.sort !== 'decay') return expect.fail(decay.reason);
    expect(decay.seconds.most).toBe(0);
    expect(decay.switchVolts.least).toBe(NEVER);
    expect(decay.seconds.assumptions.join()).toContain('current of K1 taken to stop at once');
  });
});

describe('release of a relay', () => {
  const coil: SwitchedCoil = {
    name: 'K1',
    ohms: box('K1 coil', 'ohm', 720, 0.1, 0.1),
    celsius: ranged('K1 winding', 'degC', { least: -5, usual: 20, most: 60 }),
    henries: fixed('K1 inductance', 'H', 0.9),
    volts: ranged('K1 volts', 'V', { least: 10.9, usual: 12.3, most: 14.1 }),
  };
  const level = releaseLevel('K1', { least: 1.2, usual: 1.2 }, { most: 8.4 }, coil.volts);
  const own = ranged('K1 release time', 's', { least: 0, usual: 4e-3, most: 4e-3 });

  test('by hand: τ ln((V + Vd) / (Vr + Vd)), coldest and smallest coil, highest volts', () => {
    const diode: Suppression = { sort: 'diode', drop: fixed('K1 diode', 'V', 0.7) };
    const found = releaseSeconds(coil, [diode], level, own) as Value;
    // Cold: 648 Ω × (1 − 25 × 0.00393) = 584.334 Ω; 0.9 / 584.334 = 1.54021 ms; ln(14.8 / (1.2 × 0.90175 + 0.7)) = 2.11540.
    expectNear(found.most, 4e-3 + 1.54021e-3 * Math.log(14.8 / (1.2 * 0.90175 + 0.7)), 1e-5);
    // Usual: 1.25 ms × ln(13 / 1.9) = 2.40390 ms.
    expectNear(found.usual, 4e-3 + 1.25e-3 * Math.log(13 / 1.9), 1e-12);
    // Least: 792 Ω × 1.1572 at 60 °C, let go at 8.4 V × 1.1572 = 9.72 V: 0.98199 ms × ln(11.6 / 10.4205).
    expectNear(found.least, (0.9 / (792 * 1.1572)) * Math.log((10.9 + 0.7) / (8.4 * 1.1572 + 0.7)), 1e-12);
    expect(found.mostCorner.map((part) => part.what).sort()).toEqual(['K1 coil', 'K1 volts', 'K1 winding']);
    expect(found.leastCorner[0]!.what).toBe('K1 release time');
    expect(found.mostCorner.reduce((sum, part) => sum + part.share, 0)).toBeCloseTo(1, 12);
    expect(found.assumptions).toContain('release time of K1 taken as that without suppression');
  });

  test('a relay that nothing promises to hold may let go at once', () => {
    const loose = releaseLevel('K1', { least: 1.2, usual: 1.2 }, undefined, coil.volts);
    const found = releaseSeconds(coil, [{ sort: 'diode', drop: assumedDrop('K1') }], loose, own) as Value;
    expect(found.least).toBe(0);
    expect(found.assumptions.join()).toContain('suppression diode of K1 taken to drop 0.7 V');
  });

  test('a relay that never certainly lets go', () => {
    const zero = releaseLevel('K1', { least: 0, usual: 0 }, { most: 8.4 }, coil.volts);
    const resistor: Suppression = { sort: 'resistor', ohms: fixed('R1', 'ohm', 1000) };
    const found = releaseSeconds(coil, [resistor], zero, own) as Value;
    expect(found.most).toBe(NEVER);
    expect(found.least).toBeLessThan(1);
  });
});

describe('operate', () => {
  test('the extremes of the rise are those of all corners', () => {
    const random = seeded(11);
    for (let set = 0; set < 20; set++) {
      const coil = randomCoil(random);
      const operates = box('K1 operates', 'V', coil.volts.usual * 0.6, 0.05, 0);
      const given = { ...coil, operates };
      const found = operateRise(given);
      const timed = operateSeconds(given, coil.volts.usual, ranged('own', 's', { least: 0, usual: 6e-3, most: 6e-3 }));
      const variables = [coil.ohms, coil.celsius, coil.henries, coil.volts, operates];
      let [low, high, late] = [NEVER, 0, 0];
      for (let corner = 0; corner < 32; corner++) {
        const values = variables.map(({ least, most }, k) => ((corner >> k) & 1 ? most : least));
        const [cold, celsius, henries, volts, level] = values as [number, number, number, number, number];
        const rise = riseSeconds({ ohms: cold * copperFactor(celsius), henries, volts }, level / cold);
        low = Math.min(low, rise);
        high = Math.max(high, rise);
        const rated = riseSeconds({ ohms: cold, henries, volts: coil.volts.usual }, level / cold);
        late = Math.max(late, rise - rated);
      }
      expectNear(found.least, low, 1e-12);
      expectNear(found.most, high, 1e-12);
      expectNear(timed.most, 6e-3 + late, 1e-12);
      expect(timed.least).toBe(0);
      expectNear(timed.usual, 6e-3, 1e-12);
    }
  });

  test('volts below those it needs when warm: never', () => {
    const coil = {
      name: 'K1',
      ohms: fixed('K1 coil', 'ohm', 400),
      celsius: ranged('K1 winding', 'degC', { least: 20, usual: 20, most: 60 }),
      henries: fixed('K1 inductance', 'H', 0.5),
      volts: ranged('K1 volts', 'V', { least: 9, usual: 12, most: 14 }),
      operates: fixed('K1 operates', 'V', 8.4),
    };
    const found = operateRise(coil);
    // 8.4 V × 1.1572 = 9.72 V, above 9 V.
    expect(found.most).toBe(NEVER);
    expectNear(found.usual, (0.5 / 400) * Math.log(12 / (12 - 8.4)), 1e-12);
    expect(operateSeconds(coil, 12, fixed('own', 's', 5e-3)).most).toBe(NEVER);
  });
});

test('absurd values give numbers, never NaN', () => {
  const values = [0, 1e-12, 1, 1e12, -1];
  const random = seeded(13);
  const wild = (what: string, unit: string, among = values): Ranged => {
    const pick = () => among[Math.floor(random() * among.length)]!;
    const sorted = [pick(), pick(), pick()].sort((a, b) => a - b) as [number, number, number];
    return ranged(what, unit, { least: sorted[0], usual: sorted[1], most: sorted[2] });
  };
  const open = [...values, NEVER];
  let seen = 0;
  for (let set = 0; set < samples(3000); set++) {
    const coil: SwitchedCoil = {
      name: 'K1',
      ohms: wild('coil', 'ohm'),
      celsius: wild('winding', 'degC'),
      henries: wild('inductance', 'H'),
      volts: wild('volts', 'V'),
      ...(set % 2 === 0 ? { supplyVolts: wild('supply', 'V') } : {}),
    };
    const sorts: Suppression[] = [
      { sort: 'diode', drop: wild('drop', 'V'), slope: wild('slope', 'ohm', open) },
      { sort: 'zener', volts: wild('zener', 'V', open), drop: wild('drop', 'V') },
      { sort: 'resistor', ohms: wild('resistor', 'ohm', open) },
      { sort: 'switch-clamp', volts: wild('clamp', 'V') },
      { sort: 'rc', ohms: wild('rc', 'ohm'), farads: wild('rc', 'F') },
    ];
    const suppressions = set % 7 === 0 ? sorts.slice(0, 4) : [sorts[set % 5]!];
    const decay = coilDecay(coil, suppressions, wild('level', 'V', open));
    if (decay.sort !== 'decay') return expect.fail(decay.reason);
    for (const name of ['seconds', 'switchVolts', 'reverseVolts', 'storedJoules', 'suppressionJoules'] as const) {
      const { least, usual, most, leastCorner, mostCorner }: Value = decay[name];
      const all: number[] = [least, usual, most, ...[...leastCorner, ...mostCorner].map((part) => part.share)];
      if (all.some(Number.isNaN)) expect.fail(`${name} of ${JSON.stringify([coil, suppressions])}: ${all}`);
      seen += 1;
    }
  }
  expect(seen).toBe(5 * samples(3000));
});
