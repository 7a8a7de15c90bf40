/**
 * Events whose times overlap: whether the one that usually comes second may come first, and whether that would make
 * any difference.
 */
import { Influence } from '../analysis/influence.ts';
import { statesOf } from '../analysis/states.ts';
import type { Island } from '../build/index.ts';
import type { ComponentId } from '../design/components.ts';
import type { Course } from './course.ts';
import { earlier, goalKey, isSlow, type Pending } from './pending.ts';
import { between } from './stamp.ts';

/** Seconds under which two times count as one. */
const SAME = 1e-12;
/** Events that are tried against one event at a time. */
const MOST_RIVALS = 8;

/** Pending events that may come before one that usually comes earlier, the nearest first. */
export function rivalsOf(pending: Pending, pendings: readonly Pending[]): readonly Pending[] {
  const rivals: { readonly pending: Pending; readonly gap: number }[] = [];
  for (const other of pendings) {
    if (other === pending) continue;
    const gap = between(pending.stamp, other.stamp);
    if (gap.least < -SAME && gap.most > SAME) rivals.push({ pending: other, gap: gap.usual });
  }
  return rivals
    .sort((one, other) => one.gap - other.gap)
    .slice(0, MOST_RIVALS)
    .map((rival) => rival.pending);
}

/** What an event can touch at once. */
interface Reach {
  /** True for what may touch anything: a unit, a supply, a fault. */
  readonly all: boolean;
  readonly self: ComponentId;
  readonly sensors: ReadonlySet<ComponentId>;
}

export class Reaches {
  private readonly course: Course;
  private readonly known = new Map<Pending, Reach>();
  private readonly far = new Map<Pending, ReadonlySet<ComponentId>>();
  private readonly influence: Influence;

  private readonly watched: ReadonlySet<ComponentId>;

  /** `watched`: parts of which a case asks how they stood at every instant. */
  constructor(course: Course, watched: ReadonlySet<ComponentId>) {
    this.course = course;
    this.watched = watched;
    this.influence = new Influence(course.world);
  }

  /** Whether two events can meet in anything that remembers or moves, or the second one can come to undo the first. */
  meet(one: Pending, other: Pending): boolean {
    const [a, b] = [this.of(one), this.of(other)];
    if (a.all || b.all || this.downstream(other).has(a.self)) return true;
    if (a.self === b.self || a.sensors.has(b.self) || b.sensors.has(a.self)) return true;
    for (const sensor of a.sensors) if (b.sensors.has(sensor)) return true;
    return false;
  }

  /**
   * The first of some events with all that come at the very same instant, and those beside it that have the same cause,
   * take the same time and have nothing in common: in which order they come makes no difference.
   */
  together(events: readonly Pending[]): readonly Pending[] {
    const [first, ...others] = events as [Pending, ...Pending[]];
    const group = [first];
    let touched: Set<ComponentId> | undefined;
    for (const other of others) {
      const gap = between(first.stamp, other.stamp);
      if (gap.least > -SAME && gap.most < SAME) {
        group.push(other);
        continue;
      }
      if (!isTwin(first, other)) continue;
      touched ??= this.touched(first);
      const own = this.touched(other);
      if (touched.has(ALL) || own.has(ALL) || [...own].some((each) => touched!.has(each))) continue;
      for (const each of own) touched.add(each);
      group.push(other);
    }
    return group;
  }

  private touched(pending: Pending): Set<ComponentId> {
    const { all, self, sensors } = this.of(pending);
    return new Set(all ? [ALL] : [self, ...sensors]);
  }

  private of(pending: Pending): Reach {
    const known = this.known.get(pending);
    if (known !== undefined) return known;
    const made = this.make(pending);
    this.known.set(pending, made);
    return made;
  }

  private make({ target, event }: Pending): Reach {
    const { course } = this;
    const targets = event.sort === 'line' ? event.turns.map((turn) => turn.target) : [target];
    const kinds = targets.map((id) => course.design.components[id]!.kind);
    if (kinds.some((kind) => !LOCAL.has(kind))) return { all: true, self: target, sensors: new Set() };
    const moved = event.sort === 'report' || event.sort === 'window' ? this.follow(target) : targets;
    const islands = new Set<Island>();
    for (const id of moved) {
      for (const element of course.shared.model.drivenBy(id)) {
        if (element.component.id === id && course.design.components[id]!.kind === 'relay') continue;
        const island = course.world.islandOf(element);
        if (island !== undefined) this.reach(island, islands);
      }
    }
    const sensors = new Set<ComponentId>(event.sort === 'report' ? course.shared.watch.confirms.get(target) : []);
    if (event.sort === 'line') for (const id of targets) sensors.add(id);
    for (const island of islands) {
      for (const coil of island.coils) sensors.add(coil);
      for (const { component } of island.elements) {
        if (component.kind === 'capacitor' || this.watched.has(component.id)) sensors.add(component.id);
        if (course.shared.watch.isWatched(component.id)) sensors.add(component.id);
      }
    }
    return { all: false, self: target, sensors };
  }

  /** Everything that an event can come to move, however many relays lie between. */
  private downstream(pending: Pending): ReadonlySet<ComponentId> {
    const known = this.far.get(pending);
    if (known !== undefined) return known;
    const { course } = this;
    const found = new Set(this.of(pending).sensors);
    for (const id of found) {
      const { kind } = course.design.components[id]!;
      if (kind === 'relay') for (const relay of this.influence.next(id)) found.add(relay);
      for (const output of course.shared.watch.followersOf(id)) {
        for (const element of course.shared.model.drivenBy(output)) {
          for (const coil of course.world.islandOf(element)?.coils ?? []) found.add(coil);
        }
      }
    }
    this.far.set(pending, found);
    return found;
  }

  /** Outputs that hang on a report or on the end of a confirmation's time. */
  private follow(target: ComponentId): readonly ComponentId[] {
    const { watch } = this.course.shared;
    return [...watch.followersOf(target), ...(watch.followers.get(target) ?? [])];
  }

  private reach(island: Island, islands: Set<Island>): void {
    if (islands.has(island)) return;
    islands.add(island);
    for (const carrier of this.influence.carriersOf(island)) this.reach(carrier.island, islands);
  }
}

/** Stands for everything among what an event touches. */
const ALL: ComponentId = -1;

function isTwin({ stamp: one, event }: Pending, { stamp: other, event: too }: Pending): boolean {
  const same = one.by.least === other.by.least && one.by.usual === other.by.usual && one.by.most === other.by.most;
  return same && one.cause === other.cause && event.sort === 'relay' && too.sort === 'relay';
}

/** Kinds that touch only the islands that they lie in or drive. */
const LOCAL: ReadonlySet<string> = new Set([
  'relay',
  'output',
  'switch',
  'actuator',
  'zone',
  'input',
  'confirm',
  'capacitor',
  'load',
]);

/**
 * Whether the site ends up otherwise if `other` comes first, or something shows or moves in between that is asked about
 * or remembers it.
 */
export function orderMatters(course: Course, one: Pending, other: Pending, watched: ReadonlySet<ComponentId>): boolean {
  const before = shownBy(course, watched);
  const first = course.clone();
  first.apply([one]);
  const onTheWay = lasting(course, first);
  const between = shownBy(first, watched);
  const later = first.find(other);
  if (later !== undefined) first.apply([later]);
  const second = course.clone();
  second.apply([other]);
  const onTheOther = lasting(course, second);
  const otherwise = shownBy(second, watched);
  if (isUndone(second, one)) return true;
  const earlier = second.find(one);
  if (earlier !== undefined) second.apply([earlier]);
  if (endKey(first) !== endKey(second)) return true;
  const after = shownBy(first, watched);
  const passes = (each: string, i: number) => each !== before[i] && each !== after[i];
  if (between.some(passes) || otherwise.some(passes)) return true;
  return onTheWay.some((goal) => !goals(first).has(goal)) || onTheOther.some((goal) => !goals(second).has(goal));
}

/** Events that are followed to see whether they undo another one. */
const MOST_STEPS = 30;

/** Whether what follows from an event that came first keeps another one from happening at all. */
function isUndone(course: Course, one: Pending): boolean {
  const ahead = course.clone();
  for (let step = 0; step < MOST_STEPS; step++) {
    const waiting = ahead.find(one);
    if (waiting === undefined) return true;
    const next = ahead.pendings
      .filter((each) => each.order !== one.order && !isSlow(each) && between(each.stamp, waiting.stamp).most > SAME)
      .sort(earlier)[0];
    if (next === undefined) return false;
    ahead.apply([next]);
  }
  return false;
}

function shownBy({ world }: Course, watched: ReadonlySet<ComponentId>): readonly string[] {
  return [...watched].map((id) => statesOf(world, id).join());
}

function endKey(course: Course): string {
  return `${course.key()}|${[...goals(course)].sort().join()}`;
}

function goals(course: Course): ReadonlySet<string> {
  return new Set(course.pendings.map(goalKey));
}

/** What an event starts that leaves something behind even where it is stopped again: latches, holds, timers, reports. */
function lasting(before: Course, after: Course): readonly string[] {
  const known = goals(before);
  return after.pendings
    .filter((pending) => !known.has(goalKey(pending)) && remembers(after, pending))
    .map((pending) => goalKey(pending));
}

function remembers(course: Course, { target, event }: Pending): boolean {
  if (event.sort === 'report' || event.sort === 'trigger' || event.sort === 'timer') return true;
  const part = course.design.components[target]!;
  if (event.sort !== 'relay' || part.kind !== 'relay') return false;
  if (part.latching !== undefined || part.timer !== undefined) return true;
  return course.shared.model.ofComponent[target]!.some((element) =>
    course.world.islandOf(element)?.deciders.includes(target),
  );
}
