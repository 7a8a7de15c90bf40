/**
 * Finds where everything settles after something was done: relays in the order of their influence on each other,
 * units that gain or lose power, supplies that reach their limit. Only what the doing can have touched is looked at.
 */

import type { Element, Island, Region } from '../build/index.ts';
import type { ComponentId, ComponentOf } from '../design/components.ts';
import { isTimer, steadyTimer } from '../time/timers.ts';
import { followHolds, followWord } from '../time/watch.ts';
import { DEAD, type Decision, decide, overTime, sameDecision } from './decision.ts';
import type { Doings } from './doings.ts';
import { drawnGauge } from './gauges.ts';
import { Influence } from './influence.ts';
import { fedUnits, hasEnough, sameDoubt } from './power.ts';
import type { ProblemNote } from './problems.ts';
import { rangeOf } from './range.ts';
import { coilVolts, settleCircle } from './relays.ts';
import { isStiff, type Shared } from './shared.ts';
import { statesOf } from './states.ts';
import { supplyAmps } from './supply.ts';
import { World } from './world.ts';

/** How often units may gain and lose power, and supplies reach their limits, before the search is given up. */
const MOST_ROUNDS = 40;

/** Circles of relays that are settled before the caller may give way. */
const GIVE_WAY = 8;

export interface Settled {
  readonly world: World;
  readonly problems: readonly ProblemNote[];
  /** Whether relays were met that influence themselves or each other in a circle. */
  readonly circles: boolean;
  /** Timers in circles for which no steady state was found. */
  readonly unsteady: readonly ComponentId[];
}

/** What does not settle by itself, because it is followed through time. */
export interface Frozen {
  /** True: no relay settles; those without a row in `positions` stand as at rest. */
  readonly all: boolean;
  readonly positions: ReadonlyMap<ComponentId, Decision>;
  /** Absent: outputs do what they follow at once. */
  readonly followed?: ReadonlyMap<ComponentId, string>;
  readonly confirmed?: ReadonlyMap<ComponentId, readonly string[]>;
}

/**
 * Settles a world. `rest` is absent for rest itself; `before` is the world that the doing found, whose relays keep
 * their state where nothing decides otherwise: without it everything comes on from dead. Yields after each step so
 * that the caller may give way.
 */
export function* settling(
  shared: Shared,
  doings: Doings,
  rest?: World,
  before?: World,
  frozen?: Frozen,
): Generator<void, Settled> {
  const run = new Settling(new World(shared, doings, rest), before, frozen);
  yield* run.all();
  return { world: run.world, problems: run.problems, circles: run.circles, unsteady: run.unsteady };
}

const NONE: ReadonlyMap<ComponentId, Decision> = new Map();

class Settling {
  readonly world: World;
  readonly problems: ProblemNote[] = [];
  circles = false;
  readonly unsteady: ComponentId[] = [];
  private readonly before: World | undefined;
  private readonly frozen: Frozen | undefined;
  private readonly influence: Influence;
  private readonly todo = new Set<ComponentId>();
  /** Islands that anything has happened to since the last look at supplies and feeds. */
  private readonly fresh = new Set<Island>();

  constructor(world: World, before: World | undefined, frozen: Frozen | undefined) {
    this.world = world;
    this.before = before;
    this.frozen = frozen;
    this.influence = new Influence(world, frozen?.positions);
    world.findCarried = (component) => this.carried(component);
  }

  *all(): Generator<void, void> {
    yield* this.begin();
    for (let round = 0; ; round++) {
      yield* this.relays();
      const changed = this.supplies() || this.feeds() || this.follows();
      if (!changed) break;
      if (round === MOST_ROUNDS) {
        const detail = 'units gain and lose their supply without end';
        this.problems.push({ sort: 'relay-oscillates', components: [...this.world.power.keys()], detail });
        break;
      }
    }
  }

  /** Marks everything that the doing touches at once. */
  private *begin(): Generator<void, void> {
    const { world } = this;
    const { model } = world.shared;
    if (world.rest === undefined) {
      for (const region of model.regions) {
        for (const island of world.layOut(region).islands) this.touch(island);
        if (region.id % 64 === 0) yield;
      }
      for (const part of world.design.components) {
        if (part.kind === 'relay') this.todo.add(part.id);
      }
      this.freeze();
      return;
    }
    for (const [relay, decision] of this.frozen?.all === true ? NONE : (this.before?.decisions ?? NONE)) {
      if (this.before === world.rest || sameDecision(decision, world.rest.decision(relay))) continue;
      world.decisions.set(relay, decision);
    }
    this.freeze();
    for (const [unit, power] of this.before === world.rest ? [] : (this.before?.power ?? [])) {
      world.power.set(unit, power);
    }
    for (const [unit, doubt] of this.before === world.rest ? [] : (this.before?.doubts ?? [])) {
      world.doubts.set(unit, doubt);
    }
    const regions = new Set<Region>();
    const done = this.changedSince(world.rest);
    const parts = [...done, ...world.power.keys()].flatMap((component) => this.withMembers(component));
    for (const component of parts) this.noteSources(component, regions);
    const joined = world.joinedRegion();
    if (joined !== undefined) regions.add(joined);
    for (const region of regions) this.layOutAgain(region);
    for (const component of [...parts, ...world.decisions.keys(), ...world.followed.keys()])
      this.touchDriven(component);
    for (const relay of world.decisions.keys()) this.todo.add(relay);
  }

  /** Parts that something else is done to than at rest. */
  private changedSince(rest: World): readonly ComponentId[] {
    const { world } = this;
    const { turned, forced, altered } = world.doings;
    const changed: ComponentId[] = [];
    for (const part of [...turned.keys(), ...forced.keys()]) {
      if (world.own(part) !== rest.own(part) || isForced(world, part) !== isForced(rest, part)) changed.push(part);
    }
    for (const [part, word] of altered) if (rest.doings.altered.get(part) !== word) changed.push(part);
    return changed;
  }

  /** Puts what does not settle where it stands. */
  private freeze(): void {
    const { world, frozen, before } = this;
    for (const [relay, decision] of frozen?.positions ?? []) {
      if (world.rest !== undefined && sameDecision(decision, world.rest.decision(relay))) world.decisions.delete(relay);
      else world.decisions.set(relay, decision);
    }
    for (const [output, word] of frozen?.followed ?? before?.followed ?? []) {
      if (world.rest?.follows(output) !== word) world.followed.set(output, word);
    }
    for (const [confirm, states] of frozen?.confirmed ?? []) world.confirmed.set(confirm, states);
  }

  /** A part and, of a unit, everything that lives on its supply; of a source, what hangs on it. */
  private withMembers(component: ComponentId): readonly ComponentId[] {
    const part = this.world.design.components[component]!;
    if (part.kind === 'unit') return [component, ...part.members.flatMap((member) => this.withMembers(member))];
    const rails = this.world.shared.model.railsOn.get(component) ?? [];
    const charged = part.kind === 'source' && part.charges !== undefined ? [part.charges] : [];
    return [component, ...(part.kind === 'source' ? rails : []), ...charged];
  }

  private noteSources(component: ComponentId, regions: Set<Region>): void {
    for (const element of this.world.shared.model.ofComponent[component]!) {
      if (isStiff(element)) regions.add(this.world.regionOf(element));
    }
  }

  private layOutAgain(region: Region): void {
    const { world } = this;
    const joined = region === world.joinedRegion();
    const old = joined && !world.layouts.has(region) ? this.beforeJoining(region) : world.layoutOf(region).islands;
    const known = new Set(old);
    const layout = world.layOut(region);
    const atRest = world.rest === undefined || joined ? undefined : new Set(world.rest.layoutOf(region).islands);
    for (const island of layout.islands) {
      if (!known.has(island) || atRest?.has(island) === false) this.touch(island);
    }
  }

  /** Islands at rest of what a join has made one region: those that come back as they were are not touched. */
  private beforeJoining(region: Region): readonly Island[] {
    const { rest } = this.world;
    if (rest === undefined) return [];
    if (rest.joinedRegion() === region) return rest.layoutOf(region).islands;
    return [...this.world.coveredRegions()].flatMap((one) => rest.layoutOf(one).islands);
  }

  private touchDriven(component: ComponentId): void {
    for (const element of this.world.shared.model.drivenBy(component)) {
      const island = this.world.islandOf(element);
      if (island !== undefined) this.touch(island);
    }
  }

  /** An island whose states may have changed: its relays and what its supplies hang on are looked at again. */
  private touch(island: Island): void {
    const { world } = this;
    if (world.rest !== undefined) world.dirty.add(island);
    world.forget(island);
    this.fresh.add(island);
    for (const relay of island.coils) this.todo.add(relay);
    for (const carrier of this.influence.carriersOf(island)) {
      if (!world.carriedAmps.delete(carrier.element.component.id) && this.fresh.has(carrier.island)) continue;
      this.touch(carrier.island);
    }
  }

  private *relays(): Generator<void, void> {
    if (this.frozen !== undefined) for (const relay of this.frozen.positions.keys()) this.todo.delete(relay);
    if (this.frozen?.all === true) this.todo.clear();
    if (this.todo.size === 0) return;
    let settled = 0;
    for (const circle of this.influence.ordered([...this.todo])) {
      if (!circle.relays.some((relay) => this.todo.has(relay))) continue;
      const old = circle.relays.map((relay) => this.world.decision(relay));
      if (circle.relays.length > 1 || circle.onItself) {
        this.circles = true;
        this.settleTogether(circle.relays);
      } else this.world.decisions.set(circle.relays[0]!, this.decideAlone(circle.relays[0]!));
      circle.relays.forEach((relay, i) => {
        this.todo.delete(relay);
        if (!sameDecision(old[i]!, this.world.decision(relay)) || this.isNew(relay)) this.touchDriven(relay);
        this.todo.delete(relay);
      });
      if (++settled % GIVE_WAY === 0) yield;
    }
    this.todo.clear();
  }

  /** Timers in a circle are put where they end up again and again, until nothing moves any more. */
  private settleTogether(relays: readonly ComponentId[]): void {
    const { world } = this;
    const parts = relays.map((id) => world.design.components[id] as ComponentOf<'relay'>);
    const timers = parts.filter(isTimer);
    const others = parts.filter((part) => !isTimer(part)).map(({ id }) => id);
    const moved = (relay: ComponentId) => this.touchDriven(relay);
    for (const { id } of timers) world.decisions.set(id, this.before?.decision(id) ?? DEAD);
    for (let round = 0; ; round++) {
      if (others.length > 0) this.problems.push(...settleCircle(world, others, moved, this.before));
      let changed = false;
      for (const timer of timers) {
        const old = world.decision(timer.id);
        const next = round < MOST_ROUNDS ? steadyTimer(world, timer, old) : overTime(timer);
        if (sameDecision(old, next)) continue;
        world.decisions.set(timer.id, next);
        moved(timer.id);
        changed = true;
      }
      if (!changed) return;
      if (round === MOST_ROUNDS) this.unsteady.push(...timers.map(({ id }) => id));
    }
  }

  /** Differs from rest, although it may be as it was before. */
  private isNew(relay: ComponentId): boolean {
    const { rest } = this.world;
    return rest !== undefined && !sameDecision(rest.decision(relay), this.world.decision(relay));
  }

  private decideAlone(relay: ComponentId): Decision {
    const part = this.world.design.components[relay] as ComponentOf<'relay'>;
    if (isTimer(part)) return steadyTimer(this.world, part, this.before?.decision(relay) ?? DEAD);
    const volts = coilVolts(this.world, part);
    const before = this.before?.decision(relay) ?? restDecision(part);
    if (volts.sort === 'no-connection') return { ...DEAD };
    if (volts.sort === 'unknown') {
      const { lacks, reason } = volts;
      return { ...before, lacks, ...(reason === undefined ? {} : { reason }) };
    }
    const warm = this.world.rest === undefined || this.world.rest.decision(relay).usual === 'operated';
    return decide(part, this.world.shared.model.context, volts, before, warm);
  }

  /** Supplies whose demand exceeds what they hold: from now on they hold their limit. */
  private supplies(): boolean {
    const { world } = this;
    const regions = new Set<Region>();
    for (const supply of this.suppliesOf(this.fresh)) {
      const { limit } = supply.component as ComponentOf<'source'>;
      if (limit === undefined || world.isLimiting(supply.component.id)) continue;
      if (!exceeds(this.upperBound(supply), limit.least)) continue;
      const total = supplyAmps(world, supply);
      if (total.sort === 'range' && !exceeds(total.most, limit.least)) continue;
      if (total.sort === 'no-connection') continue;
      if (total.sort === 'unknown' && total.lacks.length > 0) continue;
      world.demands.set(supply.component.id, total);
      world.limiting.add(supply.component.id);
      regions.add(world.regionOf(supply));
    }
    this.stillFresh = new Set(this.fresh);
    this.fresh.clear();
    for (const region of regions) this.layOutAgain(region);
    if (regions.size > 0) for (const island of this.stillFresh) this.fresh.add(island);
    return regions.size > 0;
  }

  private stillFresh = new Set<Island>();

  private suppliesOf(islands: Iterable<Island>): ReadonlySet<Element> {
    const found = new Set<Element>();
    for (const island of islands) for (const pin of island.pins) found.add(pin.element);
    return found;
  }

  /** At least the most that is drawn from a supply, found cheaply from the figures at rest. */
  private upperBound(supply: Element): number {
    const { world } = this;
    const most = (at: World, island: Island) => {
      const range = rangeOf(at, island, drawnGauge(island, supply));
      return range.sort === 'range' ? range.most : range.sort === 'no-connection' ? 0 : Number.NaN;
    };
    const layout = world.layoutOf(world.regionOf(supply));
    const { rest } = world;
    const islands = layout.hanging.get(supply.component.id) ?? [];
    if (rest === undefined) {
      const sum = islands.reduce((total, island) => total + most(world, island), 0);
      world.drawnAtMost.set(supply.component.id, sum);
      return sum;
    }
    const known = rest.drawnAtMost.get(supply.component.id);
    if (known === undefined || rest.layoutOf(rest.regionOf(supply)) !== layout) {
      return islands.reduce((total, island) => total + most(world, island), 0);
    }
    let sum = known;
    for (const island of world.dirty) {
      if (!island.pins.some((pin) => pin.element === supply)) continue;
      sum += most(world, island) - most(rest, island);
    }
    return sum;
  }

  /** Units whose feeds have come or gone. */
  private feeds(): boolean {
    const { world } = this;
    let changed = false;
    for (const unit of fedUnits(this.stillFresh)) {
      const enough = hasEnough(world, unit);
      if (enough.problem !== undefined) this.problems.push(enough.problem);
      const was = world.power.get(unit) ?? world.rest?.power.get(unit) ?? true;
      const doubted = world.doubt(unit);
      world.power.set(unit, enough.powered);
      if (enough.doubt !== undefined || doubted !== undefined) world.doubts.set(unit, enough.doubt);
      if (was === enough.powered && sameDoubt(doubted, enough.doubt)) continue;
      changed = true;
      const parts = this.withMembers(unit);
      const regions = new Set<Region>();
      for (const component of parts) this.noteSources(component, regions);
      for (const region of regions) this.layOutAgain(region);
      for (const component of parts) this.touchDriven(component);
    }
    return changed;
  }

  /** Outputs that follow a zone, an input or a confirmation that may have changed. */
  private follows(): boolean {
    const { world } = this;
    const { watch } = world.shared;
    if (watch.outputs.length === 0 || this.frozen?.followed !== undefined) return false;
    const outputs = new Set<ComponentId>();
    for (const island of this.stillFresh) {
      for (const { component, rule } of island.elements) {
        if (rule.role !== 'main') continue;
        for (const output of watch.followersOf(component.id)) outputs.add(output);
      }
    }
    let changed = false;
    for (const id of outputs) {
      const output = world.design.components[id] as ComponentOf<'output'>;
      const word = followWord(
        output,
        followHolds(output.follows!, (other) => statesOf(world, other)[0]),
      );
      if (word === (world.follows(id) ?? output.rest.word)) continue;
      world.followed.set(id, word);
      this.touchDriven(id);
      changed = true;
    }
    return changed;
  }

  private carried(component: ComponentId): string {
    let least = 0;
    let usual = 0;
    let most = 0;
    const { world } = this;
    for (const rail of world.shared.model.railsOn.get(component) ?? []) {
      if (world.word(rail) === 'off') continue;
      const part = world.design.components[rail] as ComponentOf<'source'>;
      const element = world.shared.model.ofComponent[rail]!.find((other) => other.rule.role === 'main')!;
      const drawn = supplyAmps(world, element);
      if (drawn.sort === 'unknown') return 'unknown';
      if (drawn.sort === 'range') {
        least += Math.max(0, drawn.least);
        usual += Math.max(0, drawn.usual);
        most += Math.max(0, drawn.most);
      }
      least += part.ownDraw?.least ?? 0;
      usual += part.ownDraw?.usual ?? 0;
      most += part.ownDraw?.most ?? 0;
    }
    return `${least}/${usual}/${most}`;
  }
}

/** A word that holds even where the part has no supply. */
function isForced({ doings }: World, part: ComponentId): boolean {
  return doings.forced.has(part);
}

function exceeds(amps: number, limit: number): boolean {
  return !(amps <= limit * (1 + 1e-9));
}

/** Where a relay stands before anything comes on: dead, unless it latches and says where it rests. */
export function restDecision(relay: ComponentOf<'relay'>): Decision {
  if (relay.latching === undefined) return DEAD;
  const set = relay.rest?.word === 'set' || relay.rest?.word === 'operated';
  return set ? { usual: 'operated', possible: ['operated'], lacks: [] } : DEAD;
}
