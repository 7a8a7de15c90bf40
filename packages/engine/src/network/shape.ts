/**
 * Which nodes of a network hang together. Corners of one circuit, and circuits that are built alike, differ in their
 * values only: their islands are found once a shape and kept.
 */
import { type Compiled, CURVE, IDEAL } from './compile.ts';
import { OPEN } from './curve.ts';
import type { Island } from './settle.ts';

/** What decides the islands: the ends of the laws, which of them carry nothing, and which are curves. */
interface Shape {
  readonly nodes: number;
  readonly a: Int32Array;
  readonly b: Int32Array;
  readonly sort: Uint8Array;
  readonly found: Islands;
}

export interface Islands {
  readonly islands: readonly Island[];
  /** Number of the island of each node. */
  readonly of: Int32Array;
}

const CARRIES = 0;
const IS_CURVE = 1;
const CARRIES_NOTHING = 2;

/** Shapes that are kept, each in the one place that its hash gives it. */
const KEPT = 256;
/** Larger networks are not asked for so often that their shapes are worth keeping. */
const MOST_LAWS = 64;
const kept = new Array<Shape | undefined>(KEPT).fill(undefined);

/** Connected islands: nodes joined by any law that can carry current. */
export function islandsOf(c: Compiled): Islands {
  if (c.laws > MOST_LAWS) return findIslands(c);
  const place = hashOf(c);
  const known = kept[place];
  if (known !== undefined && isLike(known, c)) return known.found;
  const { nodes, laws, linear } = c;
  const sort = new Uint8Array(laws);
  for (let k = 0; k < laws; k++) sort[k] = sortOf(c, k);
  const found = findIslands(c);
  kept[place] = { nodes, a: linear.a.slice(0, laws), b: linear.b.slice(0, laws), sort, found };
  return found;
}

function sortOf({ kind, linear }: Compiled, k: number): number {
  if (kind[k] === CURVE) return IS_CURVE;
  return kind[k] === IDEAL && linear.mode[k] === OPEN ? CARRIES_NOTHING : CARRIES;
}

function hashOf(c: Compiled): number {
  const { a, b } = c.linear;
  let hash = Math.imul(c.nodes + 1, 0x9e3779b1) ^ c.laws;
  for (let k = 0; k < c.laws; k++) {
    hash = Math.imul(hash ^ (a[k]! + (b[k]! << 8) + (sortOf(c, k) << 16)), 0x01000193);
    hash ^= hash >>> 15;
  }
  return (hash ^ (hash >>> 11)) & (KEPT - 1);
}

function isLike(shape: Shape, c: Compiled): boolean {
  if (shape.nodes !== c.nodes || shape.sort.length !== c.laws) return false;
  const { a, b } = c.linear;
  for (let k = 0; k < c.laws; k++) {
    if (shape.a[k] !== a[k] || shape.b[k] !== b[k] || shape.sort[k] !== sortOf(c, k)) return false;
  }
  return true;
}

function findIslands(c: Compiled): Islands {
  const { nodes, laws, linear, kind } = c;
  const { a, b, mode } = linear;
  const parent = new Int32Array(nodes);
  for (let n = 0; n < nodes; n++) parent[n] = n;
  const find = (n: number): number => {
    let root = n;
    while (parent[root] !== root) {
      parent[root] = parent[parent[root]!]!;
      root = parent[root]!;
    }
    return root;
  };
  for (let k = 0; k < laws; k++) {
    if (mode[k] === OPEN && kind[k] === IDEAL) continue;
    const ra = find(a[k]!);
    const rb = find(b[k]!);
    if (ra !== rb) parent[ra] = rb;
  }
  const indexOf = new Int32Array(nodes);
  let count = 0;
  for (let n = 0; n < nodes; n++) if (find(n) === n) indexOf[n] = count++;
  const nodeStart = new Int32Array(count + 1);
  const lawStart = new Int32Array(count + 1);
  const islandOf = (n: number): number => indexOf[find(n)]!;
  for (let n = 0; n < nodes; n++) nodeStart[islandOf(n) + 1]!++;
  for (let k = 0; k < laws; k++) if (nodes > 0) lawStart[islandOf(a[k]!) + 1]!++;
  for (let s = 0; s < count; s++) {
    nodeStart[s + 1]! += nodeStart[s]!;
    lawStart[s + 1]! += lawStart[s]!;
  }
  const sortedNodes = new Int32Array(nodes);
  const sortedLaws = new Int32Array(laws);
  const curves: number[][] = Array.from({ length: count }, () => []);
  const nodeAt = nodeStart.slice();
  const lawAt = lawStart.slice();
  for (let n = 0; n < nodes; n++) sortedNodes[nodeAt[islandOf(n)]!++] = n;
  for (let k = 0; k < laws && nodes > 0; k++) {
    const s = islandOf(a[k]!);
    sortedLaws[lawAt[s]!++] = k;
    if (kind[k] === CURVE) curves[s]!.push(k);
  }
  const islands = curves.map((list, s) => ({
    nodes: sortedNodes.subarray(nodeStart[s]!, nodeStart[s + 1]!),
    laws: sortedLaws.subarray(lawStart[s]!, lawStart[s + 1]!),
    curves: list,
  }));
  return { islands, of: Int32Array.from({ length: nodes }, (_, n) => islandOf(n)) };
}
