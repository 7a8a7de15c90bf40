/**
 * A design made ready for faults that take a wire apart: each join that can be cut, and each place at which an end
 * resistor may have been fitted instead of its own, becomes a part of no ohms. Nothing that is computed changes by it.
 */
import { type Element, Model } from '../build/index.ts';
import type { Component, ComponentId, TerminalId } from '../design/components.ts';
import { exact, NO_ORIGIN, type Origin } from '../design/datum.ts';
import type { Design, Join, Terminal } from '../design/design.ts';
import { Copper } from './copper.ts';
import { cuttableJoins } from './cuts.ts';

/** A join that can be cut, with the part that stands for it. */
export interface Cut {
  readonly link: ComponentId;
  readonly a: TerminalId;
  readonly b: TerminalId;
  readonly origin: Origin;
}

export interface Prepared {
  readonly design: Design;
  /** The design as given. */
  readonly original: Model;
  readonly copper: Copper;
  readonly cuts: readonly Cut[];
  /** Resistors next to a core, and the part of no ohms at the core's other end. */
  readonly otherEnds: ReadonlyMap<ComponentId, ComponentId>;
}

export function prepare(design: Design): Prepared {
  const model = new Model(design);
  const cut = cuttableJoins(model);
  const copper = new Copper(model);
  const moves = seriesMoves(model, copper);
  const given = { original: model, copper };
  if (cut.length === 0 && moves.size === 0) return { ...given, design, cuts: [], otherEnds: new Map() };

  const components: Component[] = [...design.components];
  const terminals: Terminal[] = [...design.terminals];
  const joins: Join[] = [];
  /** A part of no ohms that is joined to two terminals; returns it and its second end. */
  const link = (name: string, from: TerminalId, to: TerminalId | undefined, origin: Origin) => {
    const id = components.length;
    const [a, b] = [terminals.length, terminals.length + 1];
    const { place } = terminals[from]!;
    for (const end of [a, b]) {
      terminals.push({ id: end, name, origin, component: id, ...(place === undefined ? {} : { place }) });
    }
    components.push({ kind: 'resistor', id, name, origin, a, b, ohms: exact(0) });
    joins.push({ a: from, b: a, origin });
    if (to !== undefined) joins.push({ a: b, b: to, origin });
    return { id, end: b };
  };

  /** Behind a core's end: what was joined to it is joined here. */
  const behind = new Map<TerminalId, TerminalId>();
  const linkAt = new Map<TerminalId, ComponentId>();
  for (const core of new Set(moves.values())) {
    const { id, end } = link(design.terminals[core]!.name, core, undefined, NO_ORIGIN);
    behind.set(core, end);
    linkAt.set(core, id);
  }
  const otherEnds = new Map<ComponentId, ComponentId>();
  for (const [resistor, end] of moves) otherEnds.set(resistor, linkAt.get(end)!);

  const isCut = new Set(cut);
  const cuts: Cut[] = [];
  design.joins.forEach((join, index) => {
    const a = behind.get(join.a) ?? join.a;
    const b = behind.get(join.b) ?? join.b;
    if (!isCut.has(index)) {
      joins.push({ ...join, a, b });
      return;
    }
    const name = `${design.terminals[join.a]!.name} to ${design.terminals[join.b]!.name}`;
    const { id } = link(name, a, b, join.origin);
    cuts.push({ link: id, a: join.a, b: join.b, origin: join.origin });
  });
  return { ...given, design: { ...design, components, terminals, joins }, cuts, otherEnds };
}

/**
 * Resistors of loops that stand in series with a core and nothing between, each with the core's other end. A resistor
 * across a contact is none of them: it cannot be moved without both ends of the contact.
 */
function seriesMoves(model: Model, copper: Copper): ReadonlyMap<ComponentId, TerminalId> {
  const { design } = model;
  const zoneRegions = new Set(
    design.components.map((part) => (part.kind === 'zone' ? model.regionOf(model.nodeOf(part.a)) : undefined)),
  );
  const at = elementsAt(model);
  const moves = new Map<ComponentId, TerminalId>();
  for (const part of design.components) {
    if (part.kind !== 'resistor' || !zoneRegions.has(model.regionOf(model.nodeOf(part.a)))) continue;
    if (copper.isShunt(part)) continue;
    for (const end of [part.b, part.a]) {
      const beside = (at.get(model.nodeOf(end)) ?? []).filter(({ component }) => component.id !== part.id);
      const core = beside.length === 1 ? beside[0]!.component : undefined;
      if (core?.kind !== 'core') continue;
      const far = model.nodeOf(core.a) === model.nodeOf(end) ? core.b : core.a;
      if (!model.isJoined(far) || model.nodeOf(far) === model.nodeOf(end)) continue;
      moves.set(part.id, far);
      break;
    }
  }
  return moves;
}

/** Elements that end at each node. */
function elementsAt(model: Model): ReadonlyMap<number, readonly Element[]> {
  const at = new Map<number, Element[]>();
  for (const element of model.elements) {
    for (const node of element.a === element.b ? [element.a] : [element.a, element.b]) {
      const list = at.get(node);
      if (list === undefined) at.set(node, [element]);
      else list.push(element);
    }
  }
  return at;
}
