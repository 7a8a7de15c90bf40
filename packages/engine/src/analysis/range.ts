/** Ranges of figures: over the corners of one island, over the states it may be in, and summed over islands. */

import type { Island, Lack } from '../build/index.ts';
import type { Circuit } from './circuit.ts';
import type { Extremes, Found, Measure } from './extremes.ts';
import { extremesOf } from './extremes.ts';
import type { Point } from './wiring.ts';
import type { Alternatives, World } from './world.ts';

/** A corner of one island with the sign it enters a sum by. */
export interface Spot {
  readonly circuit: Circuit;
  readonly at: Point;
  readonly measure: Measure;
}

export interface Range {
  readonly sort: 'range';
  readonly least: number;
  readonly usual: number;
  readonly most: number;
  readonly leastAt: readonly Spot[];
  readonly mostAt: readonly Spot[];
  readonly proven: boolean;
  readonly assumptions: readonly string[];
  /** The stretches that the figure may lie in, one for each state of what is undecided. */
  readonly stretches: readonly (readonly [least: number, most: number])[];
}

export type Ranged =
  | Range
  | { readonly sort: 'no-connection' }
  | { readonly sort: 'unknown'; readonly lacks: readonly Lack[]; readonly reason?: string };

export const ZERO: Range = {
  sort: 'range',
  least: 0,
  usual: 0,
  most: 0,
  leastAt: [],
  mostAt: [],
  proven: true,
  assumptions: [],
  stretches: [[0, 0]],
};

/** One figure of an island: a name to remember it by and how it is read from a solved circuit. */
export interface Gauge {
  readonly name: string;
  measure(circuit: Circuit): Measure;
  /** The law whose own watts the figure is. */
  matched?(circuit: Circuit): number | undefined;
}

/** The range of a figure over everything the island may be in. */
export function rangeOf(world: World, island: Island, gauge: Gauge): Ranged {
  return overAlternatives(world, island, world.alternatives(island), gauge);
}

function overAlternatives(world: World, island: Island, alternatives: Alternatives, gauge: Gauge): Ranged {
  if (alternatives.lacks.length > 0 || alternatives.reason !== undefined) {
    const { lacks, reason } = alternatives;
    return { sort: 'unknown', lacks, ...(reason === undefined ? {} : { reason }) };
  }
  let union: Range | undefined;
  let nothing = false;
  for (const circuit of world.circuits(island)) {
    const one = inCircuit(circuit, gauge);
    if (one.sort === 'unknown') return one;
    if (one.sort === 'no-connection') {
      if (union === undefined) nothing = true;
      continue;
    }
    union = union === undefined ? one : unite(union, one);
  }
  if (union === undefined || nothing) return { sort: 'no-connection' };
  return alternatives.complete ? union : { ...union, proven: false };
}

/** The range of a figure in one circuit; remembered there. */
export function inCircuit(circuit: Circuit, gauge: Gauge): Ranged {
  const known = circuit.figures.get(gauge.name);
  if (known !== undefined) return known;
  const made = found(circuit, gauge);
  circuit.figures.set(gauge.name, made);
  return made;
}

function found(circuit: Circuit, gauge: Gauge): Ranged {
  if (circuit.lacks.length > 0) return { sort: 'unknown', lacks: circuit.lacks };
  const measure = gauge.measure(circuit);
  const matched = gauge.matched?.(circuit);
  return asRange(circuit, measure, extremesOf(circuit, measure, matched === undefined ? {} : { matched }));
}

function asRange(circuit: Circuit, measure: Measure, found: Found): Ranged {
  if (found.sort === 'no-connection') return found;
  if (found.sort === 'unsolved') return { sort: 'unknown', lacks: [], reason: REASONS[found.solved.outcome.sort] };
  return fromExtremes(circuit, measure, found.extremes);
}

const REASONS: Record<string, string> = {
  contradictory: 'sources contradict each other here',
  'no-solution': 'the supply cannot deliver what is asked of it',
  'bound-reached': 'no operating point was found within the bounds of the search',
};

function fromExtremes(circuit: Circuit, measure: Measure, extremes: Extremes): Range {
  const { least, usual, most, leastAt, mostAt, proven } = extremes;
  return {
    sort: 'range',
    least,
    usual,
    most,
    leastAt: [{ circuit, at: leastAt, measure }],
    mostAt: [{ circuit, at: mostAt, measure }],
    proven,
    assumptions: circuit.assumptions,
    stretches: [[least, most]],
  };
}

/** Either of two; the usual figure is the first one's. */
export function unite(one: Range, other: Range): Range {
  const lower = other.least < one.least ? other : one;
  const upper = other.most > one.most ? other : one;
  return {
    sort: 'range',
    least: lower.least,
    usual: one.usual,
    most: upper.most,
    leastAt: lower.leastAt,
    mostAt: upper.mostAt,
    proven: one.proven && other.proven,
    assumptions: merged(one.assumptions, other.assumptions),
    stretches: [...one.stretches, ...other.stretches],
  };
}

function merged(one: readonly string[], other: readonly string[]): readonly string[] {
  if (other.length === 0 || one === other) return one;
  return one.length === 0 ? other : [...new Set([...one, ...other])].sort();
}

/** The negative of a range. */
export function negated(range: Range): Range {
  return {
    ...range,
    least: 0 - range.most,
    usual: 0 - range.usual,
    most: 0 - range.least,
    leastAt: range.mostAt.map(opposite),
    mostAt: range.leastAt.map(opposite),
    stretches: range.stretches.map(([least, most]) => [0 - most, 0 - least] as const),
  };
}

function opposite(spot: Spot): Spot {
  const { measure } = spot;
  return {
    ...spot,
    measure: (solved) => {
      const value = measure(solved);
      return value === undefined ? undefined : 0 - value;
    },
  };
}

/**
 * The sum of figures of different islands. Causes that several of them share are made to stand at one place: where
 * the corners of the parts disagree about such a cause, the sum is found again for each end and the middle of it.
 */
export function sumOf(parts: readonly Range[]): Range {
  const used = parts.filter((part) => part.least !== 0 || part.most !== 0);
  if (used.length === 0) return ZERO;
  if (used.length === 1) return used[0]!;
  const plain = added(used);
  if (used.some((part) => part.stretches.length > 1)) return plain;
  return { ...plain, ...sharedEnds(used, plain) };
}

function added(parts: readonly Range[]): Range {
  const assumptions = new Set<string>();
  for (const part of parts) for (const text of part.assumptions) assumptions.add(text);
  const total = (read: (part: Range) => number) => parts.reduce((sum, part) => sum + read(part), 0);
  const least = total((part) => part.least);
  const most = total((part) => part.most);
  return {
    sort: 'range',
    least,
    usual: total((part) => part.usual),
    most,
    leastAt: parts.flatMap((part) => part.leastAt),
    mostAt: parts.flatMap((part) => part.mostAt),
    proven: parts.every((part) => part.proven),
    assumptions: [...assumptions].sort(),
    stretches: [[least, most]],
  };
}

/** Shared causes about which parts of a sum disagree, beyond which their joint search is not exhaustive. */
const MOST_DISPUTED = 4;

function sharedEnds(parts: readonly Range[], plain: Range): Partial<Range> {
  const low = agreed(parts, 'least', plain);
  const high = agreed(parts, 'most', plain);
  const least = low.value;
  const most = high.value;
  return {
    least,
    most,
    leastAt: low.spots,
    mostAt: high.spots,
    proven: plain.proven && low.proven && high.proven,
    stretches: [[least, most]],
  };
}

interface Agreed {
  readonly value: number;
  readonly spots: readonly Spot[];
  readonly proven: boolean;
}

function agreed(parts: readonly Range[], end: 'least' | 'most', plain: Range): Agreed {
  const spots = end === 'least' ? plain.leastAt : plain.mostAt;
  const disputed = disputedCauses(spots);
  if (disputed.length === 0) return { value: plain[end], spots, proven: true };
  if (disputed.length > MOST_DISPUTED) return { value: plain[end], spots, proven: false };
  let best: Agreed | undefined;
  const places = 3 ** disputed.length;
  for (let code = 0; code < places; code++) {
    const fixed = new Map(disputed.map((key, i) => [key, (Math.floor(code / 3 ** i) % 3) - 1]));
    const one = withFixed(spots, end, fixed);
    if (one === undefined) continue;
    if (best === undefined || (end === 'least' ? one.value < best.value : one.value > best.value)) best = one;
  }
  return best ?? { value: plain[end], spots, proven: parts.length === 0 };
}

/** Causes that stand at different places in different parts although there is only one of each. */
function disputedCauses(spots: readonly Spot[]): readonly string[] {
  if (!standApart(spots)) return [];
  const places = new Map<string, number>();
  const disputed = new Set<string>();
  for (const spot of spots) {
    for (const [key, place] of placesOf(spot)) {
      const known = places.get(key);
      if (known === undefined) places.set(key, place);
      else if (known !== place) disputed.add(key);
    }
  }
  return [...disputed];
}

/** Whether any cause stands at different places, be it one that matters there or not. */
function standApart(spots: readonly Spot[]): boolean {
  const places = new Map<string, number>();
  for (const { circuit, at } of spots) {
    for (let i = 0; i < at.length; i++) {
      for (const { key } of circuit.axes[i]!.parameters) {
        const known = places.get(key);
        if (known === undefined) places.set(key, at[i]!);
        else if (known !== at[i]) return true;
      }
    }
  }
  return false;
}

const placesKnown = new WeakMap<Spot, ReadonlyMap<string, number>>();

/** Where the causes stand that matter at a spot. */
function placesOf(spot: Spot): ReadonlyMap<string, number> {
  const known = placesKnown.get(spot);
  if (known !== undefined) return known;
  const { circuit, at, measure } = spot;
  const places = new Map<string, number>();
  const here = measure(circuit.at(at));
  circuit.axes.forEach((axis, i) => {
    if (here !== undefined && effectOf(circuit, measure, at, i, here) === 0) return;
    for (const { key } of axis.parameters) places.set(key, at[i]!);
  });
  placesKnown.set(spot, places);
  return places;
}

/** How far a figure moves when one axis alone goes to its other end, or from its middle to either. */
export function effectOf(circuit: Circuit, measure: Measure, at: Point, axis: number, here: number): number {
  const ends = at[axis] === 0 ? [-1, 1] : [-at[axis]!];
  let effect = 0;
  for (const end of ends) {
    const there = measure(circuit.at(at.map((t, i) => (i === axis ? end : t))));
    if (there !== undefined) effect = Math.max(effect, Math.abs(here - there));
  }
  return effect > EFFECTLESS * Math.abs(here) ? effect : 0;
}

/** Share of a figure below which a change of it is rounding. */
const EFFECTLESS = 1e-12;

function withFixed(
  spots: readonly Spot[],
  end: 'least' | 'most',
  fixed: ReadonlyMap<string, number>,
): Agreed | undefined {
  let value = 0;
  let proven = true;
  const found: Spot[] = [];
  for (const spot of spots) {
    const concerned = spot.circuit.axes.some((axis) => axis.parameters.some(({ key }) => fixed.has(key)));
    if (!concerned) {
      value += spot.measure(spot.circuit.at(spot.at)) ?? 0;
      found.push(spot);
      continue;
    }
    const circuit = spot.circuit.apart(fixed);
    const held = new Map<number, number>();
    circuit.axes.forEach((axis, i) => {
      const place = fixed.get(axis.parameters[0]!.key);
      if (place !== undefined) held.set(i, place);
    });
    const one = extremesOf(circuit, spot.measure, { fixed: held });
    if (one.sort !== 'extremes') return undefined;
    const { extremes } = one;
    value += extremes[end];
    proven &&= extremes.proven;
    found.push({ circuit, measure: spot.measure, at: end === 'least' ? extremes.leastAt : extremes.mostAt });
  }
  return { value, spots: found, proven };
}
