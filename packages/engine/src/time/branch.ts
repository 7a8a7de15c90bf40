/** What becomes of a case in one order of its events. */
import type { Instant } from '../analysis/timeline.ts';
import type { World } from '../analysis/world.ts';
import type { Expect } from '../design/cases.ts';
import type { ComponentId } from '../design/components.ts';
import type { Pending } from './pending.ts';
import type { Seconds, Stamp } from './stamp.ts';

/** The site from one event to the next. */
export interface Entry {
  readonly stamp: Stamp;
  readonly world: World;
  /** How many lines and events that run out by themselves have come so far. */
  readonly epoch: number;
  readonly events: readonly Pending[];
  /** What loads and readers show as long as a capacitor holds its volts, in place of what the world says. */
  readonly held: ReadonlyMap<ComponentId, readonly string[]>;
}

export interface StampedInstant extends Instant {
  readonly stamp: Stamp;
}

/** An expectation where it stands in one branch. */
export interface Stood {
  readonly expect: Expect;
  readonly stamp: Stamp;
  /** The last turn or wait above. */
  readonly since: Stamp;
  readonly instant: number;
  /** Of the last entry whose effects it sees. */
  readonly epoch: number;
}

/** An event that comes before another one that usually comes first. */
export interface Decided {
  readonly words: string;
  readonly components: readonly ComponentId[];
}

/** What goes on without end: from which entry, how long one round takes, and what takes part. */
export interface Endless {
  readonly from: number;
  readonly period: Seconds;
  readonly parts: readonly ComponentId[];
  /** True where nothing that pulses or times by design takes part. */
  readonly oscillates: boolean;
}

/** Rounds that are like the one before them and are passed over. */
export interface Skip {
  /** The round that is repeated: entries after the first up to the second. */
  readonly before: number;
  readonly last: number;
  readonly rounds: number;
  /** The end of that round, and the same end after all the rounds that are passed over. */
  readonly from: Stamp;
  readonly to: Stamp;
}

/** One order of events from the beginning of the case to its end. */
export interface Branch {
  readonly entries: readonly Entry[];
  readonly instants: readonly StampedInstant[];
  readonly stood: readonly Stood[];
  readonly skips: readonly Skip[];
  readonly endless?: Endless;
  /** Orders that were decided against the usual one, in words. */
  readonly decided: readonly Decided[];
  /** Everything that differs from other branches at the end. */
  readonly end: string;
}
