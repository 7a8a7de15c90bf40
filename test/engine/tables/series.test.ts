import {
  isPreferred,
  nearestPreferred,
  preferredBetween,
  preferredNear,
  preferredNeighbours,
  preferredPairs,
  SERIES,
  SERIES_NAMES,
  type SeriesName,
  seriesForTolerance,
} from '@couplet/engine';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import reference from '../../reference/e-series.json' with { type: 'json' };

const published = reference.series;

describe('IEC 60063', () => {
  test.each(SERIES_NAMES)('%s, value by value', (name) => {
    expect(SERIES[name]).toEqual(published[name]);
    expect(new Set(SERIES[name]).size).toBe(Number(name.slice(1)));
    expect([...SERIES[name]].sort((a, b) => a - b)).toEqual(SERIES[name]);
  });

  test('E48, E96 and E192 follow the formula but for 9.20', () => {
    const { index, formula, actual } = reference.rule.exception;
    for (const name of ['E48', 'E96', 'E192'] as const) {
      const steps = SERIES[name].length;
      SERIES[name].forEach((value, i) => {
        const rounded = Number((10 ** (i / steps)).toFixed(2));
        if (name === 'E192' && i === index) expect([rounded, value]).toEqual([formula, actual]);
        else expect(value).toBe(rounded);
      });
    }
    expect(isPreferred(9.2, ['E192'])).toBe(true);
    expect(isPreferred(9.19, ['E192'])).toBe(false);
  });

  test('E24 leaves its formula at eight places', () => {
    const off = SERIES.E24.flatMap((actual, index) => {
      const formula = Number((10 ** (index / 24)).toFixed(1));
      return formula === actual ? [] : [{ index, formula2sf: formula, actual }];
    });
    expect(off).toEqual(
      reference.e24Exceptions.map(({ index, formula2sf, actual }) => ({ index, formula2sf, actual })),
    );
  });

  test('which E24 values the finer series hold', () => {
    expect(SERIES.E24.filter((value) => !SERIES.E192.includes(value))).toEqual(reference.e24NotInE192);
    expect(SERIES.E24.filter((value) => SERIES.E96.includes(value))).toEqual(reference.e24InE96);
  });
});

describe('near a value', () => {
  test.each(reference.nearest)('$series for $wanted is $nearest', ({ series, wanted, nearest, neighbours }) => {
    const name = series as SeriesName;
    expect(nearestPreferred(wanted, [name])).toBe(nearest);
    if (neighbours === undefined) return;
    expect(preferredNeighbours(wanted, [name])).toEqual({ lower: neighbours[0], upper: neighbours[1] });
  });

  test('values of several series are taken together, across decades', () => {
    expect(preferredBetween(9000, 11_000, ['E24', 'E96'])).toEqual([
      9090, 9100, 9310, 9530, 9760, 10_000, 10_200, 10_500, 10_700, 11_000,
    ]);
    expect(preferredNear(3300, ['E12'], 5)).toEqual([3300, 3900, 2700, 4700, 2200]);
    expect(preferredNear(1, ['E3'], 5)).toEqual([1, 0.47, 2.2, 0.22, 4.7]);
  });

  test('nothing and less has no neighbours', () => {
    for (const value of [0, -1, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(nearestPreferred(value, ['E24'])).toBeUndefined();
      expect(preferredNear(value, ['E24'], 3)).toEqual([]);
      expect(preferredPairs(value, ['E24'])).toEqual([]);
      expect(isPreferred(value, ['E24'])).toBe(false);
    }
  });

  test('no preferred value is nearer by ratio than the nearest', () => {
    const names = fc.constantFrom(...SERIES_NAMES);
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 1e8, noNaN: true }), names, (value, name) => {
        const nearest = nearestPreferred(value, [name]) as number;
        const away = Math.abs(Math.log(nearest / value));
        for (const other of preferredBetween(value / 10, value * 10, [name])) {
          expect(away).toBeLessThanOrEqual(Math.abs(Math.log(other / value)) + 1e-5);
        }
      }),
      { numRuns: 300, seed: 20_260 },
    );
  });
});

test.each([
  [0.001, ['E24', 'E192']],
  [0.005, ['E24', 'E192']],
  [0.01, ['E24', 'E96']],
  [0.02, ['E24', 'E48']],
  [0.05, ['E24']],
  [0.1, ['E12']],
  [0.2, ['E6']],
  [0.3, ['E3']],
])('parts of %d are made in %j', (tolerance, series) => {
  expect(seriesForTolerance(tolerance)).toEqual(series);
});

test('1 % parts come in E24 values as well as E96', () => {
  const series = seriesForTolerance(0.01);
  for (const ohms of [2200, 4700, 2210, 5600]) expect(isPreferred(ohms, series)).toBe(true);
  for (const ohms of [2230, 5000, 9200]) expect(isPreferred(ohms, series)).toBe(false);
});

describe('pairs', () => {
  test('made of equal or alike parts come first among exact ones', () => {
    const pairs = preferredPairs(5000, ['E24'], 5);
    expect(pairs.every((pair) => pair.error === 0)).toBe(true);
    expect(pairs[0]).toEqual({ arrangement: 'parallel', a: 10_000, b: 10_000, ohms: 5000, error: 0 });
    expect(pairs[1]).toEqual({ arrangement: 'series', a: 3000, b: 2000, ohms: 5000, error: 0 });
  });

  test('the best one is the best there is', () => {
    const wanted = 6789;
    const parts = preferredBetween(wanted / 1000, wanted * 1000, ['E12']);
    let best = Number.POSITIVE_INFINITY;
    for (const a of parts) {
      for (const b of parts) best = Math.min(best, Math.abs(a + b - wanted), Math.abs((a * b) / (a + b) - wanted));
    }
    const found = preferredPairs(wanted, ['E12'])[0];
    expect(Math.abs((found?.ohms ?? 0) - wanted)).toBeCloseTo(best, 6);
  });

  test('do what they say, nearest first, of preferred values', () => {
    fc.assert(
      fc.property(fc.double({ min: 1, max: 1e6, noNaN: true }), fc.constantFrom(...SERIES_NAMES), (wanted, name) => {
        const pairs = preferredPairs(wanted, [name], 8);
        expect(pairs).toHaveLength(8);
        let last = 0;
        for (const { arrangement, a, b, ohms, error } of pairs) {
          expect(ohms).toBeCloseTo(arrangement === 'series' ? a + b : 1 / (1 / a + 1 / b), 6);
          expect(error).toBeCloseTo(ohms / wanted - 1, 9);
          expect(Math.abs(error)).toBeGreaterThanOrEqual(last - 1e-9);
          expect(isPreferred(a, [name]) && isPreferred(b, [name]) && a >= b).toBe(true);
          last = Math.abs(error);
        }
      }),
      { numRuns: 200, seed: 20_260 },
    );
  });
});
