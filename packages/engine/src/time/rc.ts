/**
 * One capacitor in an island on its way from the volts that it has to those at which no current flows into it any more.
 * Between events the island is a network of laws; C dv/dt = i(v) is integrated in closed form wherever i(v) is a straight
 * line: t = R C ln((v* − v0) / (v* − v1)), which it is throughout where no law bends on the way.
 * Source: Kuphaldt, Lessons In Electric Circuits, vol I ch 16 (RC circuits).
 */
import type { Circuit } from '../analysis/circuit.ts';
import type { Measure } from '../analysis/extremes.ts';
import type { Shared } from '../analysis/shared.ts';
import type { Island } from '../build/index.ts';
import { hasSpread } from '../build/index.ts';
import { HOLDS } from '../build/laws/passive.ts';
import type { Datum } from '../design/datum.ts';
import type { ChargeCurve, Charged } from './charge.ts';
import type { Seconds } from './stamp.ts';

/** Where the parameters of the island stand, −1 … +1, with the capacitor's own farads and its volts at the start. */
interface Corner {
  readonly point: readonly number[];
  readonly farads: number;
  readonly from: number;
}

/** Relative deviation from a straight line that counts as one. */
const STRAIGHT = 1e-9;
/** How often a stretch is halved to find its bends: pieces of 1/4096 of it count as straight. */
const DEEPEST = 12;
/** Halvings to find where something changes. */
const HALVINGS = 50;
/** Parameters of an island beyond which only its usual figures are followed. */
const MOST_AXES = 24;

export class RcCurve implements ChargeCurve {
  readonly from: readonly [Seconds];
  private readonly farads: Datum;
  private readonly circuit: Circuit;
  private readonly element: number;
  private readonly axis: number;
  private readonly low: number;
  private readonly high: number;

  /** The search stays within what lies around where it begins and where it settles. Throws nothing, see `works`. */
  constructor(shared: Shared, island: Island, states: readonly string[], { part, farads, from, towards }: Charged) {
    this.farads = farads;
    this.from = [from];
    this.element = island.elements.findIndex(({ component }) => component === part);
    const low = Math.min(from.least, towards.least);
    const high = Math.max(from.most, towards.most);
    const margin = 0.5 * (high - low) + 1e-3;
    this.low = low - margin;
    this.high = high + margin;
    const held = states.map((state, i) => (i === this.element ? `${HOLDS}${this.low}/${this.high}` : state));
    this.circuit = shared.transient(island, held);
    this.axis = this.circuit.axes.findIndex(({ parameters }) =>
      parameters.some(({ what }) => what === `${part.name} volts`),
    );
  }

  get works(): boolean {
    if (this.circuit.lacks.length > 0 || this.axis < 0) return false;
    const [{ usual }] = this.from;
    return this.solved(this.usualPoint(), usual).outcome.sort === 'solved';
  }

  at(measure: (circuit: Circuit) => Measure, volts: readonly number[]): number | undefined {
    return measure(this.circuit)(this.solved(this.usualPoint(), volts[0]!));
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

  /** On its way from one voltage to another a figure passes each of its names once. */
  changes(measure: (circuit: Circuit) => Measure, name: (figure: number) => string, count: number): Seconds {
    const of = measure(this.circuit);
    const time = (corner: Corner) => {
      const first = of(this.solved(corner.point, corner.from));
      if (first === undefined) return Number.POSITIVE_INFINITY;
      const seen = [name(first)];
      let last = Number.POSITIVE_INFINITY;
      for (let change = 1; change <= count; change++) {
        let next = '';
        last = this.crossing(corner, of, (figure) => {
          const here = name(figure);
          if (seen.includes(here)) return true;
          next = here;
          return false;
        });
        if (last === Number.POSITIVE_INFINITY) break;
        seen.push(next);
      }
      return last;
    };
    const usual = time(this.usualCorner());
    const [least, most] = [this.extreme(-1, time), this.extreme(1, time)];
    return { least: Math.min(least, usual), usual, most: Math.max(most, usual) };
  }

  volts(after: Seconds): readonly [Seconds] {
    const { least, usual, most } = this.farads;
    const [start] = this.from;
    const found = [
      this.voltsAt({ ...this.usualCorner(), farads: usual }, after.usual),
      ...[least, most].flatMap((farads) =>
        [start.least, start.most].flatMap((from) =>
          [after.least, after.most].map((seconds) => this.voltsAt({ ...this.usualCorner(), farads, from }, seconds)),
        ),
      ),
    ];
    return [{ least: Math.min(...found), usual: found[0]!, most: Math.max(...found) }];
  }

  private usualPoint(): readonly number[] {
    return this.circuit.axes.map(() => 0);
  }

  private usualCorner(): Corner {
    return { point: this.usualPoint(), farads: this.farads.usual, from: this.from[0].usual };
  }

  private solved(point: readonly number[], volts: number) {
    const middle = (this.low + this.high) / 2;
    const at = [...point];
    at[this.axis] = (volts - middle) / (this.high - middle);
    return this.circuit.fresh(at);
  }

  /** Amperes into the capacitor at some volts. */
  private amps(point: readonly number[], volts: number): number {
    const { outcome, amps } = this.solved(point, volts);
    return outcome.sort === 'solved' ? amps[this.circuit.lawOf[this.element]!]! : 0;
  }

  /** Volts at which no current flows, or the end of the search. */
  private settles(corner: Corner): number {
    const rises = this.amps(corner.point, corner.from) > 0;
    let near = corner.from;
    let far = rises ? this.high : this.low;
    if (this.amps(corner.point, far) > 0 === rises) return far;
    for (let i = 0; i < HALVINGS; i++) {
      const middle = (near + far) / 2;
      if (this.amps(corner.point, middle) > 0 === rises) near = middle;
      else far = middle;
    }
    return near;
  }

  private crossing(corner: Corner, measure: Measure, stays: (figure: number) => boolean): number {
    const holds = (volts: number) => {
      const figure = measure(this.solved(corner.point, volts));
      return figure === undefined || stays(figure);
    };
    if (!holds(corner.from)) return 0;
    if (this.amps(corner.point, corner.from) === 0) return Number.POSITIVE_INFINITY;
    const end = this.settles(corner);
    if (holds(end)) return Number.POSITIVE_INFINITY;
    let [near, far] = [corner.from, end];
    for (let i = 0; i < HALVINGS; i++) {
      const middle = (near + far) / 2;
      if (holds(middle)) near = middle;
      else far = middle;
    }
    return this.between(corner, corner.from, far, DEEPEST);
  }

  /** Seconds from some volts to others on the way. */
  private between({ point, farads, from }: Corner, v0: number, v1: number, depth: number): number {
    const middle = (v0 + v1) / 2;
    const [i0, i, i1] = [this.amps(point, v0), this.amps(point, middle), this.amps(point, v1)];
    const straight = Math.abs(i - (i0 + i1) / 2) <= STRAIGHT * Math.max(Math.abs(i0), Math.abs(i1));
    if (!straight && depth > 0) {
      const corner = { point, farads, from };
      return this.between(corner, v0, middle, depth - 1) + this.between(corner, middle, v1, depth - 1);
    }
    return straightSeconds(farads, v0, v1, i0, i1);
  }

  private voltsAt(corner: Corner, seconds: number): number {
    if (seconds <= 0 || this.amps(corner.point, corner.from) === 0) return corner.from;
    const end = this.settles(corner);
    let [near, far] = [corner.from, end];
    for (let i = 0; i < HALVINGS; i++) {
      const middle = (near + far) / 2;
      if (this.between(corner, corner.from, middle, DEEPEST) <= seconds) near = middle;
      else far = middle;
    }
    return near;
  }

  /** The least or most of a time: each parameter is moved alone, and then all of them the way that helped. */
  private extreme(sign: 1 | -1, time: (corner: Corner) => number): number {
    const usual = this.usualCorner();
    const base = time(usual);
    const further = (one: number, other: number) => sign * one > sign * other;
    const corner = { point: [...usual.point], farads: usual.farads, from: usual.from };
    const tryBoth = (ends: readonly [number, number], put: (to: Corner, value: number) => Corner) => {
      let best: { readonly value: number; readonly time: number } | undefined;
      for (const value of ends) {
        const found = time(put(usual, value));
        if (further(found, best?.time ?? base)) best = { value, time: found };
      }
      return best?.value;
    };
    if (usual.point.length <= MOST_AXES) {
      this.circuit.axes.forEach(({ parameters }, i) => {
        if (i === this.axis || !parameters.some(hasSpread)) return;
        const put = (to: Corner, value: number) => ({ ...to, point: to.point.map((t, k) => (k === i ? value : t)) });
        corner.point[i] = tryBoth([-1, 1], put) ?? 0;
      });
    }
    const {
      farads,
      from: [from],
    } = this;
    corner.farads = tryBoth([farads.least, farads.most], (to, value) => ({ ...to, farads: value })) ?? corner.farads;
    corner.from = tryBoth([from.least, from.most], (to, value) => ({ ...to, from: value })) ?? corner.from;
    const together = time(corner);
    return further(together, base) ? together : base;
  }
}

/**
 * Seconds from `v0` to `v1` of `farads` with a current that is a straight line from `i0` to `i1` between them:
 * C (v1 − v0) ln(i1 / i0) / (i1 − i0). Infinity where it does not flow that way all along.
 */
export function straightSeconds(farads: number, v0: number, v1: number, i0: number, i1: number): number {
  if (v0 === v1) return 0;
  const wayward = Math.sign(i0) !== Math.sign(v1 - v0) || Math.sign(i1) !== Math.sign(i0);
  if (wayward) return Number.POSITIVE_INFINITY;
  const bend = (i1 - i0) / i0;
  const shape = Math.abs(bend) < 1e-8 ? 1 - bend / 2 : Math.log1p(bend) / bend;
  return ((farads * (v1 - v0)) / i0) * shape;
}
