/**
 * The couplings of a site: parts that wires, relays, units, cables or what cases ask join to one another, and nothing
 * joins to the rest. No figure of one hangs on anything in another, so each is computed and judged by itself. What is
 * wired to earth is one coupling with all that is wired to it; a pole that is said to be earthed inside its unit is not.
 */
import { DisjointSets } from '../disjoint.ts';
import type { Case, Step } from './cases.ts';
import type { Component, ComponentId, PlaceId, TerminalId } from './components.ts';
import type { Origin } from './datum.ts';
import type { Design } from './design.ts';
import { eachReference, type Renumbering, renumbered } from './references.ts';

/** A design of its own, and which number of the whole each of its numbers stands for. */
export interface Coupling {
  /**
   * Components, terminals, places and origins are numbered anew from nought, each in the order that they have in the
   * whole: two couplings of the same content are equal as data, wherever they stand. Title and tolerated blind faults
   * are the site's and are not in it.
   */
  readonly design: Design;
  readonly components: readonly ComponentId[];
  readonly terminals: readonly TerminalId[];
  readonly places: readonly PlaceId[];
  readonly origins: readonly Origin[];
  /** Index into the cases of the whole. */
  readonly cases: readonly number[];
  /** Index into the acceptances of the whole. */
  readonly acceptances: readonly number[];
}

/** In the order of their first components. Time and memory are linear in the size of the design. */
export function couplingsOf(design: Design): readonly Coupling[] {
  const parts = new Parts(design);
  return parts.members.map((_, index) => parts.coupling(index));
}

/** A figure, finding or change of a coupling's design, in the numbers of the whole. */
export function inWhole<T>(coupling: Coupling, data: T): T {
  return renumbered(data, {
    component: (id) => coupling.components[id] ?? id,
    terminal: (id) => coupling.terminals[id] ?? id,
    place: (id) => coupling.places[id] ?? id,
    origin: (origin) => coupling.origins[origin] ?? origin,
  });
}

/** The design cut up: every list of it as one list for each coupling, of indices into the whole. */
class Parts {
  readonly members: readonly number[][];
  private readonly design: Design;
  private readonly couplingOf: Int32Array;
  private readonly terminals: readonly TerminalId[][];
  private readonly joins: readonly number[][];
  private readonly spare: readonly TerminalId[][];
  private readonly autonomies: readonly number[][];
  private readonly acceptances: readonly (readonly number[])[];
  private readonly readings: readonly number[][];
  private readonly cases: readonly (readonly number[])[];
  /** Number of a component or terminal in its coupling. */
  private readonly newComponent: Int32Array;
  private readonly newTerminal: Int32Array;

  constructor(design: Design) {
    this.design = design;
    this.couplingOf = this.cut();
    let count = 0;
    for (const coupling of this.couplingOf) count = Math.max(count, coupling + 1);
    const lists = () => Array.from({ length: count }, (): number[] => []);
    const members = lists();
    this.newComponent = new Int32Array(design.components.length);
    for (let id = 0; id < design.components.length; id++) members[this.couplingOf[id]!]!.push(id);
    this.members = members;
    const terminals = lists();
    for (const { id, component } of design.terminals) terminals[this.couplingOf[component]!]!.push(id);
    this.terminals = terminals;
    this.newTerminal = new Int32Array(design.terminals.length);
    for (const list of members) for (const [index, id] of list.entries()) this.newComponent[id] = index;
    for (const list of terminals) for (const [index, id] of list.entries()) this.newTerminal[id] = index;

    this.joins = lists();
    for (const [index, { a }] of design.joins.entries()) this.joins[this.at(a)]!.push(index);
    this.spare = lists();
    for (const terminal of design.spare) this.spare[this.at(terminal)]!.push(terminal);
    this.autonomies = lists();
    for (const [index, { battery }] of design.autonomies.entries()) {
      this.autonomies[this.couplingOf[battery]!]?.push(index);
    }
    const acceptances = lists().map(() => new Set<number>());
    design.acceptances.forEach(({ targets }, index) => {
      for (const target of targets) acceptances[this.couplingOf[target]!]?.add(index);
    });
    this.acceptances = acceptances.map((set) => [...set]);
    this.readings = lists();
    design.readings.forEach(({ a, b, component }, index) => {
      const terminal = a ?? b;
      const part = component ?? (terminal === undefined ? undefined : design.terminals[terminal]?.component);
      if (part !== undefined) this.readings[this.couplingOf[part]!]?.push(index);
    });
    this.cases = this.casesOfEach(count);
  }

  coupling(index: number): Coupling {
    const { design } = this;
    const components = this.members[index]!;
    const terminals = this.terminals[index]!;
    const cases = this.cases[index]!;
    const acceptances = this.acceptances[index]!;
    const newCase = new Map(cases.map((old, at) => [old, at]));
    const isIn = (id: ComponentId) => this.couplingOf[id] === index;
    const written = {
      ...design,
      site: { ...design.site, title: '', blind: undefined, blindFitting: undefined },
      components: components.map((id) => design.components[id]!),
      terminals: terminals.map((id) => design.terminals[id]!),
      joins: this.joins[index]!.map((at) => design.joins[at]!),
      cases: cases.map((at) => this.caseOf(design.cases[at]!, index, newCase)),
      autonomies: this.autonomies[index]!.map((at) => design.autonomies[at]!),
      acceptances: acceptances.map((at) => {
        const acceptance = design.acceptances[at]!;
        return { ...acceptance, targets: acceptance.targets.filter(isIn) };
      }),
      readings: this.readings[index]!.map((at) => design.readings[at]!),
      uncomputed: [],
      earth: design.earth !== undefined && this.at(design.earth) === index ? design.earth : undefined,
    };
    const places = new Set<PlaceId>();
    const origins = new Set<Origin>();
    eachReference({ ...written, places: [] }, (sort, number) => {
      if (sort === 'place') places.add(number);
      else if (sort === 'origin' && number >= 0) origins.add(number);
    });
    const placeList = [...places].sort((one, other) => one - other);
    const placed = placeList.map((id) => design.places[id]!);
    eachReference(placed, (sort, number) => {
      if (sort === 'origin' && number >= 0) origins.add(number);
    });
    const originList = [...origins].sort((one, other) => one - other);
    const newPlace = new Map(placeList.map((old, at) => [old, at]));
    const newOrigin = new Map(originList.map((old, at) => [old, at]));
    const by: Renumbering = {
      component: (id) => this.newComponent[id]!,
      terminal: (id) => this.newTerminal[id]!,
      place: (id) => newPlace.get(id)!,
      origin: (origin) => (origin < 0 ? origin : newOrigin.get(origin)!),
    };
    const made = renumbered({ ...written, places: placed, spare: [] as readonly TerminalId[] }, by);
    return {
      design: {
        ...made,
        components: made.components.map((part, id) => ({ ...part, id }) as Component),
        terminals: made.terminals.map((terminal, id) => ({ ...terminal, id })),
        places: made.places.map((place, id) => ({ ...place, id })),
        spare: this.spare[index]!.map(by.terminal),
      },
      components,
      terminals,
      places: placeList,
      origins: originList,
      cases,
      acceptances,
    };
  }

  private at(terminal: TerminalId): number {
    return this.couplingOf[this.design.terminals[terminal]!.component]!;
  }

  /** The coupling that a step is about; undefined for a wait, which is about all of them. */
  private ofStep(step: Step): number | undefined {
    const [first] = partsOf(step, this.design);
    return first === undefined ? undefined : this.couplingOf[first];
  }

  private cut(): Int32Array {
    const { design } = this;
    const { components, earth, terminals } = design;
    const sets = new DisjointSets(components.length);
    const unite = (one: ComponentId | undefined, other: ComponentId | undefined) => {
      if (one === undefined || other === undefined) return;
      if (components[one] !== undefined && components[other] !== undefined) sets.unite(one, other);
    };
    const partAt = (terminal: TerminalId | undefined) =>
      terminal === undefined ? undefined : terminals[terminal]?.component;
    for (const part of components) {
      eachReference(part, (sort, number) => {
        if (sort === 'component') unite(part.id, number);
        else if (sort === 'terminal') unite(part.id, partAt(number));
      });
    }
    for (const { a, b } of design.joins) unite(partAt(a), partAt(b));
    for (const { steps } of design.cases) {
      for (const step of steps) {
        const [one, other] = partsOf(step, design);
        unite(one, other);
        if (step.sort === 'turn' && step.state === 'earthed') unite(one, partAt(earth));
      }
    }
    for (const { a, b } of design.readings) unite(partAt(a), partAt(b));
    return sets.numbered().of;
  }

  /** Cases of each coupling: those that turn or ask something of it, those that it names, and those that they follow. */
  private casesOfEach(count: number): readonly (readonly number[])[] {
    const { design } = this;
    const found = Array.from({ length: count }, () => new Set<number>());
    const add = (coupling: number, index: number) => {
      const set = found[coupling];
      for (let at: number | undefined = index; set !== undefined && at !== undefined && !set.has(at); ) {
        set.add(at);
        at = design.cases[at]?.after;
      }
    };
    design.cases.forEach(({ steps }, index) => {
      for (const step of steps) {
        const coupling = this.ofStep(step);
        if (coupling !== undefined) add(coupling, index);
      }
    });
    const byName = new Map(design.cases.map(({ name }, index) => [name, index]));
    this.autonomies.forEach((list, coupling) => {
      for (const at of list) for (const { caseName } of design.autonomies[at]!.carries) name(coupling, caseName);
    });
    this.readings.forEach((list, coupling) => {
      for (const at of list) name(coupling, design.readings[at]!.case);
    });
    return found.map((set) => [...set].sort((one, other) => one - other));

    function name(coupling: number, caseName: string): void {
      const index = byName.get(caseName);
      if (index !== undefined) add(coupling, index);
    }
  }

  /** A case as a coupling sees it: time passes in it as in the whole, and what is done elsewhere is left out. */
  private caseOf(one: Case, coupling: number, newCase: ReadonlyMap<number, number>): Case {
    const steps = one.steps.filter((step) => (this.ofStep(step) ?? coupling) === coupling);
    return one.after === undefined ? { ...one, steps } : { ...one, steps, after: newCase.get(one.after) };
  }
}

/** Parts that a step turns or asks about; none for a wait. */
function partsOf(step: Step, { terminals }: Design): readonly ComponentId[] {
  if (step.sort === 'wait') return [];
  if (step.sort === 'turn') return step.other === undefined ? [step.target] : [step.target, step.other];
  const { subject } = step;
  if (subject.sort !== 'between') return [subject.component];
  return [subject.a, subject.b].flatMap((terminal) => terminals[terminal]?.component ?? []);
}
