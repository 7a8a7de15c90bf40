/** What is going to happen: events that wait for their time. */
import type { Decision } from '../analysis/decision.ts';
import type { Turn } from '../design/cases.ts';
import type { ComponentId } from '../design/components.ts';
import type { Stamp } from './stamp.ts';

export type Event =
  /** Turns of the case that are made at one instant. */
  | { readonly sort: 'line'; readonly turns: readonly Turn[] }
  /** Something that was turned `for` a time goes back. */
  | { readonly sort: 'back'; readonly turn: Turn }
  /** A relay's contacts arrive. */
  | { readonly sort: 'relay'; readonly decision: Decision }
  /** The control of a timer has stood for its minimum. */
  | { readonly sort: 'trigger' }
  /** The time of a timer has run out. */
  | { readonly sort: 'timer' }
  /** A pulse of an output begins or ends. */
  | { readonly sort: 'pulse' }
  /** A panel or module takes notice of what it reads. */
  | { readonly sort: 'report'; readonly state: string | undefined }
  /** A zone does not count for a confirmation any longer. */
  | { readonly sort: 'window'; readonly zone: ComponentId }
  /** A capacitor has come to where something else follows. */
  | { readonly sort: 'charge'; readonly sensor: ComponentId };

export type EventSort = Event['sort'];

export interface Pending {
  readonly target: ComponentId;
  readonly stamp: Stamp;
  /** Seconds by which events are taken in turn: the usual time, moved where another order is followed. */
  readonly rank: number;
  /** Counts up; of two at the same time, the earlier made one comes first. */
  readonly order: number;
  readonly event: Event;
}

/** Events that run out by themselves: an expectation is judged before any of them that its turns have started. */
const SLOW: ReadonlySet<EventSort> = new Set(['line', 'back', 'timer', 'pulse', 'window']);

export function isSlow({ event }: Pending): boolean {
  return SLOW.has(event.sort);
}

/** What the event is and does, without its time. */
export function goalKey({ target, event }: Pending): string {
  return `${event.sort} ${target} ${GOALS[event.sort]?.(event as never) ?? ''}`;
}

const GOALS: { readonly [S in EventSort]?: (event: Extract<Event, { sort: S }>) => string } = {
  relay: ({ decision }) => `${decision.possible.join('/')}`,
  report: ({ state }) => state ?? '',
  window: ({ zone }) => String(zone),
  charge: ({ sensor }) => String(sensor),
};

/** In the order in which they are taken. */
export function earlier(one: Pending, other: Pending): number {
  return one.rank - other.rank || one.order - other.order;
}
