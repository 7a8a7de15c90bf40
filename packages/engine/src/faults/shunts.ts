/** Which parts lie across a contact: between the same two stretches of bare copper. */

import { DisjointSets } from '../build/disjoint.ts';
import type { Model } from '../build/index.ts';
import type { ComponentKind, ComponentOf } from '../design/components.ts';

/** Next to no resistance. */
const COPPER: ReadonlySet<ComponentKind> = new Set(['core', 'fuse', 'arrester']);

export class Shunts {
  private readonly model: Model;
  private readonly copper: DisjointSets;
  private readonly contacts = new Set<number>();

  constructor(model: Model) {
    this.model = model;
    this.copper = new DisjointSets(model.nodeCount);
    for (const { a, b, component, rule } of model.elements) {
      if (COPPER.has(component.kind) && rule.role === 'main') this.copper.unite(a, b);
    }
    for (const { a, b, component } of model.elements) {
      if (component.kind === 'contact') this.contacts.add(this.pair(a, b));
    }
  }

  isShunt(part: ComponentOf<'resistor'>): boolean {
    return this.contacts.has(this.pair(this.model.nodeOf(part.a), this.model.nodeOf(part.b)));
  }

  private pair(a: number, b: number): number {
    const [one, other] = [this.copper.find(a), this.copper.find(b)];
    return Math.min(one, other) * this.model.nodeCount + Math.max(one, other);
  }
}
