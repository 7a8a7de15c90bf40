/**
 * The linear network behind one choice of pieces. Laws that hold volts join nodes to supernodes with known offsets, so
 * they are exact and need no unknowns; what remains between supernodes are conductances and injected currents, solved
 * by star–mesh elimination; the currents of the volt-holding laws follow by Kirchhoff over their trees.
 */
import { HOLDS_AMPS, HOLDS_VOLTS, SLOPED } from './curve.ts';
import { DenseStars } from './dense.ts';
import { SparseStars } from './sparse.ts';
import { type LoopFailure, ROUNDING, type Stamps, Supernodes } from './supernodes.ts';

/** Unknowns up to which the dense elimination is the faster one. */
const DENSE_LIMIT = 40;

export type LinearFailure =
  | LoopFailure
  /** Group of supernodes `part` is tied to the rest by held currents only, and they sum to `excess` into it. */
  | { readonly sort: 'cut'; readonly part: number; readonly excess: number };

export class Linear implements Stamps {
  /** Per law, filled in by the caller. */
  readonly a: Int32Array;
  readonly b: Int32Array;
  readonly mode: Uint8Array;
  readonly g: Float64Array;
  readonly v0: Float64Array;
  readonly i0: Float64Array;
  readonly yields: Uint8Array;

  /** Results: volts per node, amperes per law. */
  readonly volts: Float64Array;
  readonly amps: Float64Array;
  /** Number of parts: supernodes joined by conductances. Each has its own reference. */
  parts = 0;

  readonly supernodes: Supernodes;
  /** Per supernode. */
  private readonly partParent: Int32Array;
  private readonly weight: Float64Array;
  private readonly unknown: Int32Array;
  private readonly injected: Float64Array;
  private readonly throughput: Float64Array;
  private readonly heaviest: Int32Array;
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
    this.supernodes = new Supernodes(nodes, this);
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
    const loop = this.supernodes.join(nodes, laws, false);
    if (loop !== undefined) return loop;
    this.numberParts(laws);
    return this.parts > 1 ? this.unbalancedPart(laws) : undefined;
  }

  /** The part that node `n` belongs to: an index of a supernode that stands for it. */
  partOf(n: number): number {
    return this.findPart(this.supernodes.of[n]!);
  }

  private numberParts(laws: Int32Array): void {
    const { partParent, weight, mode, g, a, b } = this;
    const { of, count: supers } = this.supernodes;
    for (let s = 0; s < supers; s++) {
      partParent[s] = s;
      weight[s] = 0;
    }
    let parts = supers;
    for (let k = 0; k < laws.length; k++) {
      const law = laws[k]!;
      if (mode[law] !== SLOPED || g[law] === 0) continue;
      const sa = of[a[law]!]!;
      const sb = of[b[law]!]!;
      if (sa === sb) continue;
      weight[sa]!++;
      weight[sb]!++;
      const pa = this.findPart(sa);
      const pb = this.findPart(sb);
      if (pa === pb) continue;
      partParent[pa] = pb;
      parts--;
    }
    this.parts = parts;
    this.chooseReferences();
  }

  /** The reference of a part is its supernode of most weight: it drops out of the elimination. */
  private chooseReferences(): void {
    const { weight, heaviest: best } = this;
    const supers = this.supernodes.count;
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
    const { mode, i0, a, b, injected, throughput } = this;
    const supers = this.supernodes.count;
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
    const { mode, g, a, b, unknown, unknowns } = this;
    const { of } = this.supernodes;
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
      const ua = unknown[of[a[law]!]!]!;
      const ub = unknown[of[b[law]!]!]!;
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
      this.weight.set(this.throughput.subarray(0, this.supernodes.count));
      this.chooseReferences();
      this.factor(laws);
      this.substituteOnce(nodes, laws);
    }
    this.supernodes.recoverCurrents(nodes, laws);
  }

  private substituteOnce(nodes: Int32Array, laws: Int32Array): void {
    const { unknown, volts, x, unknowns } = this;
    const { of, offset } = this.supernodes;
    x.fill(0, 0, unknowns);
    this.spreadVolts(nodes);
    this.sumAtSupernodes(laws, true);
    this.gatherInjections();
    if (unknowns > 0) this.stars.solve(x);
    for (let k = 0; k < nodes.length; k++) {
      const n = nodes[k]!;
      const u = unknown[of[n]!]!;
      volts[n] = offset[n]! + (u < 0 ? 0 : x[u]!);
    }
    this.refine(nodes, laws);
  }

  /** Rounding of a part's sum is left at its reference: that must be where much current flows, or it shows. */
  private referencesHold(): boolean {
    for (let s = 0; s < this.supernodes.count; s++) {
      if (this.unknown[s]! >= 0) continue;
      if (Math.abs(this.injected[s]!) > 1e-10 * this.throughput[s]! + 1e-16) return false;
    }
    return true;
  }

  private spreadVolts(nodes: Int32Array): void {
    for (let k = 0; k < nodes.length; k++) this.volts[nodes[k]!] = this.supernodes.offset[nodes[k]!]!;
  }

  /** Currents of conductances from the volts (when `afresh`), and what they and the held ones leave at supernodes. */
  private sumAtSupernodes(laws: Int32Array, afresh: boolean): void {
    const { mode, g, v0, i0, a, b, volts, amps, injected, throughput } = this;
    const { of, count: supers } = this.supernodes;
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
      const sa = of[na]!;
      const sb = of[nb]!;
      if (sa === sb) continue;
      injected[sa]! -= current;
      injected[sb]! += current;
      const size = current < 0 ? -current : current;
      throughput[sa]! += size;
      throughput[sb]! += size;
    }
  }

  private gatherInjections(): void {
    for (let s = 0; s < this.supernodes.count; s++)
      if (this.unknown[s]! >= 0) this.x[this.unknown[s]!] = this.injected[s]!;
  }

  /**
   * A current computed as conductance × difference of volts is uncertain by the rounding of the volts, which can be
   * more than the current itself (0.1 Ω in a path of microamperes). What the currents leave at the supernodes is
   * solved for once more and added, to the volts as far as they can hold it, to the currents in full.
   */
  private refine(nodes: Int32Array, laws: Int32Array): void {
    const { mode, g, a, b, unknown, volts, amps, x, unknowns } = this;
    const { of } = this.supernodes;
    for (let round = 0; round < 6; round++) {
      this.sumAtSupernodes(laws, round === 0);
      let worst = 0;
      for (let s = 0; s < this.supernodes.count; s++) {
        const off = Math.abs(this.injected[s]!) - 1e-14 * this.throughput[s]!;
        if (off > worst) worst = off;
      }
      if (worst <= 1e-20 || unknowns === 0) return;
      this.gatherInjections();
      this.stars.solve(x);
      for (let k = 0; k < nodes.length; k++) {
        const n = nodes[k]!;
        const u = unknown[of[n]!]!;
        if (u >= 0) volts[n]! += x[u]!;
      }
      for (let k = 0; k < laws.length; k++) {
        const law = laws[k]!;
        if (mode[law] !== SLOPED) continue;
        const ua = unknown[of[a[law]!]!]!;
        const ub = unknown[of[b[law]!]!]!;
        if (ua !== ub) amps[law]! += g[law]! * ((ua < 0 ? 0 : x[ua]!) - (ub < 0 ? 0 : x[ub]!));
      }
    }
  }
}
