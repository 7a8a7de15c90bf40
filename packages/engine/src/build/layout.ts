/**
 * How a region falls into islands: parts of its network that can be solved alone, whatever their contacts do.
 * Two islands may share one node, and they may share stiff supplies (rails and supplies without series ohms that are
 * on and not limiting): each then takes its own copy of the supply, and the supply's current is the sum of the copies.
 */
import type { ComponentId } from '../design/components.ts';
import { DisjointSets } from '../disjoint.ts';
import { blocksOf } from './decompose.ts';
import type { Element } from './element.ts';

/** A supply that an island hangs on, as an element whose law is its volts and nothing else. */
export interface Pin {
  readonly element: Element;
  /** Local nodes of its plus and minus. */
  readonly a: number;
  readonly b: number;
}

const NONE: readonly ComponentId[] = [];

export class Island {
  readonly elements: readonly Element[];
  readonly pins: readonly Pin[];
  /** Global numbers of the local nodes 0, 1, 2 … */
  readonly nodes: readonly number[];
  /** Local ends of the elements. */
  readonly a: readonly number[];
  readonly b: readonly number[];
  /** Relays with a coil in it. */
  readonly coils: readonly ComponentId[];
  /** Relays and outputs that decide its state and may be in more than one. */
  readonly deciders: readonly ComponentId[];
  /** What those who solve it keep of it, by the states of its elements. It goes when the island goes. */
  readonly kept = new Map<string, object>();

  constructor(elements: readonly Element[], pins: readonly Element[]) {
    this.elements = elements;
    const local = new Map<number, number>();
    const number = (node: number) => {
      const known = local.get(node);
      if (known !== undefined) return known;
      local.set(node, local.size);
      return local.size - 1;
    };
    this.a = elements.map((element) => number(element.a));
    this.b = elements.map((element) => number(element.b));
    this.pins = pins.map((element) => ({ element, a: number(element.a), b: number(element.b) }));
    this.nodes = [...local.keys()];
    const coils = new Set<ComponentId>();
    const deciders = new Set<ComponentId>();
    for (const { component, rule } of elements) {
      if (component.kind === 'relay' && rule.role !== 'suppressor') coils.add(component.id);
      if (component.kind === 'contact') deciders.add(component.driver);
      if (component.kind === 'output') deciders.add(component.id);
    }
    this.coils = coils.size === 0 ? NONE : [...coils];
    this.deciders = deciders.size === 0 ? NONE : [...deciders];
  }

  /** Local number of a node, −1 where it is not in this island. */
  local(node: number): number {
    return this.nodes.indexOf(node);
  }
}

/** A stretch of the way from one node to another that lies in one island. */
export interface Stretch {
  readonly island: Island;
  readonly from: number;
  readonly to: number;
}

/** Gives the same island for the same pieces, so that what was solved in one layout serves another. */
export class Islands {
  private readonly known = new Map<string, Island>();
  private readonly wider: Islands | undefined;

  /** `wider`: those of it are used and none are added to it. */
  constructor(wider?: Islands) {
    this.wider = wider;
  }

  get(elements: readonly Element[], pins: readonly Element[]): Island {
    const key = `${elements.map((element) => element.index).join()}|${pins.map((pin) => pin.index).join()}`;
    const known = this.wider?.known.get(key) ?? this.known.get(key);
    if (known !== undefined) return known;
    const made = new Island(elements, pins);
    this.known.set(key, made);
    return made;
  }
}

export class Layout {
  readonly islands: readonly Island[];
  /** Pinned supplies and the islands that hang on them. */
  readonly hanging: ReadonlyMap<ComponentId, readonly Island[]>;
  private readonly islandByElement = new Map<Element, Island>();
  private readonly interned: Islands;
  /** Pinned supplies as a forest over nodes: the way to the parent node. */
  private readonly up = new Map<number, { readonly element: Element; readonly parent: number }>();
  private readonly depth = new Map<number, number>();
  private readonly superOf = new Map<number, number>();
  private tree: Tree | undefined;

  constructor(elements: readonly Element[], pinned: readonly Element[], interned: Islands) {
    this.interned = interned;
    const nodes = new Map<number, number>();
    const number = (node: number) => {
      const known = nodes.get(node);
      if (known !== undefined) return known;
      nodes.set(node, nodes.size);
      return nodes.size - 1;
    };
    for (const element of elements) {
      number(element.a);
      number(element.b);
    }
    const sets = new DisjointSets(nodes.size);
    const accepted = new Set<Element>();
    for (const element of pinned) {
      if (sets.unite(number(element.a), number(element.b))) accepted.add(element);
    }
    const { of, count } = sets.numbered();
    for (const [node, local] of nodes) this.superOf.set(node, of[local]!);
    this.growForest([...accepted]);

    const rest = elements.filter((element) => !accepted.has(element));
    const from = rest.map((element) => this.superOf.get(element.a)!);
    const to = rest.map((element) => this.superOf.get(element.b)!);
    const { block, count: blocks } = blocksOf(count, from, to);
    const lists: Element[][] = Array.from({ length: blocks }, () => []);
    rest.forEach((element, i) => {
      lists[block[i]!]!.push(element);
    });
    const hanging = new Map<ComponentId, Island[]>();
    for (const element of accepted) hanging.set(element.component.id, []);
    this.islands = lists.map((list) => {
      const island = interned.get(list, this.pinsOf(list));
      for (const element of list) this.islandByElement.set(element, island);
      for (const pin of island.pins) hanging.get(pin.element.component.id)!.push(island);
      return island;
    });
    this.hanging = hanging;
  }

  /** The island of an element; a pinned supply has none. */
  islandOf(element: Element): Island | undefined {
    return this.islandByElement.get(element);
  }

  /** The way between two nodes of the region as stretches in islands; absent where nothing connects them. */
  way(from: number, to: number): readonly Stretch[] | undefined {
    if (from === to) return [];
    const start = this.superOf.get(from);
    const end = this.superOf.get(to);
    if (start === undefined || end === undefined) return undefined;
    this.tree ??= new Tree(this.islands, this.superOf);
    const steps = this.tree.way(start, end);
    if (steps === undefined) return undefined;
    const stretches: Stretch[] = [];
    let at = from;
    const move = (node: number) => {
      if (node === at) return;
      const pins = this.pinsBetween([at, node]);
      stretches.push({ island: this.interned.get([], pins), from: at, to: node });
      at = node;
    };
    for (const { island, enter, leave } of steps) {
      const entry = island.nodes.includes(at) ? at : enter;
      move(entry);
      stretches.push({ island, from: entry, to: leave });
      at = leave;
    }
    const last = stretches.at(-1);
    if (last !== undefined && at !== to && last.island.nodes.includes(to) && this.superOf.get(at) === end) {
      stretches[stretches.length - 1] = { ...last, to };
      return stretches;
    }
    move(to);
    return stretches;
  }

  private growForest(pinned: readonly Element[]): void {
    const neighbours = new Map<number, { element: Element; other: number }[]>();
    const note = (node: number, element: Element, other: number) => {
      const list = neighbours.get(node);
      if (list === undefined) neighbours.set(node, [{ element, other }]);
      else list.push({ element, other });
    };
    for (const element of pinned) {
      note(element.a, element, element.b);
      note(element.b, element, element.a);
    }
    for (const root of neighbours.keys()) {
      if (this.depth.has(root)) continue;
      this.depth.set(root, 0);
      const queue = [root];
      for (const node of queue) {
        for (const { element, other } of neighbours.get(node)!) {
          if (this.depth.has(other)) continue;
          this.depth.set(other, this.depth.get(node)! + 1);
          this.up.set(other, { element, parent: node });
          queue.push(other);
        }
      }
    }
  }

  /** Supplies on which some elements hang: the smallest part of the forest that joins their nodes. */
  private pinsOf(elements: readonly Element[]): readonly Element[] {
    const groups = new Map<number, Set<number>>();
    for (const element of elements) {
      for (const node of [element.a, element.b]) {
        if (!this.depth.has(node)) continue;
        const set = this.superOf.get(node)!;
        const group = groups.get(set);
        if (group === undefined) groups.set(set, new Set([node]));
        else group.add(node);
      }
    }
    const pins: Element[] = [];
    for (const group of groups.values()) {
      if (group.size > 1) pins.push(...this.pinsBetween([...group]));
    }
    return pins.sort((one, other) => one.index - other.index);
  }

  /** Edges of the forest on the ways between nodes of one tree. */
  private pinsBetween(nodes: readonly number[]): readonly Element[] {
    const pins = new Set<Element>();
    let meeting = nodes[0]!;
    for (const node of nodes.slice(1)) {
      let one = meeting;
      let other = node;
      while (one !== other) {
        if (this.depth.get(one)! >= this.depth.get(other)!) {
          pins.add(this.up.get(one)!.element);
          one = this.up.get(one)!.parent;
        } else {
          pins.add(this.up.get(other)!.element);
          other = this.up.get(other)!.parent;
        }
      }
      meeting = one;
    }
    return [...pins];
  }
}

/** Where a set of nodes stands in the forest, and the island that leads up from it: from node `here` to node `there`. */
interface Branch {
  readonly root: number;
  readonly depth: number;
  readonly up:
    | { readonly island: Island; readonly set: number; readonly here: number; readonly there: number }
    | undefined;
}

/** The islands and the places where they meet as a rooted forest, for ways between far nodes. */
class Tree {
  private readonly at = new Map<number, Branch>();

  constructor(islands: readonly Island[], superOf: ReadonlyMap<number, number>) {
    const at = new Map<number, Island[]>();
    for (const island of islands) {
      for (const set of new Set(island.nodes.map((node) => superOf.get(node)!))) {
        const list = at.get(set);
        if (list === undefined) at.set(set, [island]);
        else list.push(island);
      }
    }
    const seen = new Set<Island>();
    for (const start of at.keys()) {
      if (this.at.has(start)) continue;
      this.at.set(start, { root: start, depth: 0, up: undefined });
      const queue = [start];
      for (const set of queue) {
        const depth = this.at.get(set)!.depth + 1;
        for (const island of at.get(set) ?? []) {
          if (seen.has(island)) continue;
          seen.add(island);
          const there = island.nodes.find((node) => superOf.get(node) === set)!;
          for (const here of island.nodes) {
            const own = superOf.get(here)!;
            if (this.at.has(own)) continue;
            this.at.set(own, { root: start, depth, up: { island, set, here, there } });
            queue.push(own);
          }
        }
      }
    }
  }

  /** Islands passed from one set of nodes to another, with a node of each side. */
  way(from: number, to: number): readonly { island: Island; enter: number; leave: number }[] | undefined {
    if (from === to) return [];
    if (!this.at.has(from) || this.at.get(from)!.root !== this.at.get(to)?.root) return undefined;
    const climbing: { island: Island; enter: number; leave: number }[] = [];
    const descending: { island: Island; enter: number; leave: number }[] = [];
    let one = from;
    let other = to;
    while (one !== other) {
      if (this.at.get(one)!.depth >= this.at.get(other)!.depth) {
        const step = this.at.get(one)!.up!;
        climbing.push({ island: step.island, enter: step.here, leave: step.there });
        one = step.set;
      } else {
        const step = this.at.get(other)!.up!;
        descending.push({ island: step.island, enter: step.there, leave: step.here });
        other = step.set;
      }
    }
    return [...climbing, ...descending.reverse()].reduce<{ island: Island; enter: number; leave: number }[]>(
      (steps, step) => {
        const last = steps.at(-1);
        if (last?.island === step.island) steps[steps.length - 1] = { ...last, leave: step.leave };
        else steps.push(step);
        return steps;
      },
      [],
    );
  }
}
