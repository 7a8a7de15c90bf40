/** How long a relay takes to move: its own times, and what suppression adds to its release. */
import type { Decision, RelayState } from '../analysis/decision.ts';
import { coilVolts } from '../analysis/relays.ts';
import type { World } from '../analysis/world.ts';
import type { Element, LawContext } from '../build/index.ts';
import { riseOf } from '../build/laws/relays.ts';
import {
  assumedInductance,
  builtInSuppression,
  type Ranged,
  ranged,
  releaseLevel,
  releaseSeconds,
  type Suppression,
  type SwitchedCoil,
} from '../decay/index.ts';
import type { ComponentOf } from '../design/components.ts';
import type { Datum } from '../design/datum.ts';
import { type Delay, NO_TIME } from './stamp.ts';

type Relay = ComponentOf<'relay'>;

/** From the volts that bring a relay to `goal` to its contacts. `before` is the world in which its coil was fed last. */
export function moveDelay(relay: Relay, goal: RelayState, before: World, after: World): Delay {
  if (relay.timer !== undefined) return timerDelay(relay, goal);
  if (relay.latching !== undefined) return latchDelay(relay, goal);
  if (goal === 'operated') return ownDelay(relay, relay.operateTime, 'operate-time');
  return releaseDelay(relay, before, after);
}

/** The state that a change of decision goes to. */
export function goalOf(from: Decision, to: Decision): RelayState {
  if (to.usual !== from.usual) return to.usual;
  return to.possible.find((state) => !from.possible.includes(state)) ?? to.usual;
}

function ownDelay(relay: Relay, own: Datum | undefined, property: string): Delay {
  return own === undefined ? { ...NO_TIME, lacks: [{ component: relay.id, property }] } : spreadOf(own);
}

function spreadOf({ least, usual, most, assumption }: Datum): Delay {
  const clauses = assumption === undefined ? {} : { assumptions: [assumption] };
  return { least, usual, most: Number.isFinite(most) ? most : usual, ...clauses };
}

/** The relay inside a timer is part of its time unless its own times are given. */
function timerDelay(relay: Relay, goal: RelayState): Delay {
  const own = goal === 'operated' ? relay.operateTime : relay.releaseTime;
  return own === undefined ? NO_TIME : spreadOf(own);
}

/** A latching relay counts as thrown once its minimum pulse has passed. */
function latchDelay(relay: Relay, goal: RelayState): Delay {
  const own = goal === 'operated' ? relay.operateTime : (relay.releaseTime ?? relay.operateTime);
  const pulse = relay.minimumPulse;
  if (own === undefined && pulse === undefined) {
    return { ...NO_TIME, lacks: [{ component: relay.id, property: 'minimum-pulse' }] };
  }
  const moves = own === undefined ? NO_TIME : spreadOf(own);
  const held = pulse === undefined ? NO_TIME : spreadOf(pulse);
  return {
    least: moves.least,
    usual: Math.max(moves.usual, held.usual),
    most: Math.max(moves.most, held.most),
  };
}

/** Release time, and before it the decay of the coil's current through whatever lies across it. */
function releaseDelay(relay: Relay, before: World, after: World): Delay {
  const own = ownDelay(relay, relay.releaseTime, 'release-time');
  if (own.lacks !== undefined) return own;
  const coil = coilOf(relay, before);
  if (coil === undefined || relay.releases === undefined) return own;
  const known = knownOf(before.shared.model.context);
  const { least, usual, most } = coil.volts;
  const key = `${relay.id} ${least} ${usual} ${most} ${acrossCoil(relay, after).map(({ index }) => index)}`;
  const delay = known.get(key) ?? decayDelay(relay, after, coil, own);
  known.set(key, delay);
  return delay;
}

/** Delays by suppression that were found for a site, by the relay, the volts that it was fed, and what lies across it. */
const DELAYS = new WeakMap<LawContext, Map<string, Delay>>();

function knownOf(context: LawContext): Map<string, Delay> {
  const known = DELAYS.get(context) ?? new Map<string, Delay>();
  DELAYS.set(context, known);
  return known;
}

function decayDelay(relay: Relay, after: World, coil: SwitchedCoil, own: Delay): Delay {
  const suppressions = suppressionsOf(relay, after);
  if (suppressions.length === 0 || relay.releases === undefined) return own;
  const level = releaseLevel(relay.name, relay.releases, relay.holds, coil.volts);
  const seconds = releaseSeconds(coil, suppressions, level, ranged(relay.name, 's', relay.releaseTime!));
  if (seconds.sort !== 'value') return own;
  const { least, usual, most, assumptions } = seconds;
  return { least, usual, most, assumptions };
}

/** The coil as it is when its switch opens. Nothing where it has no winding that is known. */
function coilOf(relay: Relay, before: World) {
  const { ohms, rated, name } = relay;
  if (ohms === undefined) return undefined;
  const { context } = before.shared.model;
  const henries =
    relay.inductance === undefined
      ? rated && assumedInductance(name, rated.usual, ohms.usual)
      : ranged(`${name} inductance`, 'H', relay.inductance);
  const volts = voltsBefore(relay, before);
  if (henries === undefined || volts === undefined) return undefined;
  const ambient = context.parameters.ambient(relay.place);
  const celsius = ranged(`${name} coil`, 'degC', {
    least: ambient.least,
    usual: ambient.usual,
    most: ambient.most + riseOf(relay, context).most,
  });
  return { name, ohms: ranged(`${name} coil`, 'ohm', ohms), celsius, henries, volts };
}

function voltsBefore(relay: Relay, before: World): Ranged | undefined {
  const volts = coilVolts(before, relay);
  const what = `${relay.name} coil volts`;
  if (volts.sort === 'range' && volts.usual !== 0) {
    const sign = volts.usual < 0 ? -1 : 1;
    const [least, most] = sign > 0 ? [volts.least, volts.most] : [-volts.most, -volts.least];
    return ranged(what, 'V', { least: Math.max(0, least), usual: sign * volts.usual, most });
  }
  const { rated, range } = relay;
  if (rated === undefined) return undefined;
  return ranged(what, 'V', { least: rated.least, usual: rated.usual, most: range?.most ?? rated.most });
}

/** What is built in, and diodes and resistors that lie right across the coil. */
export function suppressionsOf(relay: Relay, world: World): readonly Suppression[] {
  const found: Suppression[] = [];
  const built = relay.suppressor === undefined ? [] : builtInSuppression(relay.suppressor, relay.name);
  if (!('lacks' in built)) found.push(...built);
  const minus = world.shared.model.nodeOf(relay.coil.b);
  for (const { component, a } of acrossCoil(relay, world)) {
    if (component.kind === 'resistor' && component.ohms !== undefined) {
      found.push({ sort: 'resistor', ohms: ranged(component.name, 'ohm', component.ohms) });
    }
    if (component.kind !== 'diode' || a !== minus) continue;
    const slope = component.slope === undefined ? {} : { slope: ranged(component.name, 'ohm', component.slope) };
    found.push({ sort: 'diode', drop: ranged(component.name, 'V', component.drop), ...slope });
  }
  return found;
}

/** Diodes and resistors that lie right across a coil, as they were made. */
function acrossCoil(relay: Relay, world: World): readonly Element[] {
  const { model, across } = world.shared;
  const found = across(model.nodeOf(relay.coil.a), model.nodeOf(relay.coil.b));
  const { altered } = world.doings;
  return altered.size === 0 ? found : found.filter(({ component }) => !altered.has(component.id));
}
