/**
 * When something happens, as a chain of delays since the case began. Each delay has a spread of its own; two events
 * share the delays that they have in common, so that the time between them is no wider than it must be. Seconds.
 */
import type { Lack } from '../build/index.ts';

export interface Seconds {
  readonly least: number;
  readonly usual: number;
  readonly most: number;
}

export interface Delay extends Seconds {
  /** Data without which the delay is not known; it then counts as none. */
  readonly lacks?: readonly Lack[];
  readonly assumptions?: readonly string[];
}

export interface Stamp extends Seconds {
  /** What it comes after; absent for the beginning of the case. */
  readonly cause?: Stamp;
  readonly by: Delay;
  readonly depth: number;
  /** An event that is known to come first, whatever the times say. */
  readonly notBefore?: Stamp;
}

export const NO_TIME: Seconds = { least: 0, usual: 0, most: 0 };
export const START: Stamp = { ...NO_TIME, by: NO_TIME, depth: 0 };

/** A time so long that nothing waits for it, in place of one without bound. */
const LONGEST = 1e9;

export function after(cause: Stamp, by: Delay): Stamp {
  const bounded = { ...by, usual: Math.min(by.usual, LONGEST), most: Math.min(by.most, LONGEST) };
  return { ...sum(cause, bounded), cause, by: bounded, depth: cause.depth + 1 };
}

export function sum(one: Seconds, other: Seconds): Seconds {
  return { least: one.least + other.least, usual: one.usual + other.usual, most: one.most + other.most };
}

/** From one event to another; negative where the other may come first. */
export function between(from: Stamp, to: Stamp): Seconds {
  let [least, usual, most] = [0, 0, 0];
  /** What follows on the way to `to` after an event that is known to come after `from`. */
  let bound: Seconds | undefined;
  let since = NO_TIME;
  let [one, other] = [from, to];
  while (one !== other) {
    if (one.depth >= other.depth) {
      least -= one.by.most;
      usual -= one.by.usual;
      most -= one.by.least;
      one = one.cause!;
    } else {
      if (other.notBefore === from) bound = since;
      since = sum(since, other.by);
      least += other.by.least;
      usual += other.by.usual;
      most += other.by.most;
      other = other.cause!;
    }
  }
  if (bound === undefined) return { least, usual, most };
  return { least: Math.max(bound.least, least), usual: Math.max(bound.usual, usual), most: Math.max(bound.most, most) };
}

/** The same event, known to come after another one. */
export function notBefore(stamp: Stamp, other: Stamp): Stamp {
  return { ...stamp, notBefore: other };
}

/** Data that the time of an event lacks. */
export function lacksOf(stamp: Stamp): readonly Lack[] {
  const lacks: Lack[] = [];
  for (let at: Stamp | undefined = stamp; at !== undefined; at = at.cause) lacks.push(...(at.by.lacks ?? []));
  return lacks;
}

/** What was taken for granted in the time of an event. */
export function assumptionsOf(stamp: Stamp): readonly string[] {
  const clauses = new Set<string>();
  for (let at: Stamp | undefined = stamp; at !== undefined; at = at.cause) {
    for (const clause of at.by.assumptions ?? []) clauses.add(clause);
  }
  return [...clauses].sort();
}
