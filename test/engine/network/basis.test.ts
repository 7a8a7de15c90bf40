/** The basis of columns behind the search for pieces: its inverse, exchanges of columns, and the order that breaks ties. */
import { describe, expect, test } from 'vitest';
import { DenseBasis } from '../../../packages/engine/src/network/basis.ts';
import { generator } from '../../support/random.ts';

const column = (...values: readonly number[]): Float64Array => Float64Array.from(values);
const column3 = (random: () => number): Float64Array => column(random() * 4 - 2, random() * 4 - 2, random() * 4 - 2);

/** Columns times weights. */
function combined(columns: readonly Float64Array[], weights: Float64Array): number[] {
  return [0, 1, 2].map((row) => columns.reduce((sum, each, j) => sum + each[row]! * weights[j]!, 0));
}

function expectSame(found: ArrayLike<number>, wanted: ArrayLike<number>): void {
  expect(found).toHaveLength(wanted.length);
  for (let k = 0; k < wanted.length; k++) expect(found[k]!).toBeCloseTo(wanted[k]!, 9);
}

function unit(): DenseBasis {
  const basis = new DenseBasis([column(1, 0, 0), column(0, 1, 0), column(0, 0, 1)]);
  expect(basis.refresh()).toBe(true);
  return basis;
}

describe('the inverse', () => {
  test('undoes the columns, also where they must be taken in another order', () => {
    const turned = [column(0, 2, 0), column(0, 0, 4), column(8, 0, 0)];
    const basis = new DenseBasis(turned);
    expect(basis.refresh()).toBe(true);
    expectSame(basis.times(column(8, 2, 4)), [1, 1, 1]);
    expectSame(basis.times(column(16, 2, 12)), [1, 3, 2]);
    const random = generator(31);
    for (let k = 0; k < 50; k++) {
      const columns = [column3(random), column3(random), column3(random)];
      const right = column3(random);
      const any = new DenseBasis(columns);
      if (any.refresh()) expectSame(combined(columns, any.times(right)), right);
    }
  });

  test('is exact where the first column starts with a number that rounding would eat', () => {
    const columns = [column(1e-20, 1, 0), column(1, 1, 0), column(0, 0, 1)];
    const basis = new DenseBasis(columns);
    expect(basis.refresh()).toBe(true);
    expectSame(basis.times(column(1, 2, 3)), [1, 1, 3]);
  });

  test.each([
    ['a column of nothing', [column(1, 0, 0), column(0, 0, 0), column(0, 0, 1)]],
    ['two alike', [column(1, 2, 3), column(1, 2, 3), column(0, 0, 1)]],
    ['one without bound', [column(Number.POSITIVE_INFINITY, 0, 0), column(0, 1, 0), column(0, 0, 1)]],
    ['one that is no number', [column(Number.NaN, 0, 0), column(0, 1, 0), column(0, 0, 1)]],
  ])('there is none of %s', (_, columns) => {
    expect(new DenseBasis(columns).refresh()).toBe(false);
  });
});

describe('exchanges', () => {
  test('a column takes the place of another', () => {
    const random = generator(32);
    for (let k = 0; k < 60; k++) {
      const columns = [column3(random), column3(random), column3(random)];
      const basis = new DenseBasis(columns);
      if (!basis.refresh()) continue;
      const place = k % 3;
      const next = column3(random);
      expect(basis.replace(place, next, basis.times(next))).toBe(true);
      columns[place] = next;
      const right = column3(random);
      const kept = basis.times(right);
      expectSame(combined(columns, kept), right);
      // What the exchange left is what a fresh inversion gives.
      expect(basis.refresh()).toBe(true);
      expectSame(basis.times(right), kept);
    }
  });

  test('a dependent column is refused, and one without bound', () => {
    const basis = unit();
    const flat = column(0, 1, 1);
    expect(basis.replace(0, flat, basis.times(flat))).toBe(false);
    expect(basis.replace(0, flat, column(Number.POSITIVE_INFINITY, 0, 0))).toBe(false);
    expect(basis.exchange(1, 0, flat, basis.times(flat))).toBe(false);
    expectSame(basis.times(column(1, 2, 3)), [1, 2, 3]);
  });

  test('a column comes home, and what stood there goes where the other left', () => {
    const basis = unit();
    const next = column(2, 4, 1);
    expect(basis.exchange(0, 1, next, basis.times(next))).toBe(true);
    // Home is 0: `next`; at 1 now stands the old first column.
    expectSame(basis.times(next), [1, 0, 0]);
    expectSame(basis.times(column(1, 0, 0)), [0, 1, 0]);
    expectSame(basis.times(column(0, 0, 1)), [0, 0, 1]);
    expect(basis.refresh()).toBe(true);
    expectSame(basis.times(next), [1, 0, 0]);
    const again = column(3, 4, 1);
    expect(basis.exchange(2, 2, again, basis.times(again))).toBe(false);
    const last = column(0, 3, 5);
    expect(basis.exchange(2, 2, last, basis.times(last))).toBe(true);
    expectSame(basis.times(last), [0, 0, 1]);
  });
});

describe('the order of ties', () => {
  test('rows over their rates are compared place by place', () => {
    const basis = unit();
    // Rows (1 0 0) and (0 1 0).
    expect(basis.compare(0, 1, 1, 1)).toBeGreaterThan(0);
    expect(basis.compare(1, 1, 0, 1)).toBeLessThan(0);
    expect(basis.compare(1, 1, 2, 1)).toBeGreaterThan(0);
    expect(basis.compare(0, -1, 1, 1)).toBeLessThan(0);
    expect(basis.compare(0, 2, 0, 1)).toBeCloseTo(-0.5, 12);
    expect(basis.compare(0, 1, 0, 2)).toBeCloseTo(0.5, 12);
    expect(basis.compare(0, 1, 0, 1)).toBe(0);
  });

  test('rows further down are read at their own places', () => {
    const basis = new DenseBasis([column(1, 0, 0), column(0, 1, 0), column(0, 0, 0.25)]);
    expect(basis.refresh()).toBe(true);
    expect(basis.compare(2, 1, 2, 2)).toBeCloseTo(2, 12);
    expect(basis.compare(2, 1, -1, 1)).toBeCloseTo(4, 12);
    expect(basis.compare(2, -2, -1, 1)).toBeCloseTo(-2, 12);
    expect(basis.compare(0, 1, 2, 1)).toBeCloseTo(1, 12);
  });

  test('what differs by rounding alone is alike', () => {
    const basis = new DenseBasis([column(3, 0, 0), column(0, 1, 0), column(0, 0, 1)]);
    expect(basis.refresh()).toBe(true);
    expect(basis.compare(0, 1, 0, 1 + 1e-15)).toBe(0);
    expect(basis.compare(0, 1, 0, 1 + 1e-9)).not.toBe(0);
  });

  test('a step changes by minus its row over its rate', () => {
    const basis = unit();
    expect(basis.compareRatio(0, 1, 1, 1)).toBeLessThan(0);
    expect(basis.compareRatio(0, 2, -1, 1)).toBeCloseTo(-0.5, 12);
    expect(basis.compareRatio(0, -2, -1, 1)).toBeCloseTo(0.5, 12);
  });
});
