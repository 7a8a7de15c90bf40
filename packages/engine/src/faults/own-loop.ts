/**
 * What belongs to one zone's loop and to no other's: everything from its hot terminal on, up to the copper of its
 * return. Where several zones share a return, the rest of their island is not theirs.
 */
import type { Doings } from '../analysis/doings.ts';
import type { ComponentId, ComponentOf } from '../design/components.ts';
import type { FaultSite } from './site.ts';

export class OwnLoop {
  private readonly site: FaultSite;
  private readonly parts = new Set<ComponentId>();
  private readonly nodes = new Set<number>();
  /** Cores and the like that the return runs in. */
  private readonly returns = new Set<ComponentId>();

  constructor(site: FaultSite, zone: ComponentOf<'zone'>) {
    this.site = site;
    const { copper } = site;
    const back = site.node(zone.b);
    const elements = site.islandOf(zone.id)?.elements ?? [];
    const queue = [site.node(zone.a)];
    for (const node of queue) {
      if (this.nodes.has(node)) continue;
      this.nodes.add(node);
      for (const { a, b, component } of elements) {
        if ((a !== node && b !== node) || component.kind === 'zone') continue;
        this.parts.add(component.id);
        const other = a === node ? b : a;
        if (!copper.joins(other, back)) queue.push(other);
      }
    }
    for (const { a, b, component } of elements) {
      if (component.kind !== 'zone' && copper.joins(a, back) && copper.joins(b, back)) this.returns.add(component.id);
    }
  }

  has(part: ComponentId): boolean {
    return this.parts.has(part);
  }

  /** Whether a doing touches the loop or its return. */
  isTouched({ altered, joins }: Doings): boolean {
    for (const part of altered.keys()) if (this.parts.has(part) || this.returns.has(part)) return true;
    return joins.some(({ a, b }) => this.nodes.has(this.site.node(a)) || this.nodes.has(this.site.node(b)));
  }
}
