/**
 * First-order changes about an operating point: the network of small changes has the slopes of the pieces as its
 * conductances and the changed laws as its sources. Its factors are made at the first question and kept.
 */
import type { Law, Network } from './contract.ts';
import { HOLDS_AMPS, HOLDS_VOLTS, OPEN, piecesOf, SLOPED } from './curve.ts';
import { Linear } from './linear.ts';

export interface AtRest {
  readonly modes: Uint8Array;
  readonly slopes: Float64Array;
  readonly pieces: Int32Array;
  readonly volts: Float64Array;
  readonly amps: Float64Array;
}

export class Tangent {
  private readonly network: Network;
  private readonly at: AtRest;
  private readonly linear: Linear;
  private readonly nodes: Int32Array;
  private readonly laws: Int32Array;
  private readonly usable: boolean;

  constructor(network: Network, at: AtRest) {
    this.network = network;
    this.at = at;
    const nodes = at.volts.length;
    const count = at.amps.length;
    this.linear = new Linear(nodes, count);
    this.nodes = Int32Array.from({ length: nodes }, (_, n) => n);
    this.laws = Int32Array.from({ length: count }, (_, k) => k);
    this.linear.mode.set(at.modes);
    this.linear.g.set(at.slopes);
    for (let k = 0; k < count; k++) {
      if (at.modes[k] === OPEN) continue;
      this.linear.a[k] = network.laws[k]!.a;
      this.linear.b[k] = network.laws[k]!.b;
      if (network.laws[k]!.sort === 'curve') this.linear.yields[k] = 1;
    }
    this.linear.prepare(this.nodes, this.laws);
    this.usable = this.linear.factor(this.laws);
  }

  /** Changes of all node volts and law amperes, V and A. Zeros where the factors do not exist (at the very nose). */
  shift(laws: readonly Law[]): { readonly volts: Float64Array; readonly amps: Float64Array } {
    const { linear, at } = this;
    const count = at.amps.length;
    if (!this.usable) return { volts: new Float64Array(at.volts.length), amps: new Float64Array(count) };
    linear.v0.fill(0);
    linear.i0.fill(0);
    for (let k = 0; k < count; k++) {
      const before = this.network.laws[k]!;
      const after = laws[k];
      if (after === undefined || after === before || at.modes[k] === OPEN) continue;
      this.drive(k, before, after);
    }
    // The same trees as before, with the changed volts as offsets.
    linear.supernodes.join(this.nodes, this.laws, true);
    linear.substitute(this.nodes, this.laws);
    return { volts: linear.volts.slice(), amps: linear.amps.slice() };
  }

  private drive(k: number, before: Law, after: Law): void {
    const { linear, at } = this;
    const v = at.volts[before.a]! - at.volts[before.b]!;
    const i = at.amps[k]!;
    const byVolts = at.modes[k] === HOLDS_VOLTS;
    const take = (amps: number, volts: number): void => {
      const change = byVolts ? volts : amps;
      if (!Number.isFinite(change)) return;
      if (byVolts) linear.v0[k] = change;
      else linear.i0[k] = change;
    };
    if (before.sort === 'ohms' && after.sort === 'ohms') {
      const step = after.ohms - before.ohms;
      take(-(step / before.ohms) * i, step * i);
    } else if (before.sort === 'volts' && after.sort === 'volts') take(0, after.volts - before.volts);
    else if (before.sort === 'amps' && after.sort === 'amps') take(after.amps - before.amps, 0);
    else if (before.sort === 'curve' && after.sort === 'curve') {
      const pieces = piecesOf(after.curve);
      const p = at.pieces[k]!;
      if (pieces === undefined || p >= pieces.count) return;
      const slope = pieces.g[p]!;
      const sloped = pieces.mode[p] === SLOPED;
      const newVolts = sloped ? pieces.v0[p]! + (i - pieces.i0[p]!) / slope : pieces.v0[p]!;
      const newAmps = sloped ? pieces.i0[p]! + slope * (v - pieces.v0[p]!) : pieces.i0[p]!;
      const stillLine = pieces.mode[p] !== HOLDS_VOLTS || at.modes[k] === HOLDS_AMPS;
      take(stillLine ? newAmps - i : -linear.g[k]! * (newVolts - v), newVolts - v);
    } else if (before.sort === 'power' && after.sort === 'power') {
      const end = [after.least, v, after.most][at.pieces[k]!]!;
      take((after.watts * v) / (end * end) - i, 0);
    }
  }
}
