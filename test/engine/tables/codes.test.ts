import {
  ALARM_CABLE_CORES,
  BAND_COLOURS,
  CODE_LETTERS,
  CORE_COLOURS,
  colourBands,
  contactOf,
  coreColour,
  isQuantityError,
  NO_BAND_TOLERANCE,
  PROTECTIVE_COLOUR,
  parseIec60062,
  parseQuantity,
  poleTerminals,
  readColourBands,
  SERIES,
  TOLERANCE_LETTERS,
  writeIec60062,
} from '@couplet/engine';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import colours from '../../reference/colour-code.json' with { type: 'json' };
import designations from '../../reference/designations.json' with { type: 'json' };
import code from '../../reference/letter-code.json' with { type: 'json' };

describe('letter code, IEC 60062', () => {
  test.each(Object.entries({ ...code.ohms.values, ...code.ohmsFromMemory.values }))('%s is %d ohms', (text, ohms) => {
    expect(parseIec60062(text)).toMatchObject({ value: ohms, dimension: 'ohm' });
    // A value of the language begins with a digit; the milliohm and gigaohm letters are read there as well.
    const read = parseQuantity(text);
    expect(isQuantityError(read)).toBe(!/^\d/.test(text));
    if (!isQuantityError(read)) expect(read).toMatchObject({ value: ohms, dimension: 'ohm' });
  });

  test.each(Object.entries(code.farads.values))('%s is %d farads', (text, farads) => {
    expect(parseIec60062(text)).toMatchObject({ value: farads, dimension: 'F' });
  });

  test.each(code.withTolerance)('$code is $ohms ohms, $percent %', ({ code: text, ohms, percent }) => {
    const read = parseIec60062(text);
    expect(read?.value).toBe(ohms);
    expect(read?.tolerance).toBeCloseTo(percent / 100, 12);
    expect(parseQuantity(text)).toMatchObject({ error: { code: 'tolerance-letter' } });
  });

  test('letters and tolerances are those of the list', () => {
    const factor = (letter: string) => {
      const row = CODE_LETTERS.find((each) => each.letter === letter.replace('µ', 'u'));
      return row === undefined ? undefined : Number(`1e${row.power}`);
    };
    for (const [letter, value] of Object.entries(code.resistanceLetters.values))
      expect(factor(letter), letter).toBe(value);
    for (const [letter, value] of Object.entries(code.capacitanceLetters.values))
      expect(factor(letter), letter).toBe(value);
    const percent = Object.entries(TOLERANCE_LETTERS).map(([letter, share]) => [
      letter,
      Number((share * 100).toPrecision(6)),
    ]);
    expect(Object.fromEntries(percent)).toEqual(code.toleranceLettersPercent.values);
    expect(TOLERANCE_LETTERS).not.toHaveProperty('A');
  });

  test.each(['', 'R', '47', '4R7R7', '2k2k2', '4R7A', '1.2k', '-2k2', '2 k2'])('%j is no code', (text) => {
    expect(parseIec60062(text)).toBeUndefined();
  });

  test('every value of E96 from 0R10 to 97M6 is written and read', () => {
    for (let power = -1; power <= 7; power++) {
      for (const mantissa of SERIES.E96) {
        const ohms = Number(`${mantissa}e${power}`);
        const written = writeIec60062(ohms) as string;
        expect(parseIec60062(written)?.value, written).toBe(ohms);
      }
    }
    expect(writeIec60062(2226.61)).toBeUndefined();
    expect(writeIec60062(0)).toBeUndefined();
    expect(writeIec60062(1e9)).toBeUndefined();
  });
});

describe('colour bands, IEC 60062', () => {
  test('digits, multipliers and tolerances are those of the list', () => {
    const of = (key: 'digit' | 'power' | 'tolerance') =>
      BAND_COLOURS.filter((row) => row[key] !== undefined).map((row) => [row.colour, row[key] as number] as const);
    expect(Object.fromEntries(of('digit'))).toEqual(colours.digits.values);
    expect(Object.fromEntries(of('power').map(([c, power]) => [c, Number(`1e${power}`)]))).toEqual(
      colours.multipliers.values,
    );
    const { none, ...bands } = colours.tolerancePercent.values;
    expect(Object.fromEntries(of('tolerance').map(([c, t]) => [c, Number((t * 100).toPrecision(6))]))).toEqual(bands);
    expect(NO_BAND_TOLERANCE * 100).toBe(none);
  });

  test.each(colours.examples)('$bands is $ohm ohms, $tol %', ({ bands, ohm, tol }) => {
    expect(readColourBands(bands)?.ohms).toBe(ohm);
    expect(readColourBands(bands)?.tolerance).toBeCloseTo(tol / 100, 12);
    expect(colourBands(ohm, tol / 100)).toEqual(bands);
  });

  test.each([
    [2200, 0.01, 'red red black brown brown'],
    [4700, 0.05, 'yellow violet red gold'],
    [470, undefined, 'yellow violet brown'],
    [0.47, 0.05, 'yellow violet silver gold'],
    [1e6, 0.1, 'brown black green silver'],
    [0, undefined, 'black'],
  ])('%d ohms of tolerance %d: %s', (ohms, tolerance, bands) => {
    expect(colourBands(ohms, tolerance)?.join(' ')).toBe(bands);
  });

  test('what bands cannot say is not said', () => {
    expect(colourBands(2226.6)).toBeUndefined();
    expect(colourBands(2200, 0.03)).toBeUndefined();
    expect(colourBands(1e13)).toBeUndefined();
    expect(colourBands(-5)).toBeUndefined();
    expect(readColourBands(['gold', 'red', 'red'])).toBeUndefined();
    expect(readColourBands(['red', 'red'])).toBeUndefined();
    expect(readColourBands(['red', 'red', 'red', 'white'])).toBeUndefined();
  });

  test('bands read back as the value they were made of', () => {
    const value = fc.tuple(fc.constantFrom(...SERIES.E96, ...SERIES.E24), fc.integer({ min: 0, max: 6 }));
    fc.assert(
      fc.property(value, fc.constantFrom(0.001, 0.01, 0.02, 0.05, 0.1, 0.2), ([mantissa, power], tolerance) => {
        const ohms = Number(`${mantissa}e${power}`);
        const bands = colourBands(ohms, tolerance) as readonly string[];
        // Three figures and no tolerance band would look like a part of two figures and a tolerance.
        if (bands.length === 4 && tolerance === 0.2) return;
        expect(readColourBands(bands)).toEqual({ ohms, tolerance });
      }),
      { numRuns: 500, seed: 20_260 },
    );
  });
});

describe('core colours, IEC 60757', () => {
  test('codes, in order', () => {
    const rows = [...CORE_COLOURS, PROTECTIVE_COLOUR];
    expect(Object.fromEntries(rows.map((row) => [row.code, row.colour]))).toEqual(designations.iec60757.codes);
    expect(rows.map((row) => row.code)).toEqual(Object.keys(designations.iec60757.codes));
  });

  test('codes in words', () => {
    expect(coreColour('GN')).toBe('green');
    expect(coreColour('RDBU')).toBe('red-blue');
    expect(coreColour('GNYE')).toBe('green-yellow');
    for (const name of ['gn', 'XX', 'RDX', '1', 'screen', 'RDBUGN']) expect(coreColour(name)).toBeUndefined();
  });

  test('alarm cable', () => {
    const { status, source, ...cores } = designations.alarmCable;
    expect(ALARM_CABLE_CORES).toEqual(cores);
    expect([status, source]).not.toContain(undefined);
  });
});

describe('contact numbers, EN 50005', () => {
  const listed = [...designations.en50005.contacts, ...designations.en50005.fromMemory];
  test.each(listed)('$terminals is a $throw of pole $pole', ({ terminals, throw: thrown, pole, ...rest }) => {
    const [one = '', other = ''] = terminals;
    const special = 'special' in rest;
    const expected = { pole: String(pole), throw: thrown, special, terminals };
    expect(contactOf(one, other)).toEqual(expected);
    expect(contactOf(other, one)).toEqual(expected);
  });

  test.each([
    ['12', '14'],
    ['11', '24'],
    ['11', '11'],
    ['1', '2'],
    ['11', '13'],
    ['A1', 'A2'],
    ['13', '12'],
  ])('%s and %s belong to no contact', (one, other) => {
    expect(contactOf(one, other)).toBeUndefined();
  });

  test('lettered contacts and poles of a form', () => {
    expect(contactOf('NC', 'COM')).toMatchObject({ throw: 'break', terminals: ['COM', 'NC'] });
    expect(contactOf('COM', 'NO')).toMatchObject({ throw: 'make' });
    expect(poleTerminals('changeover', 1)).toEqual(['11', '12', '14']);
    expect(poleTerminals('make', 2)).toEqual(['23', '24']);
    expect(poleTerminals('break', 1)).toEqual(['11', '12']);
    expect(poleTerminals('changeover', 1, true)).toEqual(['15', '16', '18']);
    expect(poleTerminals('make', 12)).toEqual(['123', '124']);
    expect(contactOf('123', '124')).toMatchObject({ pole: '12', throw: 'make' });
  });
});
