/** What all moments of a design share: its model, islands, layouts and solved circuits. */

import {
  type Answer,
  aligned,
  type Element,
  type ElementRule,
  type Island,
  Islands,
  Layout,
  type Model,
  type Region,
  type Shape,
} from '../build/index.ts';
import { Watch } from '../time/watch.ts';
import { Circuit, type CircuitOptions, CornerMemory } from './circuit.ts';
import type { ExtraJoin } from './doings.ts';

/** Regions made one by joins that the design does not have. */
export interface Overlay {
  readonly region: Region;
  readonly covers: ReadonlySet<Region>;
  /** Nodes at which no part of the design ends. */
  readonly loose: ReadonlyMap<number, Region>;
  /** Its own layouts and islands, which go with it. */
  readonly layouts: Map<string, Layout>;
  readonly islands: Islands;
}

/** Overlays that are kept, with all that was solved of them: what-ifs come in bursts about one place. */
const RECENT_OVERLAYS = 256;

/** One volt behind a kilohm; which volts and ohms does not matter where everything else is dead. */
const METER: Shape = {
  sort: 'curve',
  curve: { points: [[1, 0]], before: [1000, 1], after: [1000, 1] },
};

/** Circuits whose solved corners are kept: those of a few couplings, which are asked about together. */
const RECENT_CIRCUITS = 64;

export class Shared {
  readonly model: Model;
  readonly watch: Watch;
  private readonly islands = new Islands();
  private readonly layouts = new Map<string, Layout>();
  private readonly options: CircuitOptions = { memory: new CornerMemory(RECENT_CIRCUITS) };
  private readonly overlays = new Map<string, Overlay>();
  private readonly overlayOf = new WeakMap<Region, Overlay>();
  private overlaysMade = 0;
  private loose: Map<string, Element[]> | undefined;
  private readonly extraElements = new Map<string, Element>();

  constructor(model: Model) {
    this.model = model;
    this.watch = new Watch(model.design);
  }

  /** Resistors and diodes that lie between two nodes, either way round. */
  readonly across = (one: number, other: number): readonly Element[] => {
    if (this.loose === undefined) {
      this.loose = new Map();
      for (const element of this.model.elements) {
        const { kind } = element.component;
        if (kind !== 'resistor' && kind !== 'diode') continue;
        const key = pairKey(element.a, element.b);
        const list = this.loose.get(key);
        if (list === undefined) this.loose.set(key, [element]);
        else list.push(element);
      }
    }
    return this.loose.get(pairKey(one, other)) ?? [];
  };

  /** `apart` names the sources of the region that are not stiff here: off, limiting, or never stiff. */
  layout(region: Region, apart: ReadonlySet<Element>): Layout {
    const names = region.elements.filter((element) => isStiff(element) && apart.has(element));
    const key = `${region.id}:${names.map((element) => element.index).join()}`;
    const overlay = this.overlayOf.get(region);
    const layouts = overlay?.layouts ?? this.layouts;
    const islands = overlay?.islands ?? this.islands;
    const known = layouts.get(key);
    if (known !== undefined) return known;
    const pinned = region.elements.filter((element) => isStiff(element) && !apart.has(element));
    const made = new Layout(region.elements, pinned, islands);
    layouts.set(key, made);
    return made;
  }

  overlay(joins: readonly ExtraJoin[]): Overlay {
    const key = joins.map(keyOf).join(';');
    const known = this.overlays.get(key);
    if (known !== undefined) return known;
    const covers = new Set<Region>();
    const ends = joins.flatMap((join) => [this.model.nodeOf(join.a), this.model.nodeOf(join.b)]);
    for (const node of ends) {
      const region = this.model.regionOf(node);
      if (region !== undefined) covers.add(region);
    }
    const elements = [...covers].flatMap((region) => region.elements);
    const region = {
      id: this.model.regions.length + this.overlaysMade++,
      elements: [...elements, ...joins.map((join) => this.extraElement(join))],
    };
    const loose = new Map(ends.filter((node) => this.model.regionOf(node) === undefined).map((node) => [node, region]));
    const made: Overlay = { region, covers, loose, layouts: new Map(), islands: new Islands(this.islands) };
    this.overlays.set(key, made);
    this.overlayOf.set(region, made);
    const [oldest] = this.overlays.keys();
    if (this.overlays.size > RECENT_OVERLAYS) this.overlays.delete(oldest!);
    return made;
  }

  /** The element that stands for an extra join. */
  extraElement(join: ExtraJoin): Element {
    const known = this.extraElements.get(keyOf(join));
    if (known !== undefined) return known;
    const rule: ElementRule = {
      role: 'extra',
      counts: 0,
      ends: () => [join.a, join.b],
      law: () => this.lawOf(join),
    };
    const made: Element = {
      index: this.model.elements.length + this.extraElements.size,
      component: { id: -1, name: 'join', origin: -1, kind: 'joint', a: join.a },
      rule,
      a: this.model.nodeOf(join.a),
      b: this.model.nodeOf(join.b),
    };
    this.extraElements.set(keyOf(join), made);
    return made;
  }

  private lawOf({ ohms, like, meter }: ExtraJoin): Answer {
    const element = like === undefined ? undefined : this.model.ofComponent[like]![0];
    if (element !== undefined) return element.rule.law(element.component, '', this.model.context);
    return aligned([], () => (meter ? METER : { sort: 'ohms', ohms }));
  }

  /** A circuit that nothing will ask for again. */
  transient(island: Island, states: readonly string[]): Circuit {
    return new Circuit(island, states, this.model.context, this.options);
  }

  circuit(island: Island, states: readonly string[]): Circuit {
    const key = states.join('|');
    const circuit = island.kept.get(key);
    if (circuit instanceof Circuit) return circuit;
    const made = new Circuit(island, states, this.model.context, this.options);
    island.kept.set(key, made);
    return made;
  }
}

/** A supply that holds its volts whatever is drawn, up to its limit: others that hang on it do not feel each other. */
export function isStiff(element: Element): boolean {
  const part = element.component;
  if (part.kind !== 'source' || element.rule.role !== 'main' || part.volts === undefined) return false;
  return part.ohms === undefined || part.ohms.most === 0;
}

function pairKey(one: number, other: number): string {
  return one < other ? `${one} ${other}` : `${other} ${one}`;
}

function keyOf(join: ExtraJoin): string {
  const sort = join.meter ? ' meter' : join.like === undefined ? '' : `=${join.like}`;
  return `${join.a}-${join.b}-${join.ohms}${sort}`;
}
