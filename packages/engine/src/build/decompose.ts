/**
 * Splits a graph into its blocks (biconnected parts). In a network of two-terminal laws no current passes from one
 * block to another through the node they share, so that each can be solved alone.
 * Source: Hopcroft and Tarjan, 'Efficient algorithms for graph manipulation', Communications of the ACM 16 (1973).
 */

/**
 * `from[e]` and `to[e]` are the nodes of edge e. Returns the block of every edge, numbered from 0. Parallel edges
 * share a block; an edge from a node to itself is a block of its own.
 */
export function blocksOf(
  nodes: number,
  from: readonly number[],
  to: readonly number[],
): { readonly block: Int32Array; readonly count: number } {
  const edges = from.length;
  const block = new Int32Array(edges).fill(-1);
  let count = 0;
  const { start, edge } = incidence(nodes, from, to);

  const entered = new Int32Array(nodes).fill(-1);
  const low = new Int32Array(nodes);
  const next = Int32Array.from(start.subarray(0, nodes));
  const arrivedBy = new Int32Array(nodes).fill(-1);
  const open: number[] = [];
  const path: number[] = [];
  let clock = 0;

  const enter = (node: number, by: number) => {
    entered[node] = clock;
    low[node] = clock++;
    arrivedBy[node] = by;
    path.push(node);
  };

  const closeBlock = (last: number) => {
    for (;;) {
      const member = open.pop()!;
      block[member] = count;
      if (member === last) break;
    }
    count++;
  };

  for (let e = 0; e < edges; e++) {
    if (from[e] === to[e]) block[e] = count++;
  }

  for (let root = 0; root < nodes; root++) {
    if (entered[root] !== -1) continue;
    enter(root, -1);
    while (path.length > 0) {
      const node = path.at(-1)!;
      if (next[node]! < start[node + 1]!) {
        const e = edge[next[node]!++]!;
        if (e === arrivedBy[node] || from[e] === to[e]) continue;
        const other = from[e] === node ? to[e]! : from[e]!;
        if (entered[other] === -1) {
          open.push(e);
          enter(other, e);
        } else if (entered[other]! < entered[node]!) {
          open.push(e);
          low[node] = Math.min(low[node]!, entered[other]!);
        }
        continue;
      }
      path.pop();
      const by = arrivedBy[node]!;
      if (by === -1) continue;
      const parent = from[by] === node ? to[by]! : from[by]!;
      low[parent] = Math.min(low[parent]!, low[node]!);
      if (low[node]! >= entered[parent]!) closeBlock(by);
    }
  }
  return { block, count };
}

/** Edges of every node: those of node n are `edge[start[n]] .. edge[start[n + 1] − 1]`. */
function incidence(nodes: number, from: readonly number[], to: readonly number[]) {
  const start = new Int32Array(nodes + 1);
  for (let e = 0; e < from.length; e++) {
    start[from[e]! + 1]!++;
    if (to[e] !== from[e]) start[to[e]! + 1]!++;
  }
  for (let n = 0; n < nodes; n++) start[n + 1]! += start[n]!;
  const fill = Int32Array.from(start);
  const edge = new Int32Array(start[nodes]!);
  for (let e = 0; e < from.length; e++) {
    edge[fill[from[e]!]!++] = e;
    if (to[e] !== from[e]) edge[fill[to[e]!]!++] = e;
  }
  return { start, edge };
}
