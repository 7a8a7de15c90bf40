/**
 * Nodes that laws without ohms join: each supernode is a tree of laws that hold volts, its nodes stand at known offsets
 * from its root, and the laws' currents follow by Kirchhoff from the leaves inwards once all others are known.
 */
import { HOLDS_VOLTS } from './curve.ts';

/** Below this share of what comes together, a sum that should vanish has vanished. */
export const ROUNDING = 1e-12;

/** Law `law` holds volts that the other volt-holding laws of its loop contradict; `excess`: theirs minus its own. */
export interface LoopFailure {
  readonly sort: 'loop';
  readonly law: number;
  readonly excess: number;
}

/** What is behind each law, by its index. */
export interface Stamps {
  readonly a: Int32Array;
  readonly b: Int32Array;
  /** OPEN, HOLDS_VOLTS, HOLDS_AMPS or SLOPED. */
  readonly mode: Uint8Array;
  readonly g: Float64Array;
  readonly v0: Float64Array;
  /** Of a law that holds volts: what it takes where its loop leaves that open. */
  readonly i0: Float64Array;
  /** 1 for laws whose volts come last when a loop must give way: curves. */
  readonly yields: Uint8Array;
  /** Result. */
  readonly amps: Float64Array;
}

export class Supernodes {
  /** Root of each node, once `join` is through. */
  readonly parent: Int32Array;
  /** Volts of each node above its root. */
  readonly offset: Float64Array;
  /** Number of each node's supernode. */
  readonly of: Int32Array;
  count = 0;
  /** Laws of the trees. */
  readonly tree: number[] = [];
  /** Laws whose current nothing determines: they close a loop of laws that hold volts. */
  readonly redundant: number[] = [];

  private readonly stamps: Stamps;
  private readonly treeDegree: Int32Array;
  private readonly treeLaws: Int32Array;
  private readonly net: Float64Array;
  private readonly gross: Float64Array;
  private readonly heaviest: Int32Array;

  constructor(nodes: number, stamps: Stamps) {
    this.stamps = stamps;
    this.parent = new Int32Array(nodes);
    this.offset = new Float64Array(nodes);
    this.of = new Int32Array(nodes);
    this.treeDegree = new Int32Array(nodes);
    this.treeLaws = new Int32Array(nodes);
    this.net = new Float64Array(nodes);
    this.gross = new Float64Array(nodes);
    this.heaviest = new Int32Array(nodes);
  }

  /** Joins along the laws that hold volts; ends at the first loop that does not add up, unless `lenient`. */
  join(nodes: Int32Array, laws: Int32Array, lenient: boolean): LoopFailure | undefined {
    const { parent, offset, treeDegree, treeLaws } = this;
    const { mode, a, b, v0, yields } = this.stamps;
    for (let k = 0; k < nodes.length; k++) {
      const n = nodes[k]!;
      parent[n] = n;
      offset[n] = 0;
      treeDegree[n] = 0;
      treeLaws[n] = 0;
    }
    this.redundant.length = 0;
    this.tree.length = 0;
    let held = 0;
    for (let pass = 0; pass < 2; pass++) {
      for (let k = 0; k < laws.length; k++) {
        const law = laws[k]!;
        if (mode[law] !== HOLDS_VOLTS || yields[law] !== pass) continue;
        held++;
        const na = a[law]!;
        const nb = b[law]!;
        const ra = this.findRoot(na);
        const rb = this.findRoot(nb);
        const volts = v0[law]!;
        if (ra === rb) {
          const present = offset[na]! - offset[nb]!;
          const excess = present - volts;
          const scale = Math.abs(offset[na]!) + Math.abs(offset[nb]!) + Math.abs(volts);
          if (!lenient && Math.abs(excess) > ROUNDING * scale) return { sort: 'loop', law, excess };
          this.redundant.push(law);
          continue;
        }
        parent[ra] = rb;
        offset[ra] = volts + offset[nb]! - offset[na]!;
        treeDegree[na]!++;
        treeDegree[nb]!++;
        // Exclusive-or of the laws at a node: where one is left, this is it.
        treeLaws[na]! ^= law;
        treeLaws[nb]! ^= law;
        this.tree.push(law);
      }
    }
    let count = 0;
    for (let k = 0; k < nodes.length; k++) {
      const n = nodes[k]!;
      if (held > 0) this.findRoot(n);
      if (parent[n] === n) this.of[n] = count++;
    }
    for (let k = 0; k < nodes.length; k++) this.of[nodes[k]!] = this.of[parent[nodes[k]!]!]!;
    this.count = count;
    return undefined;
  }

  /** Root of node `n`; afterwards `parent` and `offset` of `n` lead there directly. */
  private findRoot(n: number): number {
    const { parent, offset } = this;
    let root = n;
    let total = 0;
    while (parent[root] !== root) {
      total += offset[root]!;
      root = parent[root]!;
    }
    let at = n;
    while (parent[at] !== root && at !== root) {
      const after = parent[at]!;
      const own = offset[at]!;
      parent[at] = root;
      offset[at] = total;
      total -= own;
      at = after;
    }
    return root;
  }

  /** Currents of the laws that hold volts, from the leaves of their trees inwards. */
  recoverCurrents(nodes: Int32Array, laws: Int32Array): void {
    const { mode, a, b, amps, i0 } = this.stamps;
    for (const law of this.redundant) amps[law] = i0[law]!;
    if (this.tree.length === 0) return;
    const { net, gross, parent, heaviest, treeDegree, treeLaws } = this;
    for (let k = 0; k < nodes.length; k++) {
      net[nodes[k]!] = 0;
      gross[nodes[k]!] = 0;
    }
    for (let k = 0; k < laws.length; k++) {
      const law = laws[k]!;
      if (mode[law] !== HOLDS_VOLTS) this.countAtNodes(law);
    }
    for (const law of this.redundant) this.countAtNodes(law);
    // The rounding of a whole supernode's sum ends up where most current flows.
    for (let k = 0; k < nodes.length; k++) heaviest[nodes[k]!] = nodes[k]!;
    for (let k = 0; k < nodes.length; k++) {
      const n = nodes[k]!;
      const root = parent[n]!;
      if (gross[n]! > gross[heaviest[root]!]!) heaviest[root] = n;
    }
    for (let k = 0; k < nodes.length; k++) {
      let leaf = nodes[k]!;
      while (treeDegree[leaf] === 1 && heaviest[parent[leaf]!] !== leaf) {
        const law = treeLaws[leaf]!;
        const atA = a[law] === leaf;
        const other = atA ? b[law]! : a[law]!;
        amps[law] = atA ? -net[leaf]! : net[leaf]!;
        net[other]! += net[leaf]!;
        treeDegree[leaf] = 0;
        treeDegree[other]!--;
        treeLaws[other]! ^= law;
        leaf = other;
      }
    }
  }

  private countAtNodes(law: number): void {
    const current = this.stamps.amps[law]!;
    const na = this.stamps.a[law]!;
    const nb = this.stamps.b[law]!;
    this.net[na]! += current;
    this.net[nb]! -= current;
    this.gross[na]! += Math.abs(current);
    this.gross[nb]! += Math.abs(current);
  }
}
