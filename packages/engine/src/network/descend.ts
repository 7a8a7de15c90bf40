/**
 * Islands whose flips go round in circles. With a little resistance in series and a little conductance across every
 * curve, the network has one solution and it is the lowest point of a convex function of the node volts: the
 * co-content, whose slope is Kirchhoff's sum. Newton's method with a search along each step goes down to it from
 * anywhere, whatever the size. The tilted curves serve to find the pieces only: from those the flips go on with the
 * curves as they are, so no added resistance is in the result. Smaller tilts follow where the flips do not end yet.
 * Source: Millar, 'Some general theorems for non-linear systems possessing resistance', Phil. Mag. 42, 1951, for the
 * co-content (from memory); damped Newton on a convex piecewise-quadratic function: common practice.
 */
import { type Compiled, CURVE, stampPiece } from './compile.ts';
import { HOLDS_AMPS, HOLDS_VOLTS, OPEN, SLOPED } from './curve.ts';
import { type Island, type Settled, settle, type Tally } from './settle.ts';

/** Series resistance as a share of the middle of the island's resistances, and conductance across likewise. */
const TILTS = [1e-3, 1e-5, 1e-7, 1e-9];
const MOST_STEPS = 100;

/** Pieces by going down, the point by flips from there. */
export function descend(c: Compiled, island: Island, tally: Tally): Settled {
  const middle = middleOhms(c, island);
  const volts = new Float64Array(c.nodes);
  for (const tilt of TILTS) {
    const found = goDown(c, island, tally, { series: tilt * middle, across: tilt / middle }, volts);
    if (!found) return { sort: 'undecided' };
    for (const n of island.nodes) volts[n] = c.linear.volts[n]!;
    for (const k of island.curves) stampPiece(c, k);
    const settled = settle(c, island, tally);
    if (settled.sort !== 'undecided') return settled;
  }
  return { sort: 'undecided' };
}

function middleOhms(c: Compiled, island: Island): number {
  const all: number[] = [];
  for (const k of island.laws) {
    if (c.kind[k] !== CURVE && c.linear.mode[k] === SLOPED) all.push(1 / c.linear.g[k]!);
  }
  all.sort((x, y) => x - y);
  return all[all.length >> 1] ?? 1;
}

interface Tilt {
  /** Ω. */
  readonly series: number;
  /** S. */
  readonly across: number;
}

/** Newton from `at` (volts of nodes); the pieces are those of the lowest point. False where it is not reached. */
function goDown(c: Compiled, island: Island, tally: Tally, tilt: Tilt, at: Float64Array): boolean {
  const { linear, piece } = c;
  const { a, b } = linear;
  const volts = at.slice();
  for (let step = 0; step < MOST_STEPS; step++) {
    for (const k of island.curves) {
      piece[k] = tiltedPiece(c, k, tilt, volts[a[k]!]! - volts[b[k]!]!);
      stampTilted(c, k, tilt);
    }
    tally.solves++;
    if (linear.solve(island.nodes, island.laws) !== undefined) return false;
    const stays = island.curves.every(
      (k) => tiltedPiece(c, k, tilt, linear.volts[a[k]!]! - linear.volts[b[k]!]!) === piece[k],
    );
    if (stays) return true;
    // The first step goes all the way: it is what brings the held volts of ideal sources to their values.
    const share = step === 0 ? 1 : lowestAlong(c, island, tilt, volts);
    for (const n of island.nodes) volts[n]! += share * (linear.volts[n]! - volts[n]!);
  }
  return false;
}

/** Share of the way from `from` to the volts just solved at which the co-content is lowest. */
function lowestAlong(c: Compiled, island: Island, tilt: Tilt, from: Float64Array): number {
  const { linear, kind } = c;
  const { a, b, mode, g, i0 } = linear;
  const laws: number[] = [];
  const starts: number[] = [];
  const ways: number[] = [];
  // The slope of resistances and held currents is a straight line of the share.
  let still = 0;
  let rise = 0;
  for (const k of island.laws) {
    const start = from[a[k]!]! - from[b[k]!]!;
    const way = linear.volts[a[k]!]! - linear.volts[b[k]!]! - start;
    if (kind[k] === CURVE) {
      laws.push(k);
      starts.push(start);
      ways.push(way);
    } else if (mode[k] === SLOPED) {
      still += g[k]! * start * way;
      rise += g[k]! * way * way;
    } else if (mode[k] === HOLDS_AMPS) still += i0[k]! * way;
  }
  const slope = (share: number): number => {
    let sum = still + rise * share;
    for (let m = 0; m < laws.length; m++) {
      if (ways[m] !== 0) sum += tiltedAmps(c, laws[m]!, tilt, starts[m]! + share * ways[m]!) * ways[m]!;
    }
    return sum;
  };
  if (slope(1) <= 0) return 1;
  let low = 0;
  let high = 1;
  for (let round = 0; round < 40; round++) {
    const middle = (low + high) / 2;
    if (slope(middle) <= 0) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

function tiltedPiece(c: Compiled, k: number, tilt: Tilt, v: number): number {
  const pieces = c.curves[k]!;
  let last = 0;
  for (let p = 0; p < pieces.count; p++) {
    if (pieces.mode[p] === OPEN) continue;
    last = p;
    if (v <= pieces.vHigh[p]! + tilt.series * pieces.iHigh[p]!) return p;
  }
  return last;
}

function tiltedAmps(c: Compiled, k: number, tilt: Tilt, v: number): number {
  const pieces = c.curves[k]!;
  const p = tiltedPiece(c, k, tilt, v);
  const g = tiltedSiemens(pieces.mode[p]!, pieces.g[p]!, tilt.series);
  return pieces.i0[p]! + g * (v - pieces.v0[p]! - tilt.series * pieces.i0[p]!) + tilt.across * v;
}

/** Of the piece with the resistance in series, without the conductance across. */
function tiltedSiemens(mode: number, g: number, series: number): number {
  if (mode === HOLDS_VOLTS) return 1 / series;
  return mode === HOLDS_AMPS ? 0 : g / (1 + g * series);
}

function stampTilted(c: Compiled, k: number, tilt: Tilt): void {
  const { linear } = c;
  const pieces = c.curves[k]!;
  const p = c.piece[k]!;
  const corner = pieces.v0[p]! + tilt.series * pieces.i0[p]!;
  linear.mode[k] = SLOPED;
  linear.g[k] = tiltedSiemens(pieces.mode[p]!, pieces.g[p]!, tilt.series) + tilt.across;
  linear.v0[k] = corner;
  linear.i0[k] = pieces.i0[p]! + tilt.across * corner;
}
