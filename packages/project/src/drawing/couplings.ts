/**
 * A site in pieces that fit on one drawing each. What shares a circuit, and a relay with its contacts, is never parted;
 * units and supplies are borders, shown with the terminals in use. Small pieces that meet at a border share a drawing.
 */
import type { Component, ComponentId, Design, TerminalId } from '@couplet/engine';
import { type Wiring, wiringOf } from '@couplet/rules';
import { type Piece, pieceFrom } from './pieces.ts';
import { titleOf } from './titles.ts';

export interface Coupling {
  readonly id: string;
  readonly title: string;
  readonly components: ReadonlySet<ComponentId>;
  /** Indices into `Design.joins`, ascending. */
  readonly joins: readonly number[];
}

/** Nodes beyond which pieces that merely meet at a border get drawings of their own. */
const MOST_NODES = 20;

const KEPT = new WeakMap<Design, readonly Coupling[]>();

/** The couplings of a design in the order of their first parts. Every wire is in at least one of them. */
export function couplingsIn(design: Design): readonly Coupling[] {
  const kept = KEPT.get(design);
  if (kept !== undefined) return kept;
  const made = build(design);
  KEPT.set(design, made);
  return made;
}

function build(design: Design): readonly Coupling[] {
  const pieces = merged(design, merged(design, piecesOf(design)));
  const used = new Set<string>();
  return pieces.map(({ components, joins }) => {
    const parts = [...components].sort((one, other) => one - other).map((id) => design.components[id]!);
    const { first, title } = titleOf(parts, design);
    let id = first;
    for (let count = 2; used.has(id); count++) id = `${first}~${count}`;
    used.add(id);
    return { id, title, components, joins: [...joins].sort((one, other) => one - other) };
  });
}

function piecesOf(design: Design): Piece[] {
  const wiring = wiringOf(design);
  const grouped = new Set<ComponentId>();
  const pieces: Piece[] = [];
  for (const { id } of design.components) {
    if (grouped.has(id) || !begins(design, id, wiring)) continue;
    const group = groupFrom(design, id, wiring);
    for (const each of group) grouped.add(each);
    pieces.push(pieceFrom(design, wiring, group));
  }
  const covered = new Set(pieces.flatMap(({ joins }) => [...joins]));
  const left = design.joins.flatMap((_, index) => (covered.has(index) ? [] : [index]));
  const first = ({ components }: Piece) => Math.min(...components);
  return [...pieces, ...leftOver(design, left)].sort((one, other) => first(one) - first(other));
}

/** Wires that belong to no circuit: those between supplies and what they feed. What shares a part is one piece. */
function leftOver(design: Design, joins: readonly number[]): Piece[] {
  const at = new Map<ComponentId, number[]>();
  const partsOf = (index: number) => {
    const { a, b } = design.joins[index]!;
    return [design.terminals[a]!.component, design.terminals[b]!.component];
  };
  for (const index of joins) {
    for (const part of partsOf(index)) at.set(part, [...(at.get(part) ?? []), index]);
  }
  const done = new Set<number>();
  return joins.flatMap((start): Piece[] => {
    if (done.has(start)) return [];
    const found = new Set([start]);
    const components = new Set<ComponentId>();
    for (const index of found) {
      done.add(index);
      for (const part of partsOf(index)) {
        components.add(part);
        for (const other of at.get(part)!) found.add(other);
      }
    }
    return [{ components, joins: found }];
  });
}

/** Kinds that are something's way only, or a border: they come with what uses them. */
const FOLLOWS: ReadonlySet<Component['kind']> = new Set([
  'unit',
  'source',
  'feed',
  'common',
  'terminal',
  'joint',
  'core',
  'cable',
  'fuse',
  'arrester',
  'actuator',
  'switch',
  'confirm',
]);

function begins(design: Design, id: ComponentId, wiring: Wiring): boolean {
  const part = design.components[id]!;
  if (FOLLOWS.has(part.kind)) return false;
  return wiring.terminalsOf(id).some((terminal) => wiring.isWired(terminal));
}

/** Everything that shares a circuit with a part, through relays and switches too. */
function groupFrom(design: Design, start: ComponentId, wiring: Wiring): ReadonlySet<ComponentId> {
  const found = new Set([start]);
  for (const id of found) {
    for (const terminal of wiring.terminalsOf(id)) {
      if (wiring.isPole(wiring.node(terminal))) continue;
      for (const other of terminalsAt(design, wiring, terminal)) found.add(design.terminals[other]!.component);
    }
    const part = design.components[id]!;
    if (part.kind === 'relay' || part.kind === 'switch') {
      for (const contact of part.contacts) if (isWiredContact(design, contact, wiring)) found.add(contact);
    }
    if (part.kind === 'contact') {
      const driver = design.components[part.driver];
      if (driver?.kind === 'relay' || driver?.kind === 'switch') found.add(driver.id);
    }
  }
  return found;
}

/** Whether anything is wired to a contact, or to another throw of its pole. */
function isWiredContact(design: Design, id: ComponentId, wiring: Wiring): boolean {
  const contact = design.components[id];
  if (contact?.kind !== 'contact') return false;
  return [contact.a, contact.b].some((terminal) => wiring.isWired(terminal));
}

const AT_NODE = new WeakMap<Design, ReadonlyMap<number, readonly TerminalId[]>>();

/** Terminals that wires make one with a terminal, itself included. */
export function terminalsAt(design: Design, wiring: Wiring, terminal: TerminalId): readonly TerminalId[] {
  let sorted = AT_NODE.get(design);
  if (sorted === undefined) {
    const ids = design.terminals.map(({ id }) => id);
    sorted = Map.groupBy(ids, (id) => wiring.node(id));
    AT_NODE.set(design, sorted);
  }
  return sorted.get(wiring.node(terminal)) ?? [terminal];
}

/**
 * Joins pieces that meet, in their order, as long as a drawing has room: at a part that both show, else at a unit or
 * supply. What is full is left alone, so that the work grows with the pieces and not with their pairs.
 */
function merged(design: Design, pieces: readonly Piece[]): Piece[] {
  const sheets: Piece[] = [];
  const open = new Map<string, number>();
  for (const piece of pieces) {
    const ties = tiesOf(design, piece);
    const candidates = [...new Set(ties.flatMap((tie) => open.get(tie) ?? []))];
    const whole = candidates
      .map((at) => ({ at, sum: united(design, sheets[at]!, piece) }))
      .find(({ sum }) => sizeOf(design, sum) <= MOST_NODES);
    const at = whole?.at ?? sheets.length;
    sheets[at] = whole?.sum ?? piece;
    for (const tie of ties) open.set(tie, at);
  }
  return sheets;
}

function united(design: Design, one: Piece, other: Piece): Piece {
  const components = new Set([...one.components, ...other.components]);
  const joins = new Set([...one.joins, ...other.joins]);
  const wiring = wiringOf(design);
  for (const id of other.components) {
    for (const terminal of wiring.terminalsOf(id)) {
      for (const join of wiring.joinsAt(terminal)) {
        const far = join.a === terminal ? join.b : join.a;
        if (components.has(design.terminals[far]!.component)) joins.add(indexOf(design, join));
      }
    }
  }
  return { components, joins };
}

const INDEX = new WeakMap<Design, ReadonlyMap<Design['joins'][number], number>>();

export function indexOf(design: Design, join: Design['joins'][number]): number {
  let known = INDEX.get(design);
  if (known === undefined) {
    known = new Map(design.joins.map((each, index) => [each, index]));
    INDEX.set(design, known);
  }
  return known.get(join)!;
}

/** What a piece can meet others at: parts themselves first, then units and cables that they are members of. */
function tiesOf(design: Design, { components }: Piece): readonly string[] {
  const parts = [...components].map((id) => `part ${id}`);
  return [...new Set([...parts, ...[...components].map((id) => `whole ${ownerOf(design, design.components[id]!)}`)])];
}

function sizeOf(design: Design, { components }: Piece): number {
  return new Set([...components].map((id) => wholeOf(design, id))).size;
}

/** The unit or cable that a part is a member of, the part itself elsewhere. Contacts of a unit are not shown in it. */
function wholeOf(design: Design, id: ComponentId): ComponentId {
  const part = design.components[id]!;
  return part.kind === 'contact' ? id : ownerOf(design, part);
}

function ownerOf(design: Design, part: Component): ComponentId {
  const driver = part.kind === 'contact' ? design.components[part.driver] : part;
  const { owner } = driver ?? part;
  if (owner === undefined) return part.id;
  const { kind: whole } = design.components[owner]!;
  return whole === 'unit' || whole === 'cable' ? owner : part.id;
}
