/**
 * What a short at the far end of what a fuse protects would pass on its way: the copper, fuses and contacts from the
 * supply through the fuse to the part or next fuse that is farthest away, and back to the other pole.
 */
import type { Need } from '../analysis/contract.ts';
import { Parameters } from '../build/parameters.ts';
import { fixed, type Ranged, ranged } from '../decay/extremes.ts';
import type { ComponentId, ComponentOf, TerminalId } from '../design/components.ts';
import type { Datum } from '../design/datum.ts';
import type { Design } from '../design/design.ts';
import { DisjointSets } from '../disjoint.ts';
import { copperFactor } from '../tables/copper.ts';
import { type ClearingFactors, type FaultLoop, type FuseClearing, fuseClearing } from './prospective.ts';

export interface FarEnd {
  readonly source: ComponentId;
  /** The part whose terminals are shorted, or the next fuse, behind which that one protects. */
  readonly at: ComponentId;
  /** Cables on the way there and back. */
  readonly cables: readonly ComponentId[];
  readonly loop: FaultLoop;
}

export interface FuseFarEnds {
  readonly fuse: ComponentId;
  /** Of each supply that feeds the fuse, the end at which a short draws least. */
  readonly ends: readonly FarEnd[];
  /** What is missing of ends that could not be computed. */
  readonly needs: readonly Need[];
}

/** Every fuse that has a wire on both sides, in the order of the design. */
export function farEndsOf(design: Design): readonly FuseFarEnds[] {
  const net = new Net(design);
  const found = new Map<ComponentId, Map<ComponentId, Farthest>>();
  for (const part of design.components) {
    // The minus of a rail may have no wire of its own: outputs lead back to it inside their unit.
    if (part.kind !== 'source' || !net.isWired(part.a)) continue;
    for (const [fuse, farthest] of endsBehind(net, part)) {
      const bySource = found.get(fuse) ?? new Map<ComponentId, Farthest>();
      found.set(fuse, bySource.set(part.id, farthest));
    }
  }
  return design.components.flatMap((part) => {
    if (part.kind !== 'fuse' || !net.isWired(part.a) || !net.isWired(part.b)) return [];
    const bySource = found.get(part.id) ?? new Map<ComponentId, Farthest>();
    const counted = [...bySource].filter(([id]) => !isBacked(design, id, bySource));
    const ends = counted.flatMap(([, { end }]) => (end === undefined ? [] : [end]));
    const needs = new Map(counted.flatMap(([, { needs }]) => needs.map((need) => [keyOf(need), need] as const)));
    return [{ fuse: part.id, ends, needs: [...needs.values()] }];
  });
}

/** Of all supplies that feed a fuse of `rated` A, the end at which a short draws least; undefined where there is none. */
export function worstEnd(
  { ends }: FuseFarEnds,
  rated: Datum,
  factors?: ClearingFactors,
): { readonly end: FarEnd; readonly clearing: FuseClearing } | undefined {
  let worst: { readonly end: FarEnd; readonly clearing: FuseClearing } | undefined;
  for (const end of ends) {
    const clearing = fuseClearing(end.loop, ranged('fuse', 'A', rated), factors);
    if (worst === undefined || clearing.ratio.least < worst.clearing.ratio.least) worst = { end, clearing };
  }
  return worst;
}

/** A charger that limits has its battery beside it, which gives what it does not. */
function isBacked(design: Design, source: ComponentId, bySource: ReadonlyMap<ComponentId, unknown>): boolean {
  const part = design.components[source]!;
  return part.kind === 'source' && part.charges !== undefined && bySource.has(part.charges);
}

function keyOf(need: Need): string {
  return `${need.component} ${need.property}`;
}

interface Farthest {
  end: FarEnd | undefined;
  /** Ω at the worst corner, without those of the supply. */
  ohms: number;
  readonly needs: Need[];
}

// ---- the net of what conducts ----

type Spread = Pick<Datum, 'least' | 'usual' | 'most'>;
type Conducting = ComponentOf<'core'> | ComponentOf<'fuse'> | ComponentOf<'arrester'> | ComponentOf<'contact'>;

/** Pieces of copper, fuses and contacts between two nodes; cores in parallel between the same nodes are one. */
interface Edge {
  readonly a: number;
  readonly b: number;
  /** Parallel cores, or one other part. */
  readonly parts: readonly Conducting[];
}

const NOTHING: Spread = { least: 0, usual: 0, most: 0 };

class Net {
  readonly design: Design;
  readonly parameters: Parameters;
  private readonly nodes: Int32Array;
  private readonly wired: Uint8Array;
  private readonly edges = new Map<number, Edge[]>();
  private readonly ends = new Map<number, { readonly part: ComponentId; readonly other: TerminalId }[]>();

  constructor(design: Design) {
    this.design = design;
    this.parameters = new Parameters(design);
    const sets = new DisjointSets(design.terminals.length);
    this.wired = new Uint8Array(design.terminals.length);
    for (const { a, b } of design.joins) {
      sets.unite(a, b);
      this.wired[a] = 1;
      this.wired[b] = 1;
    }
    this.nodes = sets.numbered().of;
    const cores = new Map<string, Conducting[]>();
    for (const part of design.components) {
      if (part.kind === 'core') {
        const [low, high] = [this.node(part.a), this.node(part.b)].sort((one, other) => one - other);
        const key = `${low} ${high}`;
        cores.set(key, [...(cores.get(key) ?? []), part]);
      } else if (part.kind === 'fuse' || part.kind === 'arrester' || part.kind === 'contact') this.addEdge([part]);
      for (const [one, other] of consumerEnds(part)) {
        this.addEnd(one, other, part.id);
        this.addEnd(other, one, part.id);
      }
    }
    for (const parts of cores.values()) this.addEdge(parts);
  }

  node(terminal: TerminalId): number {
    return this.nodes[terminal]!;
  }

  isWired(terminal: TerminalId): boolean {
    return this.wired[terminal] === 1;
  }

  edgesAt(node: number): readonly Edge[] {
    return this.edges.get(node) ?? [];
  }

  endsAt(node: number): readonly { readonly part: ComponentId; readonly other: TerminalId }[] {
    return this.ends.get(node) ?? [];
  }

  private addEdge(parts: readonly Conducting[]): void {
    const [a, b] = [this.node(parts[0]!.a), this.node(parts[0]!.b)];
    if (a === b) return;
    const edge = { a, b, parts };
    for (const node of [a, b]) {
      const list = this.edges.get(node);
      if (list === undefined) this.edges.set(node, [edge]);
      else list.push(edge);
    }
  }

  private addEnd(here: TerminalId, other: TerminalId, part: ComponentId): void {
    const node = this.node(here);
    const list = this.ends.get(node);
    if (list === undefined) this.ends.set(node, [{ part, other }]);
    else list.push({ part, other });
  }
}

/** Pairs of terminals at which a short may come about: where something is fed, or a resistor or diode stands before it. */
function consumerEnds(part: Design['components'][number]): readonly (readonly [TerminalId, TerminalId])[] {
  switch (part.kind) {
    case 'load':
    case 'feed':
    case 'resistor':
    case 'diode':
      return [[part.a, part.b]];
    case 'input':
      return part.feedVolts === undefined ? [[part.a, part.b]] : [];
    case 'relay':
      return [part.coil, ...(part.secondCoil === undefined ? [] : [part.secondCoil])].map(
        ({ a, b }) => [a, b] as const,
      );
    default:
      return [];
  }
}

// ---- ways from a pole ----

/** The way from a pole to a node: what lies on it, added up. */
interface Way {
  readonly node: number;
  readonly from: Way | undefined;
  readonly edge: Edge | undefined;
  /** The last fuse on it. */
  readonly fuse: ComponentId | undefined;
  readonly copper: Spread;
  readonly other: Spread;
  readonly needs: readonly Need[];
}

/**
 * The ways from a node to all that conductors join to it. Of several the one with fewest pieces counts, which has no less
 * resistance than all of them together.
 */
function waysFrom(net: Net, start: number, avoid: ReadonlySet<number>): ReadonlyMap<number, Way> {
  const blank = { from: undefined, edge: undefined, fuse: undefined };
  const first: Way = { ...blank, node: start, copper: NOTHING, other: NOTHING, needs: [] };
  const ways = new Map([[start, first]]);
  const queue = [first];
  for (const way of queue) {
    for (const edge of net.edgesAt(way.node)) {
      const node = edge.a === way.node ? edge.b : edge.a;
      if (ways.has(node) || avoid.has(node)) continue;
      const next = along(net, way, edge, node);
      ways.set(node, next);
      queue.push(next);
    }
  }
  return ways;
}

/** Nodes that copper and fuses alone join to a pole, whatever contacts do. */
function poleOf(net: Net, start: number): ReadonlySet<number> {
  const seen = new Set([start]);
  for (const node of seen) {
    for (const edge of net.edgesAt(node)) {
      if (edge.parts[0]!.kind !== 'contact') seen.add(edge.a === node ? edge.b : edge.a);
    }
  }
  return seen;
}

function along(net: Net, way: Way, edge: Edge, node: number): Way {
  const [first] = edge.parts;
  if (first?.kind !== 'core') {
    const fuse = first!.kind === 'fuse' ? first!.id : way.fuse;
    return { ...way, node, from: way, edge, fuse, other: added(way.other, first!.ohms as Datum) };
  }
  const known = edge.parts.flatMap(({ ohms }) => ohms ?? []);
  if (known.length > 0) return { ...way, node, from: way, edge, copper: added(way.copper, parallel(known)) };
  const need = {
    component: first.cable,
    property: first.lacks ?? 'length',
    origin: net.design.components[first.cable]!.origin,
  };
  return { ...way, node, from: way, edge, needs: [...way.needs, need] };
}

function added(one: Spread, other: Spread): Spread {
  return { least: one.least + other.least, usual: one.usual + other.usual, most: one.most + other.most };
}

function parallel(all: readonly Spread[]): Spread {
  if (all.length === 1) return all[0]!;
  const of = (end: keyof Spread) => {
    const siemens = all.reduce((sum, spread) => sum + 1 / spread[end], 0);
    return siemens === Number.POSITIVE_INFINITY ? 0 : 1 / siemens;
  };
  return { least: of('least'), usual: of('usual'), most: of('most') };
}

function* edgesOn(way: Way | undefined): Generator<Edge> {
  for (let at = way; at !== undefined; at = at.from) if (at.edge !== undefined) yield at.edge;
}

// ---- ends behind the fuses that a source feeds ----

function endsBehind(net: Net, source: ComponentOf<'source'>): ReadonlyMap<ComponentId, Farthest> {
  const [plus, minus] = [net.node(source.a), net.node(source.b)];
  const found = new Map<ComponentId, Farthest>();
  if (plus === minus) return found;
  const out = waysFrom(net, plus, poleOf(net, minus));
  const back = waysFrom(net, minus, poleOf(net, plus));
  for (const way of out.values()) {
    const { edge, from, fuse } = way;
    // The near side of a fuse is the end of what the fuse before it protects.
    const own = edge?.parts[0];
    if (own?.kind === 'fuse') take(net, source, from?.fuse, { at: own.id, out: from!, back: undefined }, found);
    if (fuse === undefined) continue;
    for (const { part, other } of net.endsAt(way.node)) {
      take(net, source, fuse, { at: part, out: way, back: back.get(net.node(other)) }, found);
    }
    if (!found.has(fuse)) found.set(fuse, { end: undefined, ohms: Number.NEGATIVE_INFINITY, needs: [] });
  }
  return found;
}

interface Reached {
  readonly at: ComponentId;
  readonly out: Way;
  /** Unknown where an output, or nothing at all, leads back from there. */
  readonly back: Way | undefined;
}

function take(
  net: Net,
  source: ComponentOf<'source'>,
  guard: ComponentId | undefined,
  reached: Reached,
  found: Map<ComponentId, Farthest>,
): void {
  if (guard === undefined) return;
  const farthest = found.get(guard) ?? { end: undefined, ohms: Number.NEGATIVE_INFINITY, needs: [] };
  found.set(guard, farthest);
  const { at, out, back } = reached;
  const needs = [...out.needs, ...(back?.needs ?? [])];
  if (source.volts === undefined) needs.push({ component: source.id, property: 'volts', origin: source.origin });
  if (needs.length > 0) {
    farthest.needs.push(...needs);
    return;
  }
  const copper = added(out.copper, back?.copper ?? out.copper);
  const other = added(out.other, back?.other ?? NOTHING);
  const cables = cablesOn(out, back);
  const celsius = ambientAlong(net, cables);
  const ohms = copper.most * copperFactor(celsius.most) + other.most;
  if (ohms <= farthest.ohms) return;
  farthest.ohms = ohms;
  const name = net.design.components[at]!.name;
  const clauses = clausesOn(out, back, name);
  const loop: FaultLoop = {
    volts: ranged(source.name, 'V', source.volts!),
    sourceOhms: ranged(`${source.name} ohms`, 'ohm', source.ohms ?? NOTHING),
    copperOhms: ranged(`copper to ${name} and back`, 'ohm', { ...copper, ...clauses.copper }),
    celsius,
    otherOhms: ranged('fuse and contacts', 'ohm', { ...other, ...clauses.other }),
    ...(source.limit === undefined ? {} : { limit: ranged(`${source.name} limit`, 'A', source.limit) }),
  };
  farthest.end = { source: source.id, at, cables, loop };
}

function cablesOn(out: Way, back: Way | undefined): readonly ComponentId[] {
  const cables = new Set<ComponentId>();
  for (const way of [out, back]) {
    for (const { parts } of edgesOn(way)) for (const part of parts) if (part.kind === 'core') cables.add(part.cable);
  }
  return [...cables].sort((one, other) => one - other);
}

/** °C along the cables, the coldest to the warmest of them. */
function ambientAlong(net: Net, cables: readonly ComponentId[]): Ranged {
  if (cables.length === 0) return fixed('ambient', 'degC', 20);
  const all = cables.map((cable) => net.parameters.cableAmbient(cable));
  const assumption = all.find((each) => each.assumption !== undefined)?.assumption;
  return ranged(all.length === 1 ? all[0]!.what : 'ambient of the cables', 'degC', {
    least: Math.min(...all.map(({ least }) => least)),
    usual: all.reduce((sum, { usual }) => sum + usual, 0) / all.length,
    most: Math.max(...all.map(({ most }) => most)),
    ...(assumption === undefined ? {} : { assumption }),
  });
}

/** What was taken for granted of the copper and of the rest. */
function clausesOn(out: Way, back: Way | undefined, end: string) {
  const copper = new Set<string>();
  const other = new Set<string>();
  for (const way of [out, back]) {
    for (const { parts } of edgesOn(way)) {
      for (const part of parts) {
        const clause = part.ohms?.assumption;
        if (clause !== undefined) (part.kind === 'core' ? copper : other).add(clause);
      }
    }
  }
  if (back === undefined && out.copper.most > 0) copper.add(`the way back from ${end} taken as long as the way there`);
  const said = (clauses: ReadonlySet<string>) =>
    clauses.size === 0 ? {} : { assumption: [...clauses].sort().join('; ') };
  return { copper: said(copper), other: said(other) };
}
