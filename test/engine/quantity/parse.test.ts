import {
  isQuantityError,
  parseQuantity,
  QUANTITY_PATTERN,
  type Quantity,
  type QuantityErrorCode,
  scanQuantity,
  UNITS,
  unitOf,
  wantDimension,
} from '@couplet/engine';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';

function read(text: string): Quantity {
  const result = parseQuantity(text);
  if (isQuantityError(result)) throw new Error(result.error.message);
  return result;
}

function failure(text: string) {
  const result = parseQuantity(text);
  if (!isQuantityError(result)) throw new Error(`${text} was read as ${result.value} ${result.dimension}`);
  return result.error;
}

describe('values as the language page writes them', () => {
  test.each([
    ['12 V', 12, 'V'],
    ['12V', 12, 'V'],
    ['0.22 mm2', 0.22, 'mm2'],
    ['140 m', 140, 'm'],
    ['90 s', 90, 's'],
    ['400 ms', 0.4, 's'],
    ['24 h', 86_400, 's'],
    ['30 min', 1800, 's'],
    ['2 d', 172_800, 's'],
    ['50 us', 50e-6, 's'],
    ['6 W', 6, 'W'],
    ['250 mW', 0.25, 'W'],
    ['50 VA', 50, 'VA'],
    ['17 Ah', 17, 'Ah'],
    ['700 mAh', 0.7, 'Ah'],
    ['2200 uF', 2200e-6, 'F'],
    ['100 nF', 100e-9, 'F'],
    ['47 pF', 47e-12, 'F'],
    ['0.6 H', 0.6, 'H'],
    ['100 mH', 0.1, 'H'],
    ['-5 degC', -5, 'degC'],
    ['75%', 0.75, 'ratio'],
    ['95 ohm/km', 95, 'ohm/km'],
    ['50 Hz', 50, 'Hz'],
    ['24 V ac', 24, 'V ac'],
    ['2 km', 2000, 'm'],
    ['6 mm', 0.006, 'm'],
    ['80 uA', 80e-6, 'A'],
    ['1.2 A', 1.2, 'A'],
    ['720 ohm', 720, 'ohm'],
    ['3', 3, 'number'],
  ])('%s', (text, value, dimension) => {
    expect(read(text)).toMatchObject({ value, dimension });
  });

  test('a wire gauge is its cross-section', () => {
    expect(read('24 AWG')).toMatchObject({ dimension: 'mm2', unit: 'AWG', form: 'gauge' });
    expect(read('24 AWG').value).toBeCloseTo(0.2047, 4);
  });

  test.each([
    ['470 Ω', '470 ohm'],
    ['470 \u2126', '470 ohm'],
    ['2.2 kΩ', '2k2'],
    ['20 µA', '20 uA'],
    ['20 \u03bcA', '20 uA'],
    ['–5 °C', '-5 degC'],
    ['\u22125 ℃', '-5 degC'],
    ['0.5 mm²', '0.5 mm2'],
    ['95 Ω/km', '95 ohm/km'],
    ['12\u00a0V', '12 V'],
  ])('typed signs: %s is %s', (typed, plain) => {
    expect(read(typed).value).toBe(read(plain).value);
    expect(read(typed).dimension).toBe(read(plain).dimension);
  });
});

describe('resistances in the letter form (IEC 60062)', () => {
  test.each([
    ['2k2', 2200],
    ['2K2', 2200],
    ['4R7', 4.7],
    ['1M0', 1e6],
    ['470R', 470],
    ['470 R', 470],
    ['0R47', 0.47],
    ['100k', 1e5],
    ['2.2 K', 2200],
    ['0R', 0],
  ])('%s is %d ohms', (text, ohms) => {
    expect(read(text)).toMatchObject({ value: ohms, dimension: 'ohm' });
  });

  test.each([
    ['2R2K', '2R2 +-10%'],
    ['4R7J', '4R7 +-5%'],
    ['4k7F', '4k7 +-1%'],
    ['470RJ', '470R +-5%'],
    ['47KJ', '47K +-5%'],
  ])('%s ends in a tolerance letter', (text, suggestion) => {
    const error = failure(text);
    expect(error).toMatchObject({ code: 'tolerance-letter', suggestion });
    expect(error.message).toContain('IEC 60062 tolerance letter');
  });
});

describe('case', () => {
  test('is ignored but for m and M, and for h and H', () => {
    expect(read('12 v')).toEqual(read('12 V'));
    expect(read('5 OHM')).toEqual(read('5 ohm'));
    expect(read('4 K')).toEqual(read('4 k'));
    expect(read('1 M').value).toBe(1e6);
    expect(read('1 m').dimension).toBe('m');
    expect(read('1 Mohm').value).toBe(1e6);
    expect(read('1 mohm').value).toBe(1e-3);
    expect(read('1 h')).toMatchObject({ value: 3600, dimension: 's' });
    expect(read('1 H')).toMatchObject({ value: 1, dimension: 'H' });
    expect(failure('5 MA')).toMatchObject({ code: 'unit-unknown', suggestion: '5 mA' });
    expect(failure('1m0')).toMatchObject({ code: 'unit-unknown', suggestion: '1M0' });
  });
});

describe('mistakes', () => {
  test.each<[string, QuantityErrorCode, string | undefined]>([
    ['0,22 mm2', 'decimal-comma', '0.22 mm2'],
    ['1,500', 'decimal-comma', '1.500'],
    ['1,000,000', 'decimal-comma', '1000000'],
    ['1e3 V', 'exponent', '1000 V'],
    ['1.5e-3A', 'exponent', '0.0015A'],
    ['1e999 V', 'exponent', undefined],
    ['.5 A', 'decimal-point', '0.5 A'],
    ['5. V', 'decimal-point', '5 V'],
    ['1.2.3 V', 'decimal-point', undefined],
    ['12  V', 'blanks', '12 V'],
    ['12 Volt', 'unit-unknown', '12 V'],
    ['12 vlt', 'unit-unknown', '12 V'],
    ['3 hrs', 'unit-unknown', '3 h'],
    ['3 Mins', 'unit-unknown', '3 min'],
    ['5 MM2', 'unit-unknown', '5 mm2'],
    ['20 C', 'unit-unknown', '20 degC'],
    ['5V1', 'unit-unknown', '5.1 V'],
    ['4n7', 'unit-unknown', '4.7 nF'],
    ['5 xyz', 'unit-unknown', undefined],
    ['41 AWG', 'gauge-unknown', undefined],
    ['2.5 AWG', 'gauge-unknown', undefined],
    ['R47', 'not-a-value', undefined],
    ['', 'not-a-value', undefined],
    ['V', 'not-a-value', undefined],
  ])('%s is %s', (text, code, suggestion) => {
    const error = failure(text);
    expect(error.code).toBe(code);
    expect(error.suggestion).toBe(suggestion);
  });

  test('a decimal comma is told what to write', () => {
    expect(failure('0,22').message).toContain('write 0.22');
  });

  test('an expected dimension steers what is suggested', () => {
    const suggested = (text: string, expected: Parameters<typeof parseQuantity>[1]) => {
      const result = parseQuantity(text, expected);
      return isQuantityError(result) ? result.error.suggestion : undefined;
    };
    expect(suggested('5 mx', ['m'])).toBe('5 m');
    expect(suggested('5 mx', ['A'])).toBe('5 mA');
  });

  test('where no unit is near, none is suggested: 20 ft are not 20 m', () => {
    const result = parseQuantity('20 ft', ['m', 's']);
    const error = isQuantityError(result) ? result.error : undefined;
    expect(error?.suggestion).toBeUndefined();
    expect(error?.message).toBe("unknown unit 'ft': what fits is a length, such as 140 m, or a time, such as 400 ms");
  });

  test('a missing unit and a wrong dimension are told apart', () => {
    expect(wantDimension(read('12 V'), ['V'])).toBeUndefined();
    expect(wantDimension(read('12'), ['V'])).toMatchObject({ code: 'unit-missing', suggestion: '12 V' });
    expect(wantDimension(read('75'), ['ratio', 'V'])).toMatchObject({ code: 'unit-missing', suggestion: '75%' });
    const wrong = wantDimension(read('12 A'), ['V', 'ratio']);
    expect(wrong?.code).toBe('dimension-wrong');
    expect(wrong?.message).toBe('needs a voltage or a percentage, such as 12 V or 75%; this is a current');
  });

  test('whatever is thrown at it, there is a finite value or a message', () => {
    fc.assert(
      fc.property(
        fc.oneof(fc.string(), fc.stringMatching(/^[-+]?[0-9.,eRkKM ]{1,6}[VAmkKohmsF%2/ ]{0,5}$/)),
        (text) => {
          const result = parseQuantity(text);
          if (isQuantityError(result)) expect(result.error.message).not.toBe('');
          else expect(result.value).not.toBeNaN();
        },
      ),
      { numRuns: 3000, seed: 20_260 },
    );
  });

  test('a suggestion is itself read', () => {
    const texts = fc.tuple(fc.nat(999), fc.stringMatching(/^[A-Za-z]{1,5}$/)).map(([n, word]) => `${n} ${word}`);
    fc.assert(
      fc.property(texts, (text) => {
        const result = parseQuantity(text);
        if (!isQuantityError(result) || result.error.suggestion === undefined) return;
        expect(isQuantityError(parseQuantity(result.error.suggestion))).toBe(false);
      }),
      { numRuns: 2000, seed: 20_260 },
    );
  });
});

describe('the value at a place in a text', () => {
  test.each([
    ['12 V, 720 ohm', '12 V'],
    ['4 size: 3', '4'],
    ['2k2 +-1%', '2k2'],
    ['9..15 V', '9'],
    ['11.4 V .. 12.8 V', '11.4 V'],
    ['11-14', '11'],
    ['24 V ac }', '24 V ac'],
    ['24 V acute', '24 V'],
    ['12Volt x', '12Volt'],
    ['0,22 mm2', '0,22 mm2'],
    ['1, 2', '1'],
    ['0.5s/0.5s', '0.5s'],
    ['75%,', '75%'],
    ['95 Ω/km', '95 Ω/km'],
    ['2200 µF', '2200 µF'],
    ['-40 °C', undefined],
    ['40 °C wet', '40 °C'],
    ['1.5e-3 A x', '1.5e-3 A'],
    ['10 AWG', '10 AWG'],
    ['5 mains', '5'],
  ])('%s begins with %s', (text, value) => {
    expect(scanQuantity(text)).toBe(value);
  });

  test('can be found at an offset, and the pattern is a plain regular expression', () => {
    expect(scanQuantity('load P1 = 6 W @ 12 V', 16)).toBe('12 V');
    expect('6 W @ 12 V via 4k7'.match(new RegExp(QUANTITY_PATTERN, 'gi'))).toEqual(['6 W', '12 V', '4k7']);
  });
});

test('every unit is found by all its spellings, and no two units share one', () => {
  const spellings = UNITS.flatMap((unit) => [unit.symbol, ...(unit.also ?? [])].map((each) => [each, unit] as const));
  for (const [spelling, unit] of spellings) expect(unitOf(spelling)).toBe(unit);
  for (const unit of UNITS) {
    if (unit.sign !== undefined) expect(read(`1 ${unit.sign}`).unit).toBe(unit.symbol);
    for (const hint of unit.hints ?? []) expect(unitOf(hint), hint).toBeUndefined();
  }
});
