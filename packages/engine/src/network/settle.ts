/**
 * Finds the piece of every curve of an island: solve the linear network behind the present pieces, move every curve
 * that left its piece to the neighbouring one, solve again.
 */
import { type Compiled, CURVE, stampPiece } from './compile.ts';
import { HOLDS_AMPS, HOLDS_VOLTS, neighbourPiece } from './curve.ts';
import type { LinearFailure } from './linear.ts';
import { type Offsets, placeParts } from './parts.ts';

export type Settled =
  | { readonly sort: 'settled'; readonly offsets?: Offsets }
  /** The laws of a loop or of a cut that nothing can satisfy. */
  | { readonly sort: 'contradictory'; readonly laws: number[] }
  /** The flips went round in circles. */
  | { readonly sort: 'undecided' };

export interface Island {
  readonly nodes: Int32Array;
  readonly laws: Int32Array;
  /** Those of `laws` that are curves. */
  readonly curves: readonly number[];
}

/** Counts the linear solves of one call of the solver. */
export interface Tally {
  solves: number;
}

/** How far outside its piece a point may lie before the curve leaves it, as a share of the island's largest figure. */
export const SLACK = 1e-12;
/** Flips that have not ended by then mostly go round and round, even where no state comes twice. */
const FIRST_ROUNDS = 120;
/** Amperes that are none: what Kirchhoff's sum may leave at a node. */
export const NO_AMPS = 1e-15;

/** Flips until every curve is on its piece, for `most` rounds. On return the workspace holds the last linear solution. */
export function settle(c: Compiled, island: Island, tally: Tally, most = FIRST_ROUNDS): Settled {
  const { curves } = island;
  for (const k of curves) stampPiece(c, k);
  let rounds = 10;
  for (const k of curves) rounds += 2 * (c.curves[k]!.count - 1);
  rounds = Math.min(rounds, most);
  let seen: Set<number> | undefined;
  for (let round = 0; round < rounds; round++) {
    const failure = c.linear.solve(island.nodes, island.laws);
    tally.solves++;
    if (failure !== undefined) {
      const verdict = failure.sort === 'loop' ? yieldLoop(c, failure) : yieldCut(c, island, failure);
      if (verdict !== undefined) return verdict;
    } else {
      const settled = flipViolated(c, island, SLACK);
      if (settled !== undefined) return settled;
    }
    seen ??= new Set();
    const mark = markOf(c, curves);
    if (seen.has(mark)) return { sort: 'undecided' };
    seen.add(mark);
  }
  return { sort: 'undecided' };
}

/** Solves with the pieces as they are and tells whether every curve is on its piece, within `slack`. */
export function holds(c: Compiled, island: Island, tally: Tally, slack: number): Settled {
  const before = island.curves.map((k) => c.piece[k]!);
  for (const k of island.curves) stampPiece(c, k);
  tally.solves++;
  const settled = c.linear.solve(island.nodes, island.laws) === undefined ? flipViolated(c, island, slack) : undefined;
  if (settled !== undefined) return settled;
  for (let k = 0; k < before.length; k++) c.piece[island.curves[k]!] = before[k]!;
  return { sort: 'undecided' };
}

function markOf(c: Compiled, curves: readonly number[]): number {
  let high = 0x811c9dc5;
  let low = 0x1b873593;
  for (const k of curves) {
    high = Math.imul(high ^ c.piece[k]!, 0x01000193);
    low = Math.imul(low + c.piece[k]! + 1, 0x85ebca6b) ^ (low >>> 13);
  }
  return (high >>> 0) * 0x200000 + (low >>> 11);
}

function flipViolated(c: Compiled, island: Island, slack: number): Settled | undefined {
  const { linear, piece } = c;
  const { volts, amps, mode, a, b } = linear;
  if (island.curves.length === 0 && linear.parts === 1) return { sort: 'settled' };
  let mostVolts = 0;
  for (let k = 0; k < island.nodes.length; k++) mostVolts = Math.max(mostVolts, Math.abs(volts[island.nodes[k]!]!));
  let mostAmps = 0;
  for (let k = 0; k < island.laws.length; k++) mostAmps = Math.max(mostAmps, Math.abs(amps[island.laws[k]!]!));
  const voltsSlack = slack * mostVolts;
  let flipped = false;
  for (const k of island.curves) {
    const pieces = c.curves[k]!;
    const p = piece[k]!;
    if (mode[k] === HOLDS_AMPS && linear.parts > 1 && linear.partOf(a[k]!) !== linear.partOf(b[k]!)) continue;
    const v = volts[a[k]!]! - volts[b[k]!]!;
    const i = amps[k]!;
    const vSlack = Math.max(voltsSlack, slack * pieces.vSize[p]!);
    const iSlack = slack * Math.max(mostAmps, pieces.iSize[p]!) + NO_AMPS;
    const byVolts = mode[k] !== HOLDS_VOLTS;
    const byAmps = mode[k] !== HOLDS_AMPS;
    const above = (!byVolts || v > pieces.vHigh[p]! + vSlack) && (!byAmps || i > pieces.iHigh[p]! + iSlack) ? 1 : 0;
    const below = (!byVolts || v < pieces.vLow[p]! - vSlack) && (!byAmps || i < pieces.iLow[p]! - iSlack) ? 1 : 0;
    if (above + below === 0) continue;
    if (step(c, k, above === 1 ? 1 : -1)) flipped = true;
  }
  if (linear.parts > 1) {
    const offsets = placeParts(c, island.nodes, island.laws, voltsSlack);
    if (offsets.conflict === undefined) return flipped ? undefined : { sort: 'settled', offsets };
    for (const { law, step: direction } of offsets.conflict) step(c, law, direction);
    return undefined;
  }
  return flipped ? undefined : { sort: 'settled' };
}

function step(c: Compiled, k: number, direction: 1 | -1): boolean {
  const next = neighbourPiece(c.curves[k]!, c.piece[k]!, direction);
  if (next < 0) return false;
  c.piece[k] = next;
  stampPiece(c, k);
  return true;
}

/** A loop of held volts that do not add up drives current without end: the first curve that can give way does. */
function yieldLoop(c: Compiled, failure: LinearFailure & { sort: 'loop' }): Settled | undefined {
  const { law, excess } = failure;
  const loop = [{ law, direction: excess > 0 ? 1 : -1 }, ...pathBack(c, law, excess > 0)];
  for (const { law: k, direction } of loop) {
    if (c.kind[k] === CURVE && step(c, k, direction as 1 | -1)) return undefined;
  }
  // Plain joins lie on the loop but hold nothing of their own.
  const holding = loop.map((s) => s.law).filter((k) => c.network.laws[k]!.sort !== 'ohms');
  return { sort: 'contradictory', laws: holding.sort((x, y) => x - y) };
}

/** The tree laws from end b of `law` back to its end a, each with the direction in which the loop drives it. */
function pathBack(c: Compiled, law: number, forward: boolean): { law: number; direction: 1 | -1 }[] {
  const { a, b } = c.linear;
  const { tree } = c.linear.supernodes;
  const at = new Map<number, number[]>();
  for (const k of tree) {
    for (const n of [a[k]!, b[k]!]) {
      const list = at.get(n);
      if (list === undefined) at.set(n, [k]);
      else list.push(k);
    }
  }
  const from = forward ? b[law]! : a[law]!;
  const to = forward ? a[law]! : b[law]!;
  const via = new Map<number, number>([[from, -1]]);
  const queue = [from];
  for (let head = 0; head < queue.length && !via.has(to); head++) {
    const n = queue[head]!;
    for (const k of at.get(n) ?? []) {
      const other = a[k] === n ? b[k]! : a[k]!;
      if (via.has(other)) continue;
      via.set(other, k);
      queue.push(other);
    }
  }
  const path: { law: number; direction: 1 | -1 }[] = [];
  for (let n = to; n !== from; ) {
    const k = via.get(n)!;
    // The loop current flows from `from` to `to`: it enters node n through k.
    const alongLaw = b[k] === n;
    path.push({ law: k, direction: alongLaw ? 1 : -1 });
    n = alongLaw ? a[k]! : b[k]!;
  }
  return path;
}

/** A part into which held currents push more than they take out rises without end: the curves around it give way. */
function yieldCut(c: Compiled, island: Island, failure: LinearFailure & { sort: 'cut' }): Settled | undefined {
  const { linear, kind } = c;
  const around: number[] = [];
  let flipped = false;
  for (const k of island.laws) {
    if (linear.mode[k] !== HOLDS_AMPS) continue;
    const atA = linear.partOf(linear.a[k]!) === failure.part;
    const atB = linear.partOf(linear.b[k]!) === failure.part;
    if (atA === atB) continue;
    around.push(k);
    const rising = failure.excess > 0 === atA;
    if (kind[k] === CURVE && step(c, k, rising ? 1 : -1)) flipped = true;
  }
  if (flipped) return undefined;
  // A curve that cannot give way on this side may still be relieved by what lies behind it.
  if (around.some((k) => kind[k] === CURVE)) return { sort: 'undecided' };
  return { sort: 'contradictory', laws: around };
}
