/** Figures of parts at one settled instant, as ranges. */

import type { Element, Island } from '../build/index.ts';
import type { Component, ComponentId, ComponentOf, TerminalId } from '../design/components.ts';
import { ampsGauge, drawnWattsGauge, loopOhmsGauge, meterGauge, voltsGauge, wattsGauge } from './gauges.ts';
import { inCircuit, type Range, type Ranged, rangeOf, sumOf, unite, ZERO } from './range.ts';
import { isStiff } from './shared.ts';
import { supplyAmps } from './supply.ts';
import type { World } from './world.ts';

const NO_CONNECTION: Ranged = { sort: 'no-connection' };

/** Volts from one terminal to another, along the islands that lie between them. */
export function voltsBetween(world: World, a: TerminalId, b: TerminalId): Ranged {
  const { model } = world.shared;
  return nodeVolts(world, model.nodeOf(a), model.nodeOf(b));
}

function nodeVolts(world: World, from: number, to: number): Ranged {
  if (from === to) return ZERO;
  const region = world.regionAt(from);
  if (region === undefined || region !== world.regionAt(to)) return NO_CONNECTION;
  const way = world.layoutOf(region).way(from, to);
  if (way === undefined) return NO_CONNECTION;
  const parts: Range[] = [];
  let live = false;
  for (const stretch of way) {
    const part = rangeOf(world, stretch.island, voltsGauge(stretch.island, stretch.from, stretch.to));
    if (part.sort !== 'range') return part;
    parts.push(part);
    live ||= isLive(world, stretch.island, stretch.from);
  }
  if (!live) return NO_CONNECTION;
  return parts.length === 1 ? parts[0]! : sumOf(parts);
}

/** Whether anything drives the part of the island that a node lies in. */
function isLive(world: World, island: Island, node: number): boolean {
  const local = island.local(node);
  return world.circuits(island).some((circuit) => circuit.isLive(local));
}

/** Elements of a part in groups by island; pinned supplies are not among them. */
function byIsland(world: World, elements: readonly Element[]): ReadonlyMap<Island, readonly Element[]> {
  const groups = new Map<Island, Element[]>();
  for (const element of elements) {
    if (element.rule.counts === 0) continue;
    const island = world.islandOf(element);
    if (island === undefined) continue;
    const group = groups.get(island);
    if (group === undefined) groups.set(island, [element]);
    else group.push(element);
  }
  return groups;
}

/** Parts whose amperes those of a part are: a unit's are those of its feeds, a simple switch's those of its contact. */
function carriers(world: World, part: Component): readonly Component[] {
  const all = world.design.components;
  if (part.kind === 'unit') return part.members.map((id) => all[id]!).filter((member) => member.kind === 'feed');
  if (part.kind === 'switch') return part.contacts.length === 1 ? [all[part.contacts[0]!]!] : [];
  if (part.kind === 'actuator') {
    const driven = world.shared.model.drivenBy(part.id).map((element) => element.component);
    return driven.length === 1 ? driven : [];
  }
  return [part];
}

export function ampsOf(world: World, id: ComponentId): Ranged {
  const parts: Range[] = [];
  let connected = false;
  for (const part of carriers(world, world.design.components[id]!)) {
    const elements = world.shared.model.ofComponent[part.id]!;
    if (part.kind === 'source') {
      const main = elements.find((element) => element.rule.role === 'main')!;
      return supplyAmps(world, main);
    }
    for (const [island, group] of byIsland(world, elements)) {
      const amps = rangeOf(world, island, ampsGauge(island, group));
      if (amps.sort === 'unknown') return amps;
      if (amps.sort === 'range') parts.push(amps);
      connected ||= isLive(world, island, group[0]!.a) || isLive(world, island, group[0]!.b);
    }
  }
  return connected ? sumOf(parts) : NO_CONNECTION;
}

/** Amperes with the part's own limit lifted. */
export function demandOf(world: World, id: ComponentId): Ranged {
  const part = world.design.components[id]!;
  const known = world.demands.get(id);
  if (known !== undefined) return known;
  const elements = world.shared.model.ofComponent[id]!;
  if (part.kind === 'source') {
    const main = elements.find((element) => element.rule.role === 'main')!;
    return part.limit === undefined || world.word(id) === 'off' ? ampsOf(world, id) : sourceDemand(world, main);
  }
  if (part.kind !== 'output' || part.limits === undefined) return ampsOf(world, id);
  const parts: Range[] = [];
  for (const [island, group] of byIsland(world, elements)) {
    for (const element of group) {
      const amps = lifted(world, island, element);
      if (amps.sort === 'unknown') return amps;
      if (amps.sort === 'range') parts.push(amps);
    }
  }
  return parts.length === 0 ? NO_CONNECTION : sumOf(parts);
}

function sourceDemand(world: World, source: Element): Ranged {
  const region = world.regionOf(source);
  const island = world.layoutOf(region).islandOf(source);
  if (island === undefined) return supplyAmps(world, source);
  if (!isStiff(source) || world.word(source.component.id) !== 'on') return lifted(world, island, source);
  return supplyAmps(world, source, world.layOutWith(source));
}

function lifted(world: World, island: Island, element: Element): Ranged {
  let union: Range | undefined;
  for (const circuit of world.circuits(island)) {
    const amps = inCircuit(circuit.lifting(element), ampsGauge(island, [element]));
    if (amps.sort !== 'range') return amps;
    union = union === undefined ? amps : unite(union, amps);
  }
  return union ?? NO_CONNECTION;
}

/** Watts taken by a part; of a source or output those that it gives. */
export function wattsOf(world: World, id: ComponentId): Ranged {
  const parts: Range[] = [];
  for (const part of carriers(world, world.design.components[id]!)) {
    const elements = world.shared.model.ofComponent[part.id]!;
    const main = elements.find((element) => element.rule.role === 'main') ?? elements[0];
    if (main === undefined) continue;
    const layout = world.layoutOf(world.regionOf(main));
    const hanging = part.kind === 'source' && layout.islandOf(main) === undefined ? layout.hanging.get(part.id)! : [];
    const gauged = hanging.map((island) => [island, drawnWattsGauge(island, main)] as const);
    for (const [island, group] of byIsland(world, elements)) {
      const { a, b } = group[0]!;
      gauged.push([island, wattsGauge(island, group, a, b)]);
    }
    for (const [island, gauge] of gauged) {
      const watts = rangeOf(world, island, gauge);
      if (watts.sort === 'unknown') return watts;
      if (watts.sort === 'range') parts.push(watts);
    }
  }
  return parts.length === 0 ? NO_CONNECTION : sumOf(parts);
}

/** Volts across a part as its author would measure them. */
export function voltsAcross(world: World, id: ComponentId): Ranged {
  const part = world.design.components[id]!;
  if (part.kind === 'relay') return voltsBetween(world, part.coil.a, part.coil.b);
  if (part.kind === 'output') {
    const other = part.returns ?? railOf(world, part)?.b;
    return other === undefined ? NO_CONNECTION : voltsBetween(world, part.a, other);
  }
  const [carrier] = carriers(world, part);
  if (carrier !== undefined && 'a' in carrier && 'b' in carrier) return voltsBetween(world, carrier.a, carrier.b);
  return NO_CONNECTION;
}

function railOf(world: World, part: ComponentOf<'output'>): ComponentOf<'source'> | undefined {
  const rail = part.rail === undefined ? undefined : world.design.components[part.rail];
  return rail?.kind === 'source' ? rail : undefined;
}

/** Ohms that a zone or a feeding input infers across its terminals. */
export function loopOhms(world: World, part: ComponentOf<'zone'> | ComponentOf<'input'>): Ranged {
  const feed = world.shared.model.ofComponent[part.id]!.find((element) => element.rule.role === 'main')!;
  const { model } = world.shared;
  const island = world.islandOf(feed);
  if (island === undefined) return NO_CONNECTION;
  const returns = model.nodeOf(part.b);
  if (island.local(returns) >= 0) {
    return rangeOf(world, island, loopOhmsGauge(island, feed, model.nodeOf(part.a), returns));
  }
  // Nothing closes the loop: the feed ends in the air.
  const volts = voltsBetween(world, part.a, part.b);
  if (volts.sort !== 'range') return volts;
  const open = Number.POSITIVE_INFINITY;
  return { ...ZERO, least: open, usual: open, most: open, stretches: [[open, open]] };
}

/**
 * Ohms between two terminals as a meter shows them: every source is off, contacts stand as they do at this instant,
 * and what the first terminal belongs to is lifted off where it could feed or load the circuit itself.
 */
export function meterOhms(world: World, a: TerminalId, b: TerminalId): Ranged {
  const { design, shared } = world;
  const join = { a, b, ohms: 0, meter: true } as const;
  const overlay = shared.overlay([...world.doings.joins, join]);
  const altered = new Map(world.doings.altered);
  for (const { component, rule } of overlay.region.elements) if (rule.source) altered.set(component.id, 'removed');
  const lifted = design.components[design.terminals[a]!.component]!;
  if (LIFTED.has(lifted.kind)) altered.set(lifted.id, 'removed');
  const dead = world.measured({ ...world.doings, altered, joins: [...world.doings.joins, join] });
  const meter = shared.extraElement(join);
  const island = dead.islandOf(meter);
  return island === undefined ? NO_CONNECTION : rangeOf(dead, island, meterGauge(island, meter));
}

/** Kinds of which a terminal is lifted before ohms are measured. */
const LIFTED: ReadonlySet<Component['kind']> = new Set(['zone', 'input', 'output', 'source', 'feed']);
