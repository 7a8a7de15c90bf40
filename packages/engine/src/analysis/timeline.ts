/**
 * A case as a row of settled instants: one after each group of turns, one whenever something goes back by itself.
 * Each expectation remembers at which instant it stands.
 */
import type { Case, Expect, Step, Turn } from '../design/cases.ts';
import type { ComponentId } from '../design/components.ts';
import type { Datum } from '../design/datum.ts';
import { movesByItself, runningInTime, tracksOfCase } from '../time/line.ts';
import type { Seconds } from '../time/stamp.ts';
import type { Track } from '../time/tracks.ts';
import type { Signal, Verdict } from './contract.ts';
import { type Doings, withTurn, withWord } from './doings.ts';
import type { ProblemNote } from './problems.ts';
import { settling } from './settle.ts';
import type { Shared } from './shared.ts';
import { signalsOf } from './signals.ts';
import type { World } from './world.ts';

export const NOW: Seconds = { least: 0, usual: 0, most: 0 };

export function later(time: Seconds, by: Pick<Datum, 'least' | 'usual' | 'most'>): Seconds {
  return { least: time.least + by.least, usual: time.usual + by.usual, most: time.most + by.most };
}

export interface Instant {
  readonly time: Seconds;
  readonly label: string;
  readonly world: World;
  readonly doings: Doings;
  /** What brought it about; absent for the beginning of the case. */
  readonly turns: readonly Turn[];
  /** True where something went back by itself: its time has a spread of its own. */
  readonly byItself: boolean;
}

export interface Asked {
  readonly expect: Expect;
  /** Index of the instant at whose state it stands. */
  readonly instant: number;
  readonly time: Seconds;
  /** The instant at or after which `within` counts, and its time: that of the last turn or wait above. */
  readonly since: number;
  /** What was found where the case was played through time. */
  readonly verdict?: () => Verdict;
}

export interface Timeline {
  readonly instants: readonly Instant[];
  readonly asked: readonly Asked[];
  readonly problems: readonly ProblemNote[];
  readonly signals: () => readonly Signal[];
  readonly tracks: () => readonly Track[];
  /** Played event by event, because something in it moves by itself. */
  readonly inTime: boolean;
}

interface Pending {
  readonly at: Seconds;
  readonly target: ComponentId;
  readonly back: string | undefined;
  readonly turn: Turn;
}

/** `start` is the world in which the case begins: rest, or the end of another case. */
export function* running(shared: Shared, one: Case, start: Instant, rest: World): Generator<void, Timeline> {
  const run = new Run(shared, start, rest);
  for (const step of one.steps) yield* run.step(step);
  yield* run.finish();
  const { instants, asked, problems } = run;
  if (!movesByItself(one, run)) {
    const signals = () => signalsOf(instants, rest);
    return {
      instants,
      asked,
      problems,
      signals,
      tracks: once(() => tracksOfCase(shared, one, start, rest)),
      inTime: false,
    };
  }
  const played = yield* runningInTime(shared, one, start, rest);
  const memory = problems.filter(({ sort }) => sort !== 'relay-oscillates');
  return { ...played, problems: [...memory, ...played.problems] };
}

/** Found when it is first asked for. */
export function once<T>(make: () => T): () => T {
  let made: { readonly value: T } | undefined;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
}

class Run {
  readonly instants: Instant[];
  readonly asked: Asked[] = [];
  readonly problems: ProblemNote[] = [];
  circles = false;
  private readonly shared: Shared;
  private readonly rest: World;
  private doings: Doings;
  private now: Seconds = NOW;
  private turns: Turn[] = [];
  private pending: Pending[] = [];

  constructor(shared: Shared, start: Instant, rest: World) {
    this.shared = shared;
    this.rest = rest;
    this.doings = start.doings;
    this.instants = [{ ...start, time: NOW, turns: [], byItself: false }];
  }

  *step(step: Step): Generator<void, void> {
    if (step.sort === 'turn') {
      this.turn(step);
      return;
    }
    yield* this.settleTurns();
    if (step.sort === 'wait') {
      yield* this.wait(step.seconds);
      return;
    }
    const instant = this.instants.length - 1;
    this.asked.push({ expect: step, instant, time: this.now, since: instant });
  }

  *finish(): Generator<void, void> {
    yield* this.settleTurns();
    while (this.pending.length > 0) yield* this.goBack();
  }

  private turn(turn: Turn): void {
    const { design } = this.shared.model;
    const done = withTurn(design, this.doings, turn);
    if (done === undefined) {
      const name = design.components[turn.target]!.name;
      const detail = `turning ${name} ${turn.state} is not followed`;
      this.problems.push({ sort: 'not-computed', components: [turn.target], detail });
      return;
    }
    if (turn.for !== undefined) {
      const back = this.doings.turned.get(turn.target);
      const at = later(this.now, turn.for);
      this.pending = this.pending.filter((other) => other.target !== turn.target);
      this.pending.push({ at, target: turn.target, back, turn });
    } else this.pending = this.pending.filter((other) => other.target !== turn.target);
    this.doings = done;
    this.turns.push(turn);
  }

  private *settleTurns(): Generator<void, void> {
    if (this.turns.length === 0) return;
    const { turns } = this;
    this.turns = [];
    const words = turns.map((turn) => `${this.nameOf(turn.target)} ${turn.state}`);
    yield* this.settle(`after ${words.join(', ')}`, this.now, turns, false);
  }

  private *settle(label: string, time: Seconds, turns: readonly Turn[], byItself: boolean): Generator<void, void> {
    const before = this.instants.at(-1)!.world;
    const { world, problems, circles } = yield* settling(this.shared, this.doings, this.rest, before);
    this.problems.push(...problems);
    this.circles ||= circles;
    this.instants.push({ time, label, world, doings: this.doings, turns, byItself });
  }

  private *wait(seconds: Datum): Generator<void, void> {
    const end = later(this.now, seconds);
    for (;;) {
      const next = this.nextPending();
      if (next === undefined || next.usual > end.usual) break;
      yield* this.goBack();
    }
    this.now = end;
  }

  private nextPending(): Seconds | undefined {
    let first: Seconds | undefined;
    for (const { at } of this.pending) if (first === undefined || at.usual < first.usual) first = at;
    return first;
  }

  /** The next things that go back by themselves, all that do so at one instant. */
  private *goBack(): Generator<void, void> {
    const time = this.nextPending()!;
    const due = this.pending.filter(({ at }) => at.usual === time.usual);
    this.pending = this.pending.filter(({ at }) => at.usual !== time.usual);
    for (const { target, back } of due) this.doings = withWord(this.doings, target, back);
    const names = due.map(({ target }) => this.nameOf(target)).join(', ');
    const spread = {
      least: Math.min(...due.map(({ at }) => at.least)),
      usual: time.usual,
      most: Math.max(...due.map(({ at }) => at.most)),
    };
    const turns = due.map(({ turn }) => turn);
    yield* this.settle(`after ${round(time.usual)} s, ${names} back`, spread, turns, true);
  }

  private nameOf(component: ComponentId): string {
    return this.shared.model.design.components[component]!.name;
  }
}

function round(seconds: number): string {
  return String(Number(seconds.toPrecision(6)));
}
