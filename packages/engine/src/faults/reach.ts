/**
 * What a doing can touch, told from the healthy site: the islands that its parts lie in and, through the coils and
 * feeds in them, everything that these drive. Supplies that several islands hang on are not followed: whether one is
 * overloaded, the computation itself finds out.
 */
import type { Doings } from '../analysis/doings.ts';
import { Influence } from '../analysis/influence.ts';
import type { World } from '../analysis/world.ts';
import type { Element, Island } from '../build/index.ts';
import type { ComponentId } from '../design/components.ts';

export interface Reach {
  /** Where the doing itself lies. */
  readonly own: ReadonlySet<Island>;
  /** Its own islands and all that hang on them. */
  readonly islands: ReadonlySet<Island>;
}

export function reachOf(rest: World, doings: Doings): Reach {
  const walk = walkOf(rest, doings);
  const own = new Set(walk.islands);
  walk.follow();
  return { own, islands: walk.islands };
}

/** Where a doing itself lies. */
export function ownIslands(rest: World, doings: Doings): ReadonlySet<Island> {
  return walkOf(rest, doings).islands;
}

function walkOf(rest: World, doings: Doings): Walk {
  const walk = new Walk(rest);
  for (const component of doings.altered.keys()) walk.pieces(component);
  for (const component of doings.forced.keys()) walk.component(component);
  for (const component of doings.turned.keys()) walk.component(component);
  for (const { a, b } of doings.joins) walk.between(a, b);
  return walk;
}

class Walk {
  readonly islands = new Set<Island>();
  private readonly rest: World;
  private readonly seen = new Set<ComponentId>();

  constructor(rest: World) {
    this.rest = rest;
  }

  /** A part itself: what it drives moves only when it does. */
  pieces(id: ComponentId): void {
    for (const element of this.rest.shared.model.ofComponent[id] ?? []) this.element(element);
  }

  /** A part, what it drives, and what lives on it. */
  component(id: ComponentId): void {
    if (this.seen.has(id)) return;
    this.seen.add(id);
    const { shared, design } = this.rest;
    for (const element of shared.model.drivenBy(id)) this.element(element);
    const part = design.components[id]!;
    if (part.kind === 'unit') for (const member of part.members) this.component(member);
    if (part.kind === 'contact') return;
    for (const rail of shared.model.railsOn.get(id) ?? []) this.component(rail);
    if (part.kind === 'source' && part.charges !== undefined) this.component(part.charges);
  }

  /** Islands that a join between two terminals makes one. */
  between(a: number, b: number): void {
    const { model } = this.rest.shared;
    const [from, to] = [model.nodeOf(a), model.nodeOf(b)];
    const region = this.rest.regionAt(from);
    if (region === undefined || region !== this.rest.regionAt(to)) return;
    for (const { island } of this.rest.layoutOf(region).way(from, to) ?? []) this.islands.add(island);
  }

  /** Everything that hangs on the islands found so far. */
  follow(): void {
    const { design } = this.rest;
    const influence = new Influence(this.rest);
    // Islands that are added on the way come up in the same walk.
    for (const island of this.islands) {
      for (const relay of island.coils) this.component(relay);
      for (const { island: carrier } of influence.carriersOf(island)) this.islands.add(carrier);
      for (const { component } of island.elements) {
        if (component.kind !== 'feed' || component.owner === undefined) continue;
        if (design.components[component.owner]?.kind === 'unit') this.component(component.owner);
      }
    }
  }

  private element(element: Element): void {
    const { rest } = this;
    const island = rest.islandOf(element);
    if (island !== undefined) {
      this.islands.add(island);
      return;
    }
    const hanging = rest.layoutOf(rest.regionOf(element)).hanging.get(element.component.id) ?? [];
    for (const other of hanging) this.islands.add(other);
  }
}
