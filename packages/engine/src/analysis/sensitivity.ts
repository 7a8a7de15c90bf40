/**
 * How a figure changes with every axis at once. All laws have two terminals, so the network is reciprocal: one more
 * solve, driven where the figure is read, tells the weight of every law (Tellegen's theorem; adjoint network method,
 * Director and Rohrer, IEEE Transactions on Circuit Theory 16 (1969)).
 */
import type { Law, OperatingPoint } from '../network/contract.ts';
import { HOLDS_VOLTS, piecesOf, SLOPED } from '../network/curve.ts';
import type { Circuit } from './circuit.ts';
import type { Measure } from './extremes.ts';
import type { Point } from './wiring.ts';

/** What a measure reads: volts between two nodes, or amperes of a law. */
export type Read = { readonly sort: 'volts'; readonly a: number; readonly b: number } | AmpsRead;

interface AmpsRead {
  readonly sort: 'amps';
  readonly law: number;
}

/** Step of an axis; only the sign and rough size of a slope count. */
const STEP = 1e-4;

/** Change of the figure per unit of each axis in `axes`, by axis; `undefined` where one solve cannot tell. */
export function slopesOf(
  circuit: Circuit,
  measure: Measure,
  point: Point,
  axes: readonly number[],
): readonly number[] | undefined {
  const reads = measure.reads;
  if (reads === undefined) return undefined;
  const probes = reads.filter((read) => read.sort === 'volts');
  const own = circuit.lawsAt(point);
  const laws = [...own, ...probes.map(({ a, b }): Law => ({ sort: 'amps', a, b, amps: 0 }))];
  const here = circuit.solveLaws(laws);
  if (here.outcome.sort !== 'solved') return undefined;
  const weights: Weighted[] = [];
  for (const [i, read] of reads.entries()) {
    const slope = slopeOnRead(measure, here, read);
    if (slope === undefined) return undefined;
    if (slope === 0) continue;
    const at = read.sort === 'volts' ? own.length + probes.indexOf(read) : read.law;
    const driven = drivenBy(laws[at]!, here.amps[at]!);
    if (driven === undefined) return undefined;
    const answer = here.shift(laws.map((law, k) => (k === at ? driven : law)));
    weights[i] = { slope, sign: read.sort === 'volts' ? -1 : 1, ...answer };
  }
  const slopes = new Array<number>(circuit.axes.length).fill(0);
  for (const axis of axes) {
    const step = point[axis]! > 0 ? -STEP : STEP;
    const moved = circuit.lawsAt(
      point.map((t, i) => (i === axis ? t + step : t)),
      own,
      axis,
    );
    let change = 0;
    for (const k of circuit.axes[axis]!.laws) {
      const push = pushOf(laws[k]!, moved[k]!, here, k);
      if (push === undefined) return undefined;
      for (const weight of weights) if (weight !== undefined) change += weighed(weight, push, laws[k]!, k);
    }
    slopes[axis] = change / step;
  }
  return slopes;
}

interface Weighted {
  /** Slope of the figure on what is read. */
  readonly slope: number;
  readonly sign: 1 | -1;
  readonly volts: Float64Array;
  readonly amps: Float64Array;
}

/** What a change of a law does to the network: volts in series with it, or amperes beside it. */
type Push =
  | { readonly volts: number; readonly amps?: undefined }
  | { readonly amps: number; readonly volts?: undefined };

function weighed({ slope, sign, volts, amps }: Weighted, push: Push, law: Law, k: number): number {
  const effect = push.volts === undefined ? -push.amps * (volts[law.a]! - volts[law.b]!) : push.volts * amps[k]!;
  return slope * sign * effect;
}

/** One ampere through a probe; one volt in series with a law whose current is read. */
function drivenBy(law: Law, amps: number): Law | undefined {
  if (law.sort === 'amps') return { ...law, amps: law.amps + 1 };
  if (law.sort === 'volts') return { ...law, volts: law.volts + 1 };
  // More ohms by 1/i in a current i take one volt more.
  if (law.sort === 'ohms' && law.ohms > 0 && Math.abs(amps) > SMALL) return { ...law, ohms: law.ohms + 1 / amps };
  return undefined;
}

/** Amperes below which a law's own current is too little to drive it by. */
const SMALL = 1e-9;

/** How the figure changes with one of the numbers that it is read from. */
function slopeOnRead(measure: Measure, here: OperatingPoint, read: Read): number | undefined {
  const base = measure(here);
  const volts = here.volts.slice();
  const amps = here.amps.slice();
  const value = read.sort === 'volts' ? volts[read.a]! - volts[read.b]! : amps[read.law]!;
  const step = 1e-6 * (Math.abs(value) || 1e-3);
  if (read.sort === 'volts') volts[read.a]! += step;
  else amps[read.law]! += step;
  const moved = measure({ volts, amps, group: here.group, live: here.live });
  if (base === undefined || moved === undefined) return undefined;
  const slope = (moved - base) / step;
  return Number.isFinite(slope) ? slope : undefined;
}

function pushOf(before: Law, after: Law, here: OperatingPoint, k: number): Push | undefined {
  const volts = here.volts[before.a]! - here.volts[before.b]!;
  const amps = here.amps[k]!;
  if (before.sort === 'ohms' && after.sort === 'ohms') return { volts: amps * (after.ohms - before.ohms) };
  if (before.sort === 'volts' && after.sort === 'volts') return { volts: after.volts - before.volts };
  if (before.sort === 'amps' && after.sort === 'amps') return { amps: after.amps - before.amps };
  if (before.sort !== 'curve' || after.sort !== 'curve') return undefined;
  const pieces = piecesOf(after.curve);
  const p = here.pieces[k]!;
  if (pieces === undefined || p >= pieces.count) return undefined;
  if (pieces.mode[p] === HOLDS_VOLTS) return { volts: pieces.v0[p]! - volts };
  const line = pieces.mode[p] === SLOPED ? pieces.g[p]! * (volts - pieces.v0[p]!) : 0;
  return { amps: pieces.i0[p]! + line - amps };
}
