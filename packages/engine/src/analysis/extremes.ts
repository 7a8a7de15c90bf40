/**
 * The least and the most that a figure can be over all parameters of an island at once.
 *
 * Few axes: every corner is solved. Many: the signs of the sensitivities at the usual point give a candidate, signs
 * are taken again at the candidate until they agree with it, and axes whose sign is not the same everywhere are
 * enumerated. An axis that moves several laws is tried at both ends and in the middle.
 * Source: worst-case circuit analysis by extreme values, with signs re-taken at the corner; see the design's engine page.
 */
import type { OperatingPoint } from '../network/contract.ts';
import type { Circuit, Solved } from './circuit.ts';
import { type Read, slopesOf } from './sensitivity.ts';
import type { Point } from './wiring.ts';

/** A figure of a solved island; `undefined` where the two points have no connection. */
export interface Measure {
  (solved: Pick<Solved, 'volts' | 'amps' | 'group' | 'live'>): number | undefined;
  /** What it is read from, where it says so. */
  reads?: readonly Read[];
}

export interface Extremes {
  readonly least: number;
  readonly usual: number;
  readonly most: number;
  readonly leastAt: Point;
  readonly mostAt: Point;
  readonly proven: boolean;
}

export type Found =
  | { readonly sort: 'extremes'; readonly extremes: Extremes }
  | { readonly sort: 'no-connection' }
  | { readonly sort: 'unsolved'; readonly solved: Solved };

/** Corners that are simply all solved; they serve every figure of the island. */
const ALL_CORNERS = 48;
/** Axes of one island whose sensitivities are found one by one. */
const MOST_BY_SIGNS = 120;
const ROUNDS = 8;
const DOUBTFUL = 10;
/** Fewer axes are enumerated rather than asked whether they matter. */
const FEW_FLAT = 4;

export interface SearchOptions {
  /** Holds axes at a value. */
  readonly fixed?: ReadonlyMap<number, number>;
  /** The law whose watts the figure is: greatest where its ohms match those that it sees. */
  readonly matched?: number;
}

export function extremesOf(circuit: Circuit, measure: Measure, { fixed, matched }: SearchOptions = {}): Found {
  const start = circuit.axes.map((_, axis) => fixed?.get(axis) ?? 0);
  const usualSolved = circuit.at(start);
  if (usualSolved.outcome.sort !== 'solved') return { sort: 'unsolved', solved: usualSolved };
  const usual = measure(usualSolved);
  if (usual === undefined) return { sort: 'no-connection' };
  const search = new Search(circuit, measure, start, usual);
  const free = circuit.axes.flatMap((_, axis) => (fixed?.has(axis) ? [] : [axis]));
  const corners = free.reduce((count, axis) => count * (isShared(circuit, axis) ? 3 : 2), 1);
  if (corners <= ALL_CORNERS) search.enumerate(start, free);
  else if (free.length <= MOST_BY_SIGNS) search.bySigns(free);
  else search.byKinds(free);
  search.probe(free);
  if (matched !== undefined) search.match(free, matched, corners <= ALL_CORNERS);
  return { sort: 'extremes', extremes: search.result() };
}

function isShared(circuit: Circuit, axis: number): boolean {
  return circuit.axes[axis]!.laws.length > 1;
}

class Search {
  private least: number;
  private most: number;
  private leastAt: Point;
  private mostAt: Point;
  private proven = true;
  private readonly circuit: Circuit;
  private readonly measure: Measure;
  private readonly start: Point;
  private readonly usual: number;
  private readonly signsAt = new Map<string, readonly number[]>();

  constructor(circuit: Circuit, measure: Measure, start: Point, usual: number) {
    this.circuit = circuit;
    this.measure = measure;
    this.start = start;
    this.usual = usual;
    this.least = usual;
    this.most = usual;
    this.leastAt = start;
    this.mostAt = start;
  }

  result(): Extremes {
    const { least, usual, most, leastAt, mostAt, proven } = this;
    return { least, usual, most, leastAt, mostAt, proven };
  }

  /** Takes a point into account. Where nothing is solved there, the range is only what was found elsewhere. */
  private visit(point: Point): number | undefined {
    const solved = this.circuit.at(point);
    const value = solved.outcome.sort === 'solved' ? this.measure(solved) : undefined;
    if (value === undefined) {
      this.proven = false;
      return undefined;
    }
    // A corner that only equals the usual figure still names what the figure hangs on.
    if (value <= this.least) {
      this.least = value;
      this.leastAt = point;
    }
    if (value >= this.most) {
      this.most = value;
      this.mostAt = point;
    }
    return value;
  }

  enumerate(base: Point, axes: readonly number[]): void {
    const point = base.slice();
    const walk = (depth: number): void => {
      if (depth === axes.length) {
        this.visit(point.slice());
        return;
      }
      const axis = axes[depth]!;
      for (const t of isShared(this.circuit, axis) ? [-1, 0, 1] : [-1, 1]) {
        point[axis] = t;
        walk(depth + 1);
      }
    };
    walk(0);
  }

  /**
   * Where curves bend between the corners, a figure may turn there: each axis alone is walked through from both
   * extremes. Anything that is found beyond the corners is taken, and the range no longer counts as proven.
   */
  probe(axes: readonly number[]): void {
    if (!this.bends()) return;
    for (const extreme of [this.leastAt, this.mostAt]) {
      const { least, most } = this;
      for (const axis of axes) {
        for (const t of PROBES) this.visit(extreme.map((place, i) => (i === axis ? t : place)));
      }
      const slack = BEYOND * Math.max(Math.abs(least), Math.abs(most));
      if (this.least < least - slack || this.most > most + slack) this.proven = false;
    }
  }

  /** Some curve stands on another piece in some corner, or a law is curved itself. */
  private bends(): boolean {
    const { circuit } = this;
    if (circuit.hasPower) return true;
    const usual = circuit.at(this.start).pieces;
    return [this.leastAt, this.mostAt].some((point) => circuit.at(point).pieces.some((piece, k) => piece !== usual[k]));
  }

  bySigns(axes: readonly number[]): void {
    const atUsual = this.signs(this.start, axes);
    for (const direction of [1, -1] as const) {
      let signs = atUsual;
      let candidate = this.corner(signs, direction, axes);
      let agreed = false;
      for (let round = 0; round < ROUNDS && !agreed; round++) {
        this.visit(candidate);
        const taken = this.signs(candidate, axes);
        const next = this.corner(taken, direction, axes);
        agreed = next.every((t, axis) => t === candidate[axis] || taken[axis] === 0);
        signs = taken;
        if (!agreed) candidate = next;
      }
      if (!agreed) this.proven = false;
      const opposite = this.corner(signs, direction === 1 ? -1 : 1, axes);
      this.visit(opposite);
      const atOpposite = this.signs(opposite, axes);
      const unsure = axes.filter(
        (axis) => signs[axis] === 0 || signs[axis] !== atUsual[axis] || signs[axis] !== atOpposite[axis],
      );
      const flat = unsure.filter((axis) => signs[axis] === 0 && atUsual[axis] === 0 && atOpposite[axis] === 0);
      const doubtful = this.staysFlat(candidate, flat) ? unsure.filter((axis) => !flat.includes(axis)) : unsure;
      for (const axis of axes.filter((other) => isShared(this.circuit, other))) {
        for (const t of [-1, 0, 1]) this.visit(candidate.map((place, i) => (i === axis ? t : place)));
      }
      if (doubtful.length > DOUBTFUL) this.proven = false;
      this.enumerate(candidate, doubtful.slice(0, DOUBTFUL));
    }
  }

  /**
   * Whether axes along which the figure does not move at either corner do not move it at all: alone and all together.
   * In a network without curves that needs no trying.
   */
  private staysFlat(point: Point, axes: readonly number[]): boolean {
    if (axes.length < FEW_FLAT) return false;
    const value = this.visit(point);
    if (value === undefined) return false;
    if (this.circuit.isLinear) return true;
    const slack = BEYOND * Math.max(Math.abs(value), Math.abs(this.usual));
    const same = (moved: Point) => {
      const there = this.visit(moved);
      return there !== undefined && Math.abs(there - value) <= slack;
    };
    return [-1, 1].every(
      (t) =>
        same(point.map((place, i) => (axes.includes(i) ? t : place))) &&
        axes.every((axis) => same(point.map((place, i) => (i === axis ? t : place)))),
    );
  }

  /** Of very many axes those of one kind move together: all supplies, all draws, all ohms. Searched, not proven. */
  byKinds(axes: readonly number[]): void {
    const kinds = new Map<string, number[]>();
    for (const axis of axes) {
      const { unit } = this.circuit.axes[axis]!.parameters[0]!;
      const kind = kinds.get(unit);
      if (kind === undefined) kinds.set(unit, [axis]);
      else kind.push(axis);
    }
    const groups = [...kinds.values()];
    for (let bits = 0; bits < 1 << groups.length; bits++) {
      const point = [...this.start];
      groups.forEach((group, i) => {
        for (const axis of group) point[axis] = ((bits >> i) & 1) === 1 ? 1 : -1;
      });
      this.visit(point);
    }
    this.proven = false;
  }

  /**
   * Watts in a resistance of its own spread are greatest where it matches the resistance that it sees, if that lies
   * inside the spread. Seen from two ends of the spread: Rt = −(v₁ − v₀) / (i₁ − i₀).
   */
  match(axes: readonly number[], law: number, allCorners: boolean): void {
    const { circuit } = this;
    const own = axes.find((axis) => circuit.axes[axis]!.laws.includes(law));
    if (own === undefined || circuit.lawsAt(this.start)[law]!.sort !== 'ohms') return;
    const bases: Point[] = [this.mostAt, this.leastAt];
    if (allCorners) bases.push(...this.cornersOf(axes.filter((axis) => axis !== own)));
    for (const base of bases) {
      const point = this.matchedAlong(base, own, law);
      if (point !== undefined) this.visit(point);
    }
  }

  private matchedAlong(base: Point, own: number, law: number): Point | undefined {
    const { circuit } = this;
    const along = (t: number) => base.map((place, i) => (i === own ? t : place));
    const [low, high] = [circuit.at(along(-1)), circuit.at(along(1))];
    if (low.outcome.sort !== 'solved' || high.outcome.sort !== 'solved') return undefined;
    const { a, b } = circuit.lawsAt(base)[law]!;
    const volts = (solved: Solved) => solved.volts[a]! - solved.volts[b]!;
    const seen = -(volts(high) - volts(low)) / (high.amps[law]! - low.amps[law]!);
    const ohms = (t: number) => {
      const made = circuit.lawsAt(along(t))[law]!;
      return made.sort === 'ohms' ? made.ohms : Number.NaN;
    };
    if (!(ohms(-1) < seen && seen < ohms(1))) return undefined;
    let [from, to] = [-1, 1];
    for (let i = 0; i < BISECTIONS; i++) {
      const middle = (from + to) / 2;
      if (ohms(middle) < seen) from = middle;
      else to = middle;
    }
    return along((from + to) / 2);
  }

  private cornersOf(axes: readonly number[]): readonly Point[] {
    return Array.from({ length: 1 << axes.length }, (_, bits) => {
      const point = [...this.start];
      axes.forEach((axis, i) => {
        point[axis] = ((bits >> i) & 1) === 1 ? 1 : -1;
      });
      return point;
    });
  }

  private corner(signs: readonly number[], direction: 1 | -1, axes: readonly number[]): Point {
    const point = [...this.start];
    for (const axis of axes) point[axis] = signs[axis]! * direction || 0;
    return point;
  }

  /** Sign of the change of the figure with each axis, by axis; 0 where it does not move. */
  private signs(point: Point, axes: readonly number[]): readonly number[] {
    const key = point.join();
    const known = this.signsAt.get(key);
    if (known !== undefined) return known;
    const made = this.takeSigns(point, axes);
    this.signsAt.set(key, made);
    return made;
  }

  private takeSigns(point: Point, axes: readonly number[]): readonly number[] {
    const { circuit, measure } = this;
    const signs = new Array<number>(circuit.axes.length).fill(0);
    const here = circuit.fresh(point);
    if (here.outcome.sort !== 'solved') return signs;
    const value = measure(here);
    if (value === undefined) return signs;
    const slopes = slopesOf(circuit, measure, point, axes) ?? this.slopesOneByOne(here, value, point, axes);
    const flat = FLAT * (Math.abs(value) + Math.abs(this.usual));
    for (const axis of axes) if (Math.abs(slopes[axis]!) > flat) signs[axis] = Math.sign(slopes[axis]!);
    return signs;
  }

  private slopesOneByOne(
    here: OperatingPoint,
    value: number,
    point: Point,
    axes: readonly number[],
  ): readonly number[] {
    const { circuit, measure } = this;
    const slopes = new Array<number>(circuit.axes.length).fill(0);
    const laws = circuit.lawsAt(point);
    for (const axis of axes) {
      const step = point[axis]! > 0 ? -STEP : STEP;
      const moved = [...point];
      moved[axis] = point[axis]! + step;
      const change = here.shift(circuit.lawsAt(moved, laws, axis));
      const volts = here.volts.map((v, n) => v + change.volts[n]!);
      const amps = here.amps.map((i, k) => i + change.amps[k]!);
      const after = measure({ volts, amps, group: here.group, live: here.live });
      if (after !== undefined) slopes[axis] = (after - value) / step;
    }
    return slopes;
  }
}

/** Halvings of an axis: beyond what the numbers hold. */
const BISECTIONS = 60;
const PROBES = [-0.5, 0, 0.5];
/** Share of a figure by which it must lie beyond the corners to count as more than rounding. */
const BEYOND = 1e-11;
const STEP = 1e-4;
/** Slopes below this share of the figure are taken as none. */
const FLAT = 1e-10;
