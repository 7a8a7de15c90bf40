/** The tables at their edges and between their rows, and that every published figure names where it comes from. */
import {
  BATTERY_AGEING_PROVENANCE,
  BATTERY_CHEMISTRIES,
  BATTERY_TEMPERATURE_PROVENANCE,
  CABLE_SECTIONS,
  CAPACITY_PROVENANCE,
  CLOSED_CONTACT_PROVENANCE,
  COLOUR_BAND_PROVENANCE,
  CONTACT_NUMBER_PROVENANCE,
  CORE_COLOUR_PROVENANCE,
  colourBands,
  contactOf,
  coreCapacity,
  coreOhmsPerKm,
  FUSE_PROMPT_PROVENANCE,
  IEC_60127,
  IEC_60228_PROVENANCE,
  idealOhmsPerKm,
  isPreferred,
  MINIMUM_CONTACT_LOADS,
  nearestPreferred,
  preferredBetween,
  preferredNear,
  preferredNeighbours,
  preferredPairs,
  readColourBands,
  SERIES_PROVENANCE,
  SMALL_CONDUCTOR_PROVENANCE,
  UL_248_14,
  UNSUPPRESSED_SHARE_PROVENANCE,
} from '@couplet/engine';
import { describe, expect, test } from 'vitest';

test('every table says where its figures come from and how far that is confirmed', () => {
  const all = [
    BATTERY_AGEING_PROVENANCE,
    BATTERY_TEMPERATURE_PROVENANCE,
    CAPACITY_PROVENANCE,
    CLOSED_CONTACT_PROVENANCE,
    COLOUR_BAND_PROVENANCE,
    CONTACT_NUMBER_PROVENANCE,
    CORE_COLOUR_PROVENANCE,
    FUSE_PROMPT_PROVENANCE,
    IEC_60127.provenance,
    IEC_60228_PROVENANCE,
    SERIES_PROVENANCE,
    SMALL_CONDUCTOR_PROVENANCE,
    UL_248_14.provenance,
    UNSUPPRESSED_SHARE_PROVENANCE,
    ...BATTERY_CHEMISTRIES.map((row) => row.provenance),
    ...MINIMUM_CONTACT_LOADS.map((row) => row.provenance),
  ];
  for (const { source, status } of all) {
    expect(source).toMatch(/\w{3}/);
    expect(['confirmed', 'partly confirmed', 'from memory', 'common practice']).toContain(status);
  }
});

describe('conductors', () => {
  test('between two nominal sections, the share over ρ·l/A is that of the smaller', () => {
    const nominal = coreOhmsPerKm({ section: 1 });
    const between = coreOhmsPerKm({ section: 1.2, class: 5 });
    expect(nominal?.most).toBe(19.5);
    expect(between?.most).toBeCloseTo(19.5 / 1.2, 12);
    expect((between?.most as number) / idealOhmsPerKm(1.2)).toBeCloseTo(19.5 / idealOhmsPerKm(1), 12);
  });

  test('a section of a table is met although arithmetic has blurred its last digit', () => {
    expect(coreOhmsPerKm({ section: 0.1 * 5 * (1 - 1e-12) })?.most).toBeCloseTo(39, 6);
    expect(coreCapacity(0.5 * (1 - 1e-12)).amps).toBe(7.5);
  });

  test('cables are made from 0.14 mm² to 35 mm², each of a section greater than the last', () => {
    expect(CABLE_SECTIONS.at(0)).toBe(0.14);
    expect(CABLE_SECTIONS.at(-1)).toBe(35);
    expect(CABLE_SECTIONS).toEqual([...new Set(CABLE_SECTIONS)].sort((a, b) => a - b));
    for (const section of [0.22, 0.5, 1.5, 2.5]) expect(CABLE_SECTIONS).toContain(section);
  });
});

describe('colour bands', () => {
  test.each([Number.NaN, Number.POSITIVE_INFINITY, -1])('%d ohms have none', (ohms) => {
    expect(colourBands(ohms)).toBeUndefined();
    expect(colourBands(ohms, 0.05)).toBeUndefined();
  });

  test('2 % parts have five bands, wider ones four', () => {
    expect(colourBands(2200, 0.02)?.join(' ')).toBe('red red black brown red');
    expect(colourBands(2200, 0.05)).toHaveLength(4);
  });

  test.each([
    [[]],
    [['red']],
    [['red', 'red', 'red', 'red', 'red', 'red']],
    [['red', 'red', 'red', 'red', 'red', 'gold']],
    [['red', 'mauve', 'red']],
    [['red', 'red', 'mauve']],
    [['red', 'red', 'red', 'mauve']],
    [['red', 'red', 'red', 'red', 'mauve']],
    [['mauve', 'red', 'red', 'red', 'red']],
  ])('%j mean nothing', (bands) => {
    expect(readColourBands(bands)).toBeUndefined();
  });

  test('three bands are a part of 20 %', () => {
    expect(readColourBands(['red', 'red', 'red'])).toEqual({ ohms: 2200, tolerance: 0.2 });
  });
});

describe('contact numbers', () => {
  test.each([
    ['x11', '12'],
    ['11', 'x12'],
    ['x11', 'x12'],
    ['11x', '12x'],
    ['11', '12x'],
    ['01', '02'],
    ['11', 'A2'],
    ['A1', '12'],
  ])('%s and %s are none', (one, other) => {
    expect(contactOf(one, other)).toBeUndefined();
  });

  test('a lettered contact does not act late', () => {
    expect(contactOf('COM', 'NO')).toEqual({ pole: '1', throw: 'make', special: false, terminals: ['COM', 'NO'] });
  });
});

describe('preferred values', () => {
  test.each([0, -1, Number.NaN, Number.POSITIVE_INFINITY])('none lies near %d', (value) => {
    expect(isPreferred(value, ['E24'])).toBe(false);
    expect(preferredNeighbours(value, ['E24'])).toBeUndefined();
    expect(nearestPreferred(value, ['E24'])).toBeUndefined();
    expect(preferredNear(value, ['E24'], 3)).toEqual([]);
    expect(preferredPairs(value, ['E24'])).toEqual([]);
  });

  test.each([
    [0, 10],
    [-1, 10],
    [Number.NaN, 10],
    [1, Number.POSITIVE_INFINITY],
    [10, 1],
  ])('none lies from %d to %d', (least, most) => {
    expect(preferredBetween(least, most, ['E3'])).toEqual([]);
  });

  test('both ends of a range are in it', () => {
    expect(preferredBetween(10, 100, ['E3'])).toEqual([10, 22, 47, 100]);
    expect(preferredBetween(22, 22, ['E3'])).toEqual([22]);
    expect(preferredNeighbours(22, ['E3'])).toEqual({ lower: 22, upper: 22 });
  });

  test('as many as are asked for are found, however few a decade holds', () => {
    expect(preferredNear(1, ['E3'], 12)).toHaveLength(12);
    expect(preferredNear(1, ['E3'], 1)).toEqual([1]);
  });

  test('a pair in series stands before one in parallel that does as well with parts as alike', () => {
    for (const pair of preferredPairs(1000, ['E3'], 8)) {
      expect([pair.a, pair.b].every((part) => isPreferred(part, ['E3']))).toBe(true);
      expect(Number.isFinite(pair.ohms)).toBe(true);
    }
    const [first, second] = preferredPairs(44, ['E3'], 2);
    expect(first).toEqual({ arrangement: 'series', a: 22, b: 22, ohms: 44, error: 0 });
    expect(second?.error).not.toBe(0);
  });
});
