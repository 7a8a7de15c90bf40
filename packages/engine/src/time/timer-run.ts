/** Timers on their way through time: what starts them, what ends them, and what happens when their time has run out. */
import { type Decision, type RelayState, sameDecision } from '../analysis/decision.ts';
import type { ComponentId } from '../design/components.ts';
import type { Course } from './course.ts';
import type { Delay, Stamp } from './stamp.ts';
import { earlyState, hasControl, inputsOf, isActive, type Timer, unknownOf } from './timers.ts';

interface State {
  readonly supply: boolean;
  readonly control: boolean;
  /** Its trigger has stood long enough to be seen. */
  readonly started: boolean;
  /** Every corner agrees on its inputs. */
  readonly sure: boolean;
}

export class TimerRun {
  private readonly states: Map<ComponentId, State>;

  constructor(like?: TimerRun) {
    this.states = new Map(like?.states);
  }

  known(): Iterable<ComponentId> {
    return this.states.keys();
  }

  /** True where something about the timer changes at once. */
  look(course: Course, timer: Timer, cause: Stamp): boolean {
    const { id } = timer;
    const was = this.states.get(id) ?? begun(course, timer);
    const known = course.position(id);
    const inputs = inputsOf(course.world, timer, was);
    const unknown = unknownOf(inputs);
    if (unknown.lacks.length > 0 || unknown.reason !== undefined) return this.say(course, timer, unknown);
    const supply = inputs.supply.on;
    const control = inputs.control?.on ?? supply;
    const sure = inputs.supply.sure && (inputs.control?.sure ?? true);
    this.states.set(id, { ...was, supply, control, sure });
    const wasActive = was.supply && was.control;
    if (was.supply && !supply && inputs.control !== undefined) this.lose(course, timer, cause);
    else if (isActive(inputs) && !wasActive) this.begin(course, timer, cause);
    else if (!isActive(inputs) && wasActive) this.end(course, timer, cause);
    const position = course.position(id);
    const early = earlyState(inputs);
    const moved = (position.early ?? 'released') !== early;
    if (moved) course.place(id, { ...position, early });
    const showsEarly = timer.contacts.some((each) => course.shared.model.early.has(each));
    return (moved && showsEarly) || position.lacks !== known.lacks;
  }

  hasPulsing(course: Course): boolean {
    return this.pulsing(course).length > 0;
  }

  private pulsing(course: Course): readonly ComponentId[] {
    return [...this.states.keys()].filter((id) => {
      const part = course.design.components[id] as Timer;
      return part.timer.function.word === 'pulsing' && course.pendingOf(id, 'timer') !== undefined;
    });
  }

  /** Timers that go on and off by themselves, put as on and off at once. True where there is any. */
  steady(course: Course): boolean {
    const pulsing = this.pulsing(course);
    for (const id of pulsing) {
      course.cancel(id, 'relay');
      course.place(id, { ...course.position(id), possible: ['operated', 'released'], usual: 'operated' });
    }
    return pulsing.length > 0;
  }

  /** What starts the timer has come on. */
  private begin(course: Course, timer: Timer, cause: Stamp): void {
    const { minimumTrigger } = timer.timer;
    if (minimumTrigger === undefined || minimumTrigger.most === 0) {
      this.start(course, timer.id, cause);
      return;
    }
    const { least, usual, most } = minimumTrigger;
    const by = { least, usual, most: Number.isFinite(most) ? most : usual };
    course.schedule(timer.id, cause, by, { sort: 'trigger' });
  }

  /** Its trigger counts. */
  start(course: Course, id: ComponentId, cause: Stamp): void {
    const timer = course.design.components[id] as Timer;
    this.update(course, timer, { started: true });
    const running = course.pendingOf(id, 'timer') !== undefined;
    switch (timer.timer.function.word) {
      case 'on-delay':
        this.run(course, timer, cause);
        return;
      case 'off-delay':
        course.cancel(id, 'timer');
        this.move(course, timer, 'operated', cause);
        return;
      case 'one-shot':
        if (running) {
          this.again(course, timer, cause);
          return;
        }
        this.move(course, timer, 'operated', cause);
        this.run(course, timer, cause);
        return;
      case 'pulsing':
        this.move(course, timer, 'operated', cause);
        this.run(course, timer, cause);
    }
  }

  /** A trigger that comes while the time of a one-shot runs. */
  private again(course: Course, timer: Timer, cause: Stamp): void {
    const { retriggerable } = timer.timer;
    if (retriggerable === undefined) {
      course.cancel(timer.id, 'timer');
      this.say(course, timer, { lacks: [{ component: timer.id, property: 'retriggerable' }] });
      return;
    }
    if (retriggerable.word !== 'yes') return;
    course.cancel(timer.id, 'timer');
    this.run(course, timer, cause);
  }

  /** What started the timer has gone. */
  private end(course: Course, timer: Timer, cause: Stamp): void {
    course.cancel(timer.id, 'trigger');
    const { started } = this.states.get(timer.id)!;
    this.update(course, timer, { started: false });
    if (!started) return;
    const word = timer.timer.function.word;
    if (word === 'off-delay') {
      this.run(course, timer, cause);
      return;
    }
    // A one-shot runs on without its trigger, but not without its supply.
    if (word === 'one-shot' && hasControl(timer, course.world)) return;
    course.cancel(timer.id, 'timer');
    this.move(course, timer, 'released', cause);
  }

  private lose(course: Course, timer: Timer, cause: Stamp): void {
    course.cancel(timer.id, 'trigger');
    course.cancel(timer.id, 'timer');
    this.update(course, timer, { started: false });
    this.move(course, timer, 'released', cause);
  }

  runOut(course: Course, id: ComponentId, cause: Stamp): void {
    const timer = course.design.components[id] as Timer;
    switch (timer.timer.function.word) {
      case 'on-delay':
        this.move(course, timer, 'operated', cause);
        return;
      case 'off-delay':
      case 'one-shot':
        this.move(course, timer, 'released', cause);
        return;
      case 'pulsing':
        this.move(course, timer, this.headed(course, id) === 'operated' ? 'released' : 'operated', cause);
        this.run(course, timer, cause);
    }
  }

  /** Where the contacts stand or are going. */
  private headed(course: Course, id: ComponentId): RelayState {
    const event = course.pendingOf(id, 'relay')?.event;
    return event?.sort === 'relay' ? event.decision.usual : course.position(id).usual;
  }

  private run(course: Course, timer: Timer, cause: Stamp): void {
    const { time } = timer.timer;
    if (time === undefined) {
      this.say(course, timer, { lacks: [{ component: timer.id, property: 'time' }] });
      return;
    }
    const by: Delay = time.assumption === undefined ? time : { ...time, assumptions: [time.assumption] };
    course.schedule(timer.id, cause, by, { sort: 'timer' });
  }

  private move(course: Course, timer: Timer, goal: RelayState, cause: Stamp): void {
    const { sure } = this.states.get(timer.id) ?? { sure: true };
    const other: RelayState = goal === 'operated' ? 'released' : 'operated';
    course.move(timer, { usual: goal, possible: sure ? [goal] : [goal, other], lacks: [] }, cause);
  }

  private update(course: Course, timer: Timer, change: Partial<State>): void {
    this.states.set(timer.id, { ...(this.states.get(timer.id) ?? begun(course, timer)), ...change });
  }

  /** What keeps the timer from being followed. */
  private say(course: Course, timer: Timer, unknown: Pick<Decision, 'lacks' | 'reason'>): boolean {
    const position = course.position(timer.id);
    const next = { ...position, ...unknown };
    if (sameDecision(next, position)) return false;
    course.cancel(timer.id, 'relay');
    course.place(timer.id, next);
    return true;
  }

  key(): string {
    return [...this.states].map(([id, state]) => `${id} ${state.supply} ${state.control} ${state.started}`).join();
  }
}

/** As the case found it. */
function begun(course: Course, timer: Timer): State {
  const inputs = inputsOf(course.begin, timer, { supply: false, control: false });
  const supply = inputs.supply.on;
  const control = inputs.control?.on ?? supply;
  return { supply, control, started: supply && control, sure: true };
}
