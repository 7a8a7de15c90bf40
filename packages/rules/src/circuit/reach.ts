/** What can change when something changes: along circuits, through relays, from supplies to all that they feed. */
import type { Case, ComponentId, Design } from '@couplet/engine';
import { circuitComponents } from './circuits.ts';
import { Sets, wiringOf } from './wiring.ts';

/** Components that act on others without a wire: members of a unit on one another, coils on contacts, feeds on rails. */
interface Influence {
  /** Directly acted on, without any wire between. */
  readonly acts: readonly (readonly ComponentId[])[];
  readonly islandOf: (component: ComponentId) => readonly number[];
  readonly island: ReadonlyMap<number, readonly ComponentId[]>;
}

const KEPT = new WeakMap<Design, Influence>();

function influenceOf(design: Design): Influence {
  const kept = KEPT.get(design);
  if (kept !== undefined) return kept;
  const made = build(design);
  KEPT.set(design, made);
  return made;
}

function build(design: Design): Influence {
  const acts: ComponentId[][] = design.components.map(() => []);
  for (const component of design.components) {
    if (component.kind === 'contact') acts[component.driver]?.push(component.id);
    if (component.kind === 'unit') acts[component.id]?.push(...component.members);
    if (component.kind === 'cable') acts[component.id]?.push(...component.cores);
    if (component.kind === 'source' && component.fedBy !== undefined) acts[component.fedBy]?.push(component.id);
    if (component.kind === 'output' && component.rail !== undefined) acts[component.rail]?.push(component.id);
    // What a panel says works outputs that follow it, straight or once it is confirmed.
    if (component.kind === 'confirm') for (const zone of component.zones) acts[zone]?.push(component.id);
    if (component.kind === 'output')
      for (const each of component.follows ?? []) acts[each.component]?.push(component.id);
    // A feed that falls takes its whole unit with it.
    if (component.kind === 'feed' && component.owner !== undefined) acts[component.id]?.push(component.owner);
  }

  const wiring = wiringOf(design);
  const sets = new Sets(design.terminals.length);
  for (const component of design.components) {
    for (const part of wiring.partsOf(component.id)) sets.unite(part.a, part.b);
  }
  const island = new Map<number, ComponentId[]>();
  const islands: number[][] = design.components.map(() => []);
  for (const component of design.components) {
    for (const part of wiring.partsOf(component.id)) {
      const set = sets.find(part.a);
      if (islands[component.id]!.includes(set)) continue;
      islands[component.id]!.push(set);
      const there = island.get(set);
      if (there === undefined) island.set(set, [component.id]);
      else there.push(component.id);
    }
  }
  return { acts, islandOf: (component) => islands[component] ?? [], island };
}

/** Everything whose volts or state may change when the given components change, islands taken whole. */
export function touchedBy(design: Design, seeds: Iterable<ComponentId>): ReadonlySet<ComponentId> {
  const influence = influenceOf(design);
  const seen = new Set<ComponentId>();
  const done = new Set<number>();
  const queue = [...seeds];
  for (let id = queue.pop(); id !== undefined; id = queue.pop()) {
    if (seen.has(id)) continue;
    seen.add(id);
    queue.push(...(influence.acts[id] ?? []));
    for (const set of influence.islandOf(id)) {
      if (done.has(set)) continue;
      done.add(set);
      queue.push(...(influence.island.get(set) ?? []));
    }
  }
  return seen;
}

/** Components that a case turns, with those of the case it follows. */
export function turnedIn(design: Design, what: Case): ReadonlySet<ComponentId> {
  const turned = new Set<ComponentId>();
  const visited = new Set<Case>();
  for (let at: Case | undefined = what; at !== undefined && !visited.has(at); ) {
    visited.add(at);
    for (const step of at.steps) {
      if (step.sort !== 'turn') continue;
      turned.add(step.target);
      if (step.other !== undefined) turned.add(step.other);
    }
    at = at.after === undefined ? undefined : design.cases[at.after];
  }
  return turned;
}

/**
 * What hangs on a component: its circuit, what the relays in that circuit switch, and so on. Narrower than
 * `touchedBy`: it does not spread through a shared supply to circuits that have nothing else in common.
 */
export function downstreamOf(design: Design, component: ComponentId): ReadonlySet<ComponentId> {
  const influence = influenceOf(design);
  const wiring = wiringOf(design);
  const seen = new Set<ComponentId>();
  const queue = [component];
  for (let id = queue.pop(); id !== undefined; id = queue.pop()) {
    if (seen.has(id)) continue;
    seen.add(id);
    queue.push(...(influence.acts[id] ?? []));
    const what = design.components[id];
    if (what === undefined) continue;
    queue.push(...circuitComponents(design, id));
    // A supply, fuse or core carries every circuit that begins at the copper behind it.
    if (what.kind === 'source' && what.sort !== undefined) queue.push(...fedThrough(wiring.node(what.a)));
    if (what.kind === 'fuse') queue.push(...fedThrough(wiring.node(what.a)), ...fedThrough(wiring.node(what.b)));
  }
  return seen;

  function fedThrough(node: number): ComponentId[] {
    const found: ComponentId[] = [];
    for (const near of wiring.copperFrom(node)) {
      for (const part of wiring.partsAt(near)) {
        if (part.sort !== 'source') found.push(part.component);
      }
    }
    return found;
  }
}
