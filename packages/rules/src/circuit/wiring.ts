/**
 * How a design is joined, without any electricity: nodes, the two-terminal parts between them, and the poles at which
 * circuits begin and end. Computed once a design and kept.
 */
import type { Component, ComponentId, Design, Join, TerminalId } from '@couplet/engine';

/** Terminals that wires make one; a number of no meaning but equality. */
export type NodeId = number;

export type PartSort =
  /** Cores, fuses and arresters: next to no resistance. */
  | 'copper'
  | 'resistor'
  | 'contact'
  /** Loads, coils and feeds of units: what is there to be driven. */
  | 'consumer'
  | 'input'
  | 'diode'
  | 'capacitor'
  | 'output'
  /** Supplies, and zones and inputs that feed their own loop. */
  | 'source';

/** A two-terminal part as it lies in the network. A push-pull output is two parts, a relay with two coils too. */
export interface Part {
  readonly component: ComponentId;
  readonly sort: PartSort;
  /** Plus side, or the side that the current enters. */
  readonly a: NodeId;
  readonly b: NodeId;
  readonly aTerminal: TerminalId;
  readonly bTerminal: TerminalId;
}

export interface Wiring {
  readonly design: Design;
  node(terminal: TerminalId): NodeId;
  /** Wires at a terminal itself, not at its node. */
  joinsAt(terminal: TerminalId): readonly Join[];
  isWired(terminal: TerminalId): boolean;
  /** Wired, or a terminal that the unit itself shares with another of its members (a return). */
  isJoined(terminal: TerminalId, component: ComponentId): boolean;
  partsAt(node: NodeId): readonly Part[];
  partsOf(component: ComponentId): readonly Part[];
  /** Nodes of supplies, commons and returns, and all that bare copper joins to them: a circuit does not go on beyond. */
  isPole(node: NodeId): boolean;
  /** Nodes that copper alone (cores, fuses, arresters) joins to this one, itself included. */
  copperFrom(node: NodeId): ReadonlySet<NodeId>;
  terminalsOf(component: ComponentId): readonly TerminalId[];
}

const KEPT = new WeakMap<Design, Wiring>();

export function wiringOf(design: Design): Wiring {
  const kept = KEPT.get(design);
  if (kept !== undefined) return kept;
  const made = build(design);
  KEPT.set(design, made);
  return made;
}

function build(design: Design): Wiring {
  const nodes = new Sets(design.terminals.length);
  const joins: Join[][] = design.terminals.map(() => []);
  for (const join of design.joins) {
    nodes.unite(join.a, join.b);
    joins[join.a]?.push(join);
    joins[join.b]?.push(join);
  }

  const byComponent: Part[][] = design.components.map(() => []);
  const byNode = new Map<NodeId, Part[]>();
  const terminals: TerminalId[][] = design.components.map(() => []);
  for (const terminal of design.terminals) terminals[terminal.component]?.push(terminal.id);

  const at = (node: NodeId, part: Part) => {
    const there = byNode.get(node);
    if (there === undefined) byNode.set(node, [part]);
    else there.push(part);
  };
  for (const component of design.components) {
    for (const [sort, aTerminal, bTerminal] of ends(component, design)) {
      const part: Part = {
        component: component.id,
        sort,
        a: nodes.find(aTerminal),
        b: nodes.find(bTerminal),
        aTerminal,
        bTerminal,
      };
      byComponent[component.id]!.push(part);
      at(part.a, part);
      if (part.b !== part.a) at(part.b, part);
    }
  }

  const copper = new Sets(design.terminals.length);
  const members = new Map<NodeId, Set<NodeId>>();
  for (const parts of byComponent) {
    for (const part of parts) if (part.sort === 'copper') copper.unite(part.a, part.b);
  }
  for (const terminal of design.terminals) {
    const node = nodes.find(terminal.id);
    const root = copper.find(node);
    const set = members.get(root);
    if (set === undefined) members.set(root, new Set([node]));
    else set.add(node);
  }

  const poles = new Set<NodeId>();
  const pole = (terminal: TerminalId | undefined) => {
    if (terminal !== undefined) poles.add(copper.find(nodes.find(terminal)));
  };
  for (const component of design.components) {
    if (component.kind === 'source') {
      pole(component.a);
      pole(component.b);
    }
    if (component.kind === 'common') pole(component.a);
    if (component.kind === 'zone') pole(component.b);
    if (component.kind === 'output') pole(component.returns);
    if (component.kind === 'input' && component.feedVolts !== undefined) pole(component.b);
  }
  pole(design.earth);

  const none: readonly Part[] = [];
  const isWired = (terminal: TerminalId) => (joins[terminal]?.length ?? 0) > 0;
  return {
    design,
    node: (terminal) => nodes.find(terminal),
    joinsAt: (terminal) => joins[terminal] ?? [],
    isWired,
    isJoined: (terminal, component) =>
      isWired(terminal) || (byNode.get(nodes.find(terminal)) ?? none).some((part) => part.component !== component),
    partsAt: (node) => byNode.get(node) ?? none,
    partsOf: (component) => byComponent[component] ?? none,
    isPole: (node) => poles.has(copper.find(node)),
    copperFrom: (node) => members.get(copper.find(node)) ?? new Set([node]),
    terminalsOf: (component) => terminals[component] ?? [],
  };
}

/** The two-terminal parts of a component with the terminals at their ends. */
function ends(component: Component, design: Design): [PartSort, TerminalId, TerminalId][] {
  switch (component.kind) {
    case 'core':
    case 'fuse':
    case 'arrester':
      return [['copper', component.a, component.b]];
    case 'resistor':
    case 'contact':
    case 'diode':
    case 'capacitor':
    case 'source':
      return [[component.kind, component.a, component.b]];
    case 'zone':
      return [['source', component.a, component.b]];
    case 'input':
      return [[component.feedVolts === undefined ? 'input' : 'source', component.a, component.b]];
    case 'load':
    case 'feed':
      return [['consumer', component.a, component.b]];
    case 'relay': {
      const coils: [PartSort, TerminalId, TerminalId][] = [['consumer', component.coil.a, component.coil.b]];
      if (component.secondCoil !== undefined) {
        coils.push(['consumer', component.secondCoil.a, component.secondCoil.b]);
      }
      return coils;
    }
    case 'output': {
      const made: [PartSort, TerminalId, TerminalId][] = [];
      const rail = component.rail === undefined ? undefined : design.components[component.rail];
      if (component.style.word !== 'sink' && rail?.kind === 'source') made.push(['output', rail.a, component.a]);
      if (component.style.word !== 'source' && component.returns !== undefined) {
        made.push(['output', component.a, component.returns]);
      }
      return made;
    }
    default:
      return [];
  }
}

/** Disjoint sets of small whole numbers. */
export class Sets {
  readonly #parent: Int32Array;

  constructor(size: number) {
    this.#parent = Int32Array.from({ length: size }, (_, index) => index);
  }

  find(member: number): number {
    const parent = this.#parent;
    let root = member;
    while (parent[root] !== root) root = parent[root]!;
    for (let walk = member; walk !== root; ) {
      const next = parent[walk]!;
      parent[walk] = root;
      walk = next;
    }
    return root;
  }

  /** The smaller root stays, so that the outcome does not depend on the order of wires. */
  unite(one: number, other: number): void {
    const a = this.find(one);
    const b = this.find(other);
    if (a === b) return;
    this.#parent[Math.max(a, b)] = Math.min(a, b);
  }
}
