/**
 * Which relays can change what other relays see: a contact changes the island that it lies in, an island feeds the
 * coils that lie in it, and what an island draws from a rail is drawn again where the rail hangs.
 */

import type { Element, Island } from '../build/index.ts';
import type { ComponentId } from '../design/components.ts';
import type { World } from './world.ts';

/** Relays that influence each other in a circle, or one alone. */
export interface Circle {
  readonly relays: readonly ComponentId[];
  /** It can change what its own coil sees. */
  readonly onItself: boolean;
}

export interface Carrier {
  readonly element: Element;
  readonly island: Island;
}

export class Influence {
  private readonly world: World;
  private readonly held: ReadonlyMap<ComponentId, unknown>;

  /** Relays that are `held` do not move, whatever they see. */
  constructor(world: World, held: ReadonlyMap<ComponentId, unknown> = new Map()) {
    this.world = world;
    this.held = held;
  }

  /** Where the current is drawn again that an island takes from rails fed by something else. */
  carriersOf(island: Island): readonly Carrier[] {
    const { world } = this;
    const carriers: Carrier[] = [];
    const note = (source: Element) => {
      const part = source.component;
      if (part.kind !== 'source' || part.fedBy === undefined) return;
      const element = world.shared.model.ofComponent[part.fedBy]!.find((other) => other.rule.role === 'carried');
      const at = element === undefined ? undefined : world.islandOf(element);
      if (element !== undefined && at !== undefined && at !== island) carriers.push({ element, island: at });
    };
    for (const pin of island.pins) note(pin.element);
    for (const element of island.elements) if (element.rule.role === 'main') note(element);
    return carriers;
  }

  /** Relays whose coils may see a change when this one moves. */
  next(relay: ComponentId): readonly ComponentId[] {
    const { world } = this;
    const islands = new Set<Island>();
    const reach = (island: Island) => {
      if (islands.has(island)) return;
      islands.add(island);
      for (const carrier of this.carriersOf(island)) reach(carrier.island);
    };
    for (const element of world.shared.model.drivenBy(relay)) {
      if (element.component.id === relay) continue;
      const island = world.islandOf(element);
      if (island !== undefined) reach(island);
    }
    const relays = new Set<ComponentId>();
    for (const island of islands) for (const coil of island.coils) if (!this.held.has(coil)) relays.add(coil);
    return [...relays];
  }

  /**
   * All relays that some can influence, in an order in which influence only runs forward.
   * Source: Tarjan, 'Depth-first search and linear graph algorithms', SIAM Journal on Computing 1 (1972).
   */
  ordered(starts: readonly ComponentId[]): readonly Circle[] {
    const index = new Map<ComponentId, number>();
    const low = new Map<ComponentId, number>();
    const onStack = new Set<ComponentId>();
    const stack: ComponentId[] = [];
    const circles: Circle[] = [];
    const path: { relay: ComponentId; next: readonly ComponentId[]; at: number }[] = [];
    const enter = (relay: ComponentId) => {
      index.set(relay, index.size);
      low.set(relay, index.get(relay)!);
      stack.push(relay);
      onStack.add(relay);
      path.push({ relay, next: this.next(relay), at: 0 });
    };
    for (const start of starts) {
      if (index.has(start)) continue;
      enter(start);
      while (path.length > 0) {
        const step = path.at(-1)!;
        const { relay } = step;
        if (step.at < step.next.length) {
          const other = step.next[step.at++]!;
          if (!index.has(other)) enter(other);
          else if (onStack.has(other)) low.set(relay, Math.min(low.get(relay)!, index.get(other)!));
          continue;
        }
        path.pop();
        const parent = path.at(-1)?.relay;
        if (parent !== undefined) low.set(parent, Math.min(low.get(parent)!, low.get(relay)!));
        if (low.get(relay) !== index.get(relay)) continue;
        const relays: ComponentId[] = [];
        for (;;) {
          const member = stack.pop()!;
          onStack.delete(member);
          relays.push(member);
          if (member === relay) break;
        }
        circles.push({ relays: relays.sort((one, other) => one - other), onItself: step.next.includes(relay) });
      }
    }
    return circles.reverse();
  }
}
