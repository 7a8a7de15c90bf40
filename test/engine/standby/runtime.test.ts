/** Runtimes, volts by state of charge and the ends of a battery. */
import { readFileSync } from 'node:fs';
import {
  batteryEnds,
  batteryOf,
  batterySizing,
  chargeAtVolts,
  chargeCurve,
  chargeCurveBetween,
  chemistryOf,
  compensatedFloat,
  fixed,
  peukertHours,
  runtime,
  runtimeCurve,
  runtimeSeconds,
  runtimeToVolts,
  type Value,
  voltsAtCharge,
  wear,
} from '@couplet/engine';
import { describe, expect, test } from 'vitest';
import { agm, expectNear, HOUR, overCorners, spread } from './support.ts';

const reference = JSON.parse(readFileSync(new URL('../../reference/battery.json', import.meta.url), 'utf8'));
const asNew = fixed('wear', '', 1);

function value(found: ReturnType<typeof runtime>): Value {
  return found.sort === 'value' ? found : expect.fail(found.reason);
}

describe('runtime', () => {
  test('Peukert in its rated-hour form: 100 Ah over 20 h, k 1.2, at 10 A', () => {
    // A widely printed example, from memory: 8.7 h.
    const { ampereHours, hours, amps, k, lasts, printed } = reference.peukert.examples[0] as Record<string, number>;
    const seconds = runtimeSeconds({
      ampereHours: ampereHours!,
      ratedSeconds: hours! * HOUR,
      exponent: k!,
      celsius: 25,
      ageing: 1,
      amps: amps!,
    });
    expectNear(seconds / HOUR, lasts!, 1e-6);
    expectNear(seconds / HOUR, printed!, 2e-3);
    expectNear(seconds / HOUR, peukertHours(ampereHours!, hours!, amps!, k!), 1e-12);
  });

  test('by hand: 7 Ah at 0.14 A and at 3.5 A, new and worn', () => {
    // Slower than the rated 0.35 A nothing is gained: 7 / 0.14 = 50 h; worn 50 / 1.25 = 40 h.
    const slow = value(runtime(agm(7), fixed('current', 'A', 0.14)));
    expectNear(slow.usual, 50 * HOUR);
    expectNear(slow.least, 40 * HOUR);
    expectNear(slow.most, 50 * HOUR);
    expect(slow.leastCorner).toEqual([{ what: 'B1 wear', value: 1.25, unit: 'ratio', share: 1 }]);
    // Ten times the rated current: 7 / (3.5 × 10^0.1) = 7 / 4.406239 = 1.588657 h.
    expectNear(value(runtime(agm(7), fixed('current', 'A', 3.5))).usual, 1.588657 * HOUR, 1e-6);
    expect(value(runtime(agm(7), fixed('current', 'A', 0))).least).toBe(Number.POSITIVE_INFINITY);
  });

  test('a battery that is just large enough lasts just as long as it shall', () => {
    const battery = agm(12, [3, 18, 30]);
    const amps = fixed('current', 'A', 2);
    const seconds = value(runtime(battery, amps)).least;
    const carries = [{ name: 'alarm', amps, seconds: fixed('time', 's', seconds) }];
    const sizing = batterySizing(battery, carries, fixed('ageing', '', 1.25));
    if (sizing.sort !== 'sizing') return expect.fail(sizing.reason);
    expectNear(sizing.needed.most, 12, 1e-12);
  });

  test('the curve falls, ends where it is asked to, and bends at the rated current', () => {
    const curve = runtimeCurve(agm(7), 0.05, 5, 9);
    expect(curve).toHaveLength(9);
    expectNear(curve[0]!.amps, 0.05);
    expect(curve[8]!.amps).toBe(5);
    for (let k = 1; k < curve.length; k++) {
      expectNear(curve[k]!.amps / curve[k - 1]!.amps, 100 ** (1 / 8));
      const steps = Math.log(curve[k - 1]!.seconds.usual / curve[k]!.seconds.usual) / Math.log(100 ** (1 / 8));
      // On logarithmic scales it falls by 1 below 0.35 A and by k = 1.1 above.
      if (curve[k]!.amps <= 0.35) expectNear(steps, 1);
      if (curve[k - 1]!.amps >= 0.35) expectNear(steps, 1.1);
      expect(curve[k]!.seconds.least).toBeLessThan(curve[k]!.seconds.usual);
    }
    expect(runtimeCurve(agm(7), 0.1, 5, 2).map(({ amps }) => amps)).toEqual([0.1, 5]);
    expect(runtimeCurve(agm(7), 0.1, 5, 1)).toEqual([]);
    expect(runtimeCurve(agm(7), 0, 5)).toEqual([]);
    expect(runtimeCurve(agm(7), 5, 5)).toEqual([]);
    expect(runtimeCurve(agm(7, [-20, 0, 10]), 1, 5)).toEqual([]);
  });

  test('extremes are those of all corners', () => {
    const battery = batteryOf({
      name: 'B1',
      chemistry: chemistryOf('agm')!,
      volts: 12,
      ampereHours: spread('B1', 'Ah', 6.5, 7, 7),
      celsius: spread('B1 ambient', 'degC', 0, 20, 25),
    });
    const amps = spread('current', 'A', 0.2, 0.5, 2);
    const worn = wear(battery);
    const curve = chargeCurve(battery.chemistry, 6);
    const ohms = spread('B1 ohms', 'ohm', 0.02, 0.05, 0.1);
    const volts = spread('panel', 'V', 10.6, 11, 11.4);
    const found = value(runtimeToVolts(battery, { curve, amps, ohms, volts }));
    const [low, high] = overCorners([battery.ampereHours, battery.celsius, amps, worn, ohms, volts], (values) => {
      const [capacity, celsius, i, aged, inside, needed] = values as [number, number, number, number, number, number];
      const hours = (capacity * (celsius === 0 ? 0.75 : 1)) / (aged * i * Math.max(1, i / (capacity / 20)) ** 0.1);
      const left = (needed + i * inside - 10.5) / (13.65 - 10.5);
      return (1 - left) * hours * HOUR;
    });
    expectNear(found.least, low, 1e-12);
    expectNear(found.most, high, 1e-12);
    expect(found.assumptions).toContain(
      'volts a cell taken on straight lines from 1.75 V at the end of discharge to 2.275 V when full (AGM)',
    );
  });
});

describe('volts by state of charge', () => {
  test('ends and half charge are the published ones', () => {
    const lead = chargeCurve(chemistryOf('agm')!, 6);
    expectNear(voltsAtCharge(lead, 0), reference.leadAcid.endVoltsSixCells, 1e-12);
    const [low, high] = reference.leadAcid.floatVoltsSixCells as [number, number];
    expect(voltsAtCharge(lead, 1)).toBeGreaterThanOrEqual(low);
    expect(voltsAtCharge(lead, 1)).toBeLessThanOrEqual(high);
    const lithium = chargeCurve(chemistryOf('lifepo4')!, 4);
    const { full, end } = reference.lithiumIronPhosphate.fourCells as { full: [number, number]; end: [number, number] };
    expectNear(voltsAtCharge(lithium, 1), full[1], 1e-12);
    expectNear(voltsAtCharge(lithium, 0), end[1], 1e-12);
    // lifepo4batteryhq.com: 13.08 V of four cells at half charge.
    expectNear(voltsAtCharge(lithium, 0.5), 13.08, 1e-12);
  });

  test('volts and charge are each other’s inverse, held beyond the ends', () => {
    for (const curve of [chargeCurve(chemistryOf('lifepo4')!, 4), chargeCurveBetween(21, 27.3)]) {
      for (let charge = 0; charge <= 1; charge += 0.05) {
        expect(chargeAtVolts(curve, voltsAtCharge(curve, charge))).toBeCloseTo(charge, 12);
      }
      expect(chargeAtVolts(curve, 0)).toBe(0);
      expect(chargeAtVolts(curve, 100)).toBe(1);
      expect(voltsAtCharge(curve, -1)).toBe(voltsAtCharge(curve, 0));
      expect(voltsAtCharge(curve, 2)).toBe(voltsAtCharge(curve, 1));
    }
  });

  test('by hand: what needs 11.4 V stops a 12 V battery early', () => {
    // (11.4 + 0.35 × 0.2 − 10.5) / (13.65 − 10.5) = 0.97 / 3.15 = 0.307937 left; 20 h × 0.692063 = 13.84127 h.
    const found = runtimeToVolts(agm(7), {
      curve: chargeCurve(chemistryOf('agm')!, 6),
      amps: fixed('current', 'A', 0.35),
      ohms: fixed('B1 ohms', 'ohm', 0.2),
      volts: fixed('panel', 'V', 11.4),
      ageing: asNew,
    });
    expectNear(value(found).usual, 13.84127 * HOUR, 1e-6);
    const enough = runtimeToVolts(agm(7), {
      curve: chargeCurveBetween(10.5, 13.65),
      amps: fixed('current', 'A', 0.35),
      ohms: fixed('B1 ohms', 'ohm', 0),
      volts: fixed('panel', 'V', 9),
      ageing: asNew,
    });
    expectNear(value(enough).usual, 20 * HOUR);
    const never = runtimeToVolts(agm(7), {
      curve: chargeCurveBetween(10.5, 13.65),
      amps: fixed('current', 'A', 0.35),
      ohms: fixed('B1 ohms', 'ohm', 0),
      volts: fixed('panel', 'V', 14),
    });
    expect(value(never).most).toBe(0);
  });
});

describe('ends that checks are made at', () => {
  test('assumed from the chemistry, boost never', () => {
    const ends = batteryEnds({ name: 'B1', chemistry: chemistryOf('agm')!, cells: 6 });
    expect(ends.end.usual).toBe(10.5);
    expectNear(ends.float.usual, 13.65);
    expect(ends.boost).toBeUndefined();
    expect(ends.end.assumption).toBe('end of discharge of B1 taken as 10.5 V: 6 cells of 1.75 V (AGM)');
  });

  test('given ones stand', () => {
    const float = spread('B1 float', 'V', 13.5, 13.6, 13.8);
    const boost = fixed('B1 boost', 'V', 14.4);
    const end = fixed('B1 end', 'V', 11);
    const ends = batteryEnds({ name: 'B1', chemistry: chemistryOf('agm')!, cells: 6, end, float, boost });
    expect(ends).toEqual({ end, float, boost });
  });

  test('float volts follow the temperature as printed', () => {
    // absoluteastronomy.com, Float voltage: six flooded cells, 13.4 V at 25 °C, −5 mV a cell and kelvin, 30 °C.
    const { cells, volts25, perCellPerKelvin, celsius, volts } = reference.floatTemperature.example as Record<
      string,
      number
    >;
    const at = fixed('ambient', 'degC', celsius!);
    expectNear(compensatedFloat(volts25!, cells!, at, perCellPerKelvin!).usual, volts!, 1e-12);
    // With the usual −3 mV: 13.31 V; over −5 °C .. 35 °C: 13.4 + 0.54 V .. 13.4 − 0.18 V.
    expectNear(compensatedFloat(13.4, 6, at).usual, 13.31, 1e-12);
    const wide = compensatedFloat(13.4, 6, spread('ambient', 'degC', -5, 20, 35));
    expectNear(wide.most, 13.94, 1e-12);
    expectNear(wide.least, 13.22, 1e-12);
    expectNear(wide.usual, 13.49, 1e-12);
  });
});
