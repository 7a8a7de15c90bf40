/**
 * What zones read with something done to the site. A doing that stays within one plain loop is solved there alone;
 * everything else is settled anew, as far as it reaches.
 */
import { type Doings, type ExtraJoin, NOTHING_DONE } from '../analysis/doings.ts';
import { finish } from '../analysis/moment.ts';
import type { Instant } from '../analysis/timeline.ts';
import type { World } from '../analysis/world.ts';
import type { Island } from '../build/index.ts';
import type { ComponentId, ComponentOf } from '../design/components.ts';
import { type Read, readIn, unite } from './answers.ts';
import { Ground, type Line, type Trial, zonesIn } from './ground.ts';
import { type AlteredPlaces, PlainLoop } from './plain-loop.ts';
import { ownIslands, type Reach, reachOf } from './reach.ts';
import { MOST_AXES, SharedLoops } from './shared-loops.ts';

/** A site with something done to it, as the zones see it. */
export interface Effect {
  /** Zones that it may touch. */
  readonly zones: readonly ComponentId[];
  /** Those of them that hang on the parts themselves, and not only on a supply that these share with others. */
  readonly near: ReadonlySet<ComponentId>;
  /** Only the usual figures are computed: least and most would take too many solves. */
  readonly usualOnly: boolean;
  /** Parts that it may touch, those of plain loops left out. */
  readonly parts: ReadonlySet<ComponentId>;
  /** Cases in which something that it touches changes, by index. */
  readonly cases: readonly number[];
  /** Settles a case, so that what is read of it afterwards is at hand. */
  settle(index: number): Generator<void, void>;
  readRest(zone: ComponentOf<'zone'>): Read;
  /** At an instant of a case, by its index among the instants. */
  readCase(zone: ComponentOf<'zone'>, index: number, instant: number): Read;
  /** Where in the case, as it runs then, something may be read that the healthy site reads at some of its instants. */
  instantsOf(index: number, healthy: readonly number[]): readonly number[];
  /** The case as it runs then; `undefined` where nothing but the zone's own loop is touched. */
  line(index: number): Line | undefined;
  /** Lets go what was solved for it alone. */
  forget(): void;
}

export class Trials {
  readonly ground: Ground;
  readonly nominal: boolean;
  private usual: Trials | undefined;
  private readonly loops = new Map<Island, Loops | undefined>();
  private readonly readers = new Map<Loops, LoopReader>();

  constructor(ground: Ground, nominal = false) {
    this.ground = ground;
    this.nominal = nominal;
  }

  *of(doings: Doings): Generator<void, Effect> {
    const within = this.within(doings);
    if (within !== undefined) return within;
    const reach = reachOf(this.ground.rest, doings);
    const trials = this.nominal || !isLarge(this.ground, doings, reach) ? this : yield* this.atUsual();
    const trial = yield* trials.ground.under(doings);
    return new SiteEffect(trials, trial, trials === this ? reach : reachOf(trials.ground.rest, doings), doings);
  }

  /** False where something is taken away that no zone hangs on, and no supply is short of what is drawn from it. */
  mayTouchZones(doings: Doings): boolean {
    if (doings.joins.length > 0 || doings.forced.size > 0 || this.ground.limits) return true;
    for (const word of doings.altered.values()) if (word !== 'removed') return true;
    for (const island of reachOf(this.ground.rest, doings).islands) if (zonesIn(island).length > 0) return true;
    return false;
  }

  /** The same site with everything at its usual figure, settled when it is first needed. */
  private *atUsual(): Generator<void, Trials> {
    this.usual ??= new Trials(yield* Ground.settle(this.ground.design, true), true);
    return this.usual;
  }

  /** The loop of a zone at rest, where it is plain. */
  loopOf(zone: ComponentOf<'zone'>): PlainLoop | undefined {
    const island = this.islandOf(zone.id);
    const loops = island === undefined ? undefined : this.loopsIn(island);
    return loops instanceof PlainLoop ? loops : undefined;
  }

  /** The island of a part at rest. */
  islandOf(part: ComponentId): Island | undefined {
    const [element] = this.ground.shared.model.ofComponent[part] ?? [];
    return element === undefined ? undefined : this.ground.rest.islandOf(element);
  }

  /** Reads the loops of an island with nothing done to them, where they stand by themselves. */
  soundReader(zone: ComponentOf<'zone'>): LoopReader | undefined {
    const island = this.islandOf(zone.id);
    const loops = island === undefined ? undefined : this.loopsIn(island);
    if (loops === undefined) return undefined;
    const reader = this.readers.get(loops) ?? new LoopReader(loops, NOTHING_DONE);
    this.readers.set(loops, reader);
    return reader;
  }

  /** Where a doing touches nothing but loops that stand by themselves, nothing else need be settled. */
  within(doings: Doings): Effect | undefined {
    const loops = this.alone(doings);
    return loops === undefined ? undefined : new LoopEffect(this.ground, loops, doings);
  }

  private alone(doings: Doings): Loops | undefined {
    if (doings.forced.size > 0) return undefined;
    let found: Island | undefined;
    for (const island of ownIslands(this.ground.rest, doings)) {
      if (isIdle(island)) continue;
      if (found !== undefined) return undefined;
      found = island;
    }
    const loops = found === undefined ? undefined : this.loopsIn(found);
    if (found === undefined || loops === undefined) return undefined;
    const { model } = this.ground.shared;
    for (const { a, b } of doings.joins) {
      if (found.local(model.nodeOf(a)) < 0 || found.local(model.nodeOf(b)) < 0) return undefined;
    }
    return loops;
  }

  private loopsIn(island: Island): Loops | undefined {
    if (!this.loops.has(island)) {
      const { rest } = this.ground;
      this.loops.set(island, PlainLoop.of(rest, island) ?? SharedLoops.of(rest, island));
    }
    return this.loops.get(island);
  }
}

/** An island of one part that is no source carries no current, whatever becomes of the part. */
function isIdle({ elements, pins }: Island): boolean {
  return elements.length === 1 && pins.length === 0 && elements[0]!.rule.source !== true;
}

/** Loops by themselves: nothing outside can be moved by what happens in them. */
type Loops = PlainLoop | SharedLoops;

/** What was read of a zone in one state of its loop. */
interface Known {
  readonly zone: ComponentId;
  readonly words: readonly string[];
  readonly read: Read | undefined;
}

/** Loops with something done to them, read in whatever state the rest of the site puts their contacts. */
class LoopReader {
  readonly loops: Loops;
  private readonly joins: readonly ExtraJoin[];
  private readonly altered: AlteredPlaces;
  private readonly known: Known[] = [];

  constructor(loops: Loops, { joins, altered }: Doings) {
    this.loops = loops;
    this.joins = joins;
    const places: (readonly [number, string])[] = [];
    if (altered.size > 0) {
      loops.island.elements.forEach(({ component }, place) => {
        const alteration = altered.get(component.id);
        if (alteration !== undefined) places.push([place, alteration]);
      });
    }
    this.altered = places;
  }

  /** `undefined` where the loops are not these, or cannot be read by themselves, at that instant. */
  readAt(world: World, zone: ComponentOf<'zone'>): Read | undefined {
    const { island } = this.loops;
    if (world.islandOf(island.elements[0]!) !== island) return undefined;
    const { states, lacks, reason, complete } = world.alternatives(island);
    if (lacks.length > 0 || reason !== undefined || !complete) return undefined;
    if (states.length === 1) return this.readIn(states[0]!, zone);
    const reads: Read[] = [];
    for (const words of states) {
      const read = this.readIn(words, zone);
      if (read === undefined) return undefined;
      reads.push(read);
    }
    return unite(reads);
  }

  private readIn(words: readonly string[], zone: ComponentOf<'zone'>): Read | undefined {
    for (const one of this.known) if (one.zone === zone.id && areSame(one.words, words)) return one.read;
    const read = this.loops.read(zone, words, this.altered, this.joins);
    this.known.push({ zone: zone.id, words, read });
    return read;
  }
}

function areSame(one: readonly string[], other: readonly string[]): boolean {
  if (one === other) return true;
  for (let i = 0; i < one.length; i++) if (one[i] !== other[i]) return false;
  return true;
}

/** Within loops that stand by themselves: the healthy site tells the states of their contacts. */
class LoopEffect implements Effect {
  readonly zones: readonly ComponentId[];
  readonly near: ReadonlySet<ComponentId>;
  readonly usualOnly: boolean;
  readonly cases: readonly number[] = [];
  readonly parts: ReadonlySet<ComponentId> = new Set();
  private readonly ground: Ground;
  private readonly doings: Doings;
  private readonly reader: LoopReader;
  private trial: Trial | undefined;

  constructor(ground: Ground, loops: Loops, doings: Doings) {
    this.ground = ground;
    this.doings = doings;
    this.reader = new LoopReader(loops, doings);
    this.zones = loops.zones;
    this.near = new Set(this.zones);
    this.usualOnly = loops.usualOnly;
  }

  *settle(): Generator<void, void> {}

  readRest(zone: ComponentOf<'zone'>): Read {
    return this.reader.readAt(this.ground.rest, zone) ?? readIn(this.settled().rest, zone);
  }

  readCase(zone: ComponentOf<'zone'>, index: number, instant: number): Read {
    const read = this.reader.readAt(this.ground.lines[index]!.instants[instant]!.world, zone);
    if (read !== undefined) return read;
    const { instants } = finish(this.settled().line(index));
    return readIn(at(instants, instant).world, zone);
  }

  instantsOf(_index: number, healthy: readonly number[]): readonly number[] {
    return healthy;
  }

  line(): undefined {
    return undefined;
  }

  forget(): void {
    this.trial?.forget();
  }

  /** Only the loops themselves are settled anew. */
  private settled(): Trial {
    this.trial ??= finish(this.ground.under(this.doings));
    return this.trial;
  }
}

/** Anything else: the site settled anew. */
class SiteEffect implements Effect {
  readonly zones: readonly ComponentId[];
  readonly near: ReadonlySet<ComponentId>;
  readonly usualOnly: boolean;
  readonly cases: readonly number[];
  readonly parts: ReadonlySet<ComponentId>;
  private readonly trials: Trials;
  private readonly trial: Trial;
  private readonly own: ReadonlySet<Island>;
  /** Whether it can short a supply at all: something is joined, bridged or made to conduct. */
  private readonly mayShort: boolean;
  private readonly spoiled = new Map<World, ReadonlySet<ComponentId>>();

  constructor(trials: Trials, trial: Trial, reach: Reach, doings: Doings) {
    this.trials = trials;
    this.trial = trial;
    this.own = reach.own;
    this.mayShort = mayShort(doings);
    this.usualOnly = trials.nominal;
    this.near = new Set([...reach.islands].flatMap(zonesIn));
    const zones = new Set<ComponentId>();
    const cases = new Set<number>();
    const parts = new Set<ComponentId>([...doings.altered.keys(), ...doings.forced.keys()]);
    for (const zone of this.spoiledIn(trial.rest)) zones.add(zone);
    for (const island of [...reach.islands, ...trial.rest.dirty]) {
      for (const zone of zonesIn(island)) zones.add(zone);
      for (const { component } of island.elements) if (component.id >= 0) parts.add(component.id);
      for (const { element } of island.pins) parts.add(element.component.id);
    }
    this.parts = parts;
    for (const island of reach.islands) for (const index of trials.ground.casesOf.get(island) ?? []) cases.add(index);
    this.zones = [...zones].sort((one, other) => one - other);
    this.cases = [...cases].sort((one, other) => one - other);
  }

  *settle(index: number): Generator<void, void> {
    yield* this.trial.line(index);
  }

  readRest(zone: ComponentOf<'zone'>): Read {
    return this.read(this.trial.rest, zone);
  }

  readCase(zone: ComponentOf<'zone'>, index: number, instant: number): Read {
    return this.read(at(this.line(index).instants, instant).world, zone);
  }

  instantsOf(index: number, healthy: readonly number[]): readonly number[] {
    const { instants, inTime } = this.line(index);
    if (!inTime && !this.trials.ground.lines[index]!.inTime) return healthy;
    return instants.length === 1 ? [0] : instants.map((_, at) => at).slice(1);
  }

  line(index: number): Line {
    return finish(this.trial.line(index));
  }

  forget(): void {
    this.trial.forget();
  }

  /** Zones that hang on a supply which is shorted and does not say what it can deliver: nothing can be said of them. */
  private spoiledIn(world: World): ReadonlySet<ComponentId> {
    if (!this.mayShort) return NO_ZONES;
    const known = this.spoiled.get(world);
    if (known !== undefined) return known;
    const zones = new Set<ComponentId>();
    const { rest } = this.trials.ground;
    for (const source of shortedIn(world)) {
      const lost = { ...NOTHING_DONE, forced: new Map([[source, 'off']]) };
      for (const island of reachOf(rest, lost).islands) for (const zone of zonesIn(island)) zones.add(zone);
    }
    this.spoiled.set(world, zones);
    return zones;
  }

  private read(world: World, zone: ComponentOf<'zone'>): Read {
    if (this.spoiledIn(world).has(zone.id)) return { usual: undefined, possible: [], reason: NEEDS_LIMIT };
    const sound = this.trials.soundReader(zone);
    const untouched = sound !== undefined && !this.own.has(sound.loops.island);
    return (untouched ? sound.readAt(world, zone) : undefined) ?? readIn(world, zone);
  }
}

const NO_ZONES: ReadonlySet<ComponentId> = new Set();
/** Words and alterations that take something away or leave ohms in its place. */
const HARMLESS: ReadonlySet<string> = new Set(['off', 'blown', 'removed', 'x0.1', 'x10']);

function mayShort({ joins, forced, altered }: Doings): boolean {
  if (joins.length > 0) return true;
  for (const word of forced.values()) if (!HARMLESS.has(word)) return true;
  for (const word of altered.values()) if (!HARMLESS.has(word) && !word.startsWith('=')) return true;
  return false;
}

const NEEDS_LIMIT = 'a supply that it shorts needs its limit';

/** Supplies whose volts are contradicted by what they are joined to. */
function shortedIn(world: World): readonly ComponentId[] {
  const shorted = new Set<ComponentId>();
  // What a case leaves as it is at rest stands there, with what was done to the site.
  for (const island of [...world.dirty, ...(world.rest?.dirty ?? [])]) {
    // Islands that were given up on the way, because a supply reached its limit, are not asked.
    if (!holdsVolts(island) || world.islandOf(island.elements[0]!) !== island) continue;
    const [circuit] = world.circuits(island);
    if (circuit === undefined || circuit.lacks.length > 0) continue;
    if (circuit.atUsual().outcome.sort !== 'contradictory') continue;
    for (const { element } of island.pins) shorted.add(element.component.id);
    for (const { component } of island.elements) if (component.kind === 'source') shorted.add(component.id);
  }
  return [...shorted];
}

/** Whether anything in an island holds volts whatever is drawn: nothing else can be contradicted. */
function holdsVolts({ elements, pins }: Island): boolean {
  return elements.length > 0 && (pins.length > 0 || elements.some(({ component }) => component.kind === 'source'));
}

/** Whether what a doing makes one island has too many causes for all corners. */
function isLarge({ rest }: Ground, { joins, altered: parts }: Doings, { own }: Reach): boolean {
  const shorts = joins.length > 0 || [...parts.values()].includes('bridged');
  const together = new Set<Island>();
  let largest = 0;
  let axes = 0;
  const count = (island: Island) => {
    if (together.has(island)) return;
    together.add(island);
    const [circuit] = rest.circuits(island);
    if (circuit === undefined || circuit.lacks.length > 0) return;
    largest = Math.max(largest, circuit.axes.length);
    axes += circuit.axes.length;
  };
  for (const island of own) {
    count(island);
    if (!shorts) continue;
    // A supply that reaches its limit makes one island of all that hang on it.
    for (const { element } of island.pins) {
      const part = element.component;
      if (part.kind !== 'source' || part.limit === undefined) continue;
      for (const other of rest.layoutOf(rest.regionOf(element)).hanging.get(part.id) ?? []) {
        if (axes > MOST_AXES) return true;
        count(other);
      }
    }
  }
  return (shorts ? axes : largest) > MOST_AXES;
}

/** The same steps settle at the same instants, whatever was done beforehand. */
function at(instants: readonly Instant[], index: number): Instant {
  return instants[index] ?? instants.at(-1)!;
}
