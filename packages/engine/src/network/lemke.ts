/**
 * Lemke's method on the pieces of an island's curves. Each curve is walked by one parameter; its equation and
 * Kirchhoff's are linear on every piece. A covering displacement t, large enough that every curve sits on its first
 * piece, is taken away along the one path of solutions: a curve that comes to a corner enters its next piece and
 * drives the others, until t is 0. Ties go to the lexicographically least, so the path never repeats itself.
 * Curves that end vertical or level are carried on, far out, by a slope: then the path cannot run away, and where it
 * ends there is a solution (feasible.ts has shown before that one exists).
 * Source: Cottle, Pang, Stone, 'The Linear Complementarity Problem', chapter 4 (Lemke's method, lexicographic
 * degeneracy resolution), from memory; pieces walked by a parameter: common practice.
 */

import { DenseBasis } from './basis.ts';
import { type Compiled, stampPiece } from './compile.ts';
import { HOLDS_AMPS, HOLDS_VOLTS, OPEN, type Pieces, SLOPED } from './curve.ts';
import type { Island } from './settle.ts';

/** Equations beyond which the dense basis is not worth its time. */
const MOST_EQUATIONS = 700;
/** The basis is inverted anew after every turn while that is quick, else after so many. */
const SMALL = 64;
const REFRESH = 20;

/** A piece in the scaled plane, from parameter `from` to `to`; `piece` is −1 on an added slope. */
interface Stretch {
  readonly piece: number;
  readonly from: number;
  readonly to: number;
  readonly dV: number;
  readonly dI: number;
  /** Scaled volts and amperes at parameter 0 of its line. */
  readonly v: number;
  readonly i: number;
}

interface Walk {
  readonly law: number;
  readonly stretches: readonly Stretch[];
  at: number;
}

/**
 * Puts every curve on the piece where the path ends. False where the method's bounds are reached. The added slopes
 * begin `far` times the island's largest figures away: nearer loses fewer digits, farther hides no solution. `backwards`
 * begins at the other ends of the curves, which is another path to the same point.
 */
export function walkToSolution(c: Compiled, island: Island, far: number, backwards: boolean): boolean {
  const { linear } = c;
  for (const k of island.curves) linear.mode[k] = OPEN;
  linear.prepare(island.nodes, island.laws);
  const scale = scalesOf(c, island);
  const walks = island.curves.map((law) => {
    const stretches = stretchesOf(c.curves[law]!, scale, far);
    return { law, stretches: backwards ? stretches.reverse().map(turned) : stretches, at: 0 };
  });
  const solved = follow(new Equations(c, island, walks, scale));
  for (const { law, stretches, at } of walks) {
    // A part that nothing ties down may end at the very beginning of an added slope, which is its level piece's end.
    const natural = stretches[at]!.piece >= 0 ? at : at === 0 ? 1 : at - 1;
    c.piece[law] = stretches[natural]!.piece;
    stampPiece(c, law);
  }
  return solved;
}

interface Scale {
  readonly volts: number;
  readonly amps: number;
}

function scalesOf(c: Compiled, island: Island): Scale {
  const { linear } = c;
  let volts = 0;
  let amps = 0;
  const conductances: number[] = [];
  for (const k of island.laws) {
    if (linear.mode[k] === HOLDS_VOLTS) volts = Math.max(volts, Math.abs(linear.v0[k]!));
    if (linear.mode[k] === HOLDS_AMPS) amps = Math.max(amps, Math.abs(linear.i0[k]!));
    if (linear.mode[k] === SLOPED) conductances.push(linear.g[k]!);
  }
  for (const k of island.curves) {
    const pieces = c.curves[k]!;
    for (let p = 0; p < pieces.count; p++) {
      for (const v of [pieces.vLow[p]!, pieces.vHigh[p]!]) if (Number.isFinite(v)) volts = Math.max(volts, Math.abs(v));
      for (const i of [pieces.iLow[p]!, pieces.iHigh[p]!]) if (Number.isFinite(i)) amps = Math.max(amps, Math.abs(i));
      if (pieces.mode[p] === SLOPED) conductances.push(pieces.g[p]!);
    }
  }
  conductances.sort((x, y) => x - y);
  const middle = conductances[conductances.length >> 1] ?? 1;
  if (volts === 0) volts = amps > 0 ? amps / middle : 1;
  return { volts, amps: Math.max(amps, volts * middle) };
}

function stretchesOf(pieces: Pieces, scale: Scale, far: number): Stretch[] {
  const list: Stretch[] = [];
  let walked = 0;
  const final = pieces.mode.findLastIndex((mode) => mode !== OPEN);
  for (let p = 0; p < pieces.count; p++) {
    const mode = pieces.mode[p]!;
    if (mode === OPEN) continue;
    const steepness = (pieces.g[p]! * scale.volts) / scale.amps;
    const size = mode === SLOPED ? Math.hypot(1, steepness) : 1;
    const dV = mode === HOLDS_VOLTS ? 0 : 1 / size;
    const dI = mode === HOLDS_AMPS ? 0 : mode === HOLDS_VOLTS ? 1 : steepness / size;
    const first = p === 0;
    const last = p === final;
    const endless = mode === SLOPED ? Number.POSITIVE_INFINITY : far;
    const v = pieces.v0[p]! / scale.volts;
    const i = pieces.i0[p]! / scale.amps;
    // The first piece is measured from the first point, where the parameter is 0.
    const length = Math.hypot(
      (pieces.vHigh[p]! - pieces.v0[p]!) / scale.volts,
      (pieces.iHigh[p]! - pieces.i0[p]!) / scale.amps,
    );
    const from = first ? -endless : walked;
    const to = last ? walked + endless : walked + length;
    const line = { piece: p, dV, dI, v: v - dV * walked, i: i - dI * walked };
    if (first && mode !== SLOPED) {
      const half = Math.SQRT1_2;
      list.push({
        piece: -1,
        from: Number.NEGATIVE_INFINITY,
        to: from,
        dV: half,
        dI: half,
        v: line.v + (dV - half) * from,
        i: line.i + (dI - half) * from,
      });
    }
    list.push({ ...line, from, to });
    if (last && mode !== SLOPED) {
      const half = Math.SQRT1_2;
      list.push({
        piece: -1,
        from: to,
        to: Number.POSITIVE_INFINITY,
        dV: half,
        dI: half,
        v: line.v + (dV - half) * to,
        i: line.i + (dI - half) * to,
      });
    }
    walked = to;
  }
  return list;
}

/** The same stretch walked from its far end. */
function turned({ piece, from, to, dV, dI, v, i }: Stretch): Stretch {
  return { piece, from: -to, to: -from, dV: -dV, dI: -dI, v, i };
}

/** Kirchhoff at every supernode but one of each connected piece, then one equation a curve. */
class Equations {
  readonly walks: readonly Walk[];
  readonly nodes: number;
  readonly size: number;
  private readonly c: Compiled;
  private readonly island: Island;
  private readonly scale: Scale;
  /** Unknown of each supernode; −1 for a reference. */
  private readonly unknown = new Map<number, number>();

  constructor(c: Compiled, island: Island, walks: readonly Walk[], scale: Scale) {
    this.c = c;
    this.island = island;
    this.walks = walks;
    this.scale = scale;
    const { linear } = c;
    const parent = new Map<number, number>();
    for (const n of island.nodes) parent.set(linear.supernodes.of[n]!, linear.supernodes.of[n]!);
    const find = (root: number): number => {
      let at = root;
      while (parent.get(at) !== at) at = parent.get(at)!;
      parent.set(root, at);
      return at;
    };
    const walked = new Set(walks.map((w) => w.law));
    for (const k of island.laws) {
      if (linear.mode[k] !== SLOPED && !walked.has(k)) continue;
      const ra = find(linear.supernodes.of[linear.a[k]!]!);
      const rb = find(linear.supernodes.of[linear.b[k]!]!);
      if (ra !== rb) parent.set(ra, rb);
    }
    let count = 0;
    for (const root of parent.keys()) this.unknown.set(root, find(root) === root ? -1 : count++);
    this.nodes = count;
    this.size = count + walks.length;
  }

  private at(node: number): number {
    return this.unknown.get(this.c.linear.supernodes.of[node]!)!;
  }

  /** Columns of the node volts: the same on every piece. */
  nodeColumns(): Float64Array[] {
    const { linear } = this.c;
    const columns = Array.from({ length: this.nodes }, () => new Float64Array(this.size));
    for (const k of this.island.laws) {
      if (linear.mode[k] !== SLOPED) continue;
      const g = (linear.g[k]! * this.scale.volts) / this.scale.amps;
      const ua = this.at(linear.a[k]!);
      const ub = this.at(linear.b[k]!);
      if (ua === ub) continue;
      if (ua >= 0) columns[ua]![ua]! += g;
      if (ub >= 0) columns[ub]![ub]! += g;
      if (ua >= 0 && ub >= 0) {
        columns[ua]![ub]! -= g;
        columns[ub]![ua]! -= g;
      }
    }
    this.walks.forEach((walk, j) => {
      const ua = this.at(linear.a[walk.law]!);
      const ub = this.at(linear.b[walk.law]!);
      if (ua >= 0) columns[ua]![this.nodes + j]! += 1;
      if (ub >= 0) columns[ub]![this.nodes + j]! -= 1;
    });
    return columns;
  }

  /** Column of curve `j`'s parameter on its present stretch. */
  walkColumn(j: number): Float64Array {
    const { linear } = this.c;
    const walk = this.walks[j]!;
    const { dV, dI } = walk.stretches[walk.at]!;
    const column = new Float64Array(this.size);
    const ua = this.at(linear.a[walk.law]!);
    const ub = this.at(linear.b[walk.law]!);
    if (ua >= 0) column[ua]! += dI;
    if (ub >= 0) column[ub]! -= dI;
    column[this.nodes + j] = -dV;
    return column;
  }

  /** Right-hand side on the present stretches. */
  constants(): Float64Array {
    const { linear } = this.c;
    const right = new Float64Array(this.size);
    const leave = (law: number, amps: number): void => {
      const ua = this.at(linear.a[law]!);
      const ub = this.at(linear.b[law]!);
      if (ua >= 0) right[ua]! -= amps;
      if (ub >= 0) right[ub]! += amps;
    };
    const lead = (law: number): number =>
      linear.supernodes.offset[linear.a[law]!]! - linear.supernodes.offset[linear.b[law]!]!;
    for (const k of this.island.laws) {
      if (linear.mode[k] === SLOPED)
        leave(k, (linear.i0[k]! + linear.g[k]! * (lead(k) - linear.v0[k]!)) / this.scale.amps);
      if (linear.mode[k] === HOLDS_AMPS) leave(k, linear.i0[k]! / this.scale.amps);
    }
    this.walks.forEach((walk, j) => {
      const { v, i } = walk.stretches[walk.at]!;
      leave(walk.law, i);
      right[this.nodes + j] = v - lead(walk.law) / this.scale.volts;
    });
    return right;
  }
}

/** Follows the path from a large displacement to none. */
function follow(equations: Equations): boolean {
  const { size, nodes, walks } = equations;
  if (size > MOST_EQUATIONS) return false;
  const columns = equations.nodeColumns();
  for (let j = 0; j < walks.length; j++) columns.push(equations.walkColumn(j));
  const basis = new DenseBasis(columns);
  if (!basis.refresh()) return false;
  const value = basis.times(equations.constants());
  // Displacement 1 moves every parameter down by 1: its column is minus the sum of the curves' columns, negated.
  const cover = new Float64Array(size);
  for (let j = 0; j < walks.length; j++) for (let r = 0; r < size; r++) cover[r]! += columns[nodes + j]![r]!;

  let driver = -1;
  let displacement = 0;
  for (let j = 0; j < walks.length; j++) {
    const needed = value[nodes + j]! - walks[j]!.stretches[0]!.to;
    if (needed < 0) continue;
    const better =
      driver < 0 ||
      needed > displacement ||
      (needed === displacement && basis.compare(nodes + j, 1, nodes + driver, 1) > 0);
    if (!better) continue;
    driver = j;
    displacement = needed;
  }
  if (driver < 0) return true;
  for (let j = 0; j < walks.length; j++) value[nodes + j]! -= displacement;
  /** Position in the basis of the displacement; every other position holds its own unknown. */
  const place = nodes + driver;
  let holder = place;
  const parameter = walks.map((_, j) => value[nodes + j]!);
  if (!basis.replace(holder, cover, basis.times(cover))) return false;
  let direction: 1 | -1 = 1;
  walks[driver]!.at++;

  let pieces = 0;
  for (const walk of walks) pieces += walk.stretches.length;
  const most = 1000 + 50 * (pieces + size);
  for (let turn = 0; turn < most; turn++) {
    const column = equations.walkColumn(driver);
    const against = basis.times(column);
    const stretch = walks[driver]!.stretches[walks[driver]!.at]!;
    let step = direction > 0 ? stretch.to - parameter[driver]! : parameter[driver]! - stretch.from;
    let leaver = -1;
    let leaverRate = 0;
    const rateAt = (position: number): number => -against[position]! * direction;
    let noise = 1;
    for (let r = 0; r < size; r++) noise = Math.max(noise, Math.abs(against[r]!));
    noise *= 1e-11;
    for (let j = 0; j < walks.length; j++) {
      if (nodes + j === holder) continue;
      const rate = rateAt(nodes + j);
      if (Math.abs(rate) < noise) continue;
      const own = walks[j]!.stretches[walks[j]!.at]!;
      const room = rate > 0 ? (own.to - parameter[j]!) / rate : (own.from - parameter[j]!) / rate;
      const tie = Number.isFinite(step) && Math.abs(room - step) <= 1e-12 * (1 + Math.abs(step));
      if (tie ? basis.compareRatio(nodes + j, rate, leaver < 0 ? -1 : nodes + leaver, leaverRate) < 0 : room < step) {
        step = room;
        leaver = j;
        leaverRate = rate;
      }
    }
    const fall = rateAt(holder);
    const finishing = fall < -noise && displacement / -fall <= step * (1 + 1e-11);
    if (finishing) step = displacement / -fall;
    if (!Number.isFinite(step)) return false;
    step = Math.max(0, step);
    for (let j = 0; j < walks.length; j++) if (nodes + j !== holder) parameter[j]! += rateAt(nodes + j) * step;
    parameter[driver]! += direction * step;
    if (finishing) return true;
    displacement += fall * step;
    if (leaver < 0) {
      parameter[driver] = direction > 0 ? stretch.to : stretch.from;
      walks[driver]!.at += direction;
      continue;
    }
    // The driver takes the leaver's place; to keep every unknown in its own place, the displacement moves over.
    if (!basis.exchange(holder, nodes + leaver, column, against)) return false;
    holder = nodes + leaver;
    const left = walks[leaver]!.stretches[walks[leaver]!.at]!;
    parameter[leaver] = leaverRate > 0 ? left.to : left.from;
    driver = leaver;
    direction = leaverRate > 0 ? 1 : -1;
    walks[leaver]!.at += direction;
    if (size > SMALL && turn % REFRESH !== REFRESH - 1) continue;
    const refreshed = refresh(equations, basis, holder, parameter, driver);
    if (refreshed === undefined) return false;
    displacement = refreshed;
  }
  return false;
}

/** Inverts the basis anew and takes the parameters and the displacement (returned) from the equations: no drift. */
function refresh(
  equations: Equations,
  basis: DenseBasis,
  holder: number,
  parameter: number[],
  driver: number,
): number | undefined {
  if (!basis.refresh()) return undefined;
  const right = equations.constants();
  const column = equations.walkColumn(driver);
  for (let r = 0; r < right.length; r++) right[r]! -= column[r]! * parameter[driver]!;
  const value = basis.times(right);
  for (let j = 0; j < parameter.length; j++) {
    if (equations.nodes + j !== holder) parameter[j] = value[equations.nodes + j]!;
  }
  return value[holder]!;
}
