/** What is drawn of a coupling, whatever happens in it: nodes with their terminals, wires, places. */
import type { Component, ComponentId, ComponentOf, Design, Origin, TerminalId } from '@couplet/engine';
import { type Wiring, wiringOf } from '@couplet/rules';
import type {
  DrawingShape,
  DrawnFrame,
  DrawnLink,
  DrawnNode,
  DrawnTerminal,
  DrawnWire,
  SourceRange,
} from './contract.ts';
import type { Coupling } from './couplings.ts';
import { symbolOf } from './symbols.ts';
import { valuesOf } from './values.ts';

/** A shape with the way back from its ids to the design. */
export interface Shaped {
  readonly shape: DrawingShape;
  /** Components that a node stands for: the throws of a pole, the cores of a cable, one part elsewhere. */
  readonly partsOf: ReadonlyMap<string, readonly ComponentId[]>;
  /** The terminal in the design, by id in the drawing. */
  readonly terminals: ReadonlyMap<string, TerminalId>;
}

type Place = (origin: Origin) => SourceRange | undefined;

export function shapeOf(design: Design, coupling: Coupling, place: Place): Shaped {
  return new ShapeMaker(design, coupling, place).make();
}

/** A node as it grows. */
interface Plan {
  readonly id: string;
  /** What it is named and placed by. */
  readonly part: Component;
  readonly parts: ComponentId[];
  readonly terminals: Set<TerminalId>;
  /** Only a terminal of something that another drawing shows. */
  readonly reference?: TerminalId;
}

class ShapeMaker {
  private readonly design: Design;
  private readonly coupling: Coupling;
  private readonly place: Place;
  private readonly wiring: Wiring;
  private readonly plans = new Map<string, Plan>();
  private readonly spare: ReadonlySet<TerminalId>;
  private readonly ids = new Map<TerminalId, string>();

  constructor(design: Design, coupling: Coupling, place: Place) {
    this.design = design;
    this.coupling = coupling;
    this.place = place;
    this.wiring = wiringOf(design);
    this.spare = new Set(design.spare);
  }

  make(): Shaped {
    const { design } = this;
    for (const id of [...this.coupling.components].sort((one, other) => one - other)) this.plan(design.components[id]!);
    const joins = this.coupling.joins.map((index) => design.joins[index]!);
    for (const { a, b } of joins) {
      this.meet(a);
      this.meet(b);
    }
    const drawn = [...this.plans.values()].filter(({ terminals }) => terminals.size > 0);
    this.nameTerminals(drawn);
    const nodes = drawn.map((plan) => this.node(plan));
    const wires = this.wires(joins);
    const shape: DrawingShape = {
      title: this.coupling.title,
      frames: this.frames(nodes),
      nodes,
      wires,
      links: this.links(new Set(nodes.map(({ id }) => id))),
    };
    const terminals = new Map([...this.ids].map(([terminal, id]) => [id, terminal]));
    return { shape, partsOf: new Map(drawn.map(({ id, parts }) => [id, parts])), terminals };
  }

  /** The node that a component belongs to, with the terminals that it has whether wired or not. */
  private plan(part: Component): Plan | undefined {
    const { design, wiring } = this;
    const { head, key } = this.seatOf(part);
    if (head === undefined) return undefined;
    const plan = this.planFor(key, head);
    if (plan.parts.includes(part.id)) return plan;
    plan.parts.push(part.id);
    const own = wiring.terminalsOf(part.id);
    if (part.kind === 'contact') {
      // Every throw of the pole, so that the form of the contact can be seen.
      const throws = this.throwsOf(part);
      for (const { id } of throws) if (!plan.parts.includes(id)) plan.parts.push(id);
      for (const terminal of endsOfThrows(throws)) plan.terminals.add(terminal);
    } else if (part.kind === 'relay') {
      for (const { coil, id } of coilsOf(part)) {
        const one = id === undefined ? plan : this.planFor(`${part.name}/${id}`, part);
        if (one !== plan && !one.parts.includes(part.id)) one.parts.push(part.id);
        if ([coil.a, coil.b].some((terminal) => wiring.isWired(terminal))) one.terminals.add(coil.a).add(coil.b);
      }
      for (const terminal of own)
        if (!this.coilTerminals(part).has(terminal) && wiring.isWired(terminal)) plan.terminals.add(terminal);
    } else if (part.kind === 'core') {
      const cable = design.components[part.cable] as ComponentOf<'cable'>;
      for (const id of cable.cores) {
        const core = design.components[id] as ComponentOf<'core'>;
        const wired = wiring.isWired(core.a) || wiring.isWired(core.b);
        // A core that nothing is wired to belongs to no other drawing.
        if (id !== part.id && wired) continue;
        plan.terminals.add(core.a).add(core.b);
        if (!plan.parts.includes(id)) plan.parts.push(id);
      }
    } else if (isMember(part, design)) {
      for (const terminal of own) if (wiring.isWired(terminal)) plan.terminals.add(terminal);
    } else {
      if ('a' in part) plan.terminals.add(part.a);
      if ('a' in part && 'b' in part) plan.terminals.add(part.b);
      for (const terminal of own) if (wiring.isWired(terminal)) plan.terminals.add(terminal);
    }
    return plan;
  }

  private planFor(key: string, part: Component, reference?: TerminalId): Plan {
    let plan = this.plans.get(key);
    if (plan === undefined) {
      plan = { id: key, part, parts: [], terminals: new Set(), ...(reference === undefined ? {} : { reference }) };
      this.plans.set(key, plan);
    }
    return plan;
  }

  /** Key and naming part of a component's node. */
  private seatOf(part: Component): { readonly key: string; readonly head?: Component } {
    const { design } = this;
    if (part.kind === 'core') {
      const cable = design.components[part.cable];
      return cable === undefined ? { key: '' } : { key: cable.name, head: cable };
    }
    if (part.kind === 'contact') {
      const driver = design.components[part.driver];
      if (driver === undefined) return { key: part.name, head: part };
      return { key: driver.kind === 'actuator' ? driver.name : `${driver.name}/${part.pole}`, head: driver };
    }
    if (isMember(part, design)) {
      const unit = design.components[part.owner!]!;
      return { key: unit.name, head: unit };
    }
    if (part.kind === 'unit' || part.kind === 'cable' || part.kind === 'actuator' || part.kind === 'switch')
      return { key: '' };
    if (part.kind === 'confirm') return { key: '' };
    return { key: part.name, head: part };
  }

  private throwsOf(contact: ComponentOf<'contact'>): readonly ComponentOf<'contact'>[] {
    const driver = this.design.components[contact.driver];
    const all =
      driver?.kind === 'relay' || driver?.kind === 'switch' ? driver.contacts : this.contactsOf(contact.driver);
    const poles = all.map((id) => this.design.components[id]!);
    return poles.filter((each) => each.kind === 'contact').filter(({ pole }) => pole === contact.pole);
  }

  private contactsOf(driver: ComponentId): readonly ComponentId[] {
    return this.design.components.flatMap((part) =>
      part.kind === 'contact' && part.driver === driver ? [part.id] : [],
    );
  }

  private coilTerminals(relay: ComponentOf<'relay'>): ReadonlySet<TerminalId> {
    return new Set(coilsOf(relay).flatMap(({ coil }) => [coil.a, coil.b]));
  }

  /** Takes a wire's end in: a terminal of a node, or a reference to what another drawing shows. */
  private meet(terminal: TerminalId): void {
    const part = this.design.components[this.design.terminals[terminal]!.component]!;
    if (this.coupling.components.has(part.id)) {
      const drawn = [...this.plans.values()].some(({ terminals }) => terminals.has(terminal));
      if (!drawn) this.plan(part)?.terminals.add(terminal);
      return;
    }
    const { name } = this.design.terminals[terminal]!;
    const plan = this.planFor(`${name}?`, part, terminal);
    plan.terminals.add(terminal);
  }

  private nameTerminals(plans: readonly Plan[]): void {
    const used = new Set<string>();
    for (const { terminals } of plans) {
      for (const terminal of terminals) {
        const { name } = this.design.terminals[terminal]!;
        let id = name;
        for (let count = 2; used.has(id); count++) id = `${name}~${count}`;
        used.add(id);
        this.ids.set(terminal, id);
      }
    }
  }

  private node(plan: Plan): DrawnNode {
    const { design } = this;
    const { id, part, reference } = plan;
    const terminals = [...plan.terminals].map((terminal) => this.terminal(terminal, plan));
    const source = this.sourceOf(part);
    const place = reference === undefined ? this.placeOf(plan) : (design.terminals[reference]!.place ?? part.place);
    const frame = place === undefined ? undefined : design.places[place]?.name;
    const base = {
      id,
      kind: part.kind,
      terminals,
      ...(frame === undefined ? {} : { frame }),
      ...(source === undefined ? {} : { source }),
    };
    if (reference !== undefined) {
      return { ...base, name: design.terminals[reference]!.name, symbol: 'terminal', values: [] };
    }
    const first = design.components[plan.parts[0]!]!;
    const contact = first.kind === 'contact' ? first : undefined;
    const cores = part.kind === 'cable' ? this.coresOf(plan) : undefined;
    const suppressor = part.kind === 'relay' || part.kind === 'load' ? part.suppressor?.sort : undefined;
    return {
      ...base,
      kind: contact === undefined ? part.kind : 'contact',
      name: part.name,
      symbol: contact === undefined ? this.symbolOf(part) : this.contactSymbol(plan),
      // What a relay is for stands once, beside its coil.
      ...(part.description === undefined || (contact && part.kind === 'relay')
        ? {}
        : { description: part.description }),
      values: contact === undefined ? valuesOf(part) : [],
      ...(cores === undefined ? {} : { cores }),
      ...(contact || suppressor === undefined || suppressor === 'none' ? {} : { suppressor }),
      ...(contact?.late ? { late: true as const } : {}),
      ...(contact && part.kind === 'switch' ? { byHand: true as const } : {}),
    };
  }

  private symbolOf(part: Component) {
    return part.kind === 'joint' && part.a === this.design.earth ? 'earth' : symbolOf(part);
  }

  /** One throw of a simple contact is named for how it stands when all is well; others for when it closes. */
  private contactSymbol({ parts, terminals }: Plan) {
    const throws = parts.map((id) => this.design.components[id] as ComponentOf<'contact'>);
    if (throws.length > 1) return terminals.size === 3 ? ('changeover' as const) : ('block' as const);
    const [only] = throws;
    const driver = this.design.components[only!.driver];
    if (driver?.kind === 'actuator' && driver.form === 'simple') {
      return driver.rest.word === only!.closes ? ('break' as const) : ('make' as const);
    }
    return symbolOf(only!) as 'make' | 'break';
  }

  private terminal(terminal: TerminalId, plan: Plan): DrawnTerminal {
    const { design } = this;
    const { component, name, origin } = design.terminals[terminal]!;
    const part = design.components[component]!;
    const source = this.place(origin);
    const core = part.kind === 'core' ? part : undefined;
    return {
      id: this.ids.get(terminal)!,
      label: core?.colour ?? labelOf(name, plan.part.name),
      member: part.kind,
      ...(core === undefined ? {} : { way: core.name, end: core.a === terminal ? ('from' as const) : ('to' as const) }),
      ...(this.spare.has(terminal) ? { spare: true as const } : {}),
      ...(source === undefined ? {} : { source }),
    };
  }

  /** In the order of the cable, what is used first. */
  private coresOf({ part, parts }: Plan): DrawnNode['cores'] {
    const cores = (part as ComponentOf<'cable'>).cores.filter((id) => parts.includes(id));
    const told = cores.map((id) => {
      const core = this.design.components[id] as ComponentOf<'core'>;
      const used = this.wiring.isWired(core.a) || this.wiring.isWired(core.b);
      return { way: core.name, label: core.colour, ...(used ? {} : { unused: true as const }) };
    });
    return [...told.filter(({ unused }) => !unused), ...told.filter(({ unused }) => unused)];
  }

  /** Contacts of units are found in the unit's declaration: the type's text may lie in another file. */
  private sourceOf(part: Component): SourceRange | undefined {
    const unit = part.kind === 'actuator' && part.owner !== undefined ? this.design.components[part.owner] : undefined;
    return this.place((unit ?? part).origin);
  }

  private placeOf({ part, parts }: Plan): number | undefined {
    if (part.kind === 'cable') return undefined;
    return part.place ?? this.design.components[parts[0] ?? -1]?.place;
  }

  private frames(nodes: readonly DrawnNode[]): DrawnFrame[] {
    const used = new Set(nodes.map(({ frame }) => frame));
    return this.design.places
      .filter(({ name }) => used.has(name))
      .map(({ description, name, origin }) => {
        const source = this.place(origin);
        return { id: name, name, title: description ?? name, ...(source === undefined ? {} : { source }) };
      });
  }

  private wires(joins: readonly Design['joins'][number][]): DrawnWire[] {
    const nets = new Map<number, number>();
    const used = new Set<string>();
    return joins.map(({ a, b, bond, origin }) => {
      const from = this.ids.get(a)!;
      const to = this.ids.get(b)!;
      const node = this.wiring.node(a);
      const net = nets.get(node) ?? nets.size;
      nets.set(node, net);
      let id = `${from} -- ${to}`;
      for (let count = 2; used.has(id); count++) id = `${from} -- ${to}~${count}`;
      used.add(id);
      const source = this.place(origin);
      return {
        id,
        from,
        to,
        net,
        ...(bond === undefined ? {} : { bond: bond.because }),
        ...(source === undefined ? {} : { source }),
      };
    });
  }

  private links(drawn: ReadonlySet<string>): DrawnLink[] {
    const links: DrawnLink[] = [];
    const poles = Map.groupBy(
      [...this.plans.values()].filter(({ id, parts }) => drawn.has(id) && this.isContact(parts[0])),
      ({ part }) => part.id,
    );
    for (const [driver, plans] of poles) {
      const part = this.design.components[driver]!;
      const ids = plans.map(({ id }) => id);
      const from = part.kind === 'relay' && drawn.has(part.name) ? [part.name] : [];
      const chain = [...from, ...ids];
      if (part.kind === 'relay')
        for (const to of from.length > 0 ? ids : ids.slice(1)) links.push({ from: chain[0]!, to });
      else for (const to of ids.slice(1)) links.push({ from: ids[0]!, to });
    }
    return links;
  }

  private isContact(id: ComponentId | undefined): boolean {
    return id !== undefined && this.design.components[id]?.kind === 'contact';
  }
}

/** The common of a changeover contact, then the end that is closed at release, then the other. */
function endsOfThrows(throws: readonly ComponentOf<'contact'>[]): readonly TerminalId[] {
  const [one, other] = [...throws].sort((a, b) => Number(a.closes === 'operated') - Number(b.closes === 'operated'));
  if (one === undefined || other === undefined) return throws.flatMap(({ a, b }) => [a, b]);
  const common = one.a === other.a || one.a === other.b ? one.a : one.b;
  const far = ({ a, b }: ComponentOf<'contact'>) => (a === common ? b : a);
  return [common, far(one), far(other)];
}

function coilsOf(relay: ComponentOf<'relay'>) {
  const first: { readonly id?: string; readonly coil: ComponentOf<'relay'>['coil'] } = { coil: relay.coil };
  return relay.secondCoil === undefined ? [first] : [first, { id: 'B', coil: relay.secondCoil }];
}

/** A member of a unit that shows as terminals of its block; contacts stand for themselves. */
function isMember(part: Component, design: Design): boolean {
  if (part.kind === 'contact' || part.owner === undefined) return false;
  return design.components[part.owner]?.kind === 'unit';
}

/** 'A1' of 'K1.A1' beside K1; the whole name where it does not begin with the node's. */
function labelOf(terminal: string, node: string): string {
  return terminal.startsWith(`${node}.`)
    ? terminal.slice(node.length + 1)
    : terminal.slice(terminal.lastIndexOf('.') + 1);
}
