/**
 * Systems: what has a supply of its own, with everything that is fed from it. Two systems share nothing unless somebody
 * joins them.
 */
import type { ComponentId, ComponentOf, Design, TerminalId } from '@couplet/engine';
import { componentOf, ofKind } from './circuits.ts';
import { feedingOf } from './feeding.ts';
import { Sets, wiringOf } from './wiring.ts';

export interface Pole {
  readonly terminal: TerminalId;
  /** Any one component of the system, the same for all poles of it. */
  readonly system: ComponentId;
  readonly component: ComponentId;
}

const KEPT = new WeakMap<Design, readonly Pole[]>();

/**
 * Poles of all sources and commons, each with the system that it belongs to. Zones and inputs belong to their unit, and
 * a unit that feeds its zones is a system, whether it says what feeds it or not.
 */
export function polesOf(design: Design): readonly Pole[] {
  const kept = KEPT.get(design);
  if (kept !== undefined) return kept;
  const made = findPoles(design);
  KEPT.set(design, made);
  return made;
}

function findPoles(design: Design): readonly Pole[] {
  const sets = new Sets(design.components.length);
  const wiring = wiringOf(design);
  const feeding = feedingOf(design);
  for (const component of design.components) {
    if (component.kind === 'source' || component.kind === 'common' || component.kind === 'feed') {
      if (component.owner !== undefined) sets.unite(component.id, component.owner);
    }
    if (component.kind === 'source') {
      if (component.fedBy !== undefined) sets.unite(component.id, component.fedBy);
      if (component.charges !== undefined) sets.unite(component.id, component.charges);
    }
    if (component.kind === 'feed') {
      for (const part of wiring.partsOf(component.id)) {
        for (const source of feeding.sourcesOf(part).forward) {
          if (componentOf(design, source, 'source') !== undefined) sets.unite(component.id, source);
        }
      }
    }
  }
  // Sources in parallel, plus to plus and minus to minus, are one supply.
  const sources = [...ofKind(design, 'source')];
  const byPoles = new Map<string, ComponentId>();
  for (const source of sources) {
    const ends = [source.a, source.b].map((terminal) => Math.min(...wiring.copperFrom(wiring.node(terminal))));
    const key = ends.join(' ');
    const known = byPoles.get(key);
    if (known === undefined) byPoles.set(key, source.id);
    else sets.unite(known, source.id);
  }

  const hasSource = new Set(sources.map((source) => sets.find(source.id)));
  for (const { owner, feedVolts } of readersOf(design)) {
    if (owner !== undefined && feedVolts !== undefined) hasSource.add(sets.find(owner));
  }
  const poles: Pole[] = [];
  const add = (terminal: TerminalId, component: ComponentId) => {
    const system = sets.find(component);
    if (hasSource.has(system)) poles.push({ terminal, system, component });
  };
  for (const component of design.components) {
    if (component.kind === 'source') {
      add(component.a, component.id);
      add(component.b, component.id);
    }
    if (component.kind === 'common') add(component.a, component.id);
  }
  return poles;
}

function* readersOf(design: Design): Generator<ComponentOf<'zone'> | ComponentOf<'input'>> {
  yield* ofKind(design, 'zone');
  yield* ofKind(design, 'input');
}
