/**
 * A case played through time: its lines and everything that they start, in the order in which it usually comes; where
 * times overlap and the order makes a difference, each order is a branch of its own.
 */
import type { ProblemNote } from '../analysis/problems.ts';
import type { Shared } from '../analysis/shared.ts';
import type { Instant } from '../analysis/timeline.ts';
import type { World } from '../analysis/world.ts';
import type { Case, Turn } from '../design/cases.ts';
import type { ComponentId } from '../design/components.ts';
import type { Branch, Decided, Endless, Entry, Skip, StampedInstant, Stood } from './branch.ts';
import { Course } from './course.ts';
import { settled } from './forward.ts';
import { labelOf } from './labels.ts';
import { orderMatters, Reaches, rivalsOf } from './orders.ts';
import { earlier, isSlow, type Pending } from './pending.ts';
import { endlessOf, seconds, skip, spread } from './rounds.ts';
import { after, between, notBefore, START, type Stamp } from './stamp.ts';

/** Branches of one case that are followed. */
const MOST_BRANCHES = 64;
/** Events of one branch. */
const MOST_EVENTS = 4000;
const SAME = 1e-12;
/** What is put after another event comes so much later, for taking them in turn. */
const STEP = 1e-9;

export interface Played {
  /** The first is the usual one. */
  readonly branches: readonly Branch[];
  /** False where not every order of events was followed. */
  readonly complete: boolean;
  readonly problems: readonly ProblemNote[];
}

class Track {
  course: Course;
  step = 0;
  clock: Stamp = START;
  /** Of the clock, as ranks of events count. */
  rank = 0;
  since: Stamp = START;
  line: Pending | undefined;
  epoch = 0;
  events = 0;
  entries: Entry[];
  instants: StampedInstant[];
  stood: Stood[] = [];
  decided: readonly Decided[] = [];
  skips: Skip[] = [];
  endless: Endless | undefined;
  /** The entry whose state, met once more, ends an endless branch. */
  closing: number | undefined;
  /** States met since the last line, by their keys: the entry at which. */
  seen = new Map<string, number>();

  constructor(course: Course, first: StampedInstant) {
    this.course = course;
    this.entries = [{ stamp: START, world: course.world, epoch: 0, events: [], held: new Map() }];
    this.instants = [first];
  }

  fork(): Track {
    const made: Track = Object.assign(Object.create(Track.prototype) as Track, this);
    made.course = this.course.clone();
    made.entries = [...this.entries];
    made.instants = [...this.instants];
    made.stood = [...this.stood];
    made.skips = [...this.skips];
    made.seen = new Map(this.seen);
    return made;
  }
}

export function* playing(shared: Shared, one: Case, start: Instant, rest: World): Generator<void, Played> {
  const { branches, complete, problems } = yield* playingOn(shared, one, start, rest);
  return { branches, complete, problems };
}

/** As `playing`; relays that are `awake` are asked to move although nothing has been done yet. */
export function* playingOn(
  shared: Shared,
  one: Case,
  start: Instant,
  rest: World,
  awake: ReadonlySet<ComponentId> = new Set(),
): Generator<void, Played & { readonly course: Course }> {
  const player = new Player(one);
  const course = new Course(shared, rest, start.world, start.doings);
  course.awake = awake;
  if (awake.size > 0) course.refresh();
  const first = { ...start, time: START, turns: [], byItself: false, stamp: START };
  yield* player.play(new Track(course, first));
  const problems = [...course.problems, ...player.problems];
  return { branches: player.done, complete: !player.isFull, problems, course };
}

class Player {
  readonly done: Branch[] = [];
  readonly problems: ProblemNote[] = [];
  private readonly one: Case;
  private readonly open: Track[] = [];
  /** Parts that are asked about at every instant. */
  private readonly watched: ReadonlySet<ComponentId>;
  private started = 1;
  isFull = false;

  constructor(one: Case) {
    this.one = one;
    const watched = new Set<ComponentId>();
    for (const step of one.steps) {
      if (step.sort !== 'expect' || (step.times === undefined && step.throughout !== true)) continue;
      if (step.subject.sort !== 'between') watched.add(step.subject.component);
    }
    this.watched = watched;
  }

  *play(first: Track): Generator<void, void> {
    this.open.push(first);
    for (;;) {
      const track = this.open.pop();
      if (track === undefined) return;
      if (yield* this.through(track)) this.finish(track);
    }
  }

  /** Plays to the end of the case; false where the track was forked. */
  private *through(track: Track): Generator<void, boolean> {
    const { steps } = this.one;
    while (track.step < steps.length) {
      const step = steps[track.step]!;
      if (step.sort === 'wait') {
        track.clock = after(track.clock, step.seconds);
        track.rank += step.seconds.usual;
        track.since = track.clock;
        track.step++;
      } else if (step.sort === 'expect') {
        if (!(yield* this.until(track, track.rank))) return false;
        const { clock: stamp, since } = track;
        track.stood.push({ expect: step, stamp, since, instant: track.instants.length - 1, epoch: track.epoch });
        track.step++;
      } else {
        const turns = this.turnsAt(track.step);
        track.line ??= track.course.scheduleAt(turns[0]!.target, track.clock, track.rank, {
          sort: 'line',
          turns,
        });
        if (!(yield* this.until(track, track.rank))) return false;
        track.line = undefined;
        track.since = track.clock;
        track.step += turns.length;
      }
    }
    return yield* this.until(track, undefined);
  }

  private turnsAt(step: number): readonly Turn[] {
    const turns: Turn[] = [];
    for (let i = step; i < this.one.steps.length; i++) {
      const each = this.one.steps[i]!;
      if (each.sort !== 'turn') break;
      turns.push(each);
    }
    return turns;
  }

  /** Lets everything happen that usually comes until then, or all there is. */
  private *until(track: Track, end: number | undefined): Generator<void, boolean> {
    for (;;) {
      const { course } = track;
      const next = [...course.pendings].sort(earlier);
      const [first] = next;
      if (first === undefined) return true;
      if (end !== undefined && first.rank > end + SAME) return true;
      if (track.events >= MOST_EVENTS) {
        this.give(track, first);
        return true;
      }
      const reaches = new Reaches(course, this.watched);
      const group = reaches.together(next.filter(({ rank }) => rank <= first.rank + SAME));
      if (this.forked(track, group, reaches)) return false;
      this.happen(track, group);
      if (this.comesAgain(track, end)) return true;
      yield;
    }
  }

  private give(track: Track, at: Pending): void {
    const detail = `more than ${MOST_EVENTS} events; what comes after ${at.stamp.usual.toPrecision(6)} s is not followed`;
    this.problems.push({ sort: 'bound-reached', components: [at.target], detail });
    track.course.pendings = [];
  }

  /** Splits the track where an event may come before one of the group and that makes a difference. */
  private forked(track: Track, group: readonly Pending[], reaches: Reaches): boolean {
    const { course } = track;
    for (const one of group) {
      for (const other of rivalsOf(one, course.pendings)) {
        if (!reaches.meet(one, other) || !orderMatters(course, one, other, this.watched)) continue;
        if (this.started >= MOST_BRANCHES) {
          if (this.isFull) return false;
          this.isFull = true;
          const detail = `events overlap in more than ${MOST_BRANCHES} orders; further ones are not followed`;
          this.problems.push({ sort: 'bound-reached', components: [one.target, other.target], detail });
          return false;
        }
        this.started++;
        this.split(track, one, other);
        return true;
      }
    }
    return false;
  }

  private split(track: Track, one: Pending, other: Pending): void {
    const { course } = track;
    const against = track.fork();
    // What can only come after the one comes after it still, and as long after it.
    const later = Math.max(0, other.rank - one.rank) + STEP;
    const follows = (stamp: Stamp) => between(one.stamp, stamp).least >= -SAME;
    for (const each of course.pendings) {
      if (each !== one && each !== other && follows(each.stamp)) {
        against.course.replace(each, { rank: each.rank + later });
      }
    }
    if (follows(track.clock)) against.rank += later;
    against.course.replace(one, { stamp: notBefore(one.stamp, other.stamp), rank: one.rank + later });
    const words = `${labelOf(course, other)} before ${labelOf(course, one)}`;
    against.decided = [...against.decided, { words, components: [one.target, other.target] }];
    course.replace(other, { stamp: notBefore(other.stamp, one.stamp) });
    this.settleAgain(against);
    this.settleAgain(track);
    // The last one opened goes on first: the usual order.
    this.open.push(against, track);
  }

  private happen(track: Track, group: readonly Pending[]): void {
    const { course } = track;
    const labels = group.map((pending) => labelOf(course, pending));
    course.apply(group);
    track.events += group.length;
    const slow = group.filter(isSlow);
    if (slow.length > 0) track.epoch++;
    const stamp = course.now;
    const held = course.charging.allShown();
    track.entries.push({ stamp, world: course.world, epoch: track.epoch, events: group, held });
    const lines = group.filter(({ event }) => event.sort === 'line');
    if (lines.length > 0) track.seen = new Map();
    const shown = group.filter((pending) => isSlow(pending) && !isPulse(course, pending));
    if (shown.length === 0) return;
    const { world, doings } = settled(course);
    const turns = shown.flatMap(({ event }) =>
      event.sort === 'line' ? event.turns : event.sort === 'back' ? [event.turn] : [],
    );
    const byItself = lines.length === 0;
    const what = labels.filter((_, i) => shown.includes(group[i]!)).join(', ');
    const label = byItself ? `after ${seconds(stamp.usual)}, ${what}` : `after ${what}`;
    const { least, usual, most } = stamp;
    const time = { least, usual, most };
    track.instants.push({ stamp, time, label, world, doings, turns, byItself });
  }

  /** The last settled instant was found in the usual order: here it follows the order that was taken. */
  private settleAgain(track: Track): void {
    const last = track.instants.at(-1)!;
    if (track.instants.length > 1) track.instants[track.instants.length - 1] = { ...last, ...settled(track.course) };
  }

  /**
   * Whether everything is as it was before, pending events and their distances with it: from then on it repeats itself
   * until something goes back or the case goes on. Whole rounds up to there are passed over; without an end the track is
   * complete once a second round has been seen.
   */
  private comesAgain(track: Track, end: number | undefined): boolean {
    const { course } = track;
    if (course.pendings.every(({ event }) => event.sort === 'back')) return false;
    // A round that is driven by pulses or times is counted from one of those: relays come after them with their spread.
    const driven = course.pendings.some(({ event }) => event.sort === 'pulse' || event.sort === 'timer');
    if (driven && !track.entries.at(-1)!.events.some(isSlow)) return false;
    const key = course.keyInTime();
    const index = track.entries.length - 1;
    const before = track.seen.get(key);
    if (before === undefined) {
      track.seen.set(key, index);
      return false;
    }
    if (track.closing !== undefined) {
      if (before !== track.closing) return false;
      course.pendings = [];
      return true;
    }
    const round = track.entries.slice(before + 1);
    const period = between(track.entries[before]!.stamp, course.now);
    const endless = endlessOf(course, before, period, round);
    if (endless.oscillates) this.tell(course, round, endless);
    if (!(period.usual > 0)) {
      this.stop(track, endless);
      return true;
    }
    const stops = [...course.pendings.filter(({ event }) => event.sort === 'back').map(({ rank }) => rank)];
    if (end !== undefined) stops.push(end);
    if (stops.length > 0) {
      const passed = skip(course, period, Math.min(...stops));
      if (passed !== undefined) track.skips.push({ ...passed, before, last: index });
      track.seen = new Map();
      return false;
    }
    // The next round is seen as well, so that what stands across its beginning is seen to its end.
    track.endless = { ...endless, from: index };
    track.closing = before;
    return false;
  }

  /** A round of which no time is known: nothing can be said of what takes part in it. */
  private stop(track: Track, { parts }: Endless): void {
    const { course } = track;
    course.unsettle(new Set(parts.filter((id) => course.design.components[id]!.kind === 'relay')));
    const held = course.charging.allShown();
    track.entries.push({ stamp: course.now, world: course.world, epoch: track.epoch, events: [], held });
  }

  private tell(course: Course, round: readonly Entry[], { period, parts }: Endless): void {
    const moves = round.flatMap(({ events }) => events.map((pending) => labelOf(course, pending)));
    const often = period.usual > 0 ? ` every ${spread(period)}` : ', how often their times do not say';
    const detail = `${moves.join(', ')}, and so on${often}`;
    this.problems.push({ sort: 'relay-oscillates', components: parts, detail });
  }

  private finish(track: Track): void {
    const { entries, instants, stood, skips, decided, endless, course } = track;
    const end = course.key();
    this.done.push({ entries, instants, stood, skips, decided, end, ...(endless === undefined ? {} : { endless }) });
  }
}

/** Part of a pattern, which is judged as on and off at once. */
function isPulse(course: Course, { target, event }: Pending): boolean {
  if (event.sort === 'pulse') return course.outputs.isPattern(target);
  const part = course.design.components[target]!;
  return event.sort === 'timer' && part.kind === 'relay' && part.timer?.function.word === 'pulsing';
}
