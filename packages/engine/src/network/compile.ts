/** Laws as columns of numbers: what the solver works on. */
import type { Law, Network } from './contract.ts';
import { HOLDS_AMPS, HOLDS_VOLTS, LARGEST, OPEN, type Pieces, piecesOf, SLOPED } from './curve.ts';
import { Linear } from './linear.ts';

export const IDEAL = 0;
export const CURVE = 1;
export const POWER = 2;

export interface Compiled {
  readonly network: Network;
  readonly nodes: number;
  readonly laws: number;
  /** Stamps, currents and volts. Shared by all solves, one after the other. */
  readonly linear: Linear;
  /** IDEAL, CURVE or POWER for each law. */
  readonly kind: Uint8Array;
  /** The piece each curve is on; for constant power 0 below, 1 inside, 2 above its range. */
  readonly piece: Int32Array;
  /** Of each curve. */
  readonly curves: (Pieces | undefined)[];
  /** Laws that cannot be computed with: numbers beyond the bounds, nodes that do not exist, curves that fall. */
  readonly refused: readonly number[];
}

let linear = new Linear(64, 64);
let kind = new Uint8Array(64);
let piece = new Int32Array(64);
const curves: (Pieces | undefined)[] = [];
const NONE: readonly number[] = [];

/** Columns for a network. They live in one shared workspace until the next call. */
export function compile(network: Network, start: Int32Array | undefined): Compiled {
  const count = network.laws.length;
  const nodes = Number.isInteger(network.nodes) && network.nodes > 0 ? network.nodes : 0;
  if (linear.volts.length < nodes || linear.mode.length < count) {
    linear = new Linear(Math.max(2 * nodes, linear.volts.length), Math.max(2 * count, linear.mode.length));
    kind = new Uint8Array(linear.mode.length);
    piece = new Int32Array(linear.mode.length);
  }
  let refused = NONE;
  curves.length = 0;
  for (let k = 0; k < count; k++) {
    const law = network.laws[k]!;
    const a = law.a;
    const b = law.b;
    const joined = a >= 0 && b >= 0 && a < nodes && b < nodes && Number.isInteger(a) && Number.isInteger(b);
    linear.a[k] = joined ? a : 0;
    linear.b[k] = joined ? b : 0;
    linear.mode[k] = OPEN;
    linear.yields[k] = 0;
    linear.g[k] = 0;
    linear.v0[k] = 0;
    linear.i0[k] = 0;
    linear.amps[k] = 0;
    kind[k] = IDEAL;
    piece[k] = 0;
    curves.push(undefined);
    if (!joined || !stamp(k, law, start?.[k])) refused = [...refused, k];
  }
  return { network, nodes, laws: count, linear, kind, piece, curves, refused };
}

function stamp(k: number, law: Law, start: number | undefined): boolean {
  switch (law.sort) {
    case 'ohms':
      return stampOhms(k, law.ohms);
    case 'volts':
      linear.mode[k] = HOLDS_VOLTS;
      linear.v0[k] = law.volts;
      return keepIf(k, Math.abs(law.volts) <= LARGEST);
    case 'amps':
      linear.mode[k] = HOLDS_AMPS;
      linear.i0[k] = law.amps;
      return keepIf(k, Math.abs(law.amps) <= LARGEST);
    case 'curve': {
      const pieces = piecesOf(law.curve);
      if (pieces === undefined) return false;
      curves[k] = pieces;
      kind[k] = CURVE;
      linear.yields[k] = 1;
      const wanted = start !== undefined && start >= 0 && start < pieces.count ? start : pieces.usual;
      piece[k] = pieces.mode[wanted] === OPEN ? pieces.usual : wanted;
      return true;
    }
    case 'power': {
      const { watts, least, most } = law;
      const usable = watts >= 0 && watts <= LARGEST && least >= 0 && least <= most && least <= LARGEST;
      if (!usable) return false;
      if (watts > 0) kind[k] = POWER;
      return true;
    }
  }
}

function stampOhms(k: number, ohms: number): boolean {
  // Infinite ohms, or more than the largest number a site can mean, are no connection.
  if (ohms > LARGEST) return true;
  linear.mode[k] = ohms < 1 / LARGEST ? HOLDS_VOLTS : SLOPED;
  linear.g[k] = ohms < 1 / LARGEST ? 0 : 1 / ohms;
  return keepIf(k, ohms >= 0);
}

function keepIf(k: number, usable: boolean): boolean {
  if (!usable) linear.mode[k] = OPEN;
  return usable;
}

/** Puts the line of its present piece behind curve `k`. */
export function stampPiece(c: Compiled, k: number): void {
  const pieces = c.curves[k]!;
  const p = c.piece[k]!;
  const mode = pieces.mode[p]!;
  c.linear.mode[k] = mode;
  c.linear.g[k] = mode === SLOPED ? pieces.g[p]! : 0;
  c.linear.v0[k] = pieces.v0[p]!;
  // A loop of volt-holding pieces leaves their split open: each then takes the least that its piece allows.
  c.linear.i0[k] = mode === HOLDS_VOLTS ? Math.min(Math.max(0, pieces.iLow[p]!), pieces.iHigh[p]!) : pieces.i0[p]!;
}
