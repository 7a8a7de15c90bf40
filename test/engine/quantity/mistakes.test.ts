/** Values that are nearly right: what is said about them, and that nothing else is taken for them. */
import {
  bandHolds,
  halfOpenAbove,
  isQuantityError,
  parseIec60062,
  parseQuantity,
  parseSpread,
  type Quantity,
  rangeOf,
  relativeTolerance,
  spreadOfAmbient,
  wantDimension,
} from '@couplet/engine';
import { describe, expect, test } from 'vitest';

function read(text: string): Quantity {
  const result = parseQuantity(text);
  if (isQuantityError(result)) throw new Error(result.error.message);
  return result;
}

describe('one value', () => {
  test.each([
    ['-1,5 V', 'decimal-comma', '-1.5 V'],
    ['+12,5 V', 'decimal-comma', '+12.5 V'],
    ['12,50 V', 'decimal-comma', '12.50 V'],
    ['12,000,5 V', 'decimal-comma', '120005 V'],
    ['V 1,5', 'not-a-value', undefined],
    ['-1.25e3 V', 'exponent', '-1250 V'],
    ['12e3 V', 'exponent', '12000 V'],
    ['1e15 V', 'exponent', '1000000000000000 V'],
    ['1e16 V', 'exponent', undefined],
    ['V 1e3', 'not-a-value', undefined],
    ['-5. V', 'decimal-point', '-5 V'],
    ['12. V', 'decimal-point', '12 V'],
    ['-.5 V', 'decimal-point', '-0.5 V'],
    ['V 5.', 'not-a-value', undefined],
    ['V .5', 'not-a-value', undefined],
    ['-10.20.3 V', 'decimal-point', undefined],
    ['V 1.2.3', 'not-a-value', undefined],
    ['-1 AWG', 'gauge-unknown', undefined],
    ['4n7J', 'unit-unknown', undefined],
    ['10m5', 'unit-unknown', '10M5'],
    ['1m25', 'unit-unknown', '1M25'],
    ['1m0x', 'unit-unknown', undefined],
    ['12V5', 'unit-unknown', '12.5 V'],
    ['3V25', 'unit-unknown', '3.25 V'],
    ['2A5', 'unit-unknown', '2.5 A'],
    ['5V1x', 'unit-unknown', undefined],
    ['2.2k2', 'unit-unknown', '2.2 kohm'],
    ['5 #', 'not-a-value', undefined],
    ['5 #V', 'not-a-value', undefined],
    ['12    V', 'blanks', '12 V'],
  ])('%s is %s, and %s is suggested', (text, code, suggestion) => {
    const result = parseQuantity(text);
    const error = isQuantityError(result) ? result.error : undefined;
    expect(error?.code).toBe(code);
    expect(error?.suggestion).toBe(suggestion);
  });

  test('gauges are read from the thickest to the thinnest of the table', () => {
    expect(read('0 AWG').value).toBeCloseTo(53.5, 1);
    expect(read('40 AWG').value).toBeCloseTo(0.005, 4);
  });

  test.each([
    ['1,500 V', '1.500, or 1500 if thousands are meant'],
    ['10,500 V', '10.500, or 10500 if thousands are meant'],
  ])('%s may be thousands', (text, advice) => {
    expect(parseQuantity(text)).toMatchObject({ error: { message: expect.stringContaining(`write ${advice}`) } });
  });

  test.each(['0,500 V', '-0,500 V', '1,50 V', '1,5000 V'])('%s is no thousands', (text) => {
    const result = parseQuantity(text);
    expect(isQuantityError(result) && result.error.message).not.toContain('thousands');
  });

  test('what an exponent stands for is written out where that is short', () => {
    expect(parseQuantity('1e3 V')).toMatchObject({ error: { message: 'exponents are not read: write 1000' } });
    expect(parseQuantity('1e30 V')).toMatchObject({
      error: { message: 'exponents are not read: use a unit with a prefix' },
    });
  });

  test('an unknown unit is named, with what would fit', () => {
    expect(parseQuantity('5 xyz')).toMatchObject({ error: { message: "unknown unit 'xyz'" } });
    expect(parseQuantity('5 xyz', ['V'])).toMatchObject({
      error: { message: "unknown unit 'xyz': what fits is a voltage, such as 12 V" },
    });
  });

  test('a sign stands before a letter code as before any value', () => {
    expect(read('-2k2').value).toBe(-2200);
    expect(read('+2k2').value).toBe(2200);
    expect(read('+5 V').value).toBe(5);
  });

  test('what is needed is listed as one says it', () => {
    const message = (text: string, wanted: Parameters<typeof wantDimension>[1]) =>
      wantDimension(read(text), wanted)?.message;
    expect(message('12 V', ['A'])).toBe('needs a current, such as 200 mA; this is a voltage');
    expect(message('12 V', ['A', 'W'])).toBe('needs a current or a power, such as 200 mA or 6 W; this is a voltage');
    expect(message('12 V', ['A', 'W', 'ohm'])).toBe(
      'needs a current, a power or a resistance, such as 200 mA, 6 W or 2k2; this is a voltage',
    );
    expect(wantDimension(read('12'), [])).toMatchObject({ code: 'unit-missing' });
    expect(wantDimension(read('12'), [])?.suggestion).toBeUndefined();
    expect(wantDimension(read('12 V'), ['number'])).toMatchObject({ code: 'dimension-wrong' });
  });
});

describe('letter codes, each letter', () => {
  test.each([
    ['L47', 0.47e-3, 'ohm'],
    ['R475', 0.475, 'ohm'],
    ['4R7', 4.7, 'ohm'],
    ['10r', 10, 'ohm'],
    ['4k75', 4750, 'ohm'],
    ['1M0', 1e6, 'ohm'],
    ['1G5', 1.5e9, 'ohm'],
    ['1T0', 1e12, 'ohm'],
    ['p47', 0.47e-12, 'F'],
    ['22p', 22e-12, 'F'],
    ['4n7', 4.7e-9, 'F'],
    ['2u2', 2.2e-6, 'F'],
    ['2µ2', 2.2e-6, 'F'],
    ['1m0', 1e-3, 'F'],
    ['1F0', 1, 'F'],
  ])('%s is %d %s', (text, value, dimension) => {
    expect(parseIec60062(text)).toMatchObject({ value, dimension });
  });

  test('the code is kept without its tolerance letter', () => {
    expect(parseIec60062('4R7J')).toMatchObject({ code: '4R7', toleranceLetter: 'J', tolerance: 0.05 });
    expect(parseIec60062('R47K')).toMatchObject({ code: 'R47', toleranceLetter: 'K', tolerance: 0.1 });
    expect(parseIec60062('R47')?.tolerance).toBeUndefined();
  });

  test.each(['x4R7', '4R7Jx', 'xR47', 'R47x', 'R', 'Rx', '4R7A'])('%s is none', (text) => {
    expect(parseIec60062(text)).toBeUndefined();
  });
});

describe('a value with its spread', () => {
  test.each([
    ['12 V+-1%', 11.88, 12.12],
    ['12V+-1%', 11.88, 12.12],
    ['12 V  +-  1%', 11.88, 12.12],
    ['  12 V +-1%  ', 11.88, 12.12],
    ['12 V - 15% + 20%', 10.2, 14.4],
    ['12 V -15%   +20%', 10.2, 14.4],
    ['12 V -15%', 10.2, 12],
    ['12 V .. 12 V', 12, 12],
    [' 12 V ', 12, 12],
  ])('%s', (text, least, most) => {
    const value = parseSpread(text);
    if (!('least' in value)) throw new Error(JSON.stringify(value));
    expect(value.least).toBeCloseTo(least, 12);
    expect(value.most).toBeCloseTo(most, 12);
  });

  test.each([
    ['9 V .. x', 'not-a-value'],
    ['x .. 9 V', 'not-a-value'],
    ['12 V +-1 foo', 'unit-unknown'],
    ['12 V -1% +2 foo', 'unit-unknown'],
    ['x below 5 V', 'not-a-value'],
    ['3 V .. 2 V .. 4 V', 'range-reversed'],
    ['1 V .. 3 V .. 2 V', 'range-reversed'],
  ])('%s is %s', (text, code) => {
    expect(parseSpread(text)).toMatchObject({ error: { code } });
  });

  test('half-open values may stand apart from their word', () => {
    expect(parseSpread(' below  5 V ')).toMatchObject({ from: Number.NEGATIVE_INFINITY, to: 5, dimension: 'V' });
    expect(parseSpread('above   5 V')).toMatchObject({ from: 5, to: Number.POSITIVE_INFINITY });
  });

  test('a tolerance with a misspelt unit is told the percentage or the unit of its value', () => {
    expect(parseSpread('12 V +-5 pc')).toMatchObject({ error: { suggestion: '5%' } });
    expect(parseSpread('12 V -5% +2 mx')).toMatchObject({ error: { code: 'unit-unknown', suggestion: '+2 mV' } });
    expect(parseSpread('12 V +-2 mx')).toMatchObject({ error: { code: 'unit-unknown', suggestion: '2 mV' } });
  });

  test('an end of a range that does not fit is told what would', () => {
    const message = (text: string) => {
      const result = parseSpread(text);
      return 'error' in result ? result.error.message : undefined;
    };
    expect(message('9 V .. 2 A')).toBe('this end of the range needs a voltage, such as 12 V; this is a current');
    expect(message('9 .. 15 V')).toBe('this end of the range needs a voltage with its unit, such as 12 V');
    expect(message('9 V .. 15')).toBe('this end of the range needs a voltage with its unit, such as 12 V');
    expect(message('9 V .. 15 .. 20 A')).toBe('this end of the range needs a voltage with its unit, such as 12 V');
  });

  test('a range has two ends or three', () => {
    const volts = read('12 V');
    for (const parts of [[], [volts], [volts, volts, volts, volts]]) {
      expect(rangeOf(parts)).toMatchObject({ error: { code: 'not-a-value' } });
    }
    expect(rangeOf([volts, volts])).toMatchObject({ least: 12, usual: 12, most: 12, form: 'range' });
    expect(rangeOf([volts, volts, volts])).toMatchObject({ form: 'three' });
  });
});

test('the usual ambient is 20 °C from edge to edge of the range', () => {
  expect(spreadOfAmbient(20, 45).usual).toBe(20);
  expect(spreadOfAmbient(-5, 20).usual).toBe(20);
  expect(spreadOfAmbient(-5, 10).usual).toBe(2.5);
});

test('a band does not hold what lies below it', () => {
  expect(bandHolds(halfOpenAbove(10_000), 9999)).toBe(false);
  expect(bandHolds({ from: 1, to: 2 }, 0.5)).toBe(false);
  expect(relativeTolerance({ least: 9, usual: 10, most: 12 })).toEqual({ below: 0.1, above: 0.2, relative: true });
});
