/**
 * What zones read with something done to the site. A doing that stays within one plain loop is solved there alone;
 * everything else is settled anew, as far as it reaches.
 */
import { type Doings, NOTHING_DONE } from '../analysis/doings.ts';
import type { Instant } from '../analysis/timeline.ts';
import type { World } from '../analysis/world.ts';
import type { Island } from '../build/index.ts';
import type { ComponentId, ComponentOf } from '../design/components.ts';
import { exact } from '../design/datum.ts';
import { type Read, readIn, unite } from './answers.ts';
import { type Ground, type Line, type Trial, zonesIn } from './ground.ts';
import { altered, type Branch, ohmsIn, PlainLoop } from './plain-loop.ts';
import { type Reach, reachOf } from './reach.ts';

/** A site with something done to it, as the zones see it. */
export interface Effect {
  /** Zones that it may touch. */
  readonly zones: readonly ComponentId[];
  /** Parts that it may touch, those of plain loops left out. */
  readonly parts: ReadonlySet<ComponentId>;
  /** Cases in which something that it touches changes, by index. */
  readonly cases: readonly number[];
  readRest(zone: ComponentOf<'zone'>): Generator<void, Read>;
  /** At an instant of a case, by its index among the instants. */
  readCase(zone: ComponentOf<'zone'>, index: number, instant: number): Generator<void, Read>;
  /** The case as it runs then; `undefined` where nothing but the zone's own loop is touched. */
  line(index: number): Generator<void, Line | undefined>;
  /**
   * The same with something done to a plain loop besides, which must not be what this effect itself was done to;
   * `undefined` where both must be settled together.
   */
  beside(reader: LoopReader): LoopAside | undefined;
}

/** What a loop reads with something done to it while something else is done to the site. */
export interface LoopAside {
  readRest(): Read | undefined;
  readCase(index: number, instant: number): Generator<void, Read | undefined>;
}

export class Trials {
  readonly ground: Ground;
  private readonly loops = new Map<Island, PlainLoop | undefined>();
  private readonly readers = new Map<ComponentId, LoopReader | undefined>();

  constructor(ground: Ground) {
    this.ground = ground;
  }

  *of(doings: Doings): Generator<void, Effect> {
    const reach = reachOf(this.ground.rest, doings);
    const loop = this.plain(doings, reach);
    if (loop !== undefined) return new LoopEffect(this.ground, loop, doings);
    const trial = yield* this.ground.under(doings);
    return new SiteEffect(this, trial, reach, doings);
  }

  /** The loop of a zone at rest, where it is plain. */
  loopOf(zone: ComponentOf<'zone'>): PlainLoop | undefined {
    const island = this.islandOf(zone.id);
    return island === undefined ? undefined : this.loopIn(island);
  }

  /** The island of a part at rest. */
  islandOf(part: ComponentId): Island | undefined {
    const [element] = this.ground.shared.model.ofComponent[part] ?? [];
    return element === undefined ? undefined : this.ground.rest.islandOf(element);
  }

  /** Reads the loop of a zone with nothing done to it, where it is plain. */
  soundReader(zone: ComponentOf<'zone'>): LoopReader | undefined {
    if (!this.readers.has(zone.id)) {
      const loop = this.loopOf(zone);
      const reader = loop === undefined ? undefined : new LoopReader(this.ground, loop, NOTHING_DONE);
      this.readers.set(zone.id, reader);
    }
    return this.readers.get(zone.id);
  }

  private plain(doings: Doings, { own }: Reach): PlainLoop | undefined {
    if (doings.forced.size > 0 || own.size !== 1) return undefined;
    const [island] = own;
    const loop = this.loopIn(island!);
    if (loop === undefined) return undefined;
    const { model } = this.ground.shared;
    const inside = doings.joins.every(({ a, b }) => [a, b].every((end) => island!.local(model.nodeOf(end)) >= 0));
    return inside ? loop : undefined;
  }

  private loopIn(island: Island): PlainLoop | undefined {
    if (!this.loops.has(island)) this.loops.set(island, PlainLoop.of(this.ground.rest, island));
    return this.loops.get(island);
  }
}

/** A plain loop with something done to it, read in whatever state the rest of the site puts its contacts. */
export class LoopReader {
  readonly loop: PlainLoop;
  private readonly doings: Doings;
  private readonly extra: readonly Branch[];
  private readonly known = new Map<string, Read | undefined>();

  constructor(ground: Ground, loop: PlainLoop, doings: Doings) {
    this.loop = loop;
    this.doings = doings;
    this.extra = branchesOf(ground, loop, doings);
  }

  /** `undefined` where the loop is not this one, or not plain, at that instant. */
  readAt(world: World): Read | undefined {
    const { island } = this.loop;
    if (world.islandOf(island.elements[0]!) !== island) return undefined;
    const { states, lacks, reason, complete } = world.alternatives(island);
    if (lacks.length > 0 || reason !== undefined || !complete) return undefined;
    const reads: Read[] = [];
    for (const words of states) {
      const key = words.join('|');
      if (!this.known.has(key)) this.known.set(key, this.loop.read(this.alter(words), this.extra));
      const read = this.known.get(key);
      if (read === undefined) return undefined;
      reads.push(read);
    }
    return unite(reads);
  }

  private alter(words: readonly string[]): readonly string[] {
    if (this.doings.altered.size === 0) return words;
    return words.map((word, place) => {
      const alteration = this.doings.altered.get(this.loop.island.elements[place]!.component.id);
      return alteration === undefined ? word : altered(word, alteration);
    });
  }
}

/** Joins of a doing as branches of the loop. */
function branchesOf(ground: Ground, { island }: PlainLoop, { joins }: Doings): readonly Branch[] {
  const { model } = ground.shared;
  return joins.map(({ a, b, ohms, like }) => {
    const element = like === undefined ? undefined : model.ofComponent[like]![0];
    const spread = element === undefined ? exact(ohms) : ohmsIn(element, '', ground.rest)!;
    return { a: island.local(model.nodeOf(a)), b: island.local(model.nodeOf(b)), ohms: spread };
  });
}

/** Within one plain loop: the healthy site tells the states of its contacts. */
class LoopEffect implements Effect {
  readonly zones: readonly ComponentId[];
  readonly cases: readonly number[] = [];
  readonly parts: ReadonlySet<ComponentId> = new Set();
  private readonly ground: Ground;
  private readonly doings: Doings;
  private readonly reader: LoopReader;
  private trial: Trial | undefined;

  constructor(ground: Ground, loop: PlainLoop, doings: Doings) {
    this.ground = ground;
    this.doings = doings;
    this.reader = new LoopReader(ground, loop, doings);
    this.zones = [loop.zone.id];
  }

  *readRest(zone: ComponentOf<'zone'>): Generator<void, Read> {
    return this.reader.readAt(this.ground.rest) ?? readIn((yield* this.settled()).rest, zone);
  }

  *readCase(zone: ComponentOf<'zone'>, index: number, instant: number): Generator<void, Read> {
    const read = this.reader.readAt(this.ground.lines[index]!.instants[instant]!.world);
    if (read !== undefined) return read;
    const { instants } = yield* (yield* this.settled()).line(index);
    return readIn(at(instants, instant).world, zone);
  }

  // biome-ignore lint/correctness/useYield: the other kinds of effect have something to wait for.
  *line(): Generator<void, undefined> {
    return undefined;
  }

  beside(): undefined {
    return undefined;
  }

  private *settled(): Generator<void, Trial> {
    this.trial ??= yield* this.ground.under(this.doings);
    return this.trial;
  }
}

/** Anything else: the site settled anew. */
class SiteEffect implements Effect {
  readonly zones: readonly ComponentId[];
  readonly cases: readonly number[];
  readonly parts: ReadonlySet<ComponentId>;
  private readonly trials: Trials;
  private readonly trial: Trial;
  private readonly own: ReadonlySet<Island>;

  constructor(trials: Trials, trial: Trial, reach: Reach, doings: Doings) {
    this.trials = trials;
    this.trial = trial;
    this.own = reach.own;
    const zones = new Set<ComponentId>();
    const cases = new Set<number>();
    const parts = new Set<ComponentId>([...doings.altered.keys(), ...doings.forced.keys()]);
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

  // biome-ignore lint/correctness/useYield: the other kinds of effect have something to wait for.
  *readRest(zone: ComponentOf<'zone'>): Generator<void, Read> {
    return this.read(this.trial.rest, zone);
  }

  *readCase(zone: ComponentOf<'zone'>, index: number, instant: number): Generator<void, Read> {
    const { instants } = yield* this.line(index);
    return this.read(at(instants, instant).world, zone);
  }

  *line(index: number): Generator<void, Line> {
    return yield* this.trial.line(index);
  }

  private read(world: World, zone: ComponentOf<'zone'>): Read {
    const sound = this.trials.soundReader(zone);
    const untouched = sound !== undefined && !this.own.has(sound.loop.island);
    return (untouched ? sound.readAt(world) : undefined) ?? readIn(world, zone);
  }

  beside(reader: LoopReader): LoopAside | undefined {
    if (this.own.has(reader.loop.island)) return undefined;
    const { trial } = this;
    return {
      readRest: () => reader.readAt(trial.rest),
      *readCase(index, instant) {
        const { instants } = yield* trial.line(index);
        return reader.readAt(at(instants, instant).world);
      },
    };
  }
}

/** The same steps settle at the same instants, whatever was done beforehand. */
function at(instants: readonly Instant[], index: number): Instant {
  return instants[index] ?? instants.at(-1)!;
}
