/** Curves as tables of pieces: what each piece is, where a solve begins, and which curves are none. */
import type { Curve } from '@couplet/engine';
import { describe, expect, test } from 'vitest';
import {
  HOLDS_AMPS,
  HOLDS_VOLTS,
  LARGEST,
  neighbourPiece,
  OPEN,
  piecesOf,
  SLOPED,
} from '../../../packages/engine/src/network/curve.ts';
import { constantCurrentCurve, diodeCurve, limitedCurve, zenerCurve } from './support.ts';

const ENDLESS = Number.POSITIVE_INFINITY;

const curve = (
  points: Curve['points'],
  before: readonly [number, number] = [1, 0],
  after: readonly [number, number] = [1, 0],
): Curve => ({ points, before, after });

describe('the table of a curve', () => {
  test('a diode blocks below its drop and holds its volts above', () => {
    expect(piecesOf(diodeCurve(0.65))).toEqual({
      count: 2,
      mode: [HOLDS_AMPS, HOLDS_VOLTS],
      g: [0, 0],
      v0: [0.65, 0.65],
      i0: [0, 0],
      vLow: [-ENDLESS, 0.65],
      vHigh: [0.65, 0.65],
      iLow: [0, 0],
      iHigh: [0, ENDLESS],
      vSize: [0.65, 0.65],
      iSize: [0, 0],
      usual: 0,
      driving: false,
    });
  });

  test('a limited supply: its limit, its slope, and what it takes back', () => {
    expect(piecesOf(limitedCurve(12, 0.5, 2))).toEqual({
      count: 3,
      mode: [HOLDS_AMPS, SLOPED, SLOPED],
      g: [0, 2, 2],
      v0: [11, 11, 12],
      i0: [-2, -2, 0],
      vLow: [-ENDLESS, 11, 12],
      vHigh: [11, 12, ENDLESS],
      iLow: [-2, -2, 0],
      iHigh: [-2, 0, ENDLESS],
      vSize: [11, 12, 12],
      iSize: [2, 2, 0],
      usual: 1,
      driving: true,
    });
  });

  test('a constant current is a resistance below its least volts', () => {
    const pieces = piecesOf(constantCurrentCurve(0.5, 10))!;
    // The piece that runs in and the one up to the corner are one line, in two pieces.
    expect(pieces.mode).toEqual([SLOPED, SLOPED, HOLDS_AMPS]);
    expect(pieces.g).toEqual([0.05, 0.05, 0]);
    expect([pieces.usual, pieces.driving]).toEqual([0, false]);
  });

  test('pieces without length are left out, and runs of one level are one piece', () => {
    const level = piecesOf(
      curve([
        [0, 1],
        [1, 1],
        [1, 1],
        [2, 1],
      ]),
    )!;
    expect(level.mode).toEqual([HOLDS_AMPS, OPEN, OPEN, OPEN, OPEN]);
    expect([level.vLow[0], level.vHigh[0]]).toEqual([-ENDLESS, ENDLESS]);
    const upright = piecesOf(
      curve(
        [
          [3, 0],
          [3, 1],
          [3, 2],
        ],
        [0, 1],
        [0, 1],
      ),
    )!;
    expect(upright.mode).toEqual([HOLDS_VOLTS, OPEN, OPEN, OPEN]);
    expect([upright.iLow[0], upright.iHigh[0]]).toEqual([-ENDLESS, ENDLESS]);
    const stairs = piecesOf(
      curve([
        [0, 0],
        [0, 1],
        [1, 1],
        [1, 2],
      ]),
    )!;
    expect(stairs.mode).toEqual([HOLDS_AMPS, HOLDS_VOLTS, HOLDS_AMPS, HOLDS_VOLTS, HOLDS_AMPS]);
    expect(stairs.vHigh).toEqual([0, 0, 1, 1, ENDLESS]);
    expect(stairs.iHigh).toEqual([0, 1, 1, 2, 2]);
  });

  test('a slope beyond the numbers of a site is upright or level', () => {
    const points = (volts: number, amps: number): Curve =>
      curve(
        [
          [0, 0],
          [volts, amps],
        ],
        [1, 1],
        [1, 1],
      );
    expect(piecesOf(points(1e-15, 1e16))!.mode).toEqual([SLOPED, HOLDS_VOLTS, SLOPED]);
    expect(piecesOf(points(1e16, 1e-15))!.mode).toEqual([SLOPED, HOLDS_AMPS, SLOPED]);
    expect(piecesOf(points(1e-14, 1e14))!.mode).toEqual([SLOPED, SLOPED, SLOPED]);
  });
});

describe('where a solve begins', () => {
  test('at the piece that blocks, else where the current passes nothing, else at 0 V', () => {
    expect(piecesOf(zenerCurve(5.1))!.usual).toBe(1);
    expect(piecesOf(limitedCurve(12, 0, 2))!.usual).toBe(1);
    // Draws 1 A to 2 A at whatever volts: none of its pieces carries nothing.
    const always = curve(
      [
        [-1, 1],
        [1, 2],
      ],
      [1, 0],
      [1, 0],
    );
    expect(piecesOf(always)!.usual).toBe(1);
    expect(piecesOf(always)!.driving).toBe(true);
    const above = curve(
      [
        [4, 1],
        [5, 2],
      ],
      [0, 0.5],
      [1, 0],
    );
    expect(piecesOf(above)!.usual).toBe(0);
  });

  test('a curve drives where it does not pass 0 V and 0 A', () => {
    const line = (volts: number): Curve => curve([[volts, 0.5]], [2, 1], [2, 1]);
    expect(piecesOf(line(1))!.driving).toBe(false);
    expect(piecesOf(line(1.1))!.driving).toBe(true);
    expect(piecesOf(curve([[0, 0]]))!.driving).toBe(false);
    expect(piecesOf(curve([[0, 0.1]]))!.driving).toBe(true);
    expect(piecesOf(curve([[0, 0]], [0, 1], [0, 1]))!.driving).toBe(false);
    expect(piecesOf(curve([[5, 0]], [0, 1], [0, 1]))!.driving).toBe(true);
  });
});

describe('neighbours', () => {
  test('are the next pieces with a length, up and down', () => {
    const pieces = piecesOf(
      curve([
        [0, 0],
        [0, 0],
        [0, 1],
      ]),
    )!;
    expect(pieces.mode).toEqual([HOLDS_AMPS, OPEN, HOLDS_VOLTS, HOLDS_AMPS]);
    expect([0, 2, 3].map((p) => neighbourPiece(pieces, p, 1))).toEqual([2, 3, -1]);
    expect([0, 2, 3].map((p) => neighbourPiece(pieces, p, -1))).toEqual([-1, 0, 2]);
  });
});

describe('tables are shared', () => {
  const points: Curve['points'] = [
    [-5, 0],
    [0.7, 0],
  ];

  test('between curves of the same numbers, and by no others', () => {
    const one = piecesOf(curve(points, [0, 1], [0, 1]));
    expect(piecesOf(curve([...points], [0, 1], [0, 1]))).toBe(one);
    for (const other of [
      curve(points, [1, 0], [0, 1]),
      curve(points, [0, 1], [1, 1]),
      curve(
        [
          [-5, 0],
          [0.8, 0],
        ],
        [0, 1],
        [0, 1],
      ),
      curve(
        [
          [-5, 0],
          [0.7, 1],
        ],
        [0, 1],
        [0, 1],
      ),
      curve([[-5, 0]], [0, 1], [0, 1]),
    ]) {
      expect(piecesOf(other)).not.toEqual(one);
    }
  });

  test('and stay right however many there are', () => {
    for (let k = 0; k < 5000; k++) {
      const drop = 0.1 + k * 1e-4;
      expect(piecesOf(diodeCurve(drop, 1 + k))!.v0).toEqual([drop, drop]);
    }
  });
});

describe('no curve', () => {
  test.each<[string, Curve]>([
    ['without points', curve([])],
    ['that leads nowhere before', curve([[0, 0]], [0, 0])],
    ['that leads nowhere after', curve([[0, 0]], [1, 0], [0, 0])],
    ['that runs back in volts', curve([[0, 0]], [-1, 0])],
    ['that runs back in amperes', curve([[0, 0]], [1, 0], [1, -1])],
    [
      'that falls in volts',
      curve([
        [1, 0],
        [0, 1],
      ]),
    ],
    [
      'that falls in amperes',
      curve([
        [0, 1],
        [1, 0],
      ]),
    ],
    ['of volts that are none', curve([[Number.NaN, 0]])],
    ['of amperes that are none', curve([[0, Number.NaN]])],
    ['of volts beyond all', curve([[LARGEST * 2, 0]])],
    ['of amperes beyond all', curve([[0, -LARGEST * 2]])],
    ['of a direction beyond all', curve([[0, 0]], [LARGEST * 2, 1])],
    ['of a direction without end', curve([[0, 0]], [1, 0], [1, ENDLESS])],
  ])('is one %s', (_, none) => {
    expect(piecesOf(none)).toBeUndefined();
  });

  test('at the greatest numbers of a site there is still one', () => {
    expect(piecesOf(curve([[LARGEST, -LARGEST]], [LARGEST, 0], [0, LARGEST]))).toBeDefined();
  });
});
