/**
 * The healthy site, settled at rest and through every case, and the same site with something done to it. What both
 * share (the model, islands, solved circuits) is kept once.
 */
import { type Doings, NOTHING_DONE } from '../analysis/doings.ts';
import { settling } from '../analysis/settle.ts';
import { Shared } from '../analysis/shared.ts';
import { type Asked, type Instant, NOW, running } from '../analysis/timeline.ts';
import { ALTERED } from '../analysis/wiring.ts';
import type { World } from '../analysis/world.ts';
import { type Island, Model } from '../build/index.ts';
import type { ComponentId } from '../design/components.ts';
import type { Design } from '../design/design.ts';

/** A case as it runs: where it settles, and at which of these instants its expectations stand. */
export interface Line {
  readonly instants: readonly Instant[];
  readonly asked: readonly Asked[];
  /** Something in it moves by itself, so that its instants are not those of the steps alone. */
  readonly inTime: boolean;
}

const NONE: ReadonlySet<number> = new Set();

/** A site with something done to it, settled as far as somebody asked. */
export class Trial {
  readonly rest: World;
  private readonly shared: Shared;
  private readonly start: Instant;
  private readonly lines = new Map<number, Line>();

  constructor(shared: Shared, rest: World, doings: Doings) {
    this.shared = shared;
    this.rest = rest;
    this.start = { time: NOW, label: 'at rest', world: rest, doings, turns: [], byItself: false };
  }

  /** `index` into `Design.cases`. A case that follows itself in a circle begins at rest. */
  *line(index: number, above: ReadonlySet<number> = NONE): Generator<void, Line> {
    const known = this.lines.get(index);
    if (known !== undefined) return known;
    const { cases } = this.shared.model.design;
    const one = cases[index]!;
    let start = this.start;
    if (one.after !== undefined && cases[one.after] !== undefined && !above.has(one.after)) {
      const before = yield* this.line(one.after, new Set([...above, index]));
      start = before.instants.at(-1)!;
    }
    const { instants, asked, inTime } = yield* running(this.shared, one, start, this.rest);
    const line = { instants, asked, inTime };
    this.lines.set(index, line);
    return line;
  }

  /** Lets go what was solved of altered parts: nothing will ask for it again. */
  forget(): void {
    const worlds = [
      this.rest,
      ...[...this.lines.values()].flatMap(({ instants }) => instants.map(({ world }) => world)),
    ];
    const islands = new Set<Island>();
    for (const world of worlds) for (const island of world.dirty) islands.add(island);
    for (const { kept } of islands) {
      for (const states of kept.keys()) if (states.includes(ALTERED)) kept.delete(states);
    }
  }
}

export class Ground {
  readonly shared: Shared;
  readonly healthy: Trial;
  /** By index into `Design.cases`. */
  readonly lines: readonly Line[];
  /** Cases that change an island, by their indices. */
  readonly casesOf: ReadonlyMap<Island, readonly number[]>;
  /** Cases in which something may change for a zone. */
  readonly casesOfZone: ReadonlyMap<ComponentId, readonly number[]>;
  /** Whether any supply reaches its limit with nothing wrong. */
  readonly limits: boolean;

  private constructor(shared: Shared, healthy: Trial, lines: readonly Line[]) {
    this.shared = shared;
    this.healthy = healthy;
    this.lines = lines;
    this.limits = [healthy.rest, ...lines.flatMap(({ instants }) => instants.map(({ world }) => world))].some(
      ({ limiting }) => limiting.size > 0,
    );
    const casesOf = new Map<Island, number[]>();
    const casesOfZone = new Map<ComponentId, number[]>();
    lines.forEach(({ instants }, index) => {
      const islands = new Set<Island>();
      for (const { world } of instants) for (const island of world.dirty) islands.add(island);
      const zones = new Set<ComponentId>();
      for (const island of islands) {
        note(casesOf, island, index);
        for (const zone of zonesIn(island)) zones.add(zone);
      }
      for (const zone of zones) note(casesOfZone, zone, index);
    });
    this.casesOf = casesOf;
    this.casesOfZone = casesOfZone;
  }

  /** `nominal`: everything at its usual figure. */
  static *settle(design: Design, nominal = false): Generator<void, Ground> {
    const shared = new Shared(new Model(design, nominal));
    const { world } = yield* settling(shared, NOTHING_DONE);
    const healthy = new Trial(shared, world, NOTHING_DONE);
    const lines: Line[] = [];
    for (const index of design.cases.keys()) {
      lines.push(yield* healthy.line(index));
      yield;
    }
    return new Ground(shared, healthy, lines);
  }

  get design(): Design {
    return this.shared.model.design;
  }

  get rest(): World {
    return this.healthy.rest;
  }

  /** The site from dead with something done to it beforehand. */
  *under(doings: Doings): Generator<void, Trial> {
    const { world } = yield* settling(this.shared, doings, this.rest);
    // What is told of units at rest is looked for one world deep: the new rest must know all of it.
    for (const [unit, powered] of this.rest.power) if (!world.power.has(unit)) world.power.set(unit, powered);
    for (const [unit, doubt] of this.rest.doubts) if (!world.doubts.has(unit)) world.doubts.set(unit, doubt);
    return new Trial(this.shared, world, doings);
  }
}

function note<K>(map: Map<K, number[]>, key: K, index: number): void {
  const list = map.get(key);
  if (list === undefined) map.set(key, [index]);
  else list.push(index);
}

/** Zones that are read in an island. */
export function zonesIn(island: Island): readonly ComponentId[] {
  const zones: ComponentId[] = [];
  for (const { component, rule } of island.elements) {
    if (component.kind === 'zone' && rule.role === 'main') zones.push(component.id);
  }
  return zones;
}
