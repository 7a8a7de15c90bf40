/** What the words of single faults do to a part that a case turns to them. One row a word. */
import type { Component, ComponentId, ComponentOf, TerminalId } from '../design/components.ts';
import type { Design } from '../design/design.ts';
import { earthedPoleFor } from '../design/earth.ts';
import { DisjointSets } from '../disjoint.ts';
import type { Doings } from './doings.ts';

/** `undefined` where the word means nothing for the part, or does not say which of its contacts it means. */
export function effectOf(
  word: string,
  part: Component,
  design: Design,
  other: ComponentId | undefined,
): Partial<Doings> | undefined {
  if (!isFault(word)) return undefined;
  return FAULTS[word]!(part, design, other === undefined ? undefined : design.components[other]);
}

export function isFault(word: string): boolean {
  return Object.hasOwn(FAULTS, word);
}

type Fault = (part: Component, design: Design, other: Component | undefined) => Partial<Doings> | undefined;

/** What reads or feeds cannot be cut itself: its wire is, and a core or part of that is named. */
const KEEPS_ITS_WIRE: ReadonlySet<string> = new Set(['zone', 'input', 'source', 'output', 'unit', 'actuator']);

function altering(word: string): Fault {
  return (part) => {
    if (KEEPS_ITS_WIRE.has(part.kind)) return undefined;
    return { altered: new Map(piecesOf(part).map((id) => [id, word])) };
  };
}

/** What stands for a part where it is taken away or bridged: its cores, its contacts, or itself. */
export function piecesOf(part: Component): readonly ComponentId[] {
  if (part.kind === 'cable') return part.cores;
  if (part.kind === 'switch') return part.contacts;
  return [part.id];
}

function forcing(word: string): Fault {
  return (part) => ({ forced: new Map([[part.id, word]]) });
}

type Contact = ComponentOf<'contact'>;

/** The contacts that a word means: a contact itself, or of a relay or switch the one that is wired of each pole. */
function contactsMeant(part: Component, design: Design): readonly Contact[] | undefined {
  if (part.kind === 'contact') return [part];
  const wired = throwsOf(part, design).filter(({ a, b }) => isJoined(design, a) && isJoined(design, b));
  const poles = new Set(wired.map(({ pole }) => pole));
  return wired.length === 0 || poles.size < wired.length ? undefined : wired;
}

function throwsOf(part: Component, design: Design): readonly Contact[] {
  const ids = part.kind === 'relay' || part.kind === 'switch' ? part.contacts : [];
  const driven = part.kind === 'actuator' ? design.components.filter((one) => 'driver' in one) : [];
  const contacts = [...ids.map((id) => design.components[id]!), ...driven];
  return contacts.filter((one): one is Contact => one.kind === 'contact' && one.driver === part.id);
}

function isJoined({ joins }: Design, terminal: TerminalId): boolean {
  return joins.some(({ a, b }) => a === terminal || b === terminal);
}

/** The tongue of a changeover that is welded to one side cannot reach the other. */
const welded: Fault = (part, design) => {
  const meant = contactsMeant(part, design);
  if (meant === undefined) return undefined;
  const altered = new Map<ComponentId, string>();
  for (const { id, driver, pole } of meant) {
    for (const other of throwsOf(design.components[driver]!, design)) {
      if (other.pole === pole) altered.set(other.id, 'removed');
    }
    altered.set(id, 'bridged');
  }
  return { altered };
};

const neverCloses: Fault = (part, design) => {
  const meant = contactsMeant(part, design);
  return meant && { altered: new Map(meant.map(({ id }) => [id, 'removed'])) };
};

/** A part that minds its direction, and nothing in it conducts the other way round, takes nothing. */
const reversed: Fault = (part) => {
  if (part.kind === 'diode' || part.kind === 'relay') return { altered: new Map([[part.id, 'reversed']]) };
  if (part.kind !== 'load') return undefined;
  const conducts = part.suppressor?.sort === 'diode' || part.suppressor?.sort === 'zener';
  if (!conducts && part.polarised?.word !== 'yes') return { altered: new Map() };
  return { altered: new Map([[part.id, conducts ? 'reversed' : 'removed']]) };
};

/** Two parts of a kind in each other's place; two cores with the wires at one of their ends crossed. */
const swapped: Fault = (part, _design, other) => {
  if (other === undefined || other.id === part.id || other.kind !== part.kind) return undefined;
  if (part.kind === 'core') return crossed(part, other as ComponentOf<'core'>);
  if (!('a' in part) || part.kind === 'contact') return undefined;
  return {
    altered: new Map([
      [part.id, `=${other.id}`],
      [other.id, `=${part.id}`],
    ]),
  };
};

export function crossed(one: ComponentOf<'core'>, other: ComponentOf<'core'>): Partial<Doings> {
  return {
    altered: new Map([
      [one.id, 'removed'],
      [other.id, 'removed'],
    ]),
    joins: [
      { a: one.a, b: other.b, ohms: 0, like: one.id },
      { a: other.a, b: one.b, ohms: 0, like: other.id },
    ],
  };
}

/** A resistor in series with a core and nothing between: with the two changed over it stands at the core's other end. */
const atOtherEnd: Fault = (part, design) => {
  if (part.kind !== 'resistor') return undefined;
  const nodes = new DisjointSets(design.terminals.length);
  for (const { a, b } of design.joins) nodes.unite(a, b);
  for (const end of [part.b, part.a]) {
    const node = nodes.find(end);
    const beside = new Set<ComponentId>();
    for (const { id, component } of design.terminals) if (nodes.find(id) === node) beside.add(component);
    beside.delete(part.id);
    const [only] = beside;
    const core = beside.size === 1 ? design.components[only!]! : undefined;
    if (core?.kind !== 'core') continue;
    return {
      altered: new Map([
        [part.id, `=${core.id}`],
        [core.id, `=${part.id}`],
      ]),
    };
  }
  return undefined;
};

const FAULTS: Readonly<Record<string, Fault>> = {
  cut: altering('removed'),
  missing: altering('removed'),
  'never-closes': neverCloses,
  'coil-open': altering('removed'),
  linked: altering('bridged'),
  'coil-shorted': altering('bridged'),
  'a-decade-low': altering('x0.1'),
  'a-decade-high': altering('x10'),
  welded,
  reversed,
  swapped,
  'at-other-end': atOtherEnd,
  'stuck-on': forcing('on'),
  'stuck-off': forcing('off'),
  lost: forcing('off'),
  blown: forcing('blown'),
  earthed: (part, design) => {
    if (!('a' in part)) return undefined;
    const pole = earthedPoleFor(design, part.a) ?? design.earth;
    return pole === undefined ? undefined : { joins: [{ a: part.a, b: pole, ohms: 0 }] };
  },
  shorted: (part, _design, other) => {
    if (other === undefined || !('a' in part) || !('a' in other)) return undefined;
    return { joins: [{ a: part.a, b: other.a, ohms: 0 }] };
  },
};
