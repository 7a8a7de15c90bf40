/** A site under construction: the columns of the design as they grow, and what is found on the way. */
import {
  type Acceptance,
  type Autonomy,
  type Case,
  type Component,
  type ComponentId,
  type Join,
  NO_ORIGIN,
  type Origin,
  type Place,
  type PlaceId,
  type Plain,
  type Reading,
  type SiteFacts,
  type Terminal,
  type TerminalId,
  type Uncomputed,
  type Zone,
} from '@couplet/engine';
import type { AstNode } from 'langium';
import type { Group, Program } from '../generated/ast.ts';
import { Bag, bodyItems } from './bags.ts';
import type { LanguageFinding } from './contract.ts';
import { type Facts, Reader } from './facts.ts';
import { type Bases, NO_BASES } from './memory.ts';
import { Origins, rootOf } from './origins.ts';
import type { Part } from './part.ts';
import type { NamedValues } from './read.ts';
import type { Scope } from './scope.ts';
import { type Spot, Spots } from './spots.ts';

/** What is filled in after a part was made: places, references to other parts. */
export type Mutable<T> = { -readonly [K in keyof T]: T[K] };

export interface Setting {
  readonly program: Program;
  readonly scope: Scope;
}

/** A finding of lowering, before its place is known: several uses of an assembly may have the same one. */
export interface Report extends Pick<LanguageFinding, 'code' | 'severity' | 'message'> {
  readonly origin: Origin;
  readonly related: readonly { readonly origin: Origin; readonly message: string }[];
}

export class Site {
  readonly origins: Origins;
  /** Where the numbers of a piece of a site begin; below them its columns are empty. */
  readonly bases: Bases;
  readonly reader: Reader;
  readonly reports: Report[] = [];
  readonly spots = new Spots();

  facts: SiteFacts = { title: '', origin: NO_ORIGIN, limits: [] };
  readonly places: Mutable<Place>[] = [];
  readonly components: Mutable<Component>[];
  readonly terminals: Mutable<Terminal>[];
  /** By terminal. */
  readonly spotOf: Spot[];
  readonly joins: Join[] = [];
  readonly cases: Case[];
  readonly autonomies: Autonomy[] = [];
  readonly acceptances: Acceptance[] = [];
  readonly readings: Reading[] = [];
  readonly spare: TerminalId[] = [];
  readonly uncomputed: Uncomputed[] = [];
  earth: TerminalId | undefined;

  readonly parts: Part[] = [];
  /** Settings by unit and their name. */
  readonly settings = new Map<Part, Map<string, Setting>>();
  /** Work that needs every part to be there. */
  readonly later: (() => void)[] = [];
  /** Outputs that say what they follow. */
  readonly followers: { readonly output: ComponentId; readonly facts: Facts }[] = [];
  /** Terminals of ports that are not programmed: told once something is wired to them. */
  readonly undecided: TerminalId[] = [];
  readonly schemes = new Map<Bag, NonNullable<Zone['scheme']>>();
  private readonly groups = new Map<Group, Bag>();
  private readonly saidUncomputed = new Set<string>();

  constructor(named: NamedValues, bases: Bases = NO_BASES) {
    this.bases = bases;
    this.origins = new Origins(bases.origins);
    this.components = new Array(bases.components);
    this.terminals = new Array(bases.terminals);
    this.spotOf = new Array(bases.terminals);
    this.cases = new Array(bases.cases);
    this.reader = new Reader(this.origins, named);
  }

  component<C extends Component>(facts: Omit<C, 'id'>): ComponentId {
    const id = this.components.length;
    this.components.push({ id, ...facts } as unknown as Mutable<Component>);
    return id;
  }

  terminal(name: string, component: ComponentId, origin: Origin, spot: Spot): TerminalId {
    const id = this.terminals.length;
    this.terminals.push({ id, name, component, origin });
    this.spotOf.push(spot);
    return id;
  }

  place(facts: Omit<Place, 'id'>): PlaceId {
    const id = this.places.length;
    this.places.push({ id, ...facts });
    return id;
  }

  /** What is written in a group of a body. Groups of types are read once. */
  groupBag(group: Group, scope: Scope): Bag {
    let bag = this.groups.get(group);
    if (bag === undefined) {
      bag = new Bag();
      bag.read(bodyItems(group.body), scope);
      this.groups.set(group, bag);
    }
    return bag;
  }

  /** Earth is one terminal, which is everywhere. */
  earthTerminal(): TerminalId {
    if (this.earth === undefined) {
      const id = this.components.length;
      this.earth = this.terminal('earth', id, NO_ORIGIN, -1);
      this.component<Plain>({ kind: 'joint', name: 'earth', origin: NO_ORIGIN, a: this.earth });
    }
    return this.earth;
  }

  /** Says that something is understood and not computed: once for each file and kind of thing. */
  notComputed(what: string, node: AstNode): void {
    // Said once, so it stands where it is written, also in an assembly with many uses.
    this.origins.within(undefined, () => {
      const origin = this.origins.of(node);
      const key = `${this.origins.place(origin)?.uri} ${what}`;
      if (this.saidUncomputed.has(key)) return;
      this.saidUncomputed.add(key);
      this.uncomputed.push({ what, origin });
    });
  }

  report(
    code: string,
    node: AstNode,
    message: string,
    more: {
      readonly severity?: LanguageFinding['severity'];
      readonly related?: readonly { readonly node: AstNode; readonly message: string }[];
    } = {},
  ): void {
    const related = (more.related ?? []).map((each) => ({
      origin: this.origins.of(each.node),
      message: each.message,
    }));
    const origin = this.origins.of(node);
    this.reports.push({ code, severity: more.severity ?? 'error', message, origin, related });
  }

  /** The line a node stands on, counted from one, for a message. */
  line(node: AstNode): number {
    return (this.origins.written(this.origins.of(node))?.start.line ?? 0) + 1;
  }

  sameFile(one: AstNode, other: AstNode): boolean {
    return rootOf(one) === rootOf(other);
  }
}
