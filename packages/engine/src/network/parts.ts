/**
 * Parts of an island that only held currents join (blocking diodes, above all) float against each other: their offset
 * is free within what the blocking pieces allow. Here a feasible offset is found for each, or the pieces that
 * contradict each other.
 * Method: a system of difference constraints solved by shortest paths (Bellman–Ford; Cormen et al., 'Introduction to
 * Algorithms', chapter on single-source shortest paths, from memory).
 */
import type { Compiled } from './compile.ts';
import { CURVE } from './compile.ts';
import { HOLDS_AMPS } from './curve.ts';

/** y[to] ≤ y[from] + length, because of `law` at its upper (step 1) or lower (step −1) end. */
interface Bound {
  readonly from: number;
  readonly to: number;
  readonly length: number;
  readonly law: number;
  readonly step: 1 | -1;
}

export interface Offsets {
  /** Pieces to leave, with the direction, when no offsets satisfy all. */
  readonly conflict?: readonly { readonly law: number; readonly step: 1 | -1 }[];
  /** For each part met, in the order of `indexOf`: which others its offset is fixed against. */
  readonly rigid: Int32Array;
  readonly indexOf: ReadonlyMap<number, number>;
}

/** Shifts `volts` of the nodes so that every blocking piece between parts is satisfied. `tolerance` in volts. */
export function placeParts(c: Compiled, nodes: Int32Array, laws: Int32Array, tolerance: number): Offsets {
  const { linear } = c;
  const indexOf = new Map<number, number>();
  for (const n of nodes) {
    const part = linear.partOf(n);
    if (!indexOf.has(part)) indexOf.set(part, indexOf.size);
  }
  const bounds = boundsBetween(c, laws, indexOf);
  const size = indexOf.size;
  const high = shortest(size, bounds, tolerance, 1);
  if ('cycle' in high) return { conflict: high.cycle, rigid: new Int32Array(0), indexOf };
  const low = shortest(size, bounds, tolerance, -1);
  if ('cycle' in low) return { conflict: low.cycle, rigid: new Int32Array(0), indexOf };
  // Both are feasible, and so is everything between them: the constraints are convex.
  const y = high.y.map((v, k) => (v + low.y[k]!) / 2);
  for (const n of nodes) linear.volts[n]! += y[indexOf.get(linear.partOf(n))!]!;
  const tight = bounds.filter((e) => y[e.to]! >= y[e.from]! + e.length - tolerance);
  return { rigid: mutuallyReachable(size, tight), indexOf };
}

function boundsBetween(c: Compiled, laws: Int32Array, indexOf: ReadonlyMap<number, number>): Bound[] {
  const { linear, kind, piece, curves } = c;
  const bounds: Bound[] = [];
  for (const law of laws) {
    if (kind[law] !== CURVE || linear.mode[law] !== HOLDS_AMPS) continue;
    const na = linear.a[law]!;
    const nb = linear.b[law]!;
    const a = indexOf.get(linear.partOf(na))!;
    const b = indexOf.get(linear.partOf(nb))!;
    if (a === b) continue;
    const now = linear.volts[na]! - linear.volts[nb]!;
    const vHigh = curves[law]!.vHigh[piece[law]!]!;
    const vLow = curves[law]!.vLow[piece[law]!]!;
    if (vHigh < Number.POSITIVE_INFINITY) bounds.push({ from: b, to: a, length: vHigh - now, law, step: 1 });
    if (vLow > Number.NEGATIVE_INFINITY) bounds.push({ from: a, to: b, length: now - vLow, law, step: -1 });
  }
  return bounds;
}

type Shortest = { readonly y: Float64Array } | { readonly cycle: { law: number; step: 1 | -1 }[] };

/** The greatest solution not above 0 (`sign` 1) or the least one not below 0 (`sign` −1). */
function shortest(size: number, bounds: readonly Bound[], tolerance: number, sign: 1 | -1): Shortest {
  const y = new Float64Array(size);
  const via = new Array<Bound | undefined>(size);
  for (let round = 0; round <= size; round++) {
    let moved = -1;
    for (const e of bounds) {
      const from = sign > 0 ? e.from : e.to;
      const to = sign > 0 ? e.to : e.from;
      const reach = y[from]! + sign * e.length;
      if (sign * (y[to]! - reach) <= tolerance) continue;
      y[to] = reach;
      via[to] = e;
      moved = to;
    }
    if (moved < 0) return { y };
    if (round === size) return { cycle: cycleThrough(moved, via, size, sign) };
  }
  return { y };
}

function cycleThrough(last: number, via: readonly (Bound | undefined)[], size: number, sign: 1 | -1) {
  const back = (at: number): number => (sign > 0 ? via[at]!.from : via[at]!.to);
  let at = last;
  for (let k = 0; k < size; k++) at = back(at);
  const cycle: { law: number; step: 1 | -1 }[] = [];
  const first = at;
  do {
    cycle.push({ law: via[at]!.law, step: via[at]!.step });
    at = back(at);
  } while (at !== first);
  return cycle;
}

/** Equal numbers for vertices that lie on a common directed cycle (Kosaraju's two passes). */
function mutuallyReachable(size: number, edges: readonly Bound[]): Int32Array {
  const component = Int32Array.from({ length: size }, (_, k) => k);
  if (edges.length < 2) return component;
  const ahead: number[][] = Array.from({ length: size }, () => []);
  const behind: number[][] = Array.from({ length: size }, () => []);
  for (const e of edges) {
    ahead[e.from]!.push(e.to);
    behind[e.to]!.push(e.from);
  }
  const finished: number[] = [];
  const seen = new Uint8Array(size);
  for (let root = 0; root < size; root++) {
    if (seen[root] === 1) continue;
    const stack: [number, number][] = [[root, 0]];
    seen[root] = 1;
    while (stack.length > 0) {
      const top = stack[stack.length - 1]!;
      const next = ahead[top[0]]![top[1]++];
      if (next === undefined) {
        finished.push(top[0]);
        stack.pop();
      } else if (seen[next] === 0) {
        seen[next] = 1;
        stack.push([next, 0]);
      }
    }
  }
  component.fill(-1);
  for (let k = finished.length - 1; k >= 0; k--) {
    const root = finished[k]!;
    if (component[root]! >= 0) continue;
    const stack = [root];
    component[root] = root;
    while (stack.length > 0) {
      for (const next of behind[stack.pop()!]!) {
        if (component[next]! >= 0) continue;
        component[next] = root;
        stack.push(next);
      }
    }
  }
  return component;
}
