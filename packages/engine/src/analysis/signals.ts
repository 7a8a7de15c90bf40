/** Stretches of a case during which a zone or an input reads other than at rest. */
import type { ComponentId } from '../design/components.ts';
import type { Origin } from '../design/datum.ts';
import type { Signal } from './contract.ts';
import { statesOf } from './states.ts';
import type { Instant } from './timeline.ts';
import { Delays } from './timing.ts';
import type { World } from './world.ts';

export function signalsOf(instants: readonly Instant[], rest: World): readonly Signal[] {
  const watched = new Set<ComponentId>();
  for (const { world } of instants) {
    for (const island of world.dirty) {
      for (const { component } of island.elements) {
        if (component.kind === 'zone' || component.kind === 'input') watched.add(component.id);
      }
    }
  }
  return [...watched].sort((one, other) => one - other).flatMap((id) => signalsAt(id, instants, rest));
}

function signalsAt(id: ComponentId, instants: readonly Instant[], rest: World): readonly Signal[] {
  const signals: Signal[] = [];
  const normal = statesOf(rest, id)[0];
  const names = instants.map(({ world }) => statesOf(world, id)[0]);
  /** The latest at which the signal before has gone. */
  let gone: number | undefined;
  for (let i = 0; i < instants.length; i++) {
    const name = names[i];
    if (name === undefined || name === normal || names[i - 1] === name) continue;
    let end = i + 1;
    while (end < instants.length && names[end] === name) end++;
    const start = instants[i]!;
    const comes = i === 0 ? undefined : new Delays(instants[i - 1]!.world, start.world).untilSettled(id).seconds;
    const restored = gone !== undefined && names[i - 1] === normal;
    const gap = restored ? { gap: Math.max(0, start.time.least + (comes?.least ?? 0) - gone!) } : {};
    const pulse = pulseOf(start.world, id);
    if (pulse !== undefined) {
      signals.push({ component: id, className: name, ...pulse, origin: originOf(start) });
      continue;
    }
    if (end === instants.length) {
      signals.push({
        component: id,
        className: name,
        shortest: Number.POSITIVE_INFINITY,
        longest: Number.POSITIVE_INFINITY,
        origin: originOf(start),
        ...gap,
      });
      continue;
    }
    const stop = instants[end]!;
    const goes = new Delays(instants[end - 1]!.world, stop.world).untilSettled(id).seconds;
    const shortest = stop.time.least - start.time.most - (comes?.most ?? 0) + goes.least;
    const longest = stop.time.most - start.time.least - (comes?.least ?? 0) + goes.most;
    gone = stop.time.most + goes.most;
    const origin = originOf(start);
    signals.push({ component: id, className: name, shortest: Math.max(0, shortest), longest, origin, ...gap });
  }
  return signals;
}

function originOf(instant: Instant): Origin {
  return instant.turns[0]?.origin ?? -1;
}

/** On and off times of a pulsing output that the reading follows, straight or through relays. */
export function pulseOf(world: World, id: ComponentId): { shortest: number; longest: number } | undefined {
  const seen = new Set<ComponentId>();
  const queue = [id];
  for (const at of queue) {
    for (const element of world.shared.model.ofComponent[at] ?? []) {
      for (const decider of world.islandOf(element)?.deciders ?? []) {
        if (seen.has(decider)) continue;
        seen.add(decider);
        const part = world.design.components[decider]!;
        if (part.kind === 'relay') queue.push(decider);
        if (part.kind !== 'output' || world.word(decider) !== 'pulsing' || part.pattern === undefined) continue;
        return { shortest: part.pattern.on.least, longest: part.pattern.on.most };
      }
    }
  }
  return undefined;
}
