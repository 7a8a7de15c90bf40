/** What the derivation of faults asks of a site: what is wired, which pole of a circuit is earthed, what lies where. */
import type { Island, Model } from '../build/index.ts';
import type { ComponentId, ComponentOf, PlaceId, TerminalId } from '../design/components.ts';
import type { Design } from '../design/design.ts';
import { earthedPoles } from '../design/earth.ts';
import { Copper } from './copper.ts';
import type { Ground } from './ground.ts';
import type { Prepared } from './prepare.ts';

/** The two ends of a pair of cores at one place. */
export interface PairEnd {
  readonly place: PlaceId | undefined;
  readonly a: TerminalId;
  readonly b: TerminalId;
}

export class FaultSite {
  readonly ground: Ground;
  readonly prepared: Prepared;
  readonly copper: Copper;
  /** Parts that were there before links were put in. */
  readonly parts: number;
  private readonly wired: Uint8Array;
  private readonly earths = new Map<number, TerminalId>();
  private readonly terminalsOf = new Map<number, TerminalId[]>();
  private readonly coresOf = new Map<ComponentId, ComponentOf<'core'>[]>();

  constructor(original: Design, prepared: Prepared, ground: Ground) {
    this.prepared = prepared;
    this.ground = ground;
    this.parts = original.components.length;
    this.copper = new Copper(ground.shared.model);
    this.wired = new Uint8Array(prepared.design.terminals.length);
    for (const { a, b } of original.joins) {
      this.wired[a] = 1;
      this.wired[b] = 1;
    }
    const model = prepared.original;
    for (const pole of earthedPoles(original)) {
      const region = model.regionOf(model.nodeOf(pole));
      if (region !== undefined && !this.earths.has(region.id)) this.earths.set(region.id, pole);
    }
    for (const { id } of original.terminals) {
      const node = model.nodeOf(id);
      const list = this.terminalsOf.get(node);
      if (list === undefined) this.terminalsOf.set(node, [id]);
      else list.push(id);
    }
    for (const part of original.components) {
      if (part.kind !== 'core') continue;
      const list = this.coresOf.get(part.cable);
      if (list === undefined) this.coresOf.set(part.cable, [part]);
      else list.push(part);
    }
  }

  get model(): Model {
    return this.ground.shared.model;
  }

  get design(): Design {
    return this.ground.design;
  }

  isWired(terminal: TerminalId): boolean {
    return this.wired[terminal] === 1;
  }

  /** The node of the prepared site that a terminal lies at. */
  node(terminal: TerminalId): number {
    return this.model.nodeOf(terminal);
  }

  /** Whether wires make two terminals one. */
  isOne(a: TerminalId, b: TerminalId): boolean {
    const { original } = this.prepared;
    return original.nodeOf(a) === original.nodeOf(b);
  }

  /** An earthed pole of the circuit that a terminal belongs to, when it is not that pole itself. */
  earthFor(terminal: TerminalId): TerminalId | undefined {
    const { original } = this.prepared;
    const region = original.regionOf(original.nodeOf(terminal));
    const pole = region === undefined ? undefined : this.earths.get(region.id);
    return pole === undefined || this.isOne(pole, terminal) ? undefined : pole;
  }

  /** Terminals that wires make one, in the order of the design. */
  joints(): Iterable<readonly TerminalId[]> {
    return this.terminalsOf.values();
  }

  /** Terminals that wires make one with a terminal, itself among them. */
  terminalsWith(terminal: TerminalId): readonly TerminalId[] {
    return this.terminalsOf.get(this.prepared.original.nodeOf(terminal)) ?? [];
  }

  /** Cores that run side by side with one: of the same cable, between the same places. */
  beside(core: ComponentOf<'core'>): readonly ComponentOf<'core'>[] {
    return (this.coresOf.get(core.cable) ?? []).filter(
      (other) => other !== core && this.ends(core, other).length === 2,
    );
  }

  /** The places that two cores of a cable have in common, with their ends there. */
  ends(one: ComponentOf<'core'>, other: ComponentOf<'core'>): readonly PairEnd[] {
    const ends: PairEnd[] = [];
    for (const a of [one.a, one.b]) {
      const place = this.placeOf(a);
      const b = [other.a, other.b].find((end) => this.placeOf(end) === place);
      if (place !== undefined && b !== undefined) ends.push({ place, a, b });
    }
    if (ends.length === 0 && this.placeOf(one.a) === undefined && this.placeOf(other.a) === undefined) {
      return [
        { place: undefined, a: one.a, b: other.a },
        { place: undefined, a: one.b, b: other.b },
      ];
    }
    return ends;
  }

  placeOf(terminal: TerminalId): PlaceId | undefined {
    return this.design.terminals[terminal]!.place;
  }

  placeName(terminal: TerminalId): string | undefined {
    const place = this.placeOf(terminal);
    return place === undefined ? undefined : this.design.places[place]?.name;
  }

  /** The island of a part at rest. */
  islandOf(part: ComponentId): Island | undefined {
    const [element] = this.model.ofComponent[part] ?? [];
    return element === undefined ? undefined : this.ground.rest.islandOf(element);
  }

  /** Whether a terminal lies at earth itself, and not at a pole that is said to be earthed. */
  isEarth(terminal: TerminalId): boolean {
    const { earth } = this.prepared.design;
    return earth !== undefined && this.isOne(earth, terminal);
  }
}
