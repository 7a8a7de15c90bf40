/**
 * Circuits: what lies between one pole and the other. Two loads on the same rail are two circuits; an output, the load
 * it drives and the cores between them are one; a loop is one, from the zone's hot terminal to its return.
 */
import type { Component, ComponentId, ComponentKind, ComponentOf, Design, Zone } from '@couplet/engine';
import { type NodeId, type Part, wiringOf } from './wiring.ts';

/** A component of one kind by its number; undefined where it is of another kind. */
export function componentOf<K extends ComponentKind>(
  design: Design,
  id: ComponentId | undefined,
  kind: K,
): ComponentOf<K> | undefined {
  const component: Component | undefined = id === undefined ? undefined : design.components[id];
  return component?.kind === kind ? (component as ComponentOf<K>) : undefined;
}

const BY_KIND = new WeakMap<Design, ReadonlyMap<ComponentKind, readonly Component[]>>();

/** Components of one kind, in the order of the design. */
export function ofKind<K extends ComponentKind>(design: Design, kind: K): readonly ComponentOf<K>[] {
  let sorted = BY_KIND.get(design);
  if (sorted === undefined) {
    sorted = Map.groupBy(design.components, (component) => component.kind);
    BY_KIND.set(design, sorted);
  }
  return (sorted.get(kind) ?? []) as readonly ComponentOf<K>[];
}

export function nameOf(design: Design, id: ComponentId): string {
  return design.components[id]?.name ?? '?';
}

const KEPT = new WeakMap<Design, Map<ComponentId, readonly Part[]>>();

/** Parts that share a circuit with any part of the component, its own included. Relays' contacts are other circuits. */
export function circuitOf(design: Design, component: ComponentId): readonly Part[] {
  let kept = KEPT.get(design);
  if (kept === undefined) {
    kept = new Map();
    KEPT.set(design, kept);
  }
  const known = kept.get(component);
  if (known !== undefined) return known;
  const found = walk(design, component);
  kept.set(component, found);
  return found;
}

function walk(design: Design, component: ComponentId): readonly Part[] {
  const wiring = wiringOf(design);
  const parts = new Set<Part>(wiring.partsOf(component));
  const seen = new Set<NodeId>();
  const queue: NodeId[] = [];
  const reach = (node: NodeId) => {
    if (seen.has(node) || wiring.isPole(node)) return;
    seen.add(node);
    queue.push(node);
  };
  for (const part of parts) {
    reach(part.a);
    reach(part.b);
  }
  for (let node = queue.pop(); node !== undefined; node = queue.pop()) {
    for (const part of wiring.partsAt(node)) {
      parts.add(part);
      reach(part.a);
      reach(part.b);
    }
  }
  return [...parts].sort((one, other) => one.component - other.component || one.aTerminal - other.aTerminal);
}

/** The components of a circuit. */
export function circuitComponents(design: Design, component: ComponentId): readonly ComponentId[] {
  return [...new Set(circuitOf(design, component).map((part) => part.component))];
}

/** Outputs that can drive or hold off what lies in the circuit of a component. */
export function outputsOf(design: Design, component: ComponentId): readonly ComponentOf<'output'>[] {
  return circuitComponents(design, component)
    .map((id) => componentOf(design, id, 'output'))
    .filter((output) => output !== undefined);
}

/**
 * Cores of the cables that a zone's hot leg runs in: those of the loop itself, and other cores of the same return in the
 * same cables. What merely shares the return elsewhere is not among them.
 */
export function pairCores(design: Design, zone: Zone): readonly ComponentOf<'core'>[] {
  const hot = new Set(hotCores(design, zone).map((core) => core.cable));
  return loopCores(design, zone).filter((core) => hot.has(core.cable));
}

/** Cores of a zone's circuit, those that bare copper joins to its return left out. */
export function hotCores(design: Design, zone: Zone): readonly ComponentOf<'core'>[] {
  return circuitComponents(design, zone.id)
    .map((id) => componentOf(design, id, 'core'))
    .filter((core) => core !== undefined);
}

/** Cores of a zone's loop: those of its circuit and those of the copper that its return runs in. */
export function loopCores(design: Design, zone: Zone): readonly ComponentOf<'core'>[] {
  const wiring = wiringOf(design);
  const returning = wiring.copperFrom(wiring.node(zone.b));
  const found = new Set<ComponentId>(circuitComponents(design, zone.id));
  for (const node of returning) {
    for (const part of wiring.partsAt(node)) if (part.sort === 'copper') found.add(part.component);
  }
  return [...found]
    .sort((one, other) => one - other)
    .map((id) => componentOf(design, id, 'core'))
    .filter((core) => core !== undefined);
}

/**
 * Cores that the current of a zone's own loop passes: those of its circuit, and of the copper of its return those between
 * the loop and the panel. Other loops that end at the same return have cores of their own.
 */
export function ownCores(design: Design, zone: Zone): readonly ComponentOf<'core'>[] {
  const wiring = wiringOf(design);
  const end = wiring.node(zone.b);
  const circuit = circuitOf(design, zone.id);
  const kept = new Set([end, ...circuit.flatMap(({ a, b }) => [a, b])]);
  const left = new Map<NodeId, Set<Part>>();
  for (const node of wiring.copperFrom(end)) {
    left.set(node, new Set(wiring.partsAt(node).filter(({ sort }) => sort === 'copper')));
  }
  // What hangs on the return by one end alone leads to nothing of this loop.
  const loose = [...left.keys()];
  for (let node = loose.pop(); node !== undefined; node = loose.pop()) {
    const parts = left.get(node);
    if (kept.has(node) || parts?.size !== 1) continue;
    const [only] = parts;
    if (only === undefined) continue;
    const other = only.a === node ? only.b : only.a;
    left.delete(node);
    left.get(other)?.delete(only);
    loose.push(other);
  }
  const found = new Set(
    [...circuit, ...[...left.values()].flatMap((parts) => [...parts])].map((part) => part.component),
  );
  return [...found]
    .sort((one, other) => one - other)
    .map((id) => componentOf(design, id, 'core'))
    .filter((core) => core !== undefined);
}
