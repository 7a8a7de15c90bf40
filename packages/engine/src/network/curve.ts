/**
 * Curves as tables of linear pieces. Piece 0 runs in from infinity to the first point, piece j joins point j − 1 and
 * point j, the last piece runs from the last point to infinity.
 */
import type { Curve } from './contract.ts';

/** A law that carries nothing, or a piece without length of its own. */
export const OPEN = 0;
/** v = v0 whatever the current. */
export const HOLDS_VOLTS = 1;
/** i = i0 whatever the volts. */
export const HOLDS_AMPS = 2;
/** i = i0 + g (v − v0). */
export const SLOPED = 3;

/** One entry a piece: its mode, its line, and the volts and amperes of its two ends (infinite where it goes on). */
export interface Pieces {
  readonly count: number;
  readonly mode: readonly number[];
  readonly g: readonly number[];
  readonly v0: readonly number[];
  readonly i0: readonly number[];
  readonly vLow: readonly number[];
  readonly vHigh: readonly number[];
  readonly iLow: readonly number[];
  readonly iHigh: readonly number[];
  /** Largest finite volts and amperes of the ends: what the rounding of a point on the piece goes with. */
  readonly vSize: readonly number[];
  readonly iSize: readonly number[];
  /** Where a solve begins that knows nothing: the piece that carries no current, a blocking one before all others. */
  readonly usual: number;
  /** The curve does not go through 0 V, 0 A: it drives current, or asks for it, by itself. */
  readonly driving: boolean;
}

/** Numbers outside ± this are no volts, amperes, ohms or watts of a site; they are refused rather than rounded. */
export const LARGEST = 1e30;

/** Curves that were compiled lately, each in the one place that its numbers give it: parts of one type share theirs. */
const KEPT = 1024;
const kept = new Array<{ readonly curve: Curve; readonly pieces: Pieces | undefined } | undefined>(KEPT).fill(
  undefined,
);

/** The pieces of a curve, or undefined where it is not a finite monotone polyline. */
export function piecesOf(curve: Curve): Pieces | undefined {
  const place = hashOf(curve);
  const known = kept[place];
  if (known !== undefined && isSame(known.curve, curve)) return known.pieces;
  const pieces = isUsable(curve) ? compile(curve) : undefined;
  kept[place] = { curve, pieces };
  return pieces;
}

const number = new Float64Array(1);
const halves = new Int32Array(number.buffer);

function hashOf({ points, before, after }: Curve): number {
  let hash = mixed(mixed(points.length, before), after);
  for (let k = 0; k < points.length; k++) hash = mixed(hash, points[k]!);
  return (hash ^ (hash >>> 10) ^ (hash >>> 20)) & (KEPT - 1);
}

function mixed(hash: number, [x, y]: readonly [number, number]): number {
  number[0] = x;
  const one = Math.imul(hash ^ halves[0]! ^ Math.imul(halves[1]!, 0x9e3779b1), 0x01000193);
  number[0] = y;
  return Math.imul((one ^ (one >>> 15) ^ halves[0]!) + Math.imul(halves[1]!, 0x85ebca6b), 0x01000193);
}

function isSame(one: Curve, other: Curve): boolean {
  if (one === other) return true;
  const count = one.points.length;
  if (count !== other.points.length) return false;
  if (!isSamePair(one.before, other.before) || !isSamePair(one.after, other.after)) return false;
  for (let k = 0; k < count; k++) if (!isSamePair(one.points[k]!, other.points[k]!)) return false;
  return true;
}

function isSamePair(one: readonly [number, number], other: readonly [number, number]): boolean {
  return Object.is(one[0], other[0]) && Object.is(one[1], other[1]);
}

function isUsable(curve: Curve): boolean {
  const { points, before, after } = curve;
  if (points.length === 0) return false;
  for (const [dV, dI] of [before, after]) {
    if (!(dV >= 0 && dI >= 0 && dV + dI > 0 && dV <= LARGEST && dI <= LARGEST)) return false;
  }
  for (let k = 0; k < points.length; k++) {
    const [v, i] = points[k]!;
    if (!(Math.abs(v) <= LARGEST && Math.abs(i) <= LARGEST)) return false;
    if (k > 0 && (v < points[k - 1]![0] || i < points[k - 1]![1])) return false;
  }
  return true;
}

function compile(curve: Curve): Pieces {
  const { points, before, after } = curve;
  const count = points.length + 1;
  // Plain arrays: a table has two or three pieces, and there are many tables.
  const column = (): number[] => new Array<number>(count).fill(0);
  const mode = column();
  const [g, v0, i0, vSize, iSize] = [column(), column(), column(), column(), column()];
  const [vLow, vHigh, iLow, iHigh] = [column(), column(), column(), column()];
  for (let p = 0; p < count; p++) {
    const low = p === 0 ? undefined : points[p - 1]!;
    const high = p === count - 1 ? undefined : points[p]!;
    const dV = low === undefined ? before[0] : high === undefined ? after[0] : high[0] - low[0];
    const dI = low === undefined ? before[1] : high === undefined ? after[1] : high[1] - low[1];
    const [v, i] = (low ?? high)!;
    mode[p] = dV > 0 ? (dI > 0 ? SLOPED : HOLDS_AMPS) : dI > 0 ? HOLDS_VOLTS : OPEN;
    g[p] = dV > 0 ? dI / dV : 0;
    v0[p] = v;
    i0[p] = i;
    vLow[p] = low?.[0] ?? (dV > 0 ? Number.NEGATIVE_INFINITY : v);
    vHigh[p] = high?.[0] ?? (dV > 0 ? Number.POSITIVE_INFINITY : v);
    iLow[p] = low?.[1] ?? (dI > 0 ? Number.NEGATIVE_INFINITY : i);
    iHigh[p] = high?.[1] ?? (dI > 0 ? Number.POSITIVE_INFINITY : i);
    vSize[p] = Math.max(Math.abs((low ?? high)![0]), Math.abs((high ?? low)![0]));
    iSize[p] = Math.max(Math.abs((low ?? high)![1]), Math.abs((high ?? low)![1]));
    // A slope beyond the numbers of a site is a vertical or a level piece.
    if (mode[p] === SLOPED && g[p]! > LARGEST) mode[p] = HOLDS_VOLTS;
    if (mode[p] === SLOPED && g[p]! < 1 / LARGEST) mode[p] = HOLDS_AMPS;
  }
  joinRuns(mode, HOLDS_AMPS, vHigh);
  joinRuns(mode, HOLDS_VOLTS, iHigh);
  const table = { count, mode, g, v0, i0, vLow, vHigh, iLow, iHigh, vSize, iSize };
  return { ...table, usual: usualPiece(table), driving: !holdsOrigin(table) };
}

/** Level pieces that follow one another hold the same amperes, vertical ones the same volts: the first stands for all. */
function joinRuns(mode: number[], kind: number, high: number[]): void {
  let first = -1;
  for (let p = 0; p < mode.length; p++) {
    if (mode[p] === OPEN) continue;
    if (mode[p] !== kind) first = -1;
    else if (first < 0) first = p;
    else {
      high[first] = high[p]!;
      mode[p] = OPEN;
    }
  }
}

type Table = Omit<Pieces, 'usual' | 'driving'>;

function usualPiece(t: Table): number {
  let crossing = -1;
  for (let p = 0; p < t.count; p++) {
    if (t.mode[p] === OPEN || t.iLow[p]! > 0 || t.iHigh[p]! < 0) continue;
    if (t.mode[p] === HOLDS_AMPS) return p;
    if (crossing < 0) crossing = p;
  }
  if (crossing >= 0) return crossing;
  for (let p = 0; p < t.count; p++) if (t.mode[p] !== OPEN && t.vLow[p]! <= 0 && t.vHigh[p]! >= 0) return p;
  return 0;
}

function holdsOrigin(t: Table): boolean {
  for (let p = 0; p < t.count; p++) {
    if (t.mode[p] === OPEN) continue;
    const insideVolts = t.vLow[p]! <= 0 && t.vHigh[p]! >= 0;
    const insideAmps = t.iLow[p]! <= 0 && t.iHigh[p]! >= 0;
    if (!insideVolts || !insideAmps) continue;
    if (t.mode[p] !== SLOPED) return true;
    const v = t.v0[p]! - t.i0[p]! / t.g[p]!;
    if (Math.abs(v) <= 1e-12 * Math.abs(t.v0[p]!)) return true;
  }
  return false;
}

/** The next piece with a length above (`step` 1) or below (`step` −1) piece `p`, or −1 where the curve has none. */
export function neighbourPiece(pieces: Pieces, p: number, step: 1 | -1): number {
  let q = p + step;
  while (q >= 0 && q < pieces.count && pieces.mode[q] === OPEN) q += step;
  return q >= 0 && q < pieces.count ? q : -1;
}
