/** Figures at the steps between two units, in the units that only results reach, and in plain signs. */
import { formatFigure, formatSpread } from '@couplet/engine';
import { expect, test } from 'vitest';

test.each([
  [1234, 'V', '1.23 kV'],
  [1e-5, 'V', '10.0 µV'],
  [1500, 'A', '1.50 kA'],
  [2500, 'W', '2.50 kW'],
  [6, 'W', '6.00 W'],
  [0.25, 'W', '250 mW'],
  [5e-6, 'W', '5.00 µW'],
  [2e9, 'ohm', '2.00 GΩ'],
  [720, 'ohm', '720 Ω'],
  [50, 'VA', '50.0 VA'],
  [12, 'number', '12'],
  [0, 'number', '0'],
  [2, 'm', '2 m'],
  [9990, 'm', '9990 m'],
  [1e4, 'm', '10 km'],
  [0.006, 'm', '6 mm'],
  [47e-12, 'F', '47 pF'],
  [1e-7, 'F', '100 nF'],
  [0.009, 'F', '9000 µF'],
  [0.01, 'F', '10 mF'],
  [2, 'F', '2 F'],
  [0, 'F', '0 F'],
  [5e-5, 'H', '50 µH'],
  [0.6, 'H', '600 mH'],
  [2, 'H', '2 H'],
  [50, 'Hz', '50 Hz'],
  [2000, 'Hz', '2 kHz'],
  [0.001, 's', '1 ms'],
  [7199.5, 's', '2 h'],
  [105, 'degC', '105 °C'],
  [0.12, 'degC', '0.1 °C'],
  [0.7, 'Ah', '700 mAh'],
  [9e-16, 'A', '0 A'],
] as const)('%d in %s is shown as %s', (value, dimension, shown) => {
  expect(formatFigure(value, dimension)).toBe(shown);
});

test.each([
  [0.02, 'A', '20.0 mA'],
  [2e-5, 'A', '20.0 uA'],
  [2226, 'ohm', '2.23 kohm'],
  [-5, 'degC', '-5 degC'],
  [0.75, 'ratio', '75.0%'],
  [5e-6, 'W', '5.00 uW'],
  [3, 'number', '3'],
] as const)('%d in %s is %s in plain signs', (value, dimension, shown) => {
  expect(formatFigure(value, dimension, { plain: true })).toBe(shown);
});

test('a spread that is shown as one figure is shown once', () => {
  expect(formatSpread({ least: 12, usual: 12, most: 12 }, 'V')).toBe('12.0 V');
  expect(formatSpread({ least: 11, usual: 12, most: 12 }, 'V')).toBe('12.0 V (11.0 V .. 12.0 V)');
});
