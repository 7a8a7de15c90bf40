/** Terminals that nothing is joined to and that are not marked spare, by what they belong to. */
import type { Component, ComponentId, Design, TerminalId } from '@couplet/engine';
import { wiringOf } from '../circuit/wiring.ts';

export interface Unused {
  readonly owner: Component;
  readonly names: readonly string[];
  readonly concerns: readonly ComponentId[];
}

/** Open terminals of the components of some kinds, one entry for each thing they are a part of. */
export function unusedOf(design: Design, kinds: ReadonlySet<Component['kind']>): readonly Unused[] {
  const wiring = wiringOf(design);
  const spare = new Set<TerminalId>(design.spare);
  const found = new Map<ComponentId, { names: Set<string>; concerns: Set<ComponentId> }>();
  for (const terminal of design.terminals) {
    const component = design.components[terminal.component];
    if (component === undefined || !kinds.has(component.kind)) continue;
    if (wiring.isWired(terminal.id) || spare.has(terminal.id)) continue;
    const owner = component.owner ?? component.id;
    const entry = found.get(owner) ?? { names: new Set(), concerns: new Set() };
    entry.names.add(terminal.name);
    entry.concerns.add(component.id);
    found.set(owner, entry);
  }
  return [...found]
    .sort(([one], [other]) => one - other)
    .map(([owner, { names, concerns }]) => ({
      owner: design.components[owner]!,
      names: [...names],
      concerns: [...concerns],
    }));
}
