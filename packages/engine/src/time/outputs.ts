/** Outputs that do more than stay as they were turned: patterns, pulses of a length, and what follows something. */
import type { ComponentId, ComponentOf } from '../design/components.ts';
import type { Course } from './course.ts';
import type { Delay, Seconds, Stamp } from './stamp.ts';

type Output = ComponentOf<'output'>;
type Phase = 'on' | 'off';

export class Outputs {
  /** Patterns count as on and off at once: how a pulsing output is judged at a settled instant. */
  steady: boolean;
  /** What outputs are asked for by what they follow. */
  private readonly asked: Map<ComponentId, string>;
  /** The reason for which an output last began a pulse. */
  private readonly reasons: Map<ComponentId, string>;
  private readonly phase: Map<ComponentId, Phase>;

  constructor(like?: Outputs) {
    this.steady = like?.steady ?? false;
    this.asked = new Map(like?.asked);
    this.reasons = new Map(like?.reasons);
    this.phase = new Map(like?.phase);
  }

  /** Pulses that go on from before the case begin anew with it. */
  begin(course: Course): void {
    const { watch } = course.shared;
    for (const output of watch.outputs) {
      const word = course.begin.follows(output);
      if (word !== undefined) this.asked.set(output, word);
    }
    for (const [id, word] of course.begin.doings.turned) {
      if (word === 'pulsing') this.look(course, id, course.now);
    }
    for (const id of this.asked.keys()) this.look(course, id, course.now);
  }

  /** An output is asked for something by what it follows. */
  ask(course: Course, output: ComponentId, word: string, cause: Stamp): void {
    if (this.asked.get(output) === word) return;
    this.asked.set(output, word);
    this.look(course, output, cause);
  }

  /** Begins what the output's reason asks for. `again`: also where the reason is the same, because it was turned anew. */
  look(course: Course, id: ComponentId, cause: Stamp, again = false): void {
    const part = course.design.components[id]!;
    if (part.kind !== 'output') return;
    const reason = course.turnedWord(id) ?? this.asked.get(id);
    if (!again && this.reasons.get(id) === (reason ?? '')) return;
    this.reasons.set(id, reason ?? '');
    course.cancel(id, 'pulse');
    this.phase.delete(id);
    const lasts = lengthOf(part, reason);
    if (lasts === undefined) return;
    this.phase.set(id, 'on');
    course.schedule(id, cause, lasts, { sort: 'pulse' });
  }

  toggle(course: Course, id: ComponentId, cause: Stamp): void {
    const part = course.design.components[id] as Output;
    const reason = this.reasons.get(id);
    const next: Phase = this.phase.get(id) === 'on' ? 'off' : 'on';
    this.phase.set(id, next);
    const lasts = next === 'on' ? lengthOf(part, reason) : pauseOf(part, reason);
    if (lasts !== undefined) course.schedule(id, cause, lasts, { sort: 'pulse' });
  }

  /** Whether an output is in a pattern that goes on by itself. */
  isPattern(id: ComponentId): boolean {
    return this.reasons.get(id) === 'pulsing';
  }

  get hasPatterns(): boolean {
    for (const id of this.phase.keys()) if (this.isPattern(id)) return true;
    return false;
  }

  /** The word of each output that pulses now. */
  *phases(): Generator<readonly [ComponentId, string]> {
    for (const [id, phase] of this.phase) yield [id, this.steady && this.isPattern(id) ? 'pulsing' : phase];
  }

  /** What outputs do for what they follow. */
  followed(): ReadonlyMap<ComponentId, string> {
    const followed = new Map(this.asked);
    for (const [id, word] of this.phases()) if (followed.has(id)) followed.set(id, word);
    return followed;
  }

  key(): string {
    return `${[...this.asked].join()};${[...this.phase].join()}`;
  }
}

/** How long it is on; nothing where it stays. */
function lengthOf({ pattern, pulseLength }: Output, reason: string | undefined): Delay | undefined {
  if (reason === 'pulsing') return pattern?.on;
  return reason === 'on' ? pulseLength : undefined;
}

/** How long it is off between pulses; nothing where no other one comes. */
function pauseOf({ pattern, pulseLength, repeats }: Output, reason: string | undefined): Delay | undefined {
  if (reason === 'pulsing') return pattern?.off;
  if (reason !== 'on' || repeats === undefined || pulseLength === undefined) return undefined;
  return less(repeats, pulseLength);
}

/** A pulse comes again so long after the last one began. */
function less(one: Seconds, other: Seconds): Delay {
  return {
    least: Math.max(0, one.least - other.most),
    usual: Math.max(0, one.usual - other.usual),
    most: Math.max(0, one.most - other.least),
  };
}
