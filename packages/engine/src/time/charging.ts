/**
 * Capacitors on their way through time. When something changes in the island of a capacitor, its volts stay and go from
 * there to where it settles; coils, loads and readings in the same island follow them, each when the volts have come to
 * where it changes. Capacitors that lie in one island set out together.
 */
import type { Circuit } from '../analysis/circuit.ts';
import { boundsOf, type Decision, decide, sameDecision } from '../analysis/decision.ts';
import type { Measure } from '../analysis/extremes.ts';
import { ampsGauge, loopOhmsGauge, voltsGauge } from '../analysis/gauges.ts';
import { voltsBetween } from '../analysis/readings.ts';
import { classAt, inputNamer, loadNamer, statesOf } from '../analysis/states.ts';
import type { World } from '../analysis/world.ts';
import type { Element, Island } from '../build/index.ts';
import type { Component, ComponentId, ComponentOf } from '../design/components.ts';
import { bankOf } from './bank.ts';
import type { ChargeCurve } from './charge.ts';
import type { Course } from './course.ts';
import { after, between, NO_TIME, type Seconds, type Stamp } from './stamp.ts';

type Capacitor = ComponentOf<'capacitor'>;

interface State {
  /** What the island was like when the capacitor set out. */
  readonly key: string;
  readonly since: Stamp;
  readonly from: Seconds;
  /** Absent where it does not move; with the place of the capacitor among those of the curve. */
  readonly moves?: { readonly curve: ChargeCurve; readonly slot: number; readonly sign: 1 | -1 };
}

/** What a part in the island of a capacitor shows until the volts have come so far. */
interface Lag {
  /** The first of those that lie in the island. */
  readonly capacitor: ComponentId;
  readonly states?: readonly string[];
  readonly decision?: Decision;
  /** How often it has changed since the capacitor set out, once its present state is over. */
  readonly changes?: number;
}

/** How far below their settled volts capacitors still count as settled, for comparing states. */
const ALIKE = 6;

export class Charging {
  private readonly states: Map<ComponentId, State>;
  private readonly lags: Map<ComponentId, Lag>;
  private readonly told: Set<string>;

  constructor(like?: Charging) {
    this.states = new Map(like?.states);
    this.lags = new Map(like?.lags);
    this.told = like?.told ?? new Set();
  }

  /** Looks whether anything has changed for a capacitor. */
  look(course: Course, cause: Stamp): void {
    if (!course.shared.model.hasCapacitors) return;
    const islands = new Set<Island>();
    const note = (element: Element | undefined) => {
      const island = element === undefined ? undefined : course.world.islandOf(element);
      if (island !== undefined) islands.add(island);
    };
    for (const id of this.states.keys()) note(course.shared.model.ofComponent[id]![0]);
    for (const island of course.world.dirty) {
      for (const element of island.elements) if (element.component.kind === 'capacitor') note(element);
    }
    for (const island of islands) this.lookAt(course, island, cause);
  }

  private lookAt(course: Course, island: Island, cause: Stamp): void {
    const inside = island.elements.filter(({ component }) => component.kind === 'capacitor');
    const [first] = inside;
    if (first === undefined) return;
    const key = keyOf(course.world, island);
    const known = inside.map((element) => {
      const id = element.component.id;
      return this.states.get(id) ?? settledIn(course, course.begin, element);
    });
    if (known.every((state) => state.key === key)) {
      for (const [i, { component }] of inside.entries()) this.states.set(component.id, known[i]!);
      return;
    }
    this.setOut(
      course,
      inside,
      island,
      known.map((state) => ({ key, since: cause, from: voltsNow(state, cause) })),
      cause,
    );
  }

  private setOut(
    course: Course,
    inside: readonly Element[],
    island: Island,
    states: readonly State[],
    cause: Stamp,
  ): void {
    const parts = inside.map(({ component }) => component as Capacitor);
    parts.forEach((part, i) => {
      this.forget(course, part.id);
      this.states.set(part.id, states[i]!);
    });
    const unknown = parts.find(({ farads }) => farads === undefined);
    if (unknown !== undefined) {
      this.withoutFarads(course, unknown.id, island, cause);
      return;
    }
    const { shared, world } = course;
    const charged = parts.map((part, i) => ({
      part,
      farads: part.farads!,
      from: states[i]!.from,
      towards: voltsOf(world, inside[i]!),
    }));
    const bank = bankOf(shared, island, world.statesIn(island), charged);
    if (bank === 'entangled') this.tell(course, parts);
    if (bank === undefined || bank === 'entangled') return;
    const { curve, slots } = bank;
    const [{ id: leader }] = parts as [Capacitor];
    for (const [i, part] of parts.entries()) {
      const at = slots[i];
      if (at !== undefined) this.states.set(part.id, { ...states[i]!, moves: { curve, ...at } });
    }
    for (const { component, rule } of island.elements) {
      if (rule.role !== 'main') continue;
      if (component.kind === 'relay' && component.timer === undefined)
        this.delay(course, leader, curve, component, island, cause);
      else this.delayReading(course, leader, curve, component, island, cause);
    }
  }

  /** What hangs on it changes after a time that is not known. */
  private withoutFarads(course: Course, capacitor: ComponentId, island: Island, cause: Stamp): void {
    const by = { ...NO_TIME, lacks: [{ component: capacitor, property: 'rating' }] };
    for (const { component, rule } of island.elements) {
      if (rule.role !== 'main') continue;
      if (component.kind === 'relay' && component.timer === undefined) {
        const position = course.position(component.id);
        if (sameDecision(course.settled(component, position), position)) continue;
        this.lags.set(component.id, { capacitor, decision: position });
      } else {
        const states = readerOf(course, component, island) && statesOf(course.previous, component.id);
        if (states === undefined || states.join() === statesOf(course.world, component.id).join()) continue;
        this.lags.set(component.id, { capacitor, states });
      }
      course.schedule(capacitor, cause, by, { sort: 'charge', sensor: component.id });
    }
  }

  /** A coil sees the volts of the capacitor before it sees those that it settles at. */
  private delay(
    course: Course,
    capacitor: ComponentId,
    curve: ChargeCurve,
    relay: ComponentOf<'relay'>,
    island: Island,
    cause: Stamp,
  ): void {
    const { context } = course.shared.model;
    const main = course.shared.model.ofComponent[relay.id]!.find(({ rule }) => rule.role === 'main')!;
    const volts = voltsGauge(island, main.a, main.b);
    const usual = curve.at(volts.measure, startOf(curve));
    const ends = endsOf(curve).map((each) => curve.at(volts.measure, each));
    if (relay.latching !== undefined || usual === undefined || ends.some((end) => end === undefined)) return;
    const found = [usual, ...(ends as number[])];
    const warm = course.isWarm(relay.id);
    const position = course.position(relay.id);
    const spread = { least: Math.min(...found), usual, most: Math.max(...found) };
    const first = decide(relay, context, spread, position, warm);
    const last = course.settled(relay, position);
    const bounds = { usual: boundsOf(relay, context, 'usual', warm), worst: boundsOf(relay, context, 'worst', warm) };
    if (first.possible.join() === last.possible.join() || Array.isArray(bounds.usual) || Array.isArray(bounds.worst))
      return;
    const above = (level: number) => (figure: number) => Math.abs(figure) > level;
    const below = (level: number) => (figure: number) => Math.abs(figure) < level;
    const { usual: typical, worst } = bounds;
    // Falling volts let go at the latest at what releases and at the earliest at what holds; rising ones operate between
    // what releases and what operates.
    const seconds =
      first.usual === 'operated'
        ? curve.seconds(volts.measure, above(typical.releases), {
            least: above(worst.holds),
            most: above(worst.releases),
          })
        : curve.seconds(volts.measure, below(typical.operates), {
            least: below(worst.releases),
            most: below(worst.operates),
          });
    this.lag(course, relay.id, { capacitor, decision: first }, cause, seconds);
  }

  /** A load or a reading is what the volts of the capacitor make it, one state after the other. */
  private delayReading(
    course: Course,
    capacitor: ComponentId,
    curve: ChargeCurve,
    part: Component,
    island: Island,
    cause: Stamp,
  ): void {
    const reader = readerOf(course, part, island);
    if (reader === undefined) return;
    const figure = curve.at(reader.measure, startOf(curve));
    if (figure === undefined) return;
    const [settled] = statesOf(course.world, part.id);
    const state = reader.name(figure);
    const seconds = curve.changes(reader.measure, reader.name, 1);
    if (state === settled && isNever(seconds)) return;
    this.lag(course, part.id, { capacitor, states: [state], changes: 1 }, cause, seconds);
  }

  /** `gone` are the seconds since the cause. */
  private lag(course: Course, sensor: ComponentId, lag: Lag, cause: Stamp, seconds: Seconds, gone = 0): void {
    this.lags.set(sensor, lag);
    const key = this.states.get(lag.capacitor)?.key;
    const clauses = [...this.states].flatMap(([id, state]) =>
      state.key === key ? ((course.design.components[id] as Capacitor).farads?.assumption ?? []) : [],
    );
    const by = clauses.length === 0 ? seconds : { ...seconds, assumptions: [...new Set(clauses)].sort() };
    const rank = course.rank + seconds.usual - gone;
    course.scheduleAt(lag.capacitor, after(cause, by), rank, { sort: 'charge', sensor });
  }

  /** The volts have come to where a part changes. */
  cross(course: Course, sensor: ComponentId, stamp: Stamp): void {
    const lag = this.lags.get(sensor);
    this.lags.delete(sensor);
    const part = course.design.components[sensor]!;
    const state = lag === undefined ? undefined : this.moving(lag.capacitor);
    if (lag?.states === undefined || state?.moves === undefined) return;
    const { curve } = state.moves;
    // There may be another state between this one and the settled one.
    const element = course.shared.model.ofComponent[lag.capacitor]![0]!;
    const island = course.world.islandOf(element);
    const reader = island === undefined ? undefined : readerOf(course, part, island);
    if (reader === undefined) return;
    const since = between(state.since, stamp);
    // A little later, so that what has just been crossed lies behind.
    const soon = since.usual * (1 + 1e-6) + 1e-12;
    const now = curve.volts({ least: soon, usual: soon, most: soon }).map(({ usual }) => usual);
    const name = reader.name(curve.at(reader.measure, now) ?? Number.NaN);
    const [settled] = statesOf(course.world, sensor);
    const changes = (lag.changes ?? 1) + 1;
    const seconds = curve.changes(reader.measure, reader.name, changes);
    if (name === settled && isNever(seconds)) return;
    const next = { capacitor: lag.capacitor, states: [name], changes };
    this.lag(course, sensor, next, state.since, seconds, since.usual);
  }

  /** The state of one that moves in the island of a capacitor. */
  private moving(capacitor: ComponentId): State | undefined {
    const key = this.states.get(capacitor)?.key;
    return [...this.states.values()].find((state) => state.key === key && state.moves !== undefined);
  }

  private forget(course: Course, capacitor: ComponentId): void {
    for (const [sensor, lag] of this.lags) if (lag.capacitor === capacitor) this.lags.delete(sensor);
    course.cancel(capacitor, 'charge');
  }

  /** What a coil asks for while a capacitor holds its volts. */
  wanted(relay: ComponentId): Decision | undefined {
    return this.lags.get(relay)?.decision;
  }

  /** What a load or reader shows while a capacitor holds its volts. */
  shown(part: ComponentId): readonly string[] | undefined {
    return this.lags.get(part)?.states;
  }

  /** Everything that a capacitor keeps from showing what it settles at. */
  allShown(): ReadonlyMap<ComponentId, readonly string[]> {
    return new Map([...this.lags].flatMap(([id, { states }]) => (states === undefined ? [] : [[id, states] as const])));
  }

  private tell(course: Course, parts: readonly Capacitor[]): void {
    const components = parts.map(({ id }) => id);
    const key = components.join();
    if (this.told.has(key)) return;
    this.told.add(key);
    const names = parts.map(({ name }) => name).join(', ');
    const detail = `${names} close a ring without any ohms in it; how they share their charge is not followed, and they count as charged at once`;
    course.problems.push({ sort: 'not-computed', components, detail });
  }

  key(): string {
    const states = [...this.states].map(([id, { from, key }]) => `${id} ${from.usual.toPrecision(ALIKE)} ${key}`);
    const lags = [...this.lags].map(([id, { states: shown, decision }]) => `${id} ${shown ?? decision?.usual}`);
    return `${states.join()};${lags.join()}`;
  }
}

function keyOf(world: World, island: Island): string {
  const carried = island.pins.map(({ element }) => `${element.component.id}`).join();
  return `${island.elements.map(({ index }) => index).join()}|${world.statesIn(island).join()}|${carried}`;
}

/** Volts at which it settles; none where nothing drives what it hangs on. */
function voltsOf(world: World, { component }: Element): Seconds {
  const part = component as Capacitor;
  const volts = voltsBetween(world, part.a, part.b);
  return volts.sort === 'range' ? { least: volts.least, usual: volts.usual, most: volts.most } : NO_TIME;
}

/** As a case finds a capacitor: at rest for long. */
function settledIn(course: Course, world: World, element: Element): State {
  const island = world.islandOf(element);
  const from = voltsOf(world, element);
  return { key: island === undefined ? '' : keyOf(world, island), since: course.start, from };
}

function voltsNow({ moves, since, from }: State, now: Stamp): Seconds {
  if (moves === undefined) return from;
  const volts = moves.curve.volts(between(since, now))[moves.slot]!;
  return moves.sign === 1 ? volts : { least: -volts.most, usual: -volts.usual, most: -volts.least };
}

function isNever({ least }: Seconds): boolean {
  return least === Number.POSITIVE_INFINITY;
}

function startOf({ from }: ChargeCurve): readonly number[] {
  return from.map(({ usual }) => usual);
}

/** Every corner of the volts at the start. */
function endsOf({ from }: ChargeCurve): readonly (readonly number[])[] {
  return from.reduce<readonly (readonly number[])[]>(
    (corners, { least, most }) =>
      corners.flatMap((corner) =>
        least === most
          ? [[...corner, least]]
          : [
              [...corner, least],
              [...corner, most],
            ],
      ),
    [[]],
  );
}

interface Reading {
  readonly measure: (circuit: Circuit) => Measure;
  readonly name: (figure: number) => string;
}

/** How a load or reader is read in the island, where all of it lies there. */
function readerOf(course: Course, part: Component, island: Island): Reading | undefined {
  const { model } = course.shared;
  const inside = (...terminals: readonly number[]) => terminals.every((each) => island.local(model.nodeOf(each)) >= 0);
  const volts = (a: number, b: number) => voltsGauge(island, model.nodeOf(a), model.nodeOf(b)).measure;
  const main = model.ofComponent[part.id]!.filter(({ rule }) => rule.role === 'main');
  switch (part.kind) {
    case 'load':
      if (part.works === undefined || !inside(part.a, part.b)) return undefined;
      return { measure: volts(part.a, part.b), name: loadNamer(part) };
    case 'input':
      if (part.on === undefined || part.off === undefined || !inside(part.a, part.b)) return undefined;
      return {
        measure: part.on.unit === 'A' ? ampsGauge(island, main).measure : volts(part.a, part.b),
        name: inputNamer(part),
      };
    case 'zone': {
      const { scheme } = part;
      if (scheme === undefined || !inside(part.a, part.b)) return undefined;
      const [a, b] = [model.nodeOf(part.a), model.nodeOf(part.b)];
      const measure = scheme.unit === 'V' ? volts(part.a, part.b) : loopOhmsGauge(island, main[0]!, a, b).measure;
      return { measure, name: (figure) => classAt(scheme.bands, figure) ?? '' };
    }
    default:
      return undefined;
  }
}
