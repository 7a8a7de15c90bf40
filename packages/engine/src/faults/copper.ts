/** Stretches of bare copper: what cores, fuses and arresters join, and which parts lie across a contact between two. */

import type { Model } from '../build/index.ts';
import type { ComponentKind, ComponentOf } from '../design/components.ts';
import { DisjointSets } from '../disjoint.ts';

/** Next to no resistance. */
const COPPER: ReadonlySet<ComponentKind> = new Set(['core', 'fuse', 'arrester']);

export class Copper {
  private readonly model: Model;
  private readonly sets: DisjointSets;
  private readonly contacts = new Set<number>();

  constructor(model: Model) {
    this.model = model;
    this.sets = new DisjointSets(model.nodeCount);
    for (const { a, b, component, rule } of model.elements) {
      if (COPPER.has(component.kind) && rule.role === 'main') this.sets.unite(a, b);
    }
    for (const { a, b, component } of model.elements) {
      if (component.kind === 'contact') this.contacts.add(this.pair(a, b));
    }
  }

  isShunt(part: ComponentOf<'resistor'>): boolean {
    return this.contacts.has(this.pair(this.model.nodeOf(part.a), this.model.nodeOf(part.b)));
  }

  /** Whether nothing but copper lies between two nodes. */
  joins(a: number, b: number): boolean {
    return this.sets.find(a) === this.sets.find(b);
  }

  private pair(a: number, b: number): number {
    const [one, other] = [this.sets.find(a), this.sets.find(b)];
    return Math.min(one, other) * this.model.nodeCount + Math.max(one, other);
  }
}
