/**
 * Several capacitors in one island on their way together. Between events the island is a network of laws; where it is a
 * straight one, C dv/dt = i(v) is linear with a symmetric matrix, whose modes each run down by themselves: the volts at any
 * time follow in closed form. Where a law bends the way goes on from there in another straight piece.
 * Source: Golub and Van Loan, Matrix Computations, section 9.3 (matrix exponential by eigensystems); Kuphaldt, Lessons In
 * Electric Circuits, vol I ch 16 (RC circuits).
 */
import type { Circuit } from '../analysis/circuit.ts';
import type { Measure } from '../analysis/extremes.ts';
import type { Shared } from '../analysis/shared.ts';
import type { Island } from '../build/index.ts';
import { hasSpread } from '../build/index.ts';
import { HOLDS } from '../build/laws/passive.ts';
import type { ChargeCurve, Charged } from './charge.ts';
import { modesOf } from './modes.ts';
import type { Seconds } from './stamp.ts';

/** Where the parameters of the island stand, −1 … +1, with the farads of each capacitor and its volts at the start. */
interface Corner {
  readonly point: readonly number[];
  readonly farads: readonly number[];
  readonly from: readonly number[];
}

/** A stretch of time over which the currents are a straight function of the volts. */
interface Piece {
  /** Seconds since the start at which it begins. */
  readonly begins: number;
  /** Seconds that it lasts; Infinity where it is the last. */
  readonly lasts: number;
  /** Times within it at which it was looked at, ascending. */
  readonly looks: readonly number[];
  readonly volts: (seconds: number) => readonly number[];
}

/** Deviation from a straight law that counts as one, of the greatest current at the start of a piece. */
const STRAIGHT = 1e-7;
/** Pieces after which the way is given up; each is a bend of some law. */
const MOST_PIECES = 60;
/** Looks at a piece, spread evenly over the logarithm of time. */
const LOOKS = 28;
/** Time constants of the slowest mode after which nothing moves any more. */
const SETTLED = 40;
const HALVINGS = 50;
/** Parameters of an island beyond which only its usual figures are followed. */
const MOST_AXES = 24;

export class RcGroup implements ChargeCurve {
  readonly from: readonly Seconds[];
  private readonly parts: readonly Charged[];
  private readonly circuit: Circuit;
  private readonly laws: readonly number[];
  private readonly axes: readonly number[];
  private readonly low: readonly number[];
  private readonly high: readonly number[];
  private readonly courses = new Map<string, readonly Piece[]>();

  /** Throws nothing, see `works`. */
  constructor(shared: Shared, island: Island, states: readonly string[], parts: readonly Charged[]) {
    this.parts = parts;
    this.from = parts.map(({ from }) => from);
    // Capacitors that share a current may come to any volts between those that are there.
    const all = parts.flatMap(({ from, towards }) => [from.least, from.most, towards.least, towards.most]);
    const [least, most] = [Math.min(0, ...all), Math.max(0, ...all)];
    const margin = most - least + 1e-3;
    this.low = parts.map(() => least - margin);
    this.high = parts.map(() => most + margin);
    const elements = parts.map(({ part }) => island.elements.findIndex(({ component }) => component === part));
    const held = states.map((state, i) => {
      const at = elements.indexOf(i);
      return at < 0 ? state : `${HOLDS}${this.low[at]}/${this.high[at]}`;
    });
    this.circuit = shared.transient(island, held);
    this.laws = elements.map((element) => this.circuit.lawOf[element]!);
    this.axes = parts.map(({ part }) =>
      this.circuit.axes.findIndex(({ parameters }) => parameters.some(({ what }) => what === `${part.name} volts`)),
    );
  }

  get works(): boolean {
    if (this.circuit.lacks.length > 0 || this.axes.some((axis) => axis < 0)) return false;
    const { from, point } = this.usualCorner();
    const isSolved = (volts: readonly number[]) => this.solved(point, volts).outcome.sort === 'solved';
    // In a ring of capacitors alone the volts of one follow from the others: no operating point has it a little off.
    const off = (this.high[0]! - this.low[0]!) / 8;
    return isSolved(from) && from.every((_, which) => isSolved(from.map((v, i) => (i === which ? v + off : v))));
  }

  at(measure: (circuit: Circuit) => Measure, volts: readonly number[]): number | undefined {
    return measure(this.circuit)(this.solved(this.usualPoint(), volts));
  }

  seconds(
    measure: (circuit: Circuit) => Measure,
    stays: (figure: number) => boolean,
    ends: { readonly least?: (figure: number) => boolean; readonly most?: (figure: number) => boolean } = {},
  ): Seconds {
    const of = measure(this.circuit);
    const time = (corner: Corner, test: (figure: number) => boolean) => this.crossing(corner, of, test);
    const usual = time(this.usualCorner(), stays);
    const least = this.extreme(-1, (corner) => time(corner, ends.least ?? stays));
    const most = this.extreme(1, (corner) => time(corner, ends.most ?? stays));
    return { least: Math.min(least, usual), usual, most: Math.max(most, usual) };
  }

  changes(measure: (circuit: Circuit) => Measure, name: (figure: number) => string, count: number): Seconds {
    const of = measure(this.circuit);
    const time = (corner: Corner) => {
      const at = (volts: readonly number[]) => {
        const figure = of(this.solved(corner.point, volts));
        return figure === undefined ? undefined : name(figure);
      };
      let here = at(corner.from);
      let left = count;
      for (const piece of this.course(corner)) {
        for (const [i, look] of piece.looks.entries()) {
          let there = at(piece.volts(look));
          // Between two looks there may be several changes.
          for (let from = i === 0 ? 0 : piece.looks[i - 1]!; there !== here && left > 0; left--) {
            const far = this.halved(from, look, (seconds) => at(piece.volts(seconds)) === here);
            if (left === 1) return piece.begins + far;
            here = at(piece.volts(far));
            from = far;
            there = at(piece.volts(look));
          }
        }
      }
      return Number.POSITIVE_INFINITY;
    };
    const usual = time(this.usualCorner());
    const [least, most] = [this.extreme(-1, time), this.extreme(1, time)];
    return { least: Math.min(least, usual), usual, most: Math.max(most, usual) };
  }

  volts(after: Seconds): readonly Seconds[] {
    const corners = this.alone().concat(this.usualCorner());
    const found = corners.flatMap((corner) =>
      [after.least, after.usual, after.most].map((seconds) => this.voltsAt(corner, seconds)),
    );
    const usual = this.voltsAt(this.usualCorner(), after.usual);
    return usual.map((volts, i) => ({
      least: Math.min(...found.map((each) => each[i]!)),
      usual: volts,
      most: Math.max(...found.map((each) => each[i]!)),
    }));
  }

  private usualPoint(): readonly number[] {
    return this.circuit.axes.map(() => 0);
  }

  private usualCorner(): Corner {
    return {
      point: this.usualPoint(),
      farads: this.parts.map(({ farads }) => farads.usual),
      from: this.from.map(({ usual }) => usual),
    };
  }

  private solved(point: readonly number[], volts: readonly number[]) {
    const at = [...point];
    this.axes.forEach((axis, i) => {
      const middle = (this.low[i]! + this.high[i]!) / 2;
      at[axis] = (volts[i]! - middle) / (this.high[i]! - middle);
    });
    return this.circuit.fresh(at);
  }

  /** Amperes into each capacitor; none where the island has no operating point. */
  private amps(point: readonly number[], volts: readonly number[]): readonly number[] {
    const { outcome, amps } = this.solved(point, volts);
    return this.laws.map((law) => (outcome.sort === 'solved' ? amps[law]! : 0));
  }

  /** The whole way from the start, piece by piece. */
  private course(corner: Corner): readonly Piece[] {
    const key = `${corner.point.join()} ${corner.farads.join()} ${corner.from.join()}`;
    const known = this.courses.get(key);
    if (known !== undefined) return known;
    const pieces: Piece[] = [];
    let begins = 0;
    let from = corner.from;
    while (pieces.length < MOST_PIECES) {
      const piece = this.piece(corner, begins, from);
      pieces.push(piece);
      if (piece.lasts === Number.POSITIVE_INFINITY) break;
      from = piece.volts(piece.lasts);
      begins += piece.lasts;
    }
    this.courses.set(key, pieces);
    return pieces;
  }

  private piece({ point, farads }: Corner, begins: number, from: readonly number[]): Piece {
    const start = this.amps(point, from);
    const scale = Math.max(...start.map(Math.abs));
    const still = { begins, lasts: Number.POSITIVE_INFINITY, looks: [0], volts: () => from };
    if (!(scale > 1e-15)) return still;
    const slopes = from.map((_, i) => this.slope(point, from, start, i));
    // In volts times the root of the farads the matrix is symmetric, as that of every network of two-terminal laws.
    const root = farads.map(Math.sqrt);
    const matrix = from.map((_, i) =>
      from.map((__, k) => (slopes[k]![i]! + slopes[i]![k]!) / (2 * root[i]! * root[k]!)),
    );
    const { values, vectors } = modesOf(matrix);
    const full = values.map((_, k) => from.reduce((sum, __, i) => sum + (vectors[i]![k]! * start[i]!) / root[i]!, 0));
    const strongest = Math.max(...full.map(Math.abs));
    const fastest = Math.max(...values.map(Math.abs));
    // Rounding neither drives a mode nor makes one run down that holds its charge.
    const drive = full.map((each) => (Math.abs(each) > 1e-9 * strongest ? each : 0));
    const rates = values.map((value) => (Math.abs(value) > 1e-9 * fastest ? value : 0));
    const volts = (seconds: number) => {
      const along = rates.map((rate, k) => drive[k]! * run(rate, seconds));
      return from.map((at, i) => at + along.reduce((sum, w, k) => sum + vectors[i]![k]! * w, 0) / root[i]!);
    };
    const span = Math.max(...this.high) - Math.min(...this.low);
    const lengths = rates.flatMap((rate, k) => {
      if (drive[k] === 0) return [];
      return rate === 0 ? (span * Math.max(...root)) / Math.abs(drive[k]!) : SETTLED / Math.abs(rate);
    });
    const last = Math.max(...lengths);
    const first = fastest > 0 ? Math.min(1e-3 / fastest, last / 10) : last * 1e-6;
    const looks = Array.from({ length: LOOKS }, (_, i) => first * (last / first) ** (i / (LOOKS - 1)));
    const isStraight = (seconds: number) => {
      const there = volts(seconds);
      if (there.some((each, i) => each < this.low[i]! || each > this.high[i]!)) return false;
      const said = start.map(
        (amps, i) => amps + slopes.reduce((sum, slope, k) => sum + slope[i]! * (there[k]! - from[k]!), 0),
      );
      return this.amps(point, there).every((amps, i) => Math.abs(amps - said[i]!) <= STRAIGHT * scale);
    };
    const bend = looks.findIndex((seconds) => !isStraight(seconds));
    if (bend < 0) return { begins, lasts: Number.POSITIVE_INFINITY, looks: [0, ...looks], volts };
    const far = this.halved(bend === 0 ? 0 : looks[bend - 1]!, looks[bend]!, isStraight);
    return { begins, lasts: far, looks: [0, ...looks.slice(0, bend), far], volts };
  }

  /** How the currents change with the volts of one capacitor, on the side to which it moves. */
  private slope(
    point: readonly number[],
    from: readonly number[],
    start: readonly number[],
    which: number,
  ): readonly number[] {
    const side = start[which]! < 0 ? -1 : 1;
    const moved = (by: number) =>
      this.amps(
        point,
        from.map((volts, i) => (i === which ? volts + side * by : volts)),
      );
    let step = (this.high[which]! - this.low[which]!) / 64;
    const slopeOf = (by: number) => moved(by).map((amps, i) => (amps - start[i]!) / (side * by));
    let slope = slopeOf(step);
    for (let i = 0; i < 16; i++) {
      const closer = slopeOf(step / 2);
      const size = Math.max(...closer.map(Math.abs), ...slope.map(Math.abs));
      if (closer.every((each, k) => Math.abs(each - slope[k]!) <= 1e-9 * size)) break;
      slope = closer;
      step /= 2;
    }
    return slope;
  }

  private crossing(corner: Corner, measure: Measure, stays: (figure: number) => boolean): number {
    const holds = (volts: readonly number[]) => {
      const figure = measure(this.solved(corner.point, volts));
      return figure === undefined || stays(figure);
    };
    if (!holds(corner.from)) return 0;
    for (const { begins, looks, volts } of this.course(corner)) {
      const gone = looks.findIndex((seconds) => !holds(volts(seconds)));
      if (gone < 0) continue;
      const near = gone === 0 ? 0 : looks[gone - 1]!;
      return begins + this.halved(near, looks[gone]!, (seconds) => holds(volts(seconds)));
    }
    return Number.POSITIVE_INFINITY;
  }

  /** The first of the times at which something no longer holds, between one at which it does and one at which it does not. */
  private halved(holding: number, gone: number, holds: (seconds: number) => boolean): number {
    let near = holding;
    let far = gone;
    for (let i = 0; i < HALVINGS; i++) {
      const middle = (near + far) / 2;
      if (holds(middle)) near = middle;
      else far = middle;
    }
    return far;
  }

  private voltsAt(corner: Corner, seconds: number): readonly number[] {
    if (seconds <= 0) return corner.from;
    const course = this.course(corner);
    const piece = course.find(({ begins, lasts }) => seconds < begins + lasts) ?? course.at(-1)!;
    return piece.volts(Math.min(seconds, piece.begins + piece.lasts) - piece.begins);
  }

  /** Corners in which one thing alone is at one of its ends. */
  private alone(): readonly Corner[] {
    return this.ends().flatMap(({ values, put }) => values.map((value) => put(this.usualCorner(), value)));
  }

  /** Everything that has a spread: its ends, and how a corner takes a value for it. */
  private ends(): readonly { readonly values: readonly number[]; put(to: Corner, value: number): Corner }[] {
    const swap = (list: readonly number[], at: number, value: number) =>
      list.map((each, k) => (k === at ? value : each));
    const found: { values: readonly number[]; put(to: Corner, value: number): Corner }[] = [];
    const { axes } = this.circuit;
    if (axes.length <= MOST_AXES) {
      axes.forEach(({ parameters }, i) => {
        if (this.axes.includes(i) || !parameters.some(hasSpread)) return;
        found.push({ values: [-1, 1], put: (to, value) => ({ ...to, point: swap(to.point, i, value) }) });
      });
    }
    this.parts.forEach(({ farads, from }, i) => {
      if (farads.least < farads.most)
        found.push({
          values: [farads.least, farads.most],
          put: (to, value) => ({ ...to, farads: swap(to.farads, i, value) }),
        });
      if (from.least < from.most)
        found.push({ values: [from.least, from.most], put: (to, value) => ({ ...to, from: swap(to.from, i, value) }) });
    });
    return found;
  }

  /** The least or most of a time: each thing is moved alone, and then all of them the way that helped. */
  private extreme(sign: 1 | -1, time: (corner: Corner) => number): number {
    const usual = this.usualCorner();
    const base = time(usual);
    let best = base;
    let together = usual;
    for (const { values, put } of this.ends()) {
      let alone = base;
      let chosen: number | undefined;
      for (const value of values) {
        const found = time(put(usual, value));
        if (sign * found > sign * alone) {
          alone = found;
          chosen = value;
        }
      }
      if (sign * alone > sign * best) best = alone;
      if (chosen !== undefined) together = put(together, chosen);
    }
    const all = time(together);
    return sign * all > sign * best ? all : best;
  }
}

/** ∫ e^(λ t) dt from 0 to `seconds`: how far a mode with the eigenvalue λ (per second) runs under a drive of one. */
function run(value: number, seconds: number): number {
  const turns = value * seconds;
  return Math.abs(turns) < 1e-12 ? seconds : Math.expm1(turns) / value;
}
