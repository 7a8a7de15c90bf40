/**
 * A design as elements between nodes: wires merged, every component turned into its pieces, and the whole cut into
 * regions that nothing connects. Built once for a design, in time and memory linear in its size.
 */
import type { ComponentId, TerminalId } from '../design/components.ts';
import type { Design } from '../design/design.ts';
import { DisjointSets } from '../disjoint.ts';
import type { Element, End, LawContext } from './element.ts';
import { lawsOf } from './laws/index.ts';
import { Parameters } from './parameters.ts';

export interface Region {
  readonly id: number;
  readonly elements: readonly Element[];
}

export class Model {
  readonly design: Design;
  readonly context: LawContext;
  readonly elements: readonly Element[];
  readonly nodeCount: number;
  readonly regions: readonly Region[];
  /** Elements of each component, in the order of its table row; empty for those without pieces. */
  readonly ofComponent: readonly (readonly Element[])[];
  /** Rails that draw at a feed or a source. */
  readonly railsOn: ReadonlyMap<ComponentId, readonly ComponentId[]>;
  /** Sources that charge a battery or supply. */
  readonly chargers: ReadonlyMap<ComponentId, readonly ComponentId[]>;
  /** Contacts of timers that act at once while others of the same timer act late. */
  readonly early: ReadonlySet<ComponentId>;
  readonly hasCapacitors: boolean;
  private readonly nets: Int32Array;
  private readonly joined: Uint8Array;
  private readonly regionOfNode: Int32Array;
  private readonly driven = new Map<ComponentId, Element[]>();

  /** `nominal`: everything at its usual figure, without any spread. */
  constructor(design: Design, nominal = false) {
    this.design = design;
    this.context = { design, parameters: new Parameters(design, nominal) };
    const wires = new DisjointSets(design.terminals.length);
    this.joined = new Uint8Array(design.terminals.length);
    for (const join of design.joins) {
      wires.unite(join.a, join.b);
      this.joined[join.a] = 1;
      this.joined[join.b] = 1;
    }
    const { of, count } = wires.numbered();
    this.nets = of;
    this.railsOn = grouped(design, (part) => (part.kind === 'source' ? part.fedBy : undefined));
    this.chargers = grouped(design, (part) => (part.kind === 'source' ? part.charges : undefined));
    this.early = earlyContacts(design);
    this.hasCapacitors = design.components.some(({ kind }) => kind === 'capacitor');
    const made = this.makeElements(count);
    this.elements = made.elements;
    this.ofComponent = made.ofComponent;
    this.nodeCount = made.nodeCount;
    const { regions, regionOfNode } = this.cut();
    this.regions = regions;
    this.regionOfNode = regionOfNode;
  }

  nodeOf(terminal: TerminalId): number {
    return this.nets[terminal]!;
  }

  /** Whether a wire ends at a terminal. */
  isJoined(terminal: TerminalId): boolean {
    return this.joined[terminal] === 1;
  }

  regionOf(node: number): Region | undefined {
    return this.regions[this.regionOfNode[node]!];
  }

  /** Elements whose state hangs on a component: its own and those that it drives. */
  drivenBy(component: ComponentId): readonly Element[] {
    return this.driven.get(component) ?? this.ofComponent[component] ?? [];
  }

  private makeElements(netCount: number) {
    const { design } = this;
    const elements: Element[] = [];
    const ofComponent: (readonly Element[])[] = [];
    let nodeCount = netCount;
    const nothing: readonly Element[] = [];
    for (const component of design.components) {
      const own: Element[] = [];
      let inner = -1;
      const node = (end: End) => {
        if (end !== 'inner') return this.nets[end]!;
        if (inner === -1) inner = nodeCount++;
        return inner;
      };
      for (const rule of lawsOf(component.kind)) {
        if (rule.role === 'carried' && !this.railsOn.has(component.id)) continue;
        const ends = rule.ends(component, design);
        if (ends === undefined) continue;
        const element = { index: elements.length, component, rule, a: node(ends[0]), b: node(ends[1]) };
        elements.push(element);
        own.push(element);
        for (const driver of rule.drivers?.(component, design) ?? []) this.noteDriven(driver, element);
      }
      ofComponent.push(own.length === 0 ? nothing : own);
    }
    for (const [driver, list] of this.driven) {
      const own = ofComponent[driver]!;
      if (own.length > 0) this.driven.set(driver, [...new Set([...own, ...list])]);
    }
    return { elements, ofComponent, nodeCount };
  }

  private noteDriven(driver: ComponentId, element: Element): void {
    const list = this.driven.get(driver);
    if (list === undefined) this.driven.set(driver, [element]);
    else list.push(element);
  }

  private cut() {
    const sets = new DisjointSets(this.nodeCount);
    for (const element of this.elements) sets.unite(element.a, element.b);
    const { of } = sets.numbered();
    const lists = new Map<number, Element[]>();
    for (const element of this.elements) {
      const list = lists.get(of[element.a]!);
      if (list === undefined) lists.set(of[element.a]!, [element]);
      else list.push(element);
    }
    const numbers = new Map<number, number>();
    const regions: Region[] = [];
    for (const [set, elements] of lists) {
      numbers.set(set, regions.length);
      regions.push({ id: regions.length, elements });
    }
    const regionOfNode = new Int32Array(this.nodeCount);
    for (let node = 0; node < this.nodeCount; node++) regionOfNode[node] = numbers.get(of[node]!) ?? -1;
    return { regions, regionOfNode };
  }
}

function earlyContacts(design: Design): ReadonlySet<ComponentId> {
  const early = new Set<ComponentId>();
  for (const part of design.components) {
    if (part.kind !== 'relay' || part.timer === undefined) continue;
    const isLate = (id: ComponentId) => {
      const contact = design.components[id];
      return contact?.kind === 'contact' && contact.late;
    };
    if (part.contacts.some(isLate)) for (const id of part.contacts) if (!isLate(id)) early.add(id);
  }
  return early;
}

function grouped(
  design: Design,
  target: (part: Design['components'][number]) => ComponentId | undefined,
): ReadonlyMap<ComponentId, readonly ComponentId[]> {
  const groups = new Map<ComponentId, ComponentId[]>();
  for (const part of design.components) {
    const on = target(part);
    if (on === undefined) continue;
    const list = groups.get(on);
    if (list === undefined) groups.set(on, [part.id]);
    else list.push(part.id);
  }
  return groups;
}
