/**
 * From readings back to their cause: the site as written and every single fault, by how well what they would show
 * matches what was read. One fault at a time; all are taken as equally likely beforehand.
 */
import { finish } from '../analysis/moment.ts';
import { zoneClasses } from '../analysis/states.ts';
import type { World } from '../analysis/world.ts';
import type { Reading } from '../design/cases.ts';
import type { ComponentOf } from '../design/components.ts';
import type { Design } from '../design/design.ts';
import type { Fault, FaultSpread, FaultVariant } from './contract.ts';
import { deriveFaults } from './derive.ts';
import { doingsOf, nameOfVariant } from './effects.ts';
import { Ground, type Trial } from './ground.ts';
import { METER_OPEN, meterTolerance } from './meter.ts';
import { nextReading } from './next-reading.ts';
import { roomOf, type Shown, shownIn, worldsOf } from './predict.ts';
import { prepare } from './prepare.ts';
import { reachOf } from './reach.ts';
import { FaultSite } from './site.ts';
import type { Candidate, Fit, Trace, TracedReading } from './trace-contract.ts';
import { type Upstream, upstreamOf } from './upstream.ts';
import { ZoneScale } from './zone-scale.ts';

/** What a candidate was tried with. */
export interface Tried {
  readonly fault?: Fault;
  readonly variant?: FaultVariant;
  readonly name: string;
  readonly trial: Trial;
  readonly fits: readonly Fit[];
  /** Sum of the squares of what the readings are off. */
  readonly off: number;
  readonly weight: number;
}

/**
 * Traces readings together, as taken of the site in one condition. Readings of one coupling belong together; those of
 * others tell nothing about it. Never throws on what a user wrote.
 */
export function trace(design: Design, readings: readonly Reading[]): Trace {
  return finish(traceSteps(design, readings));
}

/** As `trace`, yielding after each piece of work so that the caller may give way or stop. */
export function* traceSteps(original: Design, readings: readonly Reading[]): Generator<void, Trace> {
  const tracer = yield* Tracer.open(original);
  return yield* tracer.trace(readings);
}

/** A site made ready for tracing several sets of readings. */
export class Tracer {
  private readonly ground: Ground;
  private readonly faults: readonly Fault[];

  private constructor(ground: Ground, faults: readonly Fault[]) {
    this.ground = ground;
    this.faults = faults;
  }

  static *open(original: Design): Generator<void, Tracer> {
    const prepared = prepare(original);
    const ground = yield* Ground.settle(prepared.design);
    return new Tracer(ground, deriveFaults(new FaultSite(original, prepared, ground)));
  }

  /** Readings in sets that one fault could move together, in the order in which they were taken. */
  together(readings: readonly Reading[]): readonly (readonly Reading[])[] {
    const sets: { readings: Reading[]; islands: Set<unknown> }[] = [];
    for (const reading of readings) {
      const islands = new Set<unknown>(upstreamOf(this.ground.rest, [reading]).islands);
      const touching = sets.filter((set) => [...islands].some((island) => set.islands.has(island)));
      const merged = {
        readings: [...touching.flatMap((set) => set.readings), reading],
        islands: new Set([...touching.flatMap((set) => [...set.islands]), ...islands]),
      };
      for (const set of touching) sets.splice(sets.indexOf(set), 1);
      sets.push(merged);
    }
    return sets.map((set) => readings.filter((reading) => set.readings.includes(reading)));
  }

  *trace(readings: readonly Reading[]): Generator<void, Trace> {
    const { ground } = this;
    const { design } = ground;
    const healthy = yield* this.tried(readings, ground.healthy, { name: AS_WRITTEN });
    const traced: TracedReading[] = [];
    for (const [i, reading] of readings.entries()) traced.push(yield* this.judged(reading, healthy.fits[i]!));
    const tried: Tried[] = [healthy];
    const upstream = upstreamOf(ground.rest, readings);
    for (const fault of this.faults) {
      let best: Tried | undefined;
      for (const variant of fault.variants) {
        const doings = doingsOf(design, variant);
        if (!mayMatter(ground, upstream, doings)) continue;
        const trial = yield* ground.under(doings);
        const one = yield* this.tried(readings, trial, { fault, variant, name: nameOfVariant(fault, variant) });
        if (best === undefined || one.off < best.off) best = one;
        trial.forget();
        yield;
      }
      if (best !== undefined && !sameFits(best.fits, healthy.fits)) tried.push(best);
    }
    // Sorting is stable: equals stay in the order of the design, the site as written first.
    tried.sort((one, other) => one.off - other.off);
    const next = yield* nextReading(ground, tried, readings, upstream);
    return {
      design,
      readings: traced,
      candidates: ranked(tried),
      unexplained: tried[0]!.off > FAR ** 2,
      ...(next === undefined ? {} : { next }),
    };
  }

  private *tried(
    readings: readonly Reading[],
    trial: Trial,
    about: Pick<Tried, 'fault' | 'variant' | 'name'>,
  ): Generator<void, Tried> {
    const fits: Fit[] = [];
    for (const reading of readings) {
      const worlds = (yield* worldsOf(this.ground.design, trial, reading.case)) ?? [];
      fits.push(
        bestFit(
          worlds.map((world) => shownIn(world, reading, true)),
          reading,
          roomOf(this.ground, reading),
        ),
      );
    }
    const off = fits.reduce((sum, fit) => sum + fit.off ** 2, 0);
    return { ...about, trial, fits, off, weight: Math.exp(-off / 2) };
  }

  private *judged(reading: Reading, fit: Fit): Generator<void, TracedReading> {
    const { ground } = this;
    const worlds = yield* worldsOf(ground.design, ground.healthy, reading.case);
    if (worlds === undefined) {
      return { reading, asPredicted: 'not-evaluated', reason: `there is no case ${reading.case}` };
    }
    const { predicted } = fit;
    if (predicted === undefined) {
      const shown = worlds.map((world) => shownIn(world, reading, true)).find((one) => 'reason' in one);
      return { reading, asPredicted: 'not-evaluated', ...(shown !== undefined && 'reason' in shown ? shown : {}) };
    }
    const allowed = allowedOf(predicted, reading, roomOf(ground, reading));
    return { reading, predicted, allowed, asPredicted: fit.fits, ...this.band(reading, worlds) };
  }

  /** What a zone would make of the reading, taken at its terminals. */
  private band(reading: Reading, worlds: readonly World[]): Partial<TracedReading> {
    const { a, b, quantity, value } = reading;
    if (a === undefined || b === undefined || quantity === 'amps') return {};
    const { model } = this.ground.shared;
    const zone = this.ground.design.components.find(
      (part): part is ComponentOf<'zone'> =>
        part.kind === 'zone' && model.nodeOf(part.a) === model.nodeOf(a) && model.nodeOf(part.b) === model.nodeOf(b),
    );
    const scale = zone === undefined ? undefined : ZoneScale.of(zone);
    if (zone === undefined || scale === undefined) return {};
    const name = quantity === 'ohms' ? scale.classAt(value, 'usual') : scale.classAtVolts(value);
    const expected = zoneClasses(zone, worlds.at(-1)!).usual;
    return {
      ...(name === undefined ? {} : { class: name }),
      ...(expected === undefined ? {} : { expectedClass: expected, inBand: name === expected }),
    };
  }
}

export const AS_WRITTEN = 'as written';

/** Tolerances of the meter beyond which nothing counts as an explanation. */
const FAR = 3;
/** Difference of what readings are off, as a share, within which candidates fit equally well. */
const EQUAL = 1e-6;

/** A fault that lies before what was read, or that can pull down a supply that it hangs on. */
function mayMatter(ground: Ground, upstream: Upstream, doings: ReturnType<typeof doingsOf>): boolean {
  for (const part of [...doings.altered.keys(), ...doings.forced.keys()]) if (upstream.sources.has(part)) return true;
  for (const island of reachOf(ground.rest, doings).islands) {
    if (upstream.islands.has(island)) return true;
    if (island.pins.some(({ element }) => upstream.sources.has(element.component.id))) return true;
  }
  return false;
}

/** The reading may have been taken at any of the instants: the one that fits best counts. */
function bestFit(shown: readonly Shown[], reading: Reading, room: number): Fit {
  let best: Fit | undefined;
  for (const one of shown) {
    if (!('spread' in one)) continue;
    const off = offBy(one.spread, reading, room);
    if (best === undefined || off < best.off) best = { predicted: one.spread, fits: off === 0, off };
  }
  return best ?? { fits: false, off: 0 };
}

export function allowedOf(
  { least, most }: FaultSpread,
  { value, quantity }: Pick<Reading, 'value' | 'quantity'>,
  room: number,
): { readonly least: number; readonly most: number } {
  const meter = meterTolerance(value, quantity);
  // An open circuit shows on the meter as anything beyond its range.
  const low = quantity === 'ohms' && least > METER_OPEN ? METER_OPEN : least - room - meter;
  return { least: low, most: most + room + meter };
}

function offBy(predicted: FaultSpread, reading: Reading, room: number): number {
  const { least, most } = allowedOf(predicted, reading, room);
  const { value, quantity } = reading;
  if (value >= least && value <= most) return 0;
  const gap = value < least ? least - value : value - most;
  return gap / meterTolerance(value, quantity);
}

function sameFits(one: readonly Fit[], other: readonly Fit[]): boolean {
  return one.every(({ predicted }, i) => {
    const there = other[i]!.predicted;
    if (predicted === undefined || there === undefined) return predicted === there;
    return (['least', 'usual', 'most'] as const).every((end) => {
      const [a, b] = [predicted[end], there[end]];
      return a === b || Math.abs(a - b) <= 1e-9 * Math.max(Math.abs(a), Math.abs(b));
    });
  });
}

function ranked(tried: readonly Tried[]): readonly Candidate[] {
  const total = tried.reduce((sum, { weight }) => sum + weight, 0);
  let group = -1;
  let last = Number.NaN;
  return tried.map(({ fault, variant, name, fits, weight, off }) => {
    if (!(Math.abs(off - last) <= EQUAL * last)) {
      group += 1;
      last = off;
    }
    return {
      ...(fault === undefined ? {} : { fault }),
      ...(variant === undefined ? {} : { variant }),
      name,
      weight: total > 0 ? weight / total : 0,
      group,
      fits,
    };
  });
}
