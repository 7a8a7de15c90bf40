/**
 * A site on its way through time: what has been turned, where contacts stand, and what is going to happen. Between two
 * events nothing moves; each event is applied, the site is solved as it stands then, and what it starts or stops
 * becomes new events.
 */
import { type Decision, decide, sameDecision } from '../analysis/decision.ts';
import { type Doings, withTurn, withWord } from '../analysis/doings.ts';
import { finish } from '../analysis/moment.ts';
import type { ProblemNote } from '../analysis/problems.ts';
import { coilVolts } from '../analysis/relays.ts';
import { settling } from '../analysis/settle.ts';
import type { Shared } from '../analysis/shared.ts';
import type { World } from '../analysis/world.ts';
import type { Lack } from '../build/index.ts';
import type { Turn } from '../design/cases.ts';
import type { ComponentId, ComponentOf } from '../design/components.ts';
import { Charging } from './charging.ts';
import { goalOf, moveDelay } from './moving.ts';
import { Outputs } from './outputs.ts';
import { type Event, goalKey, type Pending } from './pending.ts';
import { Readers } from './readers.ts';
import { after, type Delay, START, type Stamp } from './stamp.ts';
import { TimerRun } from './timer-run.ts';
import { isTimer } from './timers.ts';

type Relay = ComponentOf<'relay'>;

/** Rounds of what follows at once from one event: unknown states that spread, contacts that act without delay. */
const MOST_ROUNDS = 50;

export class Course {
  readonly shared: Shared;
  readonly rest: World;
  /** The site as the case found it. */
  readonly begin: World;
  world: World;
  readonly start = START;
  /** The site just before the last event. */
  previous: World;
  now: Stamp = START;
  /** Rank of the last event. */
  rank = 0;
  pendings: readonly Pending[] = [];
  readonly timers: TimerRun;
  readonly outputs: Outputs;
  readonly readers: Readers;
  readonly charging: Charging;
  readonly problems: ProblemNote[];
  /** Relays that do not stand at rest as their coils ask. */
  awake: ReadonlySet<ComponentId> = new Set();
  private readonly base: Doings;
  private turns: readonly Turn[] = [];
  private readonly positions: Map<ComponentId, Decision>;
  private made = 0;

  constructor(shared: Shared, rest: World, begin: World, base: Doings, like?: Course) {
    this.shared = shared;
    this.rest = rest;
    this.begin = begin;
    this.base = base;
    this.world = like?.world ?? begin;
    this.previous = like?.previous ?? begin;
    this.now = like?.now ?? START;
    this.rank = like?.rank ?? 0;
    this.pendings = like?.pendings ?? [];
    this.turns = like?.turns ?? [];
    this.made = like?.made ?? 0;
    this.problems = like?.problems ?? [];
    this.positions = like === undefined ? differing(begin, rest) : new Map(like.positions);
    this.timers = new TimerRun(like?.timers);
    this.outputs = new Outputs(like?.outputs);
    this.readers = new Readers(like?.readers);
    this.charging = new Charging(like?.charging);
    if (like !== undefined) this.awake = like.awake;
    if (like === undefined) this.outputs.begin(this);
  }

  clone(): Course {
    return new Course(this.shared, this.rest, this.begin, this.base, this);
  }

  get design() {
    return this.shared.model.design;
  }

  /** Everything done up to now, pulses as they stand. */
  doings(): Doings {
    let doings = this.base;
    for (const turn of this.turns) doings = withTurn(this.design, doings, turn) ?? doings;
    for (const [output, word] of this.outputs.phases()) {
      if (doings.turned.has(output)) doings = withWord(doings, output, word);
    }
    return doings;
  }

  /** The word that an output was turned to and has not gone back from. */
  turnedWord(component: ComponentId): string | undefined {
    for (let i = this.turns.length - 1; i >= 0; i--) {
      if (this.turns[i]!.target === component) return this.turns[i]!.state;
    }
    return this.base.turned.get(component);
  }

  position(relay: ComponentId): Decision {
    return this.positions.get(relay) ?? this.rest.decision(relay);
  }

  place(relay: ComponentId, decision: Decision): void {
    if (sameDecision(decision, this.rest.decision(relay))) this.positions.delete(relay);
    else this.positions.set(relay, decision);
  }

  // ---- what is going to happen ----

  schedule(target: ComponentId, cause: Stamp, by: Delay, event: Event): Pending {
    const stamp = after(cause, by);
    return this.wait({ target, stamp, rank: this.rank + stamp.by.usual, order: this.made++, event });
  }

  wait(pending: Pending): Pending {
    this.pendings = [...this.pendings, pending];
    return pending;
  }

  /** An event of the case itself, which has its time already. */
  scheduleAt(target: ComponentId, stamp: Stamp, rank: number, event: Event): Pending {
    return this.wait({ target, stamp, rank, order: this.made++, event });
  }

  pendingOf(target: ComponentId, sort: Event['sort']): Pending | undefined {
    return this.pendings.find((pending) => pending.target === target && pending.event.sort === sort);
  }

  cancel(target: ComponentId, sort: Event['sort']): void {
    if (this.pendingOf(target, sort) === undefined) return;
    this.pendings = this.pendings.filter((other) => other.target !== target || other.event.sort !== sort);
  }

  /** The pending event again in a copy of the course in which it may have been stamped anew. */
  find({ order }: Pending): Pending | undefined {
    return this.pendings.find((pending) => pending.order === order);
  }

  replace(pending: Pending, change: Partial<Pick<Pending, 'stamp' | 'rank'>>): void {
    this.pendings = this.pendings.map((other) => (other.order === pending.order ? { ...other, ...change } : other));
  }

  // ---- what happens ----

  /** Lets events happen at one instant and everything that follows from them at once. */
  apply(events: readonly Pending[]): void {
    this.previous = this.world;
    const orders = new Set(events.map(({ order }) => order));
    this.pendings = this.pendings.filter(({ order }) => !orders.has(order));
    const [first] = events as [Pending, ...Pending[]];
    this.now = first.stamp;
    this.rank = Math.max(this.rank, first.rank);
    for (const pending of events) this.happen(pending);
    this.react(first.stamp);
  }

  /** Solves the site as it stands, nothing having happened. */
  refresh(): void {
    this.react(this.now);
  }

  /** Relays that find no state to rest in: what hangs on them cannot be told. */
  unsettle(relays: ReadonlySet<ComponentId>): void {
    const names = [...relays].map((id) => this.design.components[id]!.name).join(', ');
    for (const id of relays) {
      const { usual } = this.position(id);
      const reason = `${names} find no state to rest in`;
      this.place(id, { usual, possible: ['released', 'operated'], lacks: [], reason });
    }
    this.pendings = [];
    this.world = this.placed();
  }

  private happen(pending: Pending): void {
    const { target, stamp, event } = pending;
    switch (event.sort) {
      case 'line':
        for (const turn of event.turns) this.turn(turn, stamp);
        return;
      case 'back':
        this.turns = this.turns.filter((turn) => turn !== event.turn);
        this.outputs.look(this, target, stamp);
        return;
      case 'relay': {
        const { early } = this.position(target);
        this.place(target, early === undefined ? event.decision : { ...event.decision, early });
        return;
      }
      case 'trigger':
        this.timers.start(this, target, stamp);
        return;
      case 'timer':
        this.timers.runOut(this, target, stamp);
        return;
      case 'pulse':
        this.outputs.toggle(this, target, stamp);
        return;
      case 'report':
        this.readers.report(this, target, event.state, stamp);
        return;
      case 'window':
        this.readers.close(this, target, event.zone, stamp);
        return;
      case 'charge':
        this.charging.cross(this, event.sensor, stamp);
    }
  }

  private turn(turn: Turn, stamp: Stamp): void {
    const { target } = turn;
    if (withTurn(this.design, this.base, turn) === undefined) {
      const detail = `turning ${this.design.components[target]!.name} ${turn.state} is not followed`;
      this.problems.push({ sort: 'not-computed', components: [target], detail });
      return;
    }
    this.cancel(target, 'back');
    this.turns = [...this.turns, turn];
    if (turn.for !== undefined) this.schedule(target, stamp, turn.for, { sort: 'back', turn });
    this.outputs.look(this, target, stamp, true);
  }

  private react(cause: Stamp): void {
    for (let round = 0; round < MOST_ROUNDS; round++) {
      this.world = this.placed();
      this.charging.look(this, cause);
      let again = false;
      for (const id of this.candidates()) {
        const relay = this.design.components[id] as Relay;
        const moved = isTimer(relay) ? this.timers.look(this, relay, cause) : this.look(relay, cause);
        again ||= moved;
      }
      this.readers.look(this, cause);
      if (!again) return;
    }
  }

  private placed(): World {
    const { world, problems } = finish(
      settling(this.shared, this.doings(), this.rest, this.world, {
        all: true,
        positions: this.positions,
        followed: this.outputs.followed(),
        confirmed: this.readers.confirmed(),
      }),
    );
    this.problems.push(...problems);
    return world;
  }

  /** Relays that may be asked to move. */
  private candidates(): ReadonlySet<ComponentId> {
    const found = new Set<ComponentId>([...this.awake, ...this.positions.keys()]);
    for (const island of this.world.dirty) for (const coil of island.coils) found.add(coil);
    for (const { target, event } of this.pendings) if (event.sort === 'relay') found.add(target);
    for (const timer of this.timers.known()) found.add(timer);
    return found;
  }

  /** Where the coil of an ordinary relay asks it to go. True where that happens at once. */
  private look(relay: Relay, cause: Stamp): boolean {
    const position = this.position(relay.id);
    const want = this.charging.wanted(relay.id) ?? this.settled(relay, position);
    const unknown = (decision: Decision) => decision.lacks.length > 0 || decision.reason !== undefined;
    if (unknown(want) || unknown(position)) {
      if (sameDecision(want, position)) return false;
      this.cancel(relay.id, 'relay');
      this.place(relay.id, want);
      return true;
    }
    this.move(relay, want, cause);
    return false;
  }

  /** What the coil asks for once every capacitor has settled. */
  settled(relay: Relay, position: Decision): Decision {
    const volts = coilVolts(this.world, relay);
    if (volts.sort === 'unknown') {
      const { reason } = volts;
      return { ...position, lacks: eachOnce(volts.lacks), ...(reason === undefined ? {} : { reason }) };
    }
    if (volts.sort === 'no-connection') return position;
    const { reason: _, ...known } = position;
    return decide(relay, this.shared.model.context, volts, known, this.isWarm(relay.id));
  }

  /** Held in at rest, so that its coil is warm. */
  isWarm(relay: ComponentId): boolean {
    return this.rest.decision(relay).usual === 'operated';
  }

  /** Sets a relay on its way, keeps it on its way, or lets it stay. */
  move(relay: Relay, want: Decision, cause: Stamp): void {
    const position = this.position(relay.id);
    const pending = this.pendingOf(relay.id, 'relay');
    if (sameDecision({ ...want, ...(position.early && { early: position.early }) }, position)) {
      this.cancel(relay.id, 'relay');
      return;
    }
    const event: Event = { sort: 'relay', decision: want };
    if (pending !== undefined && pending.event.sort === 'relay') {
      if (goalKey(pending) === goalKey({ ...pending, event })) return;
      this.cancel(relay.id, 'relay');
      if (goalOf(position, pending.event.decision) === goalOf(position, want)) {
        this.wait({ ...pending, event });
        return;
      }
    }
    const delay = moveDelay(relay, goalOf(position, want), this.previous, this.world);
    this.schedule(relay.id, cause, delay, event);
  }

  // ---- comparing ----

  /** Everything that decides what comes next, without times. */
  key(): string {
    const positions = [...this.positions].sort(([one], [other]) => one - other);
    const turned = this.turns.map(({ target, state }) => `${target} ${state}`).join();
    return [
      positions.map(([id, { usual, possible, early }]) => `${id} ${usual} ${possible.join('/')} ${early ?? ''}`).join(),
      turned,
      this.timers.key(),
      this.outputs.key(),
      this.readers.key(),
      this.charging.key(),
    ].join('|');
  }

  /** As `key`, with what is pending and when, counted from now; only what merely goes back is left out. */
  keyInTime(): string {
    const pending = this.pendings
      .filter(({ event }) => event.sort !== 'back')
      .map((each) => `${goalKey(each)} ${(each.rank - this.rank).toFixed(9)}`)
      .sort();
    return `${this.key()}|${pending.join()}`;
  }
}

/** Missing data, each once: in a circle of relays each passes on what the others lack. */
function eachOnce(lacks: readonly Lack[]): readonly Lack[] {
  const known = new Map(lacks.map((lack) => [`${lack.component} ${lack.property}`, lack]));
  return [...known.values()];
}

/** Where relays stand that do not stand as at rest. */
function differing(begin: World, rest: World): Map<ComponentId, Decision> {
  if (begin === rest) return new Map();
  return new Map([...begin.decisions].filter(([id, decision]) => !sameDecision(decision, rest.decision(id))));
}
