/**
 * The linear network behind one choice of pieces. Laws that hold volts join nodes to supernodes with known offsets, so
 * they are exact and need no unknowns; what remains between supernodes are conductances and injected currents, solved
 * by star–mesh elimination; the currents of the volt-holding laws follow by Kirchhoff over their trees.
 */
import { HOLDS_AMPS, HOLDS_VOLTS, SLOPED } from './curve.ts';
import { DenseStars } from './dense.ts';
import { SparseStars } from './sparse.ts';

/** Unknowns up to which the dense elimination is the faster one. */
const DENSE_LIMIT = 40;

/** Below this share of what comes together, a sum that should vanish has vanished. */
const ROUNDING = 1e-12;

export type LinearFailure =
  /** Law `law` holds volts that the other volt-holding laws of its loop contradict; `excess`: theirs minus its own. */
  | { readonly sort: 'loop'; readonly law: number; readonly excess: number }
  /** Group of supernodes `part` is tied to the rest by held currents only, and they sum to `excess` into it. */
  | { readonly sort: 'cut'; readonly part: number; readonly excess: number };

export class Linear {
  /** Per law, filled in by the caller; `i0` of a law that holds volts is what it takes where its loop leaves that open. */
  readonly a: Int32Array;
  readonly b: Int32Array;
  readonly mode: Uint8Array;
  readonly g: Float64Array;
  readonly v0: Float64Array;
  readonly i0: Float64Array;
  /** Laws whose volts come last when a loop must give way: curves. */
  readonly yields: Uint8Array;

  /** Results: volts per node, amperes per law. */
  readonly volts: Float64Array;
  readonly amps: Float64Array;
  /** Laws whose current nothing determines: they close a loop of laws that hold volts. */
  readonly redundant: number[] = [];
  /** Laws of the trees of supernodes. */
  readonly tree: number[] = [];
  /** Sum of |amperes| at each node, without trees before `recoverTrees`. */
  readonly gross: Float64Array;
  /** Number of parts: supernodes joined by conductances. Each has its own reference. */
  parts = 0;

  private readonly parent: Int32Array;
  private readonly offset: Float64Array;
  private readonly treeDegree: Int32Array;
  private readonly treeLaws: Int32Array;
  private readonly net: Float64Array;
  /** Supernode of each root node. */
  private readonly superOf: Int32Array;
  /** Per supernode. */
  private readonly partParent: Int32Array;
  private readonly weight: Float64Array;
  private readonly unknown: Int32Array;
  private readonly injected: Float64Array;
  private readonly throughput: Float64Array;
  private readonly heaviest: Int32Array;
  private supers = 0;
  private unknowns = 0;
  private x = new Float64Array(16);
  private dense: DenseStars | undefined;
  private sparse: SparseStars | undefined;
  private stars: DenseStars | SparseStars;

  constructor(nodes: number, laws: number) {
    this.a = new Int32Array(laws);
    this.b = new Int32Array(laws);
    this.mode = new Uint8Array(laws);
    this.yields = new Uint8Array(laws);
    this.g = new Float64Array(laws);
    this.v0 = new Float64Array(laws);
    this.i0 = new Float64Array(laws);
    this.amps = new Float64Array(laws);
    this.volts = new Float64Array(nodes);
    this.gross = new Float64Array(nodes);
    this.parent = new Int32Array(nodes);
    this.offset = new Float64Array(nodes);
    this.treeDegree = new Int32Array(nodes);
    this.treeLaws = new Int32Array(nodes);
    this.net = new Float64Array(nodes);
    this.superOf = new Int32Array(nodes);
    this.partParent = new Int32Array(nodes);
    this.weight = new Float64Array(nodes);
    this.unknown = new Int32Array(nodes);
    this.injected = new Float64Array(nodes);
    this.throughput = new Float64Array(nodes);
    this.heaviest = new Int32Array(nodes);
    this.dense = new DenseStars();
    this.stars = this.dense;
  }

  /** Solves for the nodes and laws listed (one island, or all). Results are for them only. */
  solve(nodes: Int32Array, laws: Int32Array): LinearFailure | undefined {
    const failure = this.prepare(nodes, laws);
    if (failure !== undefined) return failure;
    if (!this.factor(laws)) return { sort: 'cut', part: 0, excess: 0 };
    this.substitute(nodes, laws);
    return undefined;
  }

  /** Supernodes, parts and references; finds the loops and cuts that no volts or currents can satisfy. */
  prepare(nodes: Int32Array, laws: Int32Array): LinearFailure | undefined {
    const loop = this.joinSupernodes(nodes, laws);
    if (loop !== undefined) return loop;
    this.numberParts(nodes, laws);
    return this.parts > 1 ? this.unbalancedPart(laws) : undefined;
  }

  /** Renews the offsets for other held volts, with supernodes, parts and factors as `prepare` and `factor` left them. */
  joinAgain(nodes: Int32Array, laws: Int32Array): void {
    this.joinSupernodes(nodes, laws, true);
  }

  /** The part that node `n` belongs to: an index of a supernode that stands for it. */
  partOf(n: number): number {
    return this.findPart(this.superOf[this.parent[n]!]!);
  }

  /** Nodes of a supernode share their root. */
  rootOf(n: number): number {
    return this.parent[n]!;
  }

  /** Volts of node `n` above its root. */
  offsetOf(n: number): number {
    return this.offset[n]!;
  }

  private joinSupernodes(nodes: Int32Array, laws: Int32Array, lenient = false): LinearFailure | undefined {
    const { parent, offset, treeDegree, treeLaws, mode, a, b, v0, yields } = this;
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
    if (held > 0) for (let k = 0; k < nodes.length; k++) this.findRoot(nodes[k]!);
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

  private numberParts(nodes: Int32Array, laws: Int32Array): void {
    const { parent, superOf, partParent, weight, mode, g, a, b } = this;
    let supers = 0;
    for (let k = 0; k < nodes.length; k++) {
      const n = nodes[k]!;
      if (parent[n] !== n) continue;
      superOf[n] = supers;
      partParent[supers] = supers;
      weight[supers] = 0;
      supers++;
    }
    let parts = supers;
    for (let k = 0; k < laws.length; k++) {
      const law = laws[k]!;
      if (mode[law] !== SLOPED || g[law] === 0) continue;
      const sa = superOf[parent[a[law]!]!]!;
      const sb = superOf[parent[b[law]!]!]!;
      if (sa === sb) continue;
      weight[sa]!++;
      weight[sb]!++;
      const pa = this.findPart(sa);
      const pb = this.findPart(sb);
      if (pa === pb) continue;
      partParent[pa] = pb;
      parts--;
    }
    this.supers = supers;
    this.parts = parts;
    this.chooseReferences();
  }

  /** The reference of a part is its supernode of most weight: it drops out of the elimination. */
  private chooseReferences(): void {
    const { weight, supers, heaviest: best } = this;
    best.fill(-1, 0, supers);
    for (let s = 0; s < supers; s++) {
      const p = this.findPart(s);
      if (best[p]! < 0 || weight[s]! > weight[best[p]!]!) best[p] = s;
    }
    let unknowns = 0;
    for (let s = 0; s < supers; s++) this.unknown[s] = best[this.findPart(s)] === s ? -1 : unknowns++;
    this.unknowns = unknowns;
    if (this.x.length < unknowns) this.x = new Float64Array(Math.ceil(1.5 * unknowns) + 8);
  }

  private findPart(s: number): number {
    const { partParent } = this;
    let root = s;
    while (partParent[root] !== root) root = partParent[root]!;
    let at = s;
    while (at !== root) {
      const after = partParent[at]!;
      partParent[at] = root;
      at = after;
    }
    return root;
  }

  private unbalancedPart(laws: Int32Array): LinearFailure | undefined {
    const { mode, i0, a, b, injected, throughput, supers } = this;
    injected.fill(0, 0, supers);
    throughput.fill(0, 0, supers);
    for (let k = 0; k < laws.length; k++) {
      const law = laws[k]!;
      if (mode[law] !== HOLDS_AMPS) continue;
      const pa = this.partOf(a[law]!);
      const pb = this.partOf(b[law]!);
      if (pa === pb) continue;
      const amps = i0[law]!;
      injected[pa]! -= amps;
      injected[pb]! += amps;
      throughput[pa]! += Math.abs(amps);
      throughput[pb]! += Math.abs(amps);
    }
    for (let p = 0; p < supers; p++) {
      if (Math.abs(injected[p]!) > ROUNDING * throughput[p]!) return { sort: 'cut', part: p, excess: injected[p]! };
    }
    return undefined;
  }

  /** False where negative conductances outweigh the positive ones. */
  factor(laws: Int32Array): boolean {
    const { mode, g, a, b, parent, superOf, unknown, unknowns } = this;
    if (unknowns <= DENSE_LIMIT) {
      this.dense ??= new DenseStars();
      this.stars = this.dense;
    } else {
      this.sparse ??= new SparseStars();
      this.stars = this.sparse;
    }
    const stars = this.stars;
    stars.reset(unknowns);
    for (let k = 0; k < laws.length; k++) {
      const law = laws[k]!;
      if (mode[law] !== SLOPED) continue;
      const ua = unknown[superOf[parent[a[law]!]!]!]!;
      const ub = unknown[superOf[parent[b[law]!]!]!]!;
      if (ua === ub) continue;
      if (ua < 0) stars.addGround(ub, g[law]!);
      else if (ub < 0) stars.addGround(ua, g[law]!);
      else stars.addJoin(ua, ub, g[law]!);
    }
    return stars.factor();
  }

  /** Volts and amperes with the factors at hand. Each part's reference supernode stands at its own offset from 0 V. */
  substitute(nodes: Int32Array, laws: Int32Array): void {
    this.substituteOnce(nodes, laws);
    if (!this.referencesHold()) {
      this.weight.set(this.throughput.subarray(0, this.supers));
      this.chooseReferences();
      this.factor(laws);
      this.substituteOnce(nodes, laws);
    }
    this.recoverTrees(nodes, laws);
  }

  private substituteOnce(nodes: Int32Array, laws: Int32Array): void {
    const { parent, superOf, unknown, offset, volts, x, unknowns } = this;
    x.fill(0, 0, unknowns);
    this.spreadVolts(nodes);
    this.sumAtSupernodes(laws, true);
    this.gatherInjections();
    if (unknowns > 0) this.stars.solve(x);
    for (let k = 0; k < nodes.length; k++) {
      const n = nodes[k]!;
      const u = unknown[superOf[parent[n]!]!]!;
      volts[n] = offset[n]! + (u < 0 ? 0 : x[u]!);
    }
    this.refine(nodes, laws);
  }

  /** Rounding of a part's sum is left at its reference: that must be where much current flows, or it shows. */
  private referencesHold(): boolean {
    for (let s = 0; s < this.supers; s++) {
      if (this.unknown[s]! >= 0) continue;
      if (Math.abs(this.injected[s]!) > 1e-10 * this.throughput[s]! + 1e-16) return false;
    }
    return true;
  }

  private spreadVolts(nodes: Int32Array): void {
    for (let k = 0; k < nodes.length; k++) this.volts[nodes[k]!] = this.offset[nodes[k]!]!;
  }

  /** Currents of conductances from the volts (when `afresh`), and what they and the held ones leave at supernodes. */
  private sumAtSupernodes(laws: Int32Array, afresh: boolean): void {
    const { mode, g, v0, i0, a, b, parent, superOf, volts, amps, injected, throughput, supers } = this;
    injected.fill(0, 0, supers);
    throughput.fill(0, 0, supers);
    for (let k = 0; k < laws.length; k++) {
      const law = laws[k]!;
      const m = mode[law]!;
      if (m === HOLDS_VOLTS) continue;
      const na = a[law]!;
      const nb = b[law]!;
      if (m === SLOPED) {
        if (afresh) amps[law] = i0[law]! + g[law]! * (volts[na]! - volts[nb]! - v0[law]!);
      } else amps[law] = m === HOLDS_AMPS ? i0[law]! : 0;
      const current = amps[law]!;
      if (current === 0) continue;
      const sa = superOf[parent[na]!]!;
      const sb = superOf[parent[nb]!]!;
      if (sa === sb) continue;
      injected[sa]! -= current;
      injected[sb]! += current;
      const size = current < 0 ? -current : current;
      throughput[sa]! += size;
      throughput[sb]! += size;
    }
  }

  private gatherInjections(): void {
    for (let s = 0; s < this.supers; s++) if (this.unknown[s]! >= 0) this.x[this.unknown[s]!] = this.injected[s]!;
  }

  /**
   * A current computed as conductance × difference of volts is uncertain by the rounding of the volts, which can be
   * more than the current itself (0.1 Ω in a path of microamperes). What the currents leave at the supernodes is
   * solved for once more and added, to the volts as far as they can hold it, to the currents in full.
   */
  private refine(nodes: Int32Array, laws: Int32Array): void {
    const { mode, g, a, b, parent, superOf, unknown, volts, amps, x, unknowns } = this;
    for (let round = 0; round < 6; round++) {
      this.sumAtSupernodes(laws, round === 0);
      let worst = 0;
      for (let s = 0; s < this.supers; s++) {
        const off = Math.abs(this.injected[s]!) - 1e-14 * this.throughput[s]!;
        if (off > worst) worst = off;
      }
      if (worst <= 1e-20 || unknowns === 0) return;
      this.gatherInjections();
      this.stars.solve(x);
      for (let k = 0; k < nodes.length; k++) {
        const n = nodes[k]!;
        const u = unknown[superOf[parent[n]!]!]!;
        if (u >= 0) volts[n]! += x[u]!;
      }
      for (let k = 0; k < laws.length; k++) {
        const law = laws[k]!;
        if (mode[law] !== SLOPED) continue;
        const ua = unknown[superOf[parent[a[law]!]!]!]!;
        const ub = unknown[superOf[parent[b[law]!]!]!]!;
        if (ua !== ub) amps[law]! += g[law]! * ((ua < 0 ? 0 : x[ua]!) - (ub < 0 ? 0 : x[ub]!));
      }
    }
  }

  /** Currents of the laws that hold volts, from the leaves of their trees inwards. */
  private recoverTrees(nodes: Int32Array, laws: Int32Array): void {
    for (const law of this.redundant) this.amps[law] = this.i0[law]!;
    if (this.tree.length === 0) return;
    const { mode, a, b, amps, net, gross, parent, heaviest, superOf, treeDegree, treeLaws } = this;
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
    heaviest.fill(-1, 0, this.supers);
    for (let k = 0; k < nodes.length; k++) {
      const n = nodes[k]!;
      const s = superOf[parent[n]!]!;
      if (heaviest[s]! < 0 || gross[n]! > gross[heaviest[s]!]!) heaviest[s] = n;
    }
    for (let k = 0; k < nodes.length; k++) {
      let leaf = nodes[k]!;
      while (treeDegree[leaf] === 1 && heaviest[superOf[parent[leaf]!]!] !== leaf) {
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
    const current = this.amps[law]!;
    const na = this.a[law]!;
    const nb = this.b[law]!;
    this.net[na]! += current;
    this.net[nb]! -= current;
    this.gross[na]! += Math.abs(current);
    this.gross[nb]! += Math.abs(current);
  }
}
