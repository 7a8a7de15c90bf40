/** One circuit with the way to its supplies and returns: the least that can be drawn. */
import type { Component, ComponentId, Design, TerminalId } from '@couplet/engine';
import type { Wiring } from '@couplet/rules';
import { indexOf, terminalsAt } from './couplings.ts';

export interface Piece {
  readonly components: ReadonlySet<ComponentId>;
  /** Indices into `Design.joins`. */
  readonly joins: ReadonlySet<number>;
}

/** A circuit with all its wires, and from its poles the shortest way over copper to a unit or supply. */
export function pieceFrom(design: Design, wiring: Wiring, group: ReadonlySet<ComponentId>): Piece {
  const components = new Set(group);
  const joins = new Set<number>();
  for (const id of group) {
    for (const terminal of wiring.terminalsOf(id)) {
      if (!wiring.isWired(terminal)) continue;
      if (wiring.isPole(wiring.node(terminal))) {
        if (!isBorder(design, terminal)) addWay(design, wiring, terminal, components, joins);
        continue;
      }
      for (const other of terminalsAt(design, wiring, terminal)) {
        for (const join of wiring.joinsAt(other)) joins.add(indexOf(design, join));
      }
    }
  }
  for (const id of components) {
    for (const terminal of wiring.terminalsOf(id)) {
      for (const join of wiring.joinsAt(terminal)) {
        const far = join.a === terminal ? join.b : join.a;
        if (components.has(design.terminals[far]!.component)) joins.add(indexOf(design, join));
      }
    }
  }
  return { components, joins };
}

const COPPER: ReadonlySet<Component['kind']> = new Set(['core', 'fuse', 'arrester']);

/** Terminals of units and supplies: there a way ends. */
function isBorder(design: Design, terminal: TerminalId): boolean {
  const part = design.components[design.terminals[terminal]!.component]!;
  if (part.kind === 'source') return true;
  const owner = part.owner === undefined ? undefined : design.components[part.owner];
  return owner?.kind === 'unit' && part.kind !== 'contact';
}

/** What is met on the way and is neither copper nor joint stays a mere terminal: only the wires are added. */
function addWay(
  design: Design,
  wiring: Wiring,
  start: TerminalId,
  components: Set<ComponentId>,
  joins: Set<number>,
): void {
  const cameFrom = new Map<TerminalId, TerminalId>([[start, start]]);
  const queue = [start];
  let end: TerminalId | undefined;
  for (let i = 0; i < queue.length && end === undefined; i++) {
    const at = queue[i]!;
    if (at !== start && isBorder(design, at)) end = at;
    for (const next of neighboursOf(design, wiring, at)) {
      if (cameFrom.has(next)) continue;
      cameFrom.set(next, at);
      queue.push(next);
    }
  }
  for (let at = end; at !== undefined && at !== start; ) {
    const before = cameFrom.get(at)!;
    const join = wiring.joinsAt(at).find(({ a, b }) => (a === at ? b : a) === before);
    if (join !== undefined) joins.add(indexOf(design, join));
    for (const each of [at, before]) {
      const { component } = design.terminals[each]!;
      const { kind } = design.components[component]!;
      if (isBorder(design, each) || COPPER.has(kind) || kind === 'joint' || kind === 'terminal')
        components.add(component);
    }
    at = before;
  }
}

function neighboursOf(design: Design, wiring: Wiring, at: TerminalId): readonly TerminalId[] {
  const joined = wiring
    .joinsAt(at)
    .map(({ a, b }) => (a === at ? b : a))
    .sort((one, other) => one - other);
  const part = design.components[design.terminals[at]!.component]!;
  if (!COPPER.has(part.kind) || !('a' in part && 'b' in part)) return joined;
  return [...joined, part.a === at ? part.b : part.a];
}
