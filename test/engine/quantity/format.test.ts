import { formatFigure, formatRange, formatSpread, LOOP_DIGITS } from '@couplet/engine';
import fc from 'fast-check';
import { expect, test } from 'vitest';

test.each([
  [0.0241, 'A', '24.1 mA'],
  [0.99996, 'A', '1.00 A'],
  [0.588, 'A', '588 mA'],
  [14.1 / 24, 'A', '588 mA'],
  [0.000722, 'A', '722 µA'],
  [1e-9, 'A', '1.00 nA'],
  [14.1, 'V', '14.1 V'],
  [-0.0123, 'V', '-12.3 mV'],
  [999_999, 'ohm', '1.00 MΩ'],
  [0.1, 'ohm', '100 mΩ'],
  [1.175, 'ratio', '118 %'],
  [0.12, 'ratio', '12.0 %'],
  [60, 'degC', '60 °C'],
  [-5, 'degC', '-5 °C'],
  [23.456, 'degC', '23.5 °C'],
  [-0.04, 'degC', '0 °C'],
  [0.4, 's', '400 ms'],
  [0.99999, 's', '1 s'],
  [90, 's', '90 s'],
  [119.99, 's', '2 min'],
  [1800, 's', '30 min'],
  [86_400, 's', '24 h'],
  [140, 'm', '140 m'],
  [0.0022, 'F', '2200 µF'],
  [17, 'Ah', '17.0 Ah'],
  [0.22, 'mm2', '0.22 mm²'],
  [95, 'ohm/km', '95.0 Ω/km'],
  [24, 'V ac', '24.0 V ac'],
  [0, 'A', '0 A'],
  [-0, 'V', '0 V'],
] as const)('%d in %s is shown as %s', (value, dimension, shown) => {
  expect(formatFigure(value, dimension)).toBe(shown);
});

test('loop ohms have four digits', () => {
  expect(formatFigure(2226.6, 'ohm', { digits: LOOP_DIGITS })).toBe('2.227 kΩ');
  expect(formatSpread({ least: 2202.0, usual: 2226.6, most: 2250.7 }, 'ohm', { digits: LOOP_DIGITS })).toBe(
    '2.227 kΩ (2.202 kΩ .. 2.251 kΩ)',
  );
});

test('least and most are shown once where they read alike', () => {
  expect(formatRange(10.9, 14.1, 'V')).toBe('10.9 V .. 14.1 V');
  expect(formatRange(12.001, 12.002, 'V')).toBe('12.0 V');
  expect(formatRange(Number.NEGATIVE_INFINITY, 1100, 'ohm')).toBe('below 1.10 kΩ');
  expect(formatRange(2200, Number.POSITIVE_INFINITY, 'ohm')).toBe('2.20 kΩ .. open');
  expect(formatRange(36, Number.POSITIVE_INFINITY, 'V')).toBe('above 36.0 V');
});

test('what is no number is not shown as one', () => {
  expect(formatFigure(Number.NaN, 'V')).toBe('not evaluated');
  expect(formatFigure(Number.POSITIVE_INFINITY, 'ohm')).toBe('open');
  expect(formatFigure(Number.POSITIVE_INFINITY, 'A')).toBe('unlimited');
});

test('a prefix never stands before 1000 or more, and three digits are kept', () => {
  const amps = fc.double({ min: 1e-8, max: 900, noNaN: true });
  fc.assert(
    fc.property(amps, (value) => {
      const [number = '', unit = ''] = formatFigure(value, 'A').split(' ');
      const power = { nA: 1e-9, µA: 1e-6, mA: 1e-3, A: 1 }[unit] ?? Number.NaN;
      expect(Number(number)).toBeGreaterThanOrEqual(1);
      expect(Number(number)).toBeLessThan(1000);
      expect(number.replace('.', '')).toHaveLength(3);
      expect(Math.abs(Number(number) * power - value)).toBeLessThanOrEqual(0.005001 * value);
    }),
    { numRuns: 2000, seed: 20_260 },
  );
});

test('a greater value is never shown as a smaller one', () => {
  const value = fc.double({ min: 0, max: 1e6, noNaN: true });
  const shown = (seconds: number) => {
    const [number = '', unit = ''] = formatFigure(seconds, 's').split(' ');
    return Number(number) * ({ µs: 1e-6, ms: 1e-3, s: 1, min: 60, h: 3600 }[unit] ?? Number.NaN);
  };
  fc.assert(
    fc.property(value, value, (a, b) => {
      expect(shown(Math.min(a, b))).toBeLessThanOrEqual(shown(Math.max(a, b)) * (1 + 1e-12));
    }),
    { numRuns: 2000, seed: 20_260 },
  );
});
