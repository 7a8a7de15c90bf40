/**
 * Rest of relays and timers that influence each other so that no state of theirs follows from itself: they are played
 * from dead, everything coming on together, until nothing moves any more or it is known that they never rest.
 */
import type { Decision } from '../analysis/decision.ts';
import { DEAD } from '../analysis/decision.ts';
import { NOTHING_DONE } from '../analysis/doings.ts';
import type { ProblemNote } from '../analysis/problems.ts';
import { type Settled, settling } from '../analysis/settle.ts';
import type { Shared } from '../analysis/shared.ts';
import type { Case } from '../design/cases.ts';
import type { ComponentId } from '../design/components.ts';
import { NO_ORIGIN } from '../design/datum.ts';
import { playingOn } from './play.ts';

const NOTHING: Case = { name: 'rest', steps: [], origin: NO_ORIGIN };

/** Rest as settling alone finds it, or by playing where that is not enough. */
export function* resting(shared: Shared): Generator<void, Settled> {
  const settled = yield* settling(shared, NOTHING_DONE);
  const isRelay = (id: ComponentId) => shared.model.design.components[id]!.kind === 'relay';
  const swinging = settled.problems.filter(
    (each) => each.sort === 'relay-oscillates' && each.components.every(isRelay),
  );
  const restless = new Set([...settled.unsteady, ...swinging.flatMap(({ components }) => components)]);
  if (restless.size === 0) return settled;
  const { positions, problems } = yield* fromDead(shared, restless);
  const others = settled.problems.filter((problem) => !swinging.includes(problem));
  if (settled.unsteady.length === 0 || problems.length > 0) {
    return { ...settled, problems: [...others, ...(problems.length > 0 ? problems : swinging)] };
  }
  const timers = new Map(settled.unsteady.map((id) => [id, positions.get(id) ?? DEAD]));
  return yield* settling(shared, NOTHING_DONE, undefined, undefined, { all: false, positions: timers });
}

function* fromDead(
  shared: Shared,
  relays: ReadonlySet<ComponentId>,
): Generator<
  void,
  { readonly positions: ReadonlyMap<ComponentId, Decision>; readonly problems: readonly ProblemNote[] }
> {
  const dead = new Map([...relays].map((id) => [id, DEAD]));
  const { world } = yield* settling(shared, NOTHING_DONE, undefined, undefined, { all: false, positions: dead });
  const start = {
    time: { least: 0, usual: 0, most: 0 },
    label: '',
    world,
    doings: NOTHING_DONE,
    turns: [],
    byItself: false,
  };
  const { course, problems } = yield* playingOn(shared, NOTHING, start, world, relays);
  const positions = new Map([...relays].map((id) => [id, course.position(id)]));
  return { positions, problems };
}
