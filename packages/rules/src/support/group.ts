/** What is missing in a type is missing once, however many components are of that type. */
import type { Component } from '@couplet/engine';

/** Components in groups with the same origin; what nobody wrote stands alone. */
export function byOrigin<C extends Component>(components: Iterable<C>): readonly (readonly [C, ...C[]])[] {
  const groups = new Map<string, [C, ...C[]]>();
  for (const component of components) {
    const key = component.origin < 0 ? `c${component.id}` : `o${component.origin}`;
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [component]);
    else group.push(component);
  }
  return [...groups.values()];
}
