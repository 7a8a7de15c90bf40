/**
 * How long a doing takes until its effect has arrived: operate and release times of the relays on the way, one after
 * the other, and the response of the zone at the end. Seconds.
 */

import type { Element, Island, Lack } from '../build/index.ts';
import type { ComponentId, ComponentOf } from '../design/components.ts';
import { moveDelay } from '../time/moving.ts';
import { type Seconds, sum } from '../time/stamp.ts';
import type { World } from './world.ts';

export interface Delay {
  readonly seconds: Seconds;
  readonly lacks: readonly Lack[];
  readonly assumptions: readonly string[];
}

const AT_ONCE: Delay = { seconds: { least: 0, usual: 0, most: 0 }, lacks: [], assumptions: [] };

/** Delays between the world that a doing found and the one in which all has settled. */
export class Delays {
  private readonly before: World;
  private readonly after: World;
  private readonly known = new Map<ComponentId, Delay>();

  constructor(before: World, after: World) {
    this.before = before;
    this.after = after;
  }

  /** Until the last relay has moved that the part's own island hangs on. */
  untilSettled(component: ComponentId): Delay {
    const elements = this.after.shared.model.ofComponent[component] ?? [];
    return this.last(elements.map((element) => this.ofElement(element)));
  }

  /** Until a relay itself has moved; nothing where it has not. */
  ofRelay(id: ComponentId): Delay {
    const known = this.known.get(id);
    if (known !== undefined) return known;
    this.known.set(id, AT_ONCE);
    const was = this.before.decision(id).usual;
    const is = this.after.decision(id).usual;
    const made = was === is ? AT_ONCE : this.moving(id, is === 'operated');
    this.known.set(id, made);
    return made;
  }

  private moving(id: ComponentId, operates: boolean): Delay {
    const relay = this.after.design.components[id] as ComponentOf<'relay'>;
    const arrives = this.untilSettled(id);
    const own = moveDelay(relay, operates ? 'operated' : 'released', this.before, this.after);
    return {
      seconds: sum(arrives.seconds, own),
      lacks: [...arrives.lacks, ...(own.lacks ?? [])],
      assumptions: [...arrives.assumptions, ...(own.assumptions ?? [])],
    };
  }

  private ofElement(element: Element): Delay {
    const island = this.after.islandOf(element);
    return island === undefined ? AT_ONCE : this.ofIsland(island);
  }

  private ofIsland(island: Island): Delay {
    return this.last(island.deciders.map((decider) => this.ofDecider(decider)));
  }

  private ofDecider(decider: ComponentId): Delay {
    return this.after.design.components[decider]!.kind === 'relay' ? this.ofRelay(decider) : AT_ONCE;
  }

  private last(delays: readonly Delay[]): Delay {
    if (delays.length === 0) return AT_ONCE;
    return {
      seconds: {
        least: Math.max(...delays.map(({ seconds }) => seconds.least)),
        usual: Math.max(...delays.map(({ seconds }) => seconds.usual)),
        most: Math.max(...delays.map(({ seconds }) => seconds.most)),
      },
      lacks: delays.flatMap(({ lacks }) => lacks),
      assumptions: delays.flatMap(({ assumptions }) => assumptions),
    };
  }
}
