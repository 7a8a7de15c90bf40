/** Signals of a branch: how long zones and inputs read other than at rest, and how long coils and controls are driven. */
import type { Signal } from '../analysis/contract.ts';
import { coilVolts } from '../analysis/relays.ts';
import { statesOf } from '../analysis/states.ts';
import type { World } from '../analysis/world.ts';
import type { ComponentId, ComponentOf } from '../design/components.ts';
import { NO_ORIGIN, type Origin } from '../design/datum.ts';
import type { Branch } from './branch.ts';
import { isPossible, lengthOf, type Stretch, stretchesBy, stretchesOf } from './segments.ts';
import { between } from './stamp.ts';
import { inputsOf, isActive, isTimer } from './timers.ts';

/** Of all branches, each signal once with its shortest and longest. */
export function signalsIn(branches: readonly Branch[], rest: World): readonly Signal[] {
  const merged = new Map<string, Signal>();
  for (const branch of branches) {
    for (const signal of signalsOf(branch, rest)) {
      const key = `${signal.component} ${signal.className} ${signal.origin}`;
      const known = merged.get(key);
      if (known === undefined) {
        merged.set(key, signal);
        continue;
      }
      const gaps = [known.gap, signal.gap].filter((gap) => gap !== undefined);
      merged.set(key, {
        ...known,
        shortest: Math.min(known.shortest, signal.shortest),
        longest: Math.max(known.longest, signal.longest),
        ...(gaps.length === 0 ? {} : { gap: Math.min(...gaps) }),
      });
    }
  }
  return [...merged.values()];
}

function* signalsOf(branch: Branch, rest: World): Generator<Signal> {
  const { components } = rest.design;
  for (const id of touched(branch)) {
    const part = components[id]!;
    if (part.kind === 'zone' || part.kind === 'input') {
      yield* ofReader(branch, id, statesOf(rest, id)[0]);
    } else if (part.kind === 'relay' && isTimer(part)) {
      const stretches = stretchesBy(branch, ({ world }) => {
        return isActive(inputsOf(world, part, { supply: false, control: false })) ? ['trigger'] : [''];
      });
      yield* named(branch, id, stretches);
    } else if (part.kind === 'relay' && part.latching !== undefined) {
      yield* named(
        branch,
        id,
        stretchesBy(branch, ({ world }) => [drivenTo(part, world)]),
      );
    }
  }
}

/** What a latching relay is driven to at an instant: volts that certainly throw it at the usual figures. */
function drivenTo(relay: ComponentOf<'relay'>, world: World): string {
  const volts = coilVolts(world, relay);
  const { operates } = relay;
  if (volts.sort !== 'range' || operates === undefined) return '';
  if (volts.usual >= operates.usual) return 'set';
  return volts.usual <= -operates.usual ? 'reset' : '';
}

function* named(branch: Branch, component: ComponentId, stretches: readonly Stretch[]): Generator<Signal> {
  for (const stretch of stretches.slice(1)) {
    const [className] = stretch.states;
    if (className === '' || className === undefined || !isPossible(stretch)) continue;
    const { least, most } = lengthOf(stretch);
    const origin = originAt(branch, stretch.entry);
    yield { component, className, shortest: Math.max(0, least), longest: most, origin };
  }
}

function* ofReader(branch: Branch, component: ComponentId, normal: string | undefined): Generator<Signal> {
  const byClass = usually(stretchesOf(branch, component));
  let before: Stretch | undefined;
  for (const [i, stretch] of byClass.entries()) {
    const [className] = stretch.states;
    if (className === undefined || className === normal || isPassing(branch, stretch)) continue;
    const { least, most } = lengthOf(stretch);
    const restored = byClass[i - 1]?.states[0] === normal;
    const gap = before?.to === undefined || !restored ? undefined : between(before.to, stretch.from).least;
    before = stretch;
    yield {
      component,
      className,
      shortest: Math.max(0, least),
      longest: most,
      origin: originAt(branch, stretch.entry),
      ...(gap === undefined ? {} : { gap: Math.max(0, gap) }),
    };
  }
}

/** Neighbours whose usual state is the same as one. */
function usually(stretches: readonly Stretch[]): readonly Stretch[] {
  const found: Stretch[] = [];
  for (const stretch of stretches) {
    const last = found.at(-1);
    if (last === undefined || last.states[0] !== stretch.states[0]) {
      found.push(stretch);
      continue;
    }
    const { to: _, ...start } = last;
    found[found.length - 1] = { ...start, until: stretch.until, ...(stretch.to && { to: stretch.to }) };
  }
  return found;
}

/** Shown only while relays move after one and the same doing: it was not meant as a signal. */
function isPassing(branch: Branch, { entry, until }: Stretch): boolean {
  const end = branch.entries[until];
  return end !== undefined && end.epoch === branch.entries[entry]!.epoch;
}

/** The turn that brought an entry about. */
export function originAt({ entries }: Branch, entry: number): Origin {
  for (let i = entry; i >= 0; i--) {
    for (const { event } of entries[i]!.events) {
      if (event.sort === 'line' && event.turns[0] !== undefined) return event.turns[0].origin;
      if (event.sort === 'back') return event.turn.origin;
    }
  }
  return NO_ORIGIN;
}

function touched(branch: Branch): readonly ComponentId[] {
  const found = new Set<ComponentId>();
  for (const { world } of branch.entries) {
    for (const island of world.dirty) {
      for (const { component } of island.elements) {
        if (component.kind === 'zone' || component.kind === 'input' || component.kind === 'relay')
          found.add(component.id);
      }
    }
  }
  return [...found].sort((one, other) => one - other);
}
