/**
 * Whether an island can have an operating point at all, and which laws forbid it. A network of monotone laws has one
 * exactly when some volts obey every law's range of volts around every loop, and some currents obey every law's range
 * of currents at every node (Minty, 'Monotone networks', Proc. R. Soc. A 257, 1960, from memory). The proof that there
 * is none is a loop of laws that cannot add up to 0 V, or a cut of laws that cannot add up to 0 A.
 */
import { type Compiled, CURVE } from './compile.ts';
import { HOLDS_AMPS, HOLDS_VOLTS, SLOPED } from './curve.ts';
import type { Island } from './settle.ts';

interface Range {
  readonly low: number;
  readonly high: number;
}

const ANY: Range = { low: Number.NEGATIVE_INFINITY, high: Number.POSITIVE_INFINITY };

/** Relative to the figures that meet: what counts as adding up. */
const ROUNDING = 1e-10;

/** Laws of a loop that no volts satisfy, or of a cut that no currents satisfy; undefined where neither exists. */
export function contradictionIn(c: Compiled, island: Island): number[] | undefined {
  return impossibleLoop(c, island) ?? impossibleCut(c, island);
}

function voltsRange(c: Compiled, k: number): Range {
  if (c.kind[k] === CURVE) {
    const pieces = c.curves[k]!;
    return { low: pieces.vLow[0]!, high: pieces.vHigh[pieces.count - 1]! };
  }
  if (c.linear.mode[k] !== HOLDS_VOLTS) return ANY;
  return { low: c.linear.v0[k]!, high: c.linear.v0[k]! };
}

function ampsRange(c: Compiled, k: number): Range {
  if (c.kind[k] === CURVE) {
    const pieces = c.curves[k]!;
    return { low: pieces.iLow[0]!, high: pieces.iHigh[pieces.count - 1]! };
  }
  const mode = c.linear.mode[k];
  if (mode === HOLDS_VOLTS || mode === SLOPED) return ANY;
  return mode === HOLDS_AMPS ? { low: c.linear.i0[k]!, high: c.linear.i0[k]! } : { low: 0, high: 0 };
}

/** Shortest paths over 'v(to) ≤ v(from) + length': a loop of negative length cannot be. */
function impossibleLoop(c: Compiled, island: Island): number[] | undefined {
  const { a, b } = c.linear;
  const bounds: { from: number; to: number; length: number; law: number }[] = [];
  let scale = 0;
  for (const k of island.laws) {
    const { low, high } = voltsRange(c, k);
    if (high < Number.POSITIVE_INFINITY) bounds.push({ from: b[k]!, to: a[k]!, length: high, law: k });
    if (low > Number.NEGATIVE_INFINITY) bounds.push({ from: a[k]!, to: b[k]!, length: -low, law: k });
    if (Number.isFinite(high)) scale = Math.max(scale, Math.abs(high));
    if (Number.isFinite(low)) scale = Math.max(scale, Math.abs(low));
  }
  const reach = new Map<number, number>();
  const via = new Map<number, (typeof bounds)[number]>();
  for (const n of island.nodes) reach.set(n, 0);
  let last = -1;
  for (let round = 0; round <= island.nodes.length; round++) {
    last = -1;
    for (const e of bounds) {
      const next = reach.get(e.from)! + e.length;
      if (reach.get(e.to)! - next <= ROUNDING * scale) continue;
      reach.set(e.to, next);
      via.set(e.to, e);
      last = e.to;
    }
    if (last < 0) return undefined;
  }
  for (let k = 0; k < island.nodes.length; k++) last = via.get(last)!.from;
  const laws = new Set<number>();
  let at = last;
  do {
    const e = via.get(at)!;
    // Plain joins lie on the loop but hold nothing of their own.
    if (c.network.laws[e.law]!.sort !== 'ohms') laws.add(e.law);
    at = e.from;
  } while (at !== last);
  return [...laws].sort((x, y) => x - y);
}

/** Flow with lower and upper bounds by shortest augmenting paths from what must go in to what must come out. */
function impossibleCut(c: Compiled, island: Island): number[] | undefined {
  const { a, b } = c.linear;
  const indexOf = new Map<number, number>();
  for (const n of island.nodes) indexOf.set(n, indexOf.size);
  const source = indexOf.size;
  const sink = source + 1;
  const from: number[] = [];
  const to: number[] = [];
  const room: number[] = [];
  const out: number[][] = Array.from({ length: sink + 1 }, () => []);
  const arc = (tail: number, head: number, forward: number, backward: number): void => {
    out[tail]!.push(from.length);
    from.push(tail);
    to.push(head);
    room.push(forward);
    out[head]!.push(from.length);
    from.push(head);
    to.push(tail);
    room.push(backward);
  };
  const excess = new Float64Array(source);
  let scale = 0;
  for (const k of island.laws) {
    const { low, high } = ampsRange(c, k);
    const na = indexOf.get(a[k]!)!;
    const nb = indexOf.get(b[k]!)!;
    const base = Math.min(Math.max(0, low), high);
    excess[na]! -= base;
    excess[nb]! += base;
    scale = Math.max(scale, Math.abs(base));
    if (na !== nb && (high > base || low < base)) arc(na, nb, high - base, base - low);
  }
  let wanted = 0;
  for (let n = 0; n < source; n++) {
    if (excess[n]! > 0) arc(source, n, excess[n]!, 0);
    if (excess[n]! < 0) arc(n, sink, -excess[n]!, 0);
    wanted += Math.max(0, excess[n]!);
  }
  const tolerance = ROUNDING * scale;
  for (;;) {
    const via = new Int32Array(sink + 1).fill(-1);
    const reached = new Uint8Array(sink + 1);
    reached[source] = 1;
    const queue = [source];
    for (let head = 0; head < queue.length && reached[sink] === 0; head++) {
      for (const e of out[queue[head]!]!) {
        if (room[e]! <= tolerance * 1e-3 || reached[to[e]!] === 1) continue;
        reached[to[e]!] = 1;
        via[to[e]!] = e;
        queue.push(to[e]!);
      }
    }
    if (reached[sink] === 0) {
      if (wanted <= tolerance) return undefined;
      const across = island.laws.filter((k) => reached[indexOf.get(a[k]!)!] !== reached[indexOf.get(b[k]!)!]);
      return [...across].filter((k) => ampsRange(c, k) !== ANY);
    }
    let amount = Number.POSITIVE_INFINITY;
    for (let n = sink; n !== source; n = from[via[n]!]!) amount = Math.min(amount, room[via[n]!]!);
    for (let n = sink; n !== source; n = from[via[n]!]!) {
      room[via[n]!]! -= amount;
      room[via[n]! ^ 1]! += amount;
    }
    wanted -= amount;
    if (wanted <= tolerance) return undefined;
  }
}
