/** Locks on escape routes: which they are, and whether they may be held. */
import type { Change, Component, ComponentId, ComponentOf, Design, Figure, Moment } from '@couplet/engine';
import { ofKind } from '../circuit/circuits.ts';
import { downstreamOf } from '../circuit/reach.ts';
import { wiringOf } from '../circuit/wiring.ts';
import type { RuleContext } from '../rule.ts';
import { lacks } from './instants.ts';

export type Lock = ComponentOf<'load'>;

/** What every verdict on a lock rests on. */
export function heldByCurrent(lock: Lock): string {
  return `${lock.name} taken as locked while it is fed and free without`;
}

export function roleOf(component: Component | undefined): string | undefined {
  return component?.role?.word;
}

/** Wired loads on escape routes. */
export function escapeLocks(design: Design): readonly Lock[] {
  const wiring = wiringOf(design);
  return ofKind(design, 'load').filter(
    (load) => roleOf(load) === 'escape-lock' && wiring.isWired(load.a) && wiring.isWired(load.b),
  );
}

/** Whether a lock may be held at a moment, at whichever corner; undefined, with a gap, where that is not known. */
export function mayHold(context: RuleContext, moment: Moment, lock: Lock): boolean | undefined {
  if (lock.works === undefined) {
    lacks(context, lock.id, 'works');
    return undefined;
  }
  const states = moment.states(lock.id);
  if (states.length > 0) return states.some((state) => state !== 'off');
  const volts = moment.volts(lock.a, lock.b);
  if (volts.sort === 'not-evaluated') context.gap({ subject: lock.id, needs: volts.needs, reason: volts.reason });
  return undefined;
}

/** Volts at a lock, for words and figures. */
export function voltsOf(moment: Moment, lock: Lock): Figure {
  return moment.volts(lock.a, lock.b);
}

/** Whether a part can change what a lock gets: through wires, relays and supplies. */
export function reaches(design: Design, part: ComponentId, lock: Lock): boolean {
  return downstreamOf(design, part).has(lock.id);
}

/** Every contact of a switch or of a unit's contact member stands as in a state of its driver. */
export function putTo(design: Design, driver: ComponentId, state: 'operated' | 'released'): readonly Change[] {
  return ofKind(design, 'contact')
    .filter((contact) => contact.driver === driver)
    .map(({ id, closes }) => ({ sort: closes === state ? 'bridge' : 'remove', component: id }));
}
