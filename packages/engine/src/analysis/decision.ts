/**
 * Whether a relay is operated, from the volts across its coil. Its maker guarantees two things for every specimen:
 * operated at or above one voltage, released at or below another; both rise with the resistance of the hot copper.
 */

import type { Lack, LawContext } from '../build/index.ts';
import { riseOf } from '../build/laws/relays.ts';
import type { ComponentOf } from '../design/components.ts';
import { copperFactor } from '../tables/copper.ts';

type Relay = ComponentOf<'relay'>;
export type RelayState = 'operated' | 'released';

/** What is known of a relay at a moment. */
export interface Decision {
  readonly usual: RelayState;
  /** Every state that some corner allows, the usual one first. */
  readonly possible: readonly RelayState[];
  /** Data without which nothing can be said. */
  readonly lacks: readonly Lack[];
  /** Why nothing can be said, where it is not a datum. */
  readonly reason?: string;
  /** Of a timer: where its contacts stand that do not act late. */
  readonly early?: RelayState;
}

export const DEAD: Decision = { usual: 'released', possible: ['released'], lacks: [] };

/** Of a timer whose steady state cannot be told without following it through time. */
export function overTime(relay: Relay): Decision {
  return {
    usual: 'released',
    possible: ['released', 'operated'],
    lacks: [],
    reason: `what ${relay.name} does over time is not followed`,
  };
}

export function sameDecision(one: Decision, other: Decision): boolean {
  return (
    one.usual === other.usual &&
    one.possible.join() === other.possible.join() &&
    one.lacks.length === other.lacks.length &&
    one.reason === other.reason &&
    one.early === other.early
  );
}

/** Volts of one coil over all corners; `undefined` where it has no connection at all. */
export interface CoilVolts {
  readonly least: number;
  readonly usual: number;
  readonly most: number;
}

const NO_VOLTS: CoilVolts = { least: 0, usual: 0, most: 0 };

/** The bounds that decide, in volts across the coil. */
export interface Bounds {
  /** Certainly operated at or above; certainly held at or above once operated. */
  readonly operates: number;
  readonly holds: number;
  /** Certainly released at or below. */
  readonly releases: number;
}

/** `warm`: held in at rest, so that the coil may be hotter than its surroundings by its rise. */
export function boundsOf(relay: Relay, context: LawContext, corner: 'usual' | 'worst', warm: boolean): Bounds | Lack[] {
  const { operates, releases } = relay;
  if (operates === undefined) return [{ component: relay.id, property: 'operates' }];
  if (releases === undefined) return [{ component: relay.id, property: 'releases' }];
  const holds = relay.holds ?? operates;
  const ambient = context.parameters.ambient(relay.place);
  if (corner === 'usual') {
    const factor = copperFactor(ambient.usual);
    return {
      operates: operates.usual * factor,
      holds: holds.usual * factor,
      releases: releases.usual * factor,
    };
  }
  const hot = copperFactor(ambient.most + (warm ? riseOf(relay, context).most : 0));
  const cold = copperFactor(ambient.least);
  return { operates: operates.most * hot, holds: holds.most * hot, releases: releases.least * cold };
}

/** State at the usual figures: between the two guarantees a relay stays as it was. */
export function usualState(relay: Relay, bounds: Bounds, volts: number, before: RelayState): RelayState {
  if (relay.latching !== undefined) return latched(relay, bounds, volts, before);
  const size = Math.abs(volts);
  if (before === 'operated') return size > bounds.releases ? 'operated' : 'released';
  return size >= bounds.operates ? 'operated' : 'released';
}

/** One coil, both polarities: set by plus, reset by minus. With two coils each only does its own half. */
function latched(_relay: Relay, bounds: Bounds, volts: number, before: RelayState): RelayState {
  if (volts >= bounds.operates) return 'operated';
  if (volts <= -bounds.operates) return 'released';
  return before;
}

/**
 * All states that the volts allow. Of a latching relay with two coils `volts` is that of the first less that of the
 * second, since only one of them is meant to be driven at a time.
 */
export function decide(
  relay: Relay,
  context: LawContext,
  volts: CoilVolts = NO_VOLTS,
  before: Decision = DEAD,
  warm = true,
): Decision {
  const usual = boundsOf(relay, context, 'usual', warm);
  const worst = boundsOf(relay, context, 'worst', warm);
  if (Array.isArray(usual) || Array.isArray(worst)) {
    return { usual: before.usual, possible: before.possible, lacks: Array.isArray(usual) ? usual : [] };
  }
  const state = usualState(relay, usual, volts.usual, before.usual);
  const states = new Set<RelayState>([state]);
  if (relay.latching !== undefined) {
    if (volts.most < worst.operates && volts.least > -worst.operates) for (const s of before.possible) states.add(s);
    if (volts.most > worst.releases) states.add('operated');
    if (volts.least < -worst.releases) states.add('released');
    return { usual: state, possible: [...states], lacks: [] };
  }
  const size = sizeOf(volts);
  const held = before.possible.length === 1 && before.usual === 'operated';
  const enough = held ? worst.holds : worst.operates;
  if (size.least < enough) states.add('released');
  if (size.most > worst.releases) states.add('operated');
  return { usual: state, possible: [...states], lacks: [] };
}

function sizeOf({ least, most }: CoilVolts): { least: number; most: number } {
  const sign = least >= 0 ? 1 : most <= 0 ? -1 : 0;
  if (sign === 1) return { least, most };
  if (sign === -1) return { least: -most, most: -least };
  return { least: 0, most: Math.max(-least, most) };
}
