import {
  assumedClass,
  awgArea,
  awgDiameter,
  awgOhmsPerKm,
  CABLE_SECTIONS,
  CONDUCTOR_CLASSES,
  COPPER_COEFFICIENT,
  COPPER_RESISTIVITY,
  copperFactor,
  coreCapacity,
  coreOhmsPerKm,
  IEC_60204_CAPACITY,
  IEC_60228,
  idealOhmsPerKm,
  nearestAwg,
  resistanceCorrection,
  SMALL_CONDUCTORS,
  SMALL_CORE_AMPS,
} from '@couplet/engine';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import awg from '../../reference/awg.json' with { type: 'json' };
import capacity from '../../reference/capacity.json' with { type: 'json' };
import copper from '../../reference/copper.json' with { type: 'json' };
import iec60228 from '../../reference/iec-60228.json' with { type: 'json' };
import relay from '../../reference/relay.json' with { type: 'json' };
import small from '../../reference/small-conductors.json' with { type: 'json' };

describe('IEC 60228, value by value', () => {
  test('sections', () => {
    expect(IEC_60228.map((row) => row.mm2)).toEqual(iec60228.rows.map((row) => row.mm2));
  });

  test.each(iec60228.rows)('$mm2 mm²', ({ mm2, plain, coated, ideal }) => {
    const row = IEC_60228.find((each) => each.mm2 === mm2);
    expect(row?.plain).toEqual(plain);
    // Where the standard has no coated class 1, class 2 stands in its place.
    expect(row?.coated).toEqual({ ...coated, 1: coated[1] ?? coated[2] });
    expect(Math.abs(idealOhmsPerKm(mm2) - ideal)).toBeLessThan(0.0006);
  });

  test.each(Object.entries(iec60228.temperature.printedKt))('temperature correction at %s °C', (celsius, kt) => {
    expect(Math.abs(resistanceCorrection(Number(celsius)) - kt)).toBeLessThanOrEqual(0.00051);
  });

  test('1.5 mm² class 5 at 50 °C, by the table and as copper', () => {
    const { byTable, byCopper } = iec60228.temperature.example;
    const celsius = 50;
    const most = coreOhmsPerKm({ section: 1.5, class: 5 })?.most as number;
    expect(most / iec60228.temperature.printedKt[celsius]).toBeCloseTo(byTable, 2);
    expect(Math.abs(most / resistanceCorrection(celsius) / byTable - 1)).toBeLessThan(1e-3);
    expect(most * copperFactor(celsius)).toBeCloseTo(byCopper, 2);
  });
});

describe('copper', () => {
  test('constants', () => {
    expect(COPPER_RESISTIVITY).toBe(copper.resistivity20);
    expect(1 / COPPER_RESISTIVITY / copper.conductivity).toBeCloseTo(1, 4);
    expect(COPPER_COEFFICIENT).toBe(copper.alpha20);
  });

  test('resistance falls to nothing at the temperature that the coefficient is named by', () => {
    const zero = copper.zeroResistanceCelsius;
    for (const celsius of [-40, 0, 20, 60, 125]) {
      expect(copperFactor(celsius)).toBeCloseTo((celsius - zero) / (20 - zero), 3);
    }
    expect(copperFactor(20)).toBe(1);
    expect(copperFactor(60)).toBeCloseTo(1.1572, 4);
  });

  test('coils of relays', () => {
    for (const example of relay.coilTemperature.examples) {
      if ('R20' in example && example.R20 !== undefined) {
        expect(example.R20 * copperFactor(example.celsius)).toBeCloseTo(example.R, 1);
        if (example.volts20 !== undefined)
          expect(example.volts20 * copperFactor(example.celsius)).toBeCloseTo(example.volts, 2);
      } else {
        const rise = copperFactor(example.celsius) / copperFactor(25);
        expect(Math.abs(((example.R25 as number) * rise) / example.R - 1)).toBeLessThan(example.relTol as number);
        expect(Math.abs(((example.volts25 as number) * rise) / (example.volts as number) - 1)).toBeLessThan(
          example.relTol as number,
        );
      }
    }
    expect(relay.coilTemperature.examples).toHaveLength(3);
  });
});

describe('American wire gauge, value by value', () => {
  test.each(awg.rows)('$awg AWG', ({ awg: gauge, diameter, mm2, ohmPerKm, ...printed }) => {
    expect(awgDiameter(gauge)).toBeCloseTo(diameter, 4);
    expect(awgArea(gauge)).toBeCloseTo(mm2, 4);
    expect(awgOhmsPerKm(gauge)).toBeCloseTo(ohmPerKm, 3);
    if ('printedOhmPerKm' in printed)
      expect(Math.abs(awgOhmsPerKm(gauge) / (printed.printedOhmPerKm as number) - 1)).toBeLessThan(1e-3);
    expect(nearestAwg(mm2)).toBe(gauge);
  });

  test.each(Object.entries(awg.at75degC.ohmPerKm))('%s AWG at 75 °C', (gauge, printed) => {
    expect(Math.abs((awgOhmsPerKm(Number(gauge)) * copperFactor(75)) / printed - 1)).toBeLessThan(0.003);
  });

  test('a step is the printed ratio, and far sections end at the last gauges', () => {
    expect(awgDiameter(20) / awgDiameter(21)).toBeCloseTo(awg.formula.ratio, 12);
    expect(nearestAwg(1e6)).toBe(0);
    expect(nearestAwg(1e-6)).toBe(40);
  });
});

describe('cores whose resistance is not declared', () => {
  test.each(small.rows)('$construction', ({ construction, mm2, ideal }) => {
    expect(SMALL_CONDUCTORS.find((row) => row.construction === construction)?.mm2).toBe(mm2);
    expect(Math.abs(idealOhmsPerKm(mm2) / ideal - 1)).toBeLessThan(2e-3);
  });

  test('7/0.2 of 0.22 mm² covers what is printed for it', () => {
    const core = coreOhmsPerKm({ section: 0.22 });
    expect(core?.least).toBeCloseTo(78.37, 2);
    expect(core?.usual).toBeCloseTo(87.77, 2);
    expect(core?.most).toBeCloseTo(94.83, 2);
    expect(core?.assumption).toBe('core of 0.22 mm² taken as 78.4 to 94.8 Ω/km, copper, at 20 °C');
  });

  test('from 0.5 mm² the most is the maximum of the class', () => {
    for (const row of IEC_60228) {
      for (const used of CONDUCTOR_CLASSES) {
        expect(coreOhmsPerKm({ section: row.mm2, class: used })?.most).toBe(row.plain[used]);
        expect(coreOhmsPerKm({ section: row.mm2, class: used, coated: true })?.most).toBe(row.coated[used]);
      }
      expect(coreOhmsPerKm({ section: row.mm2 })?.most).toBe(row.plain[row.mm2 <= 2.5 ? 5 : 2]);
      expect(coreOhmsPerKm({ section: row.mm2 })?.usual).toBe(idealOhmsPerKm(row.mm2));
    }
    expect([assumedClass(2.5), assumedClass(4)]).toEqual([5, 2]);
  });

  test('what was assumed is said', () => {
    expect(coreOhmsPerKm({ section: 1 })?.assumption).toBe(
      'core of 1 mm² taken as 17.2 to 19.5 Ω/km at 20 °C (IEC 60228 class 5 assumed, plain copper)',
    );
    expect(coreOhmsPerKm({ section: 1, class: 1, coated: true })?.assumption).toContain('class 1, metal-coated copper');
  });

  test('more copper never has more ohms within a class, and least is never above most', () => {
    const section = fc.double({ min: 0.05, max: 40, noNaN: true });
    fc.assert(
      fc.property(section, fc.constantFrom(...CONDUCTOR_CLASSES), (mm2, used) => {
        const core = coreOhmsPerKm({ section: mm2, class: used });
        if (core === undefined) throw new Error('a section has ohms');
        expect(core.least).toBeLessThanOrEqual(core.usual);
        expect(core.usual).toBeLessThanOrEqual(core.most);
      }),
      { numRuns: 500, seed: 20_260 },
    );
    const most = CABLE_SECTIONS.map((mm2) => coreOhmsPerKm({ section: mm2, class: 5 })?.most as number);
    expect([...most].sort((a, b) => b - a)).toEqual(most);
  });

  test('no section, no ohms', () => {
    for (const section of [0, -1, Number.NaN, Number.POSITIVE_INFINITY])
      expect(coreOhmsPerKm({ section })).toBeUndefined();
  });
});

describe('capacity', () => {
  test('IEC 60204-1, value by value', () => {
    const listed = capacity.rows
      .filter((row) => row.mm2 >= 0.5)
      .map(({ mm2, note: _note, ...amps }) => ({ mm2, amps }));
    expect(IEC_60204_CAPACITY).toEqual(listed);
    expect(SMALL_CORE_AMPS).toBe(capacity.belowHalf.amps);
  });

  test.each([
    [0.22, 1],
    [0.49, 1],
    [0.5, 7.5],
    [0.8, 8.5],
    [1.5, 13.1],
    [10, 17.4],
  ])('%d mm² carries %d A', (mm2, amps) => {
    expect(coreCapacity(mm2).amps).toBe(amps);
    expect(coreCapacity(mm2).assumption).toContain(`${amps} A`);
  });
});
