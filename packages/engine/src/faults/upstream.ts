/** What can change a reading: the islands that it is taken in, and through their contacts and supplies all before them. */
import type { World } from '../analysis/world.ts';
import type { Element, Island } from '../build/index.ts';
import type { ComponentId, TerminalId } from '../design/components.ts';

export interface Upstream {
  readonly islands: ReadonlySet<Island>;
  /** Supplies that they hang on. */
  readonly sources: ReadonlySet<ComponentId>;
}

/** Where a reading is taken: between two terminals, or in a part. */
export interface Spot {
  readonly a?: TerminalId;
  readonly b?: TerminalId;
  readonly component?: ComponentId;
}

export function upstreamOf(rest: World, spots: readonly Spot[]): Upstream {
  const walk = new Upwards(rest);
  for (const spot of spots) walk.spot(spot);
  walk.follow();
  return walk;
}

class Upwards implements Upstream {
  readonly islands = new Set<Island>();
  readonly sources = new Set<ComponentId>();
  private readonly rest: World;
  private readonly seen = new Set<ComponentId>();

  constructor(rest: World) {
    this.rest = rest;
  }

  spot({ a, b, component }: Spot): void {
    const { model } = this.rest.shared;
    if (component !== undefined) this.part(component);
    if (a === undefined || b === undefined) return;
    const [from, to] = [model.nodeOf(a), model.nodeOf(b)];
    const region = this.rest.regionAt(from);
    const way =
      region === undefined || region !== this.rest.regionAt(to) ? [] : this.rest.layoutOf(region).way(from, to);
    for (const { island } of way ?? []) this.islands.add(island);
    for (const end of [a, b]) this.part(this.rest.design.terminals[end]!.component);
  }

  /** A part and what decides its state. */
  part(id: ComponentId): void {
    if (this.seen.has(id)) return;
    this.seen.add(id);
    const { design, shared } = this.rest;
    for (const element of shared.model.ofComponent[id] ?? []) this.element(element);
    const part = design.components[id]!;
    if (part.kind === 'contact') this.part(part.driver);
    if (part.kind === 'unit') {
      for (const member of part.members) if (design.components[member]!.kind === 'feed') this.part(member);
    }
    if (part.kind === 'source' && part.fedBy !== undefined) this.part(part.fedBy);
    if (part.owner !== undefined && design.components[part.owner]?.kind === 'unit') this.part(part.owner);
  }

  follow(): void {
    // Islands that are added on the way come up in the same walk.
    for (const island of this.islands) {
      for (const { component } of island.elements) if (component.id >= 0) this.part(component.id);
      for (const { element } of island.pins) {
        this.sources.add(element.component.id);
        this.part(element.component.id);
      }
    }
  }

  private element(element: Element): void {
    const island = this.rest.islandOf(element);
    if (island === undefined) this.sources.add(element.component.id);
    else this.islands.add(island);
  }
}
