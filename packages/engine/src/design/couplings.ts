/**
 * The couplings of a site: parts that wires, relays, units, cables or what cases ask join to one another, and nothing
 * joins to the rest. No figure of one hangs on anything in another, so each is computed and judged by itself. What is
 * wired to earth is one coupling with all that is wired to it; a pole that is said to be earthed inside its unit is not.
 */
import { DisjointSets } from '../disjoint.ts';
import type { Case, Step } from './cases.ts';
import type { Component, ComponentId, PlaceId, TerminalId } from './components.ts';
import type { Origin } from './datum.ts';
import type { Design, Place } from './design.ts';
import { Digest } from './digest.ts';
import { eachReference, type Renumbering, renumbered } from './references.ts';

/** Parts of a site that are computed by themselves, and which number of the whole each of their numbers stands for. */
export interface Coupling {
  readonly components: readonly ComponentId[];
  readonly terminals: readonly TerminalId[];
  readonly places: readonly PlaceId[];
  readonly origins: readonly Origin[];
  /** Index into the cases of the whole. */
  readonly cases: readonly number[];
  /** Index into the acceptances of the whole. */
  readonly acceptances: readonly number[];
  /**
   * Tells whether anything that the coupling is computed from differs: two couplings of the same content have the same
   * digest, wherever they stand in the text, and their designs are equal as data.
   */
  readonly digest: string;
  /**
   * A design of its own, made anew at every call: components, terminals, places and origins are numbered from nought.
   * Title and tolerated blind faults are the site's and are not in it.
   */
  toDesign(): Design;
}

/** In the order of their first components. Time and memory are linear in the size of the design. */
export function couplingsOf(design: Design): readonly Coupling[] {
  const parts = new Parts(design);
  const digest = new Digest();
  return parts.members.map((_, index) => parts.coupling(index, digest));
}

/** A figure, finding or change of a coupling's design, in the numbers of the whole. */
export function inWhole<T>(coupling: Coupling, data: T): T {
  return renumbered(data, numbersOfWhole(coupling));
}

/** From the numbers of a coupling to those of the whole. */
export function numbersOfWhole({ components, terminals, places, origins }: Coupling): Renumbering {
  return {
    component: (id) => components[id] ?? id,
    terminal: (id) => terminals[id] ?? id,
    place: (id) => places[id] ?? id,
    origin: (origin) => origins[origin] ?? origin,
  };
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

  coupling(index: number, digest: Digest): Coupling {
    const list = this.content(index);
    const known = this.remembered(list) ?? this.digested(index, digest, list);
    return {
      components: this.members[index]!,
      terminals: this.terminals[index]!,
      places: known.places,
      origins: known.origins,
      cases: this.cases[index]!,
      acceptances: this.acceptances[index]!,
      digest: known.digest,
      toDesign: () => {
        const by = this.numbering(new Numbers(known.places), new Numbers(known.origins));
        return this.renumbered(this.written(index), known.places, by);
      },
    };
  }

  /** Everything that a coupling is made of, as it stands in the whole. */
  private content(index: number): Content {
    const { design } = this;
    const content: unknown[] = [design.site, design.fragment, design.earth];
    for (const id of this.members[index]!) content.push(design.components[id]);
    for (const id of this.terminals[index]!) content.push(design.terminals[id]);
    for (const at of this.joins[index]!) content.push(design.joins[at]);
    // A case is also known by the numbers of those that come before it.
    for (const at of this.cases[index]!) content.push(at, design.cases[at]);
    for (const at of this.autonomies[index]!) content.push(design.autonomies[at]);
    for (const at of this.acceptances[index]!) content.push(design.acceptances[at]);
    for (const at of this.readings[index]!) content.push(design.readings[at]);
    for (const terminal of this.spare[index]!) content.push(terminal);
    return content;
  }

  /** What was known of the same things in the same order, if they are still the very ones. */
  private remembered(content: Content): Digested | undefined {
    const known = digests.get(content[FIRST_MEMBER] as Component);
    if (known === undefined || known.content.length !== content.length) return undefined;
    if (known.content.some((thing, at) => thing !== content[at])) return undefined;
    return known.places.every((id, at) => this.design.places[id] === known.placesThemselves[at]) ? known : undefined;
  }

  private digested(index: number, digest: Digest, content: Content): Digested {
    // Places and origins are numbered in the order in which they are met: equal content meets them in the same order.
    const places = new Numbers();
    const origins = new Numbers();
    const by = this.numbering(places, origins);
    digest.add(this.written(index), by);
    // A place leads to no other, so that the list does not grow while it is read.
    for (const place of places.met) digest.add(this.design.places[place], by);
    const placesThemselves = places.met.map((id) => this.design.places[id]!);
    const made = { content, digest: digest.take(), places: places.met, placesThemselves, origins: origins.met };
    digests.set(content[FIRST_MEMBER] as Component, made);
    return made;
  }

  private numbering(places: Numbers, origins: Numbers): Renumbering {
    return {
      component: (id) => this.newComponent[id]!,
      terminal: (id) => this.newTerminal[id]!,
      place: (id) => places.of(id),
      origin: (origin) => (origin < 0 ? origin : origins.of(origin)),
    };
  }

  private renumbered(written: Omit<Design, 'places'>, placeIds: readonly PlaceId[], by: Renumbering): Design {
    const places = placeIds.map((id) => this.design.places[id]!);
    const made = renumbered({ ...written, places }, by);
    return {
      ...made,
      components: made.components.map((part, id) => ({ ...part, id }) as Component),
      terminals: made.terminals.map((terminal, id) => ({ ...terminal, id })),
      places: made.places.map((place, id) => ({ ...place, id })),
    };
  }

  /** What a coupling is computed from, still in the numbers of the whole. */
  private written(index: number): Omit<Design, 'places'> {
    const { design } = this;
    const cases = this.cases[index]!;
    const newCase = new Map(cases.map((old, at) => [old, at]));
    const isIn = (id: ComponentId) => this.couplingOf[id] === index;
    return {
      site: { ...design.site, title: '', blind: undefined, blindFitting: undefined },
      fragment: design.fragment,
      components: this.members[index]!.map((id) => design.components[id]!),
      terminals: this.terminals[index]!.map((id) => design.terminals[id]!),
      joins: this.joins[index]!.map((at) => design.joins[at]!),
      earth: design.earth !== undefined && this.at(design.earth) === index ? design.earth : undefined,
      cases: cases.map((at) => this.caseOf(design.cases[at]!, index, newCase)),
      autonomies: this.autonomies[index]!.map((at) => design.autonomies[at]!),
      acceptances: this.acceptances[index]!.map((at) => {
        const acceptance = design.acceptances[at]!;
        return { ...acceptance, targets: acceptance.targets.filter(isIn) };
      }),
      readings: this.readings[index]!.map((at) => design.readings[at]!),
      spare: this.spare[index]!,
      uncomputed: [],
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
      for (const number of tiesOf(part)) unite(part.id, number >= 0 ? number : partAt(-1 - number));
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

/** Components that a component names, and terminals below nought: -1 - terminal. */
function tiesOf(part: Component): readonly number[] {
  let ties = tiesBefore.get(part);
  if (ties === undefined) {
    const found: number[] = [];
    eachReference(part, (sort, number) => {
      if (sort === 'component') found.push(number);
      else if (sort === 'terminal') found.push(-1 - number);
    });
    ties = found;
    tiesBefore.set(part, ties);
  }
  return ties;
}

/*
 * A site that is lowered again mostly brings the very things that it brought before, and data of a design never changes.
 * What hangs on nothing but a thing is known as long as the thing is there.
 */
const tiesBefore = new WeakMap<Component, readonly number[]>();

/** The things that a coupling is made of, and numbers that stand for themselves. */
type Content = readonly unknown[];

/** Where in it the coupling's first component stands. */
const FIRST_MEMBER = 3;

interface Digested {
  readonly content: Content;
  readonly digest: string;
  readonly places: readonly PlaceId[];
  readonly placesThemselves: readonly Place[];
  readonly origins: readonly Origin[];
}

/** By first component. */
const digests = new WeakMap<Component, Digested>();

/** Numbers from nought for things in the order in which they are met. */
class Numbers {
  readonly met: number[];
  private readonly known = new Map<number, number>();

  /** `met` are those that have been met already. */
  constructor(met: readonly number[] = []) {
    this.met = [...met];
    for (const [number, thing] of met.entries()) this.known.set(thing, number);
  }

  of(thing: number): number {
    let number = this.known.get(thing);
    if (number === undefined) {
      number = this.met.push(thing) - 1;
      this.known.set(thing, number);
    }
    return number;
  }
}
