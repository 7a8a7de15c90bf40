/** Changes of text that several rules offer. */
import {
  type Band,
  type Component,
  type ComponentId,
  type ComponentOf,
  type Design,
  NO_ORIGIN,
  nearestPreferred,
  type Origin,
  seriesForTolerance,
  writeQuantity,
  type Zone,
} from '@couplet/engine';
import { circuitComponents, componentOf, ofKind } from '../circuit/circuits.ts';
import { wiringOf } from '../circuit/wiring.ts';
import type { Cure } from '../rule.ts';
import { listSome } from './words.ts';

/** A dotted name as a file writes it: what is no plain word stands in quotes. */
export function written(name: string): string {
  const [head = '', ...steps] = name.split('.');
  return [head, ...steps.map((step) => (/^[A-Za-z0-9_]+(-[A-Za-z0-9_]+)*$/.test(step) ? step : `"${step}"`))].join('.');
}

/** Everything of one thing that is open is marked as meant. */
export function spareCure(names: readonly string[], origin: Origin): readonly Cure[] {
  if (origin === NO_ORIGIN || names.length === 0) return [];
  const text = `spare ${names.map(written).join(', ')}`;
  return [{ title: `Mark ${listSome(names)} as spare`, safe: false, edits: [{ how: 'below', origin, text }] }];
}

/** The other throw of a changeover pole takes the place of this one; nothing where the other one is wired as well. */
export function otherThrow(design: Design, contact: ComponentOf<'contact'>, origin: Origin): Cure | undefined {
  const wiring = wiringOf(design);
  for (const other of ofKind(design, 'contact')) {
    if (other.driver !== contact.driver || other.pole !== contact.pole || other.closes === contact.closes) continue;
    const [mine, its] = contact.a === other.a ? [contact.b, other.b] : [contact.a, other.a];
    if (wiring.isWired(its)) return undefined;
    const [from, to] = [design.terminals[mine]?.name, design.terminals[its]?.name];
    if (from === undefined || to === undefined) return undefined;
    return {
      title: `Wire ${other.name} in place of ${contact.name}`,
      safe: false,
      edits: [{ how: 'rename', origin, from, to }],
    };
  }
  return undefined;
}

/**
 * Resistors of a loop, each with the preferred value that would put a reading of `usual` ohms at the zone into the middle of a band.
 * Which of them does it without moving other readings out of theirs, only solving again can tell.
 */
export function resistorCures(design: Design, zone: Zone, band: Band, usual: number): readonly Cure[] {
  const [from, to] = [edgeInOhms(zone, band.from), edgeInOhms(zone, band.to)];
  if (!Number.isFinite(usual) || from === undefined || to === undefined) return [];
  const lacking = (from + to) / 2 - usual;
  return [...new Set(circuitComponents(design, zone.id))].flatMap((id): readonly Cure[] => {
    const resistor = componentOf(design, id, 'resistor');
    if (resistor?.ohms === undefined || resistor.ohms.origin === NO_ORIGIN) return [];
    const series = seriesForTolerance(resistor.tolerance ?? FINEST);
    const value = nearestPreferred(resistor.ohms.usual + lacking, series.includes('E24') ? ['E24'] : series);
    if (value === undefined || value === resistor.ohms.usual) return [];
    const text = writeQuantity(value, 'ohm');
    const edits = [{ origin: resistor.ohms.origin, text: withTolerance(text, resistor.tolerance) }];
    return [{ title: `Use ${text} for ${resistor.name}`, safe: false, edits }];
  });
}

/** An edge of a band as ohms across the zone: volts at the terminal are those of its feed divided by its own ohms. */
function edgeInOhms(zone: Zone, edge: number | undefined): number | undefined {
  if (edge === undefined || zone.scheme?.unit === 'ohm') return edge;
  const [volts, ohms] = [zone.feedVolts?.usual, zone.feedOhms?.usual];
  return volts === undefined || ohms === undefined || edge >= volts ? undefined : (ohms * edge) / (volts - edge);
}

/** Tolerance of a resistor that does not say: any series may be meant. */
const FINEST = 0.01;

/** A value with the tolerance that the part it takes the place of was given. */
export function withTolerance(value: string, tolerance: number | undefined): string {
  return tolerance === undefined ? value : `${value} +-${writeQuantity(tolerance, 'ratio')}`;
}

/** A part with two ends the other way round. */
export function turnCure({ kind, name, origin }: Component): Cure {
  const [what, terminals] = (ENDS[kind] ?? ENDS.load)!;
  return { title: `Turn ${what}${name}`, safe: false, edits: [{ how: 'turn', origin, part: name, terminals }] };
}

/** What is turned, and the names of its ends, by kind. */
const ENDS: { readonly [K in Component['kind']]?: readonly [what: string, terminals: readonly [string, string]] } = {
  load: ['', ['plus', 'minus']],
  relay: ['the coil of ', ['A1', 'A2']],
  diode: ['', ['A', 'K']],
};

/** A name for a further part that no part has: D1, D2 … */
export function freeName(design: Design, letter: string): string {
  const taken = new Set(design.components.map(({ name }) => name));
  for (let number = 1; ; number += 1) {
    if (!taken.has(`${letter}${number}`)) return `${letter}${number}`;
  }
}

/** The contacts in the circuit of a part that have another throw. */
export function contactCures(design: Design, component: ComponentId, origin: Origin): readonly Cure[] {
  return circuitComponents(design, component).flatMap((id) => {
    const contact = componentOf(design, id, 'contact');
    const cure = contact && otherThrow(design, contact, origin);
    return cure === undefined ? [] : [cure];
  });
}
