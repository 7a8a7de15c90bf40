/**
 * Ohms between two nodes of a small network of ohms, found again and again: every other node is replaced by the mesh that
 * its star is worth. Only sums, products and quotients of positive numbers, so that nothing cancels; nodes that lead
 * nowhere drop out by themselves.
 * Source: the star–mesh transformation (textbook network theory).
 */

let merged = new Int32Array(32);
let siemens = new Float64Array(32 * 32);
let neighbours = new Int32Array(32);
let ends = new Int32Array(128);
let values = new Float64Array(64);

export class OhmsBetween {
  private nodes = 0;
  private branches = 0;

  reset(nodes: number): void {
    this.nodes = nodes;
    this.branches = 0;
    if (merged.length >= nodes) return;
    merged = new Int32Array(2 * nodes);
    neighbours = new Int32Array(2 * nodes);
    siemens = new Float64Array(4 * nodes * nodes);
  }

  /** A branch between two nodes; Infinity where it does not conduct. */
  add(a: number, b: number, ohms: number): void {
    if (ohms === Number.POSITIVE_INFINITY || a === b) return;
    const at = this.branches++;
    if (at === values.length) {
      const [oldEnds, oldValues] = [ends, values];
      ends = new Int32Array(4 * at);
      values = new Float64Array(2 * at);
      ends.set(oldEnds);
      values.set(oldValues);
    }
    ends[2 * at] = a;
    ends[2 * at + 1] = b;
    values[at] = ohms;
  }

  /** Infinity where nothing connects the two. */
  between(from: number, to: number): number {
    const { nodes, branches } = this;
    for (let n = 0; n < nodes; n++) merged[n] = n;
    for (let k = 0; k < branches; k++) {
      if (values[k] === 0) merged[root(ends[2 * k]!)] = root(ends[2 * k + 1]!);
    }
    const [start, stop] = [root(from), root(to)];
    if (start === stop) return 0;
    siemens.fill(0, 0, nodes * nodes);
    for (let k = 0; k < branches; k++) {
      if (values[k] === 0) continue;
      const [a, b] = [root(ends[2 * k]!), root(ends[2 * k + 1]!)];
      if (a !== b) this.join(a, b, 1 / values[k]!);
    }
    for (let n = 0; n < nodes; n++) if (n !== start && n !== stop && merged[n] === n) this.eliminate(n);
    return 1 / siemens[start * nodes + stop]!;
  }

  private eliminate(node: number): void {
    const { nodes } = this;
    const row = node * nodes;
    let count = 0;
    let sum = 0;
    for (let n = 0; n < nodes; n++) {
      const g = siemens[row + n]!;
      if (g === 0) continue;
      neighbours[count++] = n;
      sum += g;
    }
    for (let i = 0; i < count; i++) {
      const a = neighbours[i]!;
      const g = siemens[row + a]!;
      for (let j = i + 1; j < count; j++) this.join(a, neighbours[j]!, (g / sum) * siemens[row + neighbours[j]!]!);
    }
    for (let i = 0; i < count; i++) siemens[neighbours[i]! * nodes + node] = 0;
  }

  private join(a: number, b: number, g: number): void {
    siemens[a * this.nodes + b]! += g;
    siemens[b * this.nodes + a]! += g;
  }
}

function root(node: number): number {
  let at = node;
  while (merged[at] !== at) {
    merged[at] = merged[merged[at]!]!;
    at = merged[at]!;
  }
  return at;
}
