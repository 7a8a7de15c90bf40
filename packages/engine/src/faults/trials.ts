/**
 * What zones read with something done to the site. A doing that stays within one plain loop is solved there alone;
 * everything else is settled anew, as far as it reaches.
 */
import type { Doings } from '../analysis/doings.ts';
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
  readRest(zone: ComponentOf<'zone'>): Read;
  /** At an instant of a case, by its index among the instants. */
  readCase(zone: ComponentOf<'zone'>, index: number, instant: number): Generator<void, Read>;
  /** The case as it runs then; `undefined` where nothing but the zone's own loop is touched. */
  line(index: number): Generator<void, Line | undefined>;
}

export class Trials {
  readonly ground: Ground;
  private readonly loops = new Map<Island, PlainLoop | undefined>();

  constructor(ground: Ground) {
    this.ground = ground;
  }

  *of(doings: Doings): Generator<void, Effect> {
    const reach = reachOf(this.ground.rest, doings);
    const loop = this.plain(doings, reach);
    if (loop !== undefined) return new LoopEffect(this.ground, loop, doings);
    const trial = yield* this.ground.under(doings);
    return new SiteEffect(this.ground, trial, reach, doings);
  }

  /** The loop of a zone at rest, where it is plain. */
  loopOf(zone: ComponentOf<'zone'>): PlainLoop | undefined {
    const [element] = this.ground.shared.model.ofComponent[zone.id] ?? [];
    const island = element === undefined ? undefined : this.ground.rest.islandOf(element);
    return island === undefined ? undefined : this.loopIn(island);
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

/** Within one plain loop: the healthy site tells the states of its contacts. */
class LoopEffect implements Effect {
  readonly zones: readonly ComponentId[];
  readonly cases: readonly number[] = [];
  readonly parts: ReadonlySet<ComponentId> = new Set();
  private readonly ground: Ground;
  private readonly loop: PlainLoop;
  private readonly doings: Doings;
  private readonly extra: readonly Branch[];
  private readonly known = new Map<string, Read | undefined>();
  private trial: Trial | undefined;

  constructor(ground: Ground, loop: PlainLoop, doings: Doings) {
    this.ground = ground;
    this.loop = loop;
    this.doings = doings;
    this.zones = [loop.zone.id];
    this.extra = branchesOf(ground, loop, doings);
  }

  readRest(zone: ComponentOf<'zone'>): Read {
    return this.readAt(this.ground.rest) ?? readIn(this.settled().rest, zone);
  }

  *readCase(zone: ComponentOf<'zone'>, index: number, instant: number): Generator<void, Read> {
    const read = this.readAt(this.ground.lines[index]!.instants[instant]!.world);
    if (read !== undefined) return read;
    const { instants } = yield* this.settled().line(index);
    return readIn(instants[instant]!.world, zone);
  }

  // biome-ignore lint/correctness/useYield: the other kind of effect has something to wait for.
  *line(): Generator<void, undefined> {
    return undefined;
  }

  private readAt(world: World): Read | undefined {
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

  private settled(): Trial {
    if (this.trial === undefined) {
      const steps = this.ground.under(this.doings);
      let step = steps.next();
      while (!step.done) step = steps.next();
      this.trial = step.value;
    }
    return this.trial;
  }
}

/** Joins of a doing as branches of the loop. */
export function branchesOf(ground: Ground, { island }: PlainLoop, { joins }: Doings): readonly Branch[] {
  const { model } = ground.shared;
  return joins.map(({ a, b, ohms, like }) => {
    const element = like === undefined ? undefined : model.ofComponent[like]![0];
    const spread = element === undefined ? exact(ohms) : ohmsIn(element, '', ground.rest)!;
    return { a: island.local(model.nodeOf(a)), b: island.local(model.nodeOf(b)), ohms: spread };
  });
}

/** Anything else: the site settled anew. */
class SiteEffect implements Effect {
  readonly zones: readonly ComponentId[];
  readonly cases: readonly number[];
  readonly parts: ReadonlySet<ComponentId>;
  private readonly trial: Trial;

  constructor(ground: Ground, trial: Trial, reach: Reach, doings: Doings) {
    this.trial = trial;
    const zones = new Set<ComponentId>();
    const cases = new Set<number>();
    const parts = new Set<ComponentId>([...doings.altered.keys(), ...doings.forced.keys()]);
    for (const island of [...reach.islands, ...trial.rest.dirty]) {
      for (const zone of zonesIn(island)) zones.add(zone);
      for (const { component } of island.elements) if (component.id >= 0) parts.add(component.id);
      for (const { element } of island.pins) parts.add(element.component.id);
    }
    this.parts = parts;
    for (const island of reach.islands) for (const index of ground.casesOf.get(island) ?? []) cases.add(index);
    this.zones = [...zones].sort((one, other) => one - other);
    this.cases = [...cases].sort((one, other) => one - other);
  }

  readRest(zone: ComponentOf<'zone'>): Read {
    return readIn(this.trial.rest, zone);
  }

  *readCase(zone: ComponentOf<'zone'>, index: number, instant: number): Generator<void, Read> {
    const { instants } = yield* this.line(index);
    return readIn(at(instants, instant).world, zone);
  }

  *line(index: number): Generator<void, Line> {
    return yield* this.trial.line(index);
  }
}

/** The same steps settle at the same instants, whatever was done beforehand. */
function at(instants: readonly Instant[], index: number): Instant {
  return instants[index] ?? instants.at(-1)!;
}
