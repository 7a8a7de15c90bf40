import { DIMENSIONS, formatFigure, isQuantityError, parseQuantity, writeQuantity } from '@couplet/engine';
import fc from 'fast-check';
import { expect, test } from 'vitest';

test.each([
  [2200, 'ohm', '2k2'],
  [4700, 'ohm', '4k7'],
  [470, 'ohm', '470R'],
  [0.47, 'ohm', '0R47'],
  [1e6, 'ohm', '1M0'],
  [10_000, 'ohm', '10k'],
  [47_300, 'ohm', '47k3'],
  [2226.6, 'ohm', '2226.6 ohm'],
  [0, 'ohm', '0 ohm'],
  [0.22, 'mm2', '0.22 mm2'],
  [90, 's', '90 s'],
  [0.4, 's', '400 ms'],
  [1800, 's', '30 min'],
  [86_400, 's', '24 h'],
  [259_200, 's', '72 h'],
  [12, 'V', '12 V'],
  [0.5, 'V', '0.5 V'],
  [0.012, 'V', '12 mV'],
  [0.2, 'A', '200 mA'],
  [1.2, 'A', '1.2 A'],
  [20e-6, 'A', '20 uA'],
  [0.75, 'ratio', '75%'],
  [-5, 'degC', '-5 degC'],
  [140, 'm', '140 m'],
  [17, 'Ah', '17 Ah'],
  [0.0022, 'F', '2200 uF'],
  [0.9, 'H', '0.9 H'],
  [95, 'ohm/km', '95 ohm/km'],
  [24, 'V ac', '24 V ac'],
  [3, 'number', '3'],
] as const)('%d in %s is written %s', (value, dimension, text) => {
  expect(writeQuantity(value, dimension)).toBe(text);
});

test('what is no finite number is not written', () => {
  expect(() => writeQuantity(Number.POSITIVE_INFINITY, 'ohm')).toThrow(RangeError);
  expect(() => writeQuantity(Number.NaN, 'V')).toThrow(RangeError);
});

test('reading what was written gives the same number', () => {
  const dimension = fc.constantFrom(...DIMENSIONS.map((row) => row.dimension));
  const size = fc.oneof(
    fc.double({ min: 1e-15, max: 1e12, noNaN: true }),
    fc.tuple(fc.integer({ min: 0, max: 9999 }), fc.integer({ min: -9, max: 6 })).map(([n, e]) => Number(`${n}e${e}`)),
    fc.tuple(fc.integer({ min: 1, max: 100 }), fc.constantFrom(60, 3600, 86_400)).map(([n, unit]) => n * unit),
  );
  const value = fc.tuple(size, fc.boolean()).map(([each, negative]) => (negative && each !== 0 ? -each : each));
  fc.assert(
    fc.property(value, dimension, (each, of) => {
      const text = writeQuantity(each, of);
      const read = parseQuantity(text);
      if (isQuantityError(read)) throw new Error(`${text}: ${read.error.message}`);
      expect(read.value, text).toBe(each);
      expect(read.dimension, text).toBe(of);
    }),
    { numRuns: 5000, seed: 20_260 },
  );
});

test('a figure in plain signs reads back to within its digits', () => {
  const dimension = fc.constantFrom(...DIMENSIONS.map((row) => row.dimension).filter((each) => each !== 'degC'));
  fc.assert(
    fc.property(fc.double({ min: 1e-6, max: 999, noNaN: true }), dimension, (value, of) => {
      const shown = formatFigure(value, of, { plain: true });
      const read = parseQuantity(shown);
      // Microwatts are shown and never written.
      if (shown.endsWith('uW')) return;
      if (isQuantityError(read)) throw new Error(`${shown}: ${read.error.message}`);
      expect(read.dimension).toBe(of);
      expect(Math.abs(read.value - value)).toBeLessThanOrEqual(0.00501 * value);
    }),
    { numRuns: 3000, seed: 20_260 },
  );
});
