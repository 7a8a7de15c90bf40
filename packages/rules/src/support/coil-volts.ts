/** Coil volts of relays over the moments of a site, for the rules that hold them against what the relay needs. */
import type { CaseAnalysis, Relay, Value } from '@couplet/engine';
import { ofKind } from '../circuit/circuits.ts';
import { wiringOf } from '../circuit/wiring.ts';
import type { RuleContext } from '../rule.ts';
import { isDriven, onVolts } from './driven.ts';
import { evaluated, type Instant, instantsOf, isExpected, type Worst, worstOf } from './instants.ts';

/** Relays whose coil has both ends joined. Timers that are electronics have no coil to judge. */
export function* coils(context: RuleContext): Generator<Relay> {
  const wiring = wiringOf(context.design);
  for (const relay of ofKind(context.design, 'relay')) {
    if (relay.timer !== undefined) continue;
    if (wiring.isJoined(relay.coil.a, relay.id) && wiring.isJoined(relay.coil.b, relay.id)) yield relay;
  }
}

export interface Energised {
  /** Moments at which the relay must come in. */
  readonly operate: readonly Instant[];
  /** Moments at which it is in already and must stay. */
  readonly hold: readonly Instant[];
}

/** Moments at which the coil is driven, by what is asked of it. */
export function energised(context: RuleContext, relay: Relay): Energised {
  const operate: Instant[] = [];
  const hold: Instant[] = [];
  let before: { readonly of: CaseAnalysis; readonly operated: boolean } | undefined;
  const restStates = context.analysis.cases[0]?.moments[0]?.states(relay.id) ?? [];
  for (const at of instantsOf(context.analysis, relay.id)) {
    const wasOperated =
      before !== undefined && before.of === at.of
        ? before.operated
        : at.index === 0 && !at.isRest && at.of.case?.after === undefined && isOnly(restStates, 'operated');
    before = { of: at.of, operated: isOnly(at.moment.states(relay.id), 'operated') };
    const volts = evaluated(context, relay.id, onVolts(context, at, relay.id, relay.coil.a, relay.coil.b));
    if (volts === undefined || !isDriven(context, at, relay.id, volts, relay.rated?.usual)) continue;
    if (isExpected(at.of, relay.id, 'released') && !at.moment.states(relay.id).includes('operated')) continue;
    if (wasOperated) hold.push(at);
    else operate.push(at);
  }
  return { operate, hold };
}

function isOnly(states: readonly string[], word: string): boolean {
  return states.length === 1 && states[0] === word;
}

/** Least coil volts, whichever way round the coil is fed. */
export function leastSize(value: Value): number {
  if (value.least <= 0 && value.most >= 0) return 0;
  return Math.min(Math.abs(value.least), Math.abs(value.most));
}

export function mostSize(value: Value): number {
  return Math.max(Math.abs(value.least), Math.abs(value.most));
}

/** The moment at which a coil gets least, or most. */
export function extremeCoilVolts(
  context: RuleContext,
  relay: Relay,
  instants: readonly Instant[],
  score: (value: Value) => number,
): Worst | undefined {
  return worstOf(
    context,
    relay.id,
    instants,
    (at) => onVolts(context, at, relay.id, relay.coil.a, relay.coil.b),
    score,
  );
}
