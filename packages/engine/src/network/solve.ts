/** The operating point of a network: island by island, then one result. */
import { type Compiled, CURVE, compile, IDEAL, POWER } from './compile.ts';
import type { Network, OperatingPoint, Outcome, Solve, SolvedPoint } from './contract.ts';
import { HOLDS_AMPS, HOLDS_VOLTS, neighbourPiece, OPEN } from './curve.ts';
import { mostWatts } from './deliverable.ts';
import { edgesOnLoops } from './loops.ts';
import { operateWithPower, type Powered } from './power.ts';
import type { Island, Settled, Tally } from './settle.ts';
import { islandsOf } from './shape.ts';
import { Tangent } from './tangent.ts';

const SOLVED: Outcome = { sort: 'solved' };

/** Solves a network: see contract.ts. */
export const solve: Solve = (network, start) => {
  const point = shiftable(network, start);
  return withDeliverable(network, point);
};

/** As `solve`, for those who do not ask for changes about the point: nothing is kept for `shift`. */
export function solvePoint(network: Network, start?: Int32Array): SolvedPoint {
  return withDeliverable(network, operatingPoint(network, start));
}

/** The most watts that law `law` (an index) of the network could be given, whatever it takes by itself. */
export function deliverableWatts(network: Network, law: number): number {
  return mostWatts(network, law, [], operatingPoint);
}

function withDeliverable<P extends SolvedPoint>(network: Network, point: P): P {
  if (point.outcome.sort !== 'no-solution') return point;
  const [first, ...others] = point.outcome.laws;
  const deliverable = mostWatts(network, first!, others, operatingPoint);
  return { ...point, outcome: { ...point.outcome, deliverable } };
}

function shiftable(network: Network, start?: Int32Array): OperatingPoint {
  const c = compile(network, start);
  const point = pointOf(c);
  const { volts, amps, pieces } = point;
  const modes = c.linear.mode.slice(0, c.laws);
  const slopes = c.linear.g.slice(0, c.laws);
  // Inside its range a law of constant watts falls with the volts as steeply as its resistance would rise.
  for (let k = 0; k < c.laws; k++) if (c.kind[k] === POWER && pieces[k] === 1) slopes[k] = -slopes[k]!;
  let tangent: Tangent | undefined;
  return {
    ...point,
    shift(laws) {
      tangent ??= new Tangent(network, { modes, slopes, pieces, volts, amps });
      return tangent.shift(laws);
    },
  };
}

function operatingPoint(network: Network, start?: Int32Array): SolvedPoint {
  return pointOf(compile(network, start));
}

const NONE: ReadonlySet<number> = new Set();

/** The pieces of a network of ideal laws, by their number: all 0. */
const ALL_IDEAL: Int32Array[] = [];
const MOST_IDEAL = 64;

function piecesOf({ piece, kind, laws }: Compiled): Int32Array {
  if (laws > MOST_IDEAL) return piece.slice(0, laws);
  for (let k = 0; k < laws; k++) if (kind[k] !== IDEAL) return piece.slice(0, laws);
  ALL_IDEAL[laws] ??= new Int32Array(laws);
  return ALL_IDEAL[laws];
}

function pointOf(c: Compiled): SolvedPoint {
  const { linear, nodes } = c;
  const tally: Tally = { solves: 0 };
  const troubles: Outcome[] = [];
  if (c.refused.length > 0) troubles.push({ sort: 'bound-reached', laws: c.refused });
  const { islands, of } = islandsOf(c);
  // While every island is one part, its number names the group: then all points of the shape share one column.
  let group = of;
  const live: boolean[] = [];
  let undefinedAmps = NONE;
  let groups = 0;
  for (const island of islands) {
    const settled = operateWithPower(c, island, tally);
    if (group === of && (settled.sort !== 'settled' || linear.parts > 1)) group = of.slice();
    if (settled.sort !== 'settled') {
      troubles.push(outcomeOf(c, settled, island));
      for (const n of island.nodes) {
        linear.volts[n] = 0;
        group[n] = groups++;
        live.push(false);
      }
      for (const k of island.laws) linear.amps[k] = 0;
      continue;
    }
    groups = group === of ? groups + 1 : nameGroups(c, island, settled, group, groups);
    while (live.length < groups) live.push(false);
    markLive(c, island, group, live);
    undefinedAmps = withUndefined(c, island, group, undefinedAmps);
  }
  return {
    outcome: worstOf(troubles),
    volts: linear.volts.slice(0, nodes),
    amps: linear.amps.slice(0, c.laws),
    undefinedAmps,
    group,
    live,
    residual: residualOf(c),
    pieces: piecesOf(c),
    solves: tally.solves,
  };
}

function outcomeOf(c: Compiled, powered: Exclude<Powered, { sort: 'settled' }>, island: Island): Outcome {
  if (powered.sort === 'contradictory') return { sort: 'contradictory', laws: powered.laws };
  if (powered.sort === 'collapsed') return { sort: 'no-solution', laws: powered.laws };
  return { sort: 'bound-reached', laws: [...island.laws].filter((k) => c.kind[k] !== IDEAL) };
}

/** The gravest trouble stands for all; equal ones are told together. */
function worstOf(troubles: readonly Outcome[]): Outcome {
  if (troubles.length === 0) return SOLVED;
  for (const sort of ['contradictory', 'no-solution', 'bound-reached'] as const) {
    const laws = troubles.flatMap((t) => (t.sort === sort ? t.laws : []));
    const first = troubles.find((t) => t.sort === sort);
    if (first !== undefined) return { ...first, laws } as Outcome;
  }
  return SOLVED;
}

function nameGroups(c: Compiled, island: Island, settled: Settled, group: Int32Array, first: number): number {
  const { linear } = c;
  if (linear.parts === 1 || settled.sort !== 'settled' || settled.offsets === undefined) {
    for (const n of island.nodes) group[n] = first;
    return first + 1;
  }
  const { rigid, indexOf } = settled.offsets;
  const numberOf = new Map<number, number>();
  for (const n of island.nodes) {
    const part = rigid[indexOf.get(linear.partOf(n))!]!;
    let number = numberOf.get(part);
    if (number === undefined) {
      number = first + numberOf.size;
      numberOf.set(part, number);
    }
    group[n] = number;
  }
  return first + numberOf.size;
}

function markLive(c: Compiled, island: Island, group: Int32Array, live: boolean[]): void {
  for (const k of island.laws) {
    const mode = c.linear.mode[k];
    if (mode === OPEN) continue;
    const drives =
      c.kind[k] === CURVE
        ? c.curves[k]!.driving
        : (mode === HOLDS_VOLTS && c.linear.v0[k] !== 0) || (mode === HOLDS_AMPS && c.linear.i0[k] !== 0);
    if (!drives) continue;
    live[group[c.linear.a[k]!]!] = true;
    live[group[c.linear.b[k]!]!] = true;
  }
}

/** Laws on loops of held volts, among them curves that stand at the end of a volt-holding piece. */
function withUndefined(
  c: Compiled,
  island: Island,
  group: Int32Array,
  known: ReadonlySet<number>,
): ReadonlySet<number> {
  const { linear } = c;
  const holding: number[] = [];
  let vertical = linear.supernodes.redundant.length > 0;
  for (const k of island.curves) {
    if (linear.mode[k] === HOLDS_VOLTS || group[linear.a[k]!] !== group[linear.b[k]!]) continue;
    if (!standsAtVertical(c, k)) continue;
    holding.push(k);
    vertical = true;
  }
  if (!vertical) return known;
  holding.push(...linear.supernodes.tree, ...linear.supernodes.redundant);
  const from = holding.map((k) => linear.a[k]!);
  const to = holding.map((k) => linear.b[k]!);
  const undefinedAmps = new Set(known);
  for (const e of edgesOnLoops(from, to)) undefinedAmps.add(holding[e]!);
  return undefinedAmps;
}

function standsAtVertical(c: Compiled, k: number): boolean {
  const pieces = c.curves[k]!;
  const p = c.piece[k]!;
  const v = c.linear.volts[c.linear.a[k]!]! - c.linear.volts[c.linear.b[k]!]!;
  const slack = 1e-12 * Math.abs(v);
  const touches = (q: number, corner: number): boolean =>
    q >= 0 && pieces.mode[q] === HOLDS_VOLTS && Math.abs(v - corner) <= slack;
  return (
    touches(neighbourPiece(pieces, p, -1), pieces.vLow[p]!) || touches(neighbourPiece(pieces, p, 1), pieces.vHigh[p]!)
  );
}

let net = new Float64Array(64);
let gross = new Float64Array(64);

/** Kirchhoff at every node: what exceeds 1e-9 of the currents that meet there plus 1e-15 A. */
function residualOf(c: Compiled): number {
  const { linear, nodes, laws } = c;
  if (net.length < nodes) {
    net = new Float64Array(2 * nodes);
    gross = new Float64Array(2 * nodes);
  }
  net.fill(0, 0, nodes);
  gross.fill(0, 0, nodes);
  for (let k = 0; k < laws; k++) {
    const i = linear.amps[k]!;
    if (i === 0) continue;
    net[linear.a[k]!]! += i;
    net[linear.b[k]!]! -= i;
    gross[linear.a[k]!]! += Math.abs(i);
    gross[linear.b[k]!]! += Math.abs(i);
  }
  let worst = 0;
  for (let n = 0; n < nodes; n++) worst = Math.max(worst, Math.abs(net[n]!) - 1e-9 * gross[n]! - 1e-15);
  return worst;
}
