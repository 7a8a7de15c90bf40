import {
  bandHolds,
  halfOpenAbove,
  halfOpenBelow,
  parseSpread,
  relativeTolerance,
  spreadOfAmbient,
  spreadOfRange,
  spreadOfSingle,
  withTolerance,
} from '@couplet/engine';
import { describe, expect, test } from 'vitest';

describe('tolerances and ranges', () => {
  test.each([
    ['12 V', 12, 12, 12],
    ['2k2 +-1%', 2178, 2200, 2222],
    ['2k2 ±1%', 2178, 2200, 2222],
    ['12 V +-0.5 V', 11.5, 12, 12.5],
    ['12 V -15% +20%', 10.2, 12, 14.4],
    ['12 V +20% -15%', 10.2, 12, 14.4],
    ['12 V +5%', 12, 12, 12.6],
    ['9 V .. 15 V', 9, 12, 15],
    ['11.4 V .. 12.8 V .. 14.1 V', 11.4, 12.8, 14.1],
    ['-5 degC .. 40 degC', -5, 17.5, 40],
    ['-5 degC +-2 degC', -7, -5, -3],
    ['–5 °C', -5, -5, -5],
    ['75% +-5%', 0.7, 0.75, 0.8],
  ])('%s', (text, least, usual, most) => {
    const value = parseSpread(text);
    if (!('least' in value)) throw new Error(JSON.stringify(value));
    expect(value.least).toBeCloseTo(least, 12);
    expect(value.usual).toBeCloseTo(usual, 12);
    expect(value.most).toBeCloseTo(most, 12);
  });

  test.each([
    ['15 V .. 9 V', 'range-reversed'],
    ['9 .. 15 V', 'unit-missing'],
    ['9 V .. 15', 'unit-missing'],
    ['9 V .. 2 A', 'range-mixed'],
    ['1 V .. 2 V .. 3 V .. 4 V', 'not-a-value'],
    ['12 V +-1', 'tolerance-mixed'],
    ['12 V +-1 A', 'tolerance-mixed'],
    ['20 degC +-1%', 'tolerance-mixed'],
    ['12 V +-1% +2%', 'tolerance-mixed'],
    ['12 V +1% +2%', 'tolerance-mixed'],
    ['2k2 +-1,5%', 'decimal-comma'],
    ['12 Volt +-1%', 'unit-unknown'],
    ['below x', 'not-a-value'],
  ])('%s is %s', (text, code) => {
    expect(parseSpread(text)).toMatchObject({ error: { code } });
  });

  test('the form says where a usual value was assumed, and the tolerance stays known', () => {
    expect(parseSpread('9 V .. 15 V')).toMatchObject({ form: 'range' });
    expect(parseSpread('11 V .. 12 V .. 13 V')).toMatchObject({ form: 'three' });
    expect(parseSpread('4k7 +-5%')).toMatchObject({ tolerance: { below: 0.05, above: 0.05, relative: true } });
  });

  test('half-open values keep the open side infinite; a band holds its lower edge and not its upper', () => {
    expect(parseSpread('below 1k1')).toMatchObject({ from: Number.NEGATIVE_INFINITY, to: 1100, dimension: 'ohm' });
    expect(parseSpread('above 2 mA')).toMatchObject({ from: 0.002, to: Number.POSITIVE_INFINITY, dimension: 'A' });
    expect(bandHolds(halfOpenAbove(10_000), 10_000)).toBe(true);
    expect(bandHolds(halfOpenAbove(10_000), Number.POSITIVE_INFINITY)).toBe(false);
    expect(bandHolds(halfOpenBelow(1100), 1100)).toBe(false);
    expect(bandHolds(halfOpenBelow(1100), 0)).toBe(true);
  });
});

test('a single value is exact, an upper bound or a promise', () => {
  expect(spreadOfSingle(4700, 'exact')).toEqual({ least: 4700, usual: 4700, most: 4700 });
  expect(spreadOfSingle(0.5, 'at most')).toEqual({ least: 0, usual: 0.5, most: 0.5 });
  expect(spreadOfSingle(36, 'at least')).toEqual({ least: 36, usual: 36, most: 36 });
  expect(parseSpread('20 uA', 'at most')).toMatchObject({ least: 0, usual: 20e-6, most: 20e-6 });
});

test('a range has its middle as usual, an ambient one 20 °C where it holds it', () => {
  expect(spreadOfRange(9, 15).usual).toBe(12);
  expect(spreadOfAmbient(-5, 40).usual).toBe(20);
  expect(spreadOfAmbient(25, 45).usual).toBe(35);
});

test('tolerances count from the size of the nominal value, and are found again', () => {
  const tolerance = { below: 0.1, above: 0.2, relative: true };
  expect(withTolerance(-10, tolerance)).toEqual({ least: -11, usual: -10, most: -8 });
  const found = relativeTolerance(withTolerance(50, tolerance));
  expect(found?.below).toBeCloseTo(0.1, 12);
  expect(found?.above).toBeCloseTo(0.2, 12);
  expect(relativeTolerance({ least: -1, usual: 0, most: 1 })).toBeUndefined();
});
