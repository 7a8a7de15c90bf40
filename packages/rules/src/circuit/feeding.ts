/**
 * Which sources can feed a part: those whose plus is joined to one of its sides and whose minus to the other, through
 * anything that may conduct (copper, resistors, contacts whether open or closed, outputs whether on or off).
 * This is about wiring, not about any moment.
 */
import type { ComponentId, Design } from '@couplet/engine';
import { type NodeId, type Part, Sets, wiringOf } from './wiring.ts';

export interface Feeding {
  /** Sources that drive current from `a` to `b` of the part, and those that would drive it backwards. */
  sourcesOf(part: Part): { readonly forward: readonly ComponentId[]; readonly backward: readonly ComponentId[] };
  /** Sources whose plus, or minus, the node reaches. */
  reachesPlus(node: NodeId): readonly ComponentId[];
  reachesMinus(node: NodeId): readonly ComponentId[];
  /** The path closes, other consumers in series included. */
  closes(part: Part): boolean;
  /** Whether two nodes are joined by parts that are neither consumers nor sources. */
  joined(one: NodeId, other: NodeId): boolean;
}

const KEPT = new WeakMap<Design, Feeding>();

export function feedingOf(design: Design): Feeding {
  const kept = KEPT.get(design);
  if (kept !== undefined) return kept;
  const made = build(design);
  KEPT.set(design, made);
  return made;
}

const PASSES = new Set(['copper', 'resistor', 'contact', 'diode', 'output']);

function build(design: Design): Feeding {
  const wiring = wiringOf(design);
  const sets = new Sets(design.terminals.length);
  const sources: Part[] = [];
  for (const component of design.components) {
    for (const part of wiring.partsOf(component.id)) {
      if (PASSES.has(part.sort)) sets.unite(part.a, part.b);
      if (part.sort === 'source') sources.push(part);
    }
  }
  const plus = new Map<number, ComponentId[]>();
  const minus = new Map<number, ComponentId[]>();
  const add = (map: Map<number, ComponentId[]>, node: NodeId, source: ComponentId) => {
    const set = sets.find(node);
    const there = map.get(set);
    if (there === undefined) map.set(set, [source]);
    else there.push(source);
  };
  for (const source of sources) {
    add(plus, source.a, source.component);
    add(minus, source.b, source.component);
  }
  const none: readonly ComponentId[] = [];
  const reachesPlus = (node: NodeId) => plus.get(sets.find(node)) ?? none;
  const reachesMinus = (node: NodeId) => minus.get(sets.find(node)) ?? none;
  const both = (one: readonly ComponentId[], other: readonly ComponentId[]) => {
    if (one.length === 0 || other.length === 0) return none;
    const [few, many] = one.length < other.length ? [one, new Set(other)] : [other, new Set(one)];
    return few.filter((source) => many.has(source));
  };
  const sourcesOf = (part: Part) => ({
    forward: both(reachesPlus(part.a), reachesMinus(part.b)),
    backward: both(reachesMinus(part.a), reachesPlus(part.b)),
  });

  return {
    sourcesOf,
    reachesPlus,
    reachesMinus,
    joined: (one, other) => sets.find(one) === sets.find(other),
    closes(part) {
      const { forward, backward } = sourcesOf(part);
      if (forward.length > 0 || backward.length > 0) return true;
      return closesInSeries(part);
    },
  };

  /** Walks through other consumers too: two lamps in series are fed although neither touches both poles. */
  function closesInSeries(part: Part): boolean {
    const fromA = walk(part.a, part);
    const fromB = walk(part.b, part);
    return sources.some(
      (source) => (fromA.has(source.a) && fromB.has(source.b)) || (fromA.has(source.b) && fromB.has(source.a)),
    );
  }

  function walk(start: NodeId, without: Part): ReadonlySet<NodeId> {
    const seen = new Set([start]);
    const queue = [start];
    for (let node = queue.pop(); node !== undefined; node = queue.pop()) {
      for (const part of wiring.partsAt(node)) {
        if (part === without || part.sort === 'source' || part.sort === 'capacitor') continue;
        for (const next of [part.a, part.b]) {
          if (seen.has(next)) continue;
          seen.add(next);
          queue.push(next);
        }
      }
    }
    return seen;
  }
}
