/**
 * Zones and inputs that something hangs on: when the panel takes notice of what they read, which confirmations that
 * makes, and what outputs do for it. Two zones confirm when they report within the time of each other, and stay
 * confirmed until none of them is in alarm any more.
 */
import { statesOf } from '../analysis/states.ts';
import type { ComponentId, ComponentOf } from '../design/components.ts';
import type { Course } from './course.ts';
import { type Delay, NO_TIME, type Stamp } from './stamp.ts';
import { confirmsNow, followHolds, followWord, type Side, sideOf } from './watch.ts';

type Reader = ComponentOf<'zone'> | ComponentOf<'input'>;

interface State {
  readonly reads: string | undefined;
  readonly reported: string | undefined;
}

interface Confirmation {
  /** Zones that have reported so lately that they still count. */
  readonly counting: ReadonlySet<ComponentId>;
  readonly confirmed: boolean;
}

const NOTHING: Confirmation = { counting: new Set(), confirmed: false };

export class Readers {
  private readonly states: Map<ComponentId, State>;
  private readonly confirmations: Map<ComponentId, Confirmation>;

  constructor(like?: Readers) {
    this.states = new Map(like?.states);
    this.confirmations = new Map(like?.confirmations);
  }

  /** Looks at the readers that anything hangs on and that may have changed. */
  look(course: Course, cause: Stamp): void {
    const { watch } = course.shared;
    if (watch.isEmpty) return;
    const readers = new Set(this.states.keys());
    for (const island of course.world.dirty) {
      for (const { component, rule } of island.elements) {
        if (rule.role === 'main' && watch.isWatched(component.id)) readers.add(component.id);
      }
    }
    for (const id of readers) this.read(course, id, cause);
  }

  private read(course: Course, id: ComponentId, cause: Stamp): void {
    const state = this.stateOf(course, id);
    const [reads] = course.charging.shown(id) ?? statesOf(course.world, id);
    if (reads === state.reads) return;
    this.states.set(id, { ...state, reads });
    course.cancel(id, 'report');
    if (reads === state.reported) return;
    const part = course.design.components[id] as Reader;
    course.schedule(id, cause, responseOf(part, reads === normalOf(course, id)), { sort: 'report', state: reads });
  }

  private stateOf(course: Course, id: ComponentId): State {
    const known = this.states.get(id);
    if (known !== undefined) return known;
    const [reads] = statesOf(course.begin, id);
    return { reads, reported: reads };
  }

  /** The panel takes notice. */
  report(course: Course, id: ComponentId, state: string | undefined, stamp: Stamp): void {
    this.states.set(id, { ...this.stateOf(course, id), reported: state });
    const { confirms } = course.shared.watch;
    for (const confirm of confirms.get(id) ?? []) this.count(course, confirm, id, stamp);
    this.follow(course, [id, ...(confirms.get(id) ?? [])], stamp);
  }

  /** A zone's time to be confirmed is over. */
  close(course: Course, id: ComponentId, zone: ComponentId, stamp: Stamp): void {
    const known = this.confirmations.get(id) ?? NOTHING;
    const counting = new Set(known.counting);
    counting.delete(zone);
    this.confirmations.set(id, { ...known, counting });
    this.judge(course, id);
    this.follow(course, [id], stamp);
  }

  private count(course: Course, id: ComponentId, zone: ComponentId, stamp: Stamp): void {
    const confirm = course.design.components[id] as ComponentOf<'confirm'>;
    const known = this.confirmations.get(id) ?? NOTHING;
    const counting = new Set(known.counting);
    if (this.sideIn(course, zone) === 'alarm' && confirm.within !== undefined) {
      counting.add(zone);
      const open = course.pendings.find(
        ({ target, event }) => target === id && event.sort === 'window' && event.zone === zone,
      );
      if (open !== undefined) course.pendings = course.pendings.filter((other) => other !== open);
      course.schedule(id, stamp, confirm.within, { sort: 'window', zone });
    }
    this.confirmations.set(id, { ...known, counting });
    this.judge(course, id);
  }

  private judge(course: Course, id: ComponentId): void {
    const confirm = course.design.components[id] as ComponentOf<'confirm'>;
    const { counting, confirmed } = this.confirmations.get(id) ?? NOTHING;
    const sides = confirm.zones.map((zone) => this.sideIn(course, zone));
    if (confirmed) {
      this.confirmations.set(id, { counting, confirmed: sides.includes('alarm') });
      return;
    }
    const counted = confirm.zones.map((zone, i): Side => {
      if (confirm.within === undefined) return sides[i]!;
      if (counting.has(zone)) return 'alarm';
      return sides[i] === 'alarm' ? 'normal' : sides[i]!;
    });
    this.confirmations.set(id, { counting, confirmed: confirmsNow(confirm, counted) });
  }

  private sideIn(course: Course, zone: ComponentId): Side {
    return sideOf(this.stateOf(course, zone).reported, normalOf(course, zone));
  }

  private follow(course: Course, changed: readonly ComponentId[], stamp: Stamp): void {
    const outputs = new Set(changed.flatMap((id) => course.shared.watch.followers.get(id) ?? []));
    for (const id of outputs) {
      const output = course.design.components[id] as ComponentOf<'output'>;
      const holds = followHolds(output.follows!, (other) => this.reportOf(course, other));
      course.outputs.ask(course, id, followWord(output, holds), stamp);
    }
  }

  private reportOf(course: Course, id: ComponentId): string | undefined {
    if (course.design.components[id]!.kind !== 'confirm') return this.stateOf(course, id).reported;
    return wordOf(this.confirmations.get(id) ?? NOTHING);
  }

  /** Confirmations as they stand. */
  confirmed(): ReadonlyMap<ComponentId, readonly string[]> {
    return new Map([...this.confirmations].map(([id, each]) => [id, [wordOf(each)]]));
  }

  key(): string {
    const states = [...this.states].map(([id, { reads, reported }]) => `${id} ${reads} ${reported}`);
    const counted = [...this.confirmations].map(
      ([id, each]) => `${id} ${wordOf(each)} ${[...each.counting].join('/')}`,
    );
    return `${states.join()};${counted.join()}`;
  }
}

function wordOf({ confirmed }: Confirmation): string {
  return confirmed ? 'confirmed' : 'unconfirmed';
}

/** What a reader reads when all is well. */
function normalOf(course: Course, id: ComponentId): string | undefined {
  return statesOf(course.rest, id)[0];
}

/** Until a reader's state is reported; an input takes as long to notice that something is gone. */
export function responseOf(part: Reader, returns: boolean): Delay {
  const time = part.kind === 'zone' && returns ? part.restores : part.responds;
  if (time !== undefined) {
    const { least, usual, most, assumption } = time;
    return { least, usual, most, ...(assumption === undefined ? {} : { assumptions: [assumption] }) };
  }
  return {
    ...NO_TIME,
    lacks: [{ component: part.id, property: part.kind === 'zone' && returns ? 'restores' : 'responds' }],
  };
}
