/** Tools for making one component: its terminals, what a reference reaches in it, and facts that many kinds share. */
import type {
  Choice,
  Component,
  ComponentId,
  Datum,
  Origin,
  PlaceId,
  Suppressor,
  TerminalId,
  Unit,
} from '@couplet/engine';
import type { AstNode } from 'langium';
import { isQuantity, isWordTerm } from '../../generated/ast.ts';
import type { Entry } from '../bags.ts';
import { Facts } from '../facts.ts';
import type { Part, Pass, Point } from '../part.ts';
import type { Read } from '../read.ts';
import { thingAt } from '../resolve.ts';
import type { Site } from '../site.ts';

/** What every component of the design says of itself. */
export interface Head {
  readonly name: string;
  readonly description?: string;
  readonly origin: Origin;
  readonly place?: PlaceId;
  readonly owner?: ComponentId;
  readonly role?: Choice;
}

export class PartBuilder {
  readonly site: Site;
  readonly part: Part;
  readonly facts: Facts;
  readonly origin: Origin;

  constructor(site: Site, part: Part) {
    this.site = site;
    this.part = part;
    this.origin = site.origins.of(part.node);
    this.facts = new Facts(site.reader, part.bag, part.kind, this.origin);
  }

  /** The head of the component that the name alone means. */
  head(): Head {
    const { declaration, name, place } = this.part;
    return headOf(this.facts, name, this.origin, textOf(declaration.description), place);
  }

  /** The head of something inside it. */
  inner(facts: Facts, name: string, owner: ComponentId, description?: string): Head {
    return { ...headOf(facts, `${this.part.name}.${name}`, facts.origin, description, this.part.place), owner };
  }

  add<C extends Component>(facts: Omit<C, 'id'>): ComponentId {
    return this.site.component<C>(facts);
  }

  /** The id that the next component gets, for terminals that are made before it. */
  get next(): ComponentId {
    return this.site.components.length;
  }

  /** The terminal of a name, made where there is none yet. It belongs to the component that made it. */
  terminal(name: string, component: ComponentId, origin: Origin = this.origin): TerminalId {
    const known = this.part.points.get(name);
    if (known?.terminal !== undefined) return known.terminal;
    const id = this.site.terminal(`${this.part.name}.${name}`, component, origin, this.part.spot);
    this.part.points.set(name, { ...known, terminal: id });
    return id;
  }

  /** Adds to what a name within the part reaches. */
  point(name: string, point: Point): void {
    this.part.points.set(name, { ...this.part.points.get(name), ...point });
  }

  /** A part with two terminals that a chain goes through when it is named alone. */
  through(
    names: readonly [string, string],
    pass: Pick<Pass, 'repeat' | 'minds'>,
  ): { readonly a: TerminalId; readonly b: TerminalId } {
    const component = this.next;
    this.part.id = component;
    const a = this.terminal(names[0], component);
    const b = this.terminal(names[1], component);
    const way: Pass = { component, first: a, second: b, ...pass };
    this.part.alone = { pass: way };
    this.point(`${names[0]}-${names[1]}`, { pass: way });
    return { a, b };
  }

  /** The component that a property names, anywhere on the site. */
  thing(property: string, facts: Facts = this.facts): ComponentId | undefined {
    const entry = facts.bag.get(property);
    const read = facts.word(property);
    if (entry === undefined || read === undefined) return undefined;
    return thingAt(this.site, read.reference, entry.scope);
  }

  /** Alternating values are ratings only: nothing is solved with them, and that is told. */
  noteAlternating(...properties: readonly string[]): void {
    for (const property of properties) {
      const read = this.facts.values(property).find((each) => dimensionsOf(each).includes('V ac'));
      if (read !== undefined) this.site.notComputed('alternating current', read.node);
    }
  }

  suppressor(facts: Facts = this.facts): Suppressor | undefined {
    const read = facts.word('suppressor');
    if (read === undefined) return undefined;
    const origin = facts.at(read.node);
    const sort = read.word as Suppressor['sort'];
    return read.quantity === undefined
      ? { sort, origin }
      : { sort, volts: facts.datumOf(read.quantity, 'suppressor'), origin };
  }

  modes(facts: Facts = this.facts): Unit['modes'] {
    const modes = facts.bag.members().filter((member) => member.kind === 'mode');
    return modes.map(({ name, node, bag }) => {
      const of = facts.of(facts.bag.within(name) ?? bag, 'mode', facts.at(node));
      return { name, draws: of.datum('draws'), origin: of.origin };
    });
  }
}

function dimensionsOf(read: Read): readonly string[] {
  if (read.sort === 'pair') return [read.left.dimension, read.right.dimension];
  return read.sort === 'amount' ? [read.dimension] : [];
}

export function headOf(
  facts: Facts,
  name: string,
  origin: Origin,
  description: string | undefined,
  place: PlaceId | undefined,
): Head {
  const head: { -readonly [K in keyof Head]: Head[K] } = { name, origin };
  if (description !== undefined) head.description = description;
  if (place !== undefined) head.place = place;
  const role = facts.given('role');
  if (role !== undefined) head.role = role;
  return head;
}

/** Descriptions go on over several texts. */
export function textOf(texts: readonly string[] | undefined): string | undefined {
  return texts === undefined || texts.length === 0 ? undefined : texts.join(' ');
}

/** A name in a value's place, with the node that says it: a terminal may be a number. */
export function nameIn(
  entry: Entry | undefined,
  index = 0,
): { readonly name: string; readonly node: AstNode } | undefined {
  const term = entry?.values[index]?.terms[0];
  if (isQuantity(term)) return term.number === undefined ? undefined : { name: term.number, node: term };
  if (!isWordTerm(term) || term.reference?.head === undefined || term.reference.steps.length > 0) return undefined;
  return { name: term.reference.head.$refText, node: term };
}

/** A part of a value as a datum with the same origin: a percentage of rated volts, the lower end of a range. */
export function scaled(datum: Datum, factor: number): Datum {
  const ends = [datum.least * factor, datum.most * factor];
  return { ...datum, least: Math.min(...ends), usual: datum.usual * factor, most: Math.max(...ends) };
}
