/**
 * Loops of several zones that share a conductor and hold nothing but ohms: what one zone drives moves what another
 * reads. Nothing outside can be moved by what happens in them, so that they are solved by themselves.
 */

import type { Circuit } from '../analysis/circuit.ts';
import type { ExtraJoin } from '../analysis/doings.ts';
import { loopOhmsGauge, voltsGauge } from '../analysis/gauges.ts';
import { type Gauge, inCircuit, type Ranged } from '../analysis/range.ts';
import { classesOf } from '../analysis/states.ts';
import type { World } from '../analysis/world.ts';
import { blocksOf } from '../build/decompose.ts';
import { type Element, Island } from '../build/index.ts';
import type { ComponentId, ComponentOf } from '../design/components.ts';
import { DisjointSets } from '../disjoint.ts';
import type { Read } from './answers.ts';
import type { FaultSpread } from './contract.ts';
import { type AlteredPlaces, altered, OHMIC } from './plain-loop.ts';

/** Causes with a spread beyond which only the usual figures are computed. */
export const MOST_AXES = 12;

export class SharedLoops {
  readonly island: Island;
  readonly zones: readonly ComponentId[];
  readonly usualOnly: boolean;
  private readonly world: World;
  private readonly feeds: ReadonlyMap<ComponentId, Element>;
  /** Places of parts without ohms, which stand for joins that can be cut. */
  private readonly links: readonly number[];
  private readonly known = new Map<string, Around>();

  private constructor(world: World, island: Island, feeds: ReadonlyMap<ComponentId, Element>, usualOnly: boolean) {
    this.world = world;
    this.island = island;
    this.feeds = feeds;
    this.zones = [...feeds.keys()];
    this.usualOnly = usualOnly;
    this.links = island.elements.flatMap((element, place) => (isLink(element) ? [place] : []));
  }

  static of(world: World, island: Island): SharedLoops | undefined {
    if (island.coils.length > 0 || island.pins.length > 0) return undefined;
    const feeds = new Map<ComponentId, Element>();
    for (const element of island.elements) {
      const { component, rule } = element;
      if (component.kind === 'zone') {
        if (rule.role === 'main') feeds.set(component.id, element);
      } else if (!OHMIC.has(component.kind)) return undefined;
    }
    const [circuit] = world.circuits(island);
    if (feeds.size < 2 || circuit === undefined || circuit.lacks.length > 0) return undefined;
    return new SharedLoops(world, island, feeds, circuit.axes.length > MOST_AXES);
  }

  /** What a zone reads with the elements in `states`, some of them altered, and some joins more. */
  read(
    zone: ComponentOf<'zone'>,
    states: readonly string[],
    alterations: AlteredPlaces,
    joins: readonly ExtraJoin[],
  ): Read | undefined {
    const { shared } = this.world;
    const feed = this.feeds.get(zone.id);
    if (feed === undefined) return undefined;
    const words = [...states];
    for (const [place, alteration] of alterations) words[place] = altered(states[place]!, alteration);
    const broken = this.links.filter((place) => words[place] !== states[place]);
    const around = this.around(feed, broken, joins);
    const inside = around.places.map((place) => words[place]!);
    const key = inside.join('|');
    const known = around.reads.get(key);
    if (known !== undefined) return known;
    const circuit = shared.transient(around.island, [...inside, ...Array.from({ length: around.extra }, () => '')]);
    const [a, b] = [shared.model.nodeOf(zone.a), shared.model.nodeOf(zone.b)];
    if (around.island.local(b) < 0) return undefined;
    const ohms = this.measured(circuit, loopOhmsGauge(around.island, feed, a, b));
    const volts = this.measured(circuit, voltsGauge(around.island, a, b));
    if (ohms === undefined || volts === undefined) return undefined;
    const read = { ohms, volts, ...classesOf(zone, ohms, volts) };
    around.reads.set(key, read);
    return read;
  }

  /**
   * What can move the reading behind a feed: a sound link has no ohms, so that loops which only meet in its ends are as
   * far apart as loops that meet in a node. `broken` are the places of links that are not sound.
   */
  private around(feed: Element, broken: readonly number[], joins: readonly ExtraJoin[]): Around {
    const key = `${feed.index} ${broken.join()}`;
    const known = joins.length === 0 ? this.known.get(key) : undefined;
    if (known !== undefined) return known;
    const extra = joins.map((join) => this.world.shared.extraElement(join));
    const edges = [...this.island.elements, ...extra];
    const sound = new Set(this.links.filter((place) => !broken.includes(place)));
    const nodes = new Map<number, number>();
    for (const { a, b } of edges) for (const node of [a, b]) if (!nodes.has(node)) nodes.set(node, nodes.size);
    const copper = new DisjointSets(nodes.size);
    const local = (node: number) => nodes.get(node)!;
    for (const place of sound) copper.unite(local(edges[place]!.a), local(edges[place]!.b));
    const { of, count } = copper.numbered();
    const others = edges.map((_, place) => place).filter((place) => !sound.has(place));
    const { block } = blocksOf(
      count,
      others.map((place) => of[local(edges[place]!.a)]!),
      others.map((place) => of[local(edges[place]!.b)]!),
    );
    const own = block[others.indexOf(edges.indexOf(feed))];
    const inside = new Set(others.filter((_, i) => block[i] === own));
    const zoneEnds = [feed.a, feed.b];
    // Links that carry something between what is inside; one that leads nowhere is left out.
    const links = new Set(sound);
    for (let pruned = true; pruned; ) {
      pruned = false;
      const ends = new Map<number, number>();
      const note = (place: number) => {
        for (const node of [edges[place]!.a, edges[place]!.b]) ends.set(node, (ends.get(node) ?? 0) + 1);
      };
      for (const place of inside) note(place);
      for (const place of links) note(place);
      for (const place of links) {
        const { a, b } = edges[place]!;
        if ([a, b].every((node) => ends.get(node)! > 1 || zoneEnds.includes(node))) continue;
        links.delete(place);
        pruned = true;
      }
    }
    const places = edges.map((_, place) => place).filter((place) => inside.has(place) || links.has(place));
    // Joins elsewhere leave it as it is.
    if (joins.length > 0 && places.every((place) => place < this.island.elements.length))
      return this.around(feed, broken, []);
    const elements = places.filter((place) => place < this.island.elements.length);
    const more = places.filter((place) => place >= this.island.elements.length);
    const island = new Island(
      [...elements, ...more].map((place) => edges[place]!),
      [],
    );
    const made = { island, places: elements, extra: more.length, reads: new Map<string, Read>() };
    if (joins.length === 0) this.known.set(key, made);
    return made;
  }

  private measured(circuit: Circuit, gauge: Gauge): FaultSpread | undefined {
    if (this.usualOnly) {
      const solved = circuit.atUsual();
      const value = solved.outcome.sort === 'solved' ? gauge.measure(circuit)(solved) : undefined;
      return value === undefined ? undefined : { least: value, usual: value, most: value };
    }
    return spreadOf(inCircuit(circuit, gauge));
  }
}

/** The part of an island that a zone's reading hangs on, and where its elements stand among those of the island. */
interface Around {
  readonly island: Island;
  readonly places: readonly number[];
  /** How many of the joins more lie in it; they come last. */
  readonly extra: number;
  /** What it reads, by the states of its elements. */
  readonly reads: Map<string, Read>;
}

function isLink({ component }: Element): boolean {
  return component.kind === 'resistor' && component.ohms?.least === 0 && component.ohms.most === 0;
}

function spreadOf(range: Ranged): FaultSpread | undefined {
  if (range.sort !== 'range') return undefined;
  const { least, usual, most } = range;
  return { least, usual, most };
}
