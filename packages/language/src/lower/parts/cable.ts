/** Cables: cores between places, with their ohms. */
import {
  type Cable,
  type ComponentId,
  type ConductorClass,
  type Core,
  coreOhmsPerKm,
  type Datum,
  type Origin,
  type PlaceId,
  type TerminalId,
} from '@couplet/engine';
import { isQuantity, type Value } from '../../generated/ast.ts';
import type { CorePiece } from '../part.ts';
import { placeOfValue } from '../resolve.ts';
import { nameIn, type PartBuilder } from './builder.ts';

/** Cores that one cable may count up at most. */
const MOST_CORES = 1000;

interface Leg {
  readonly from: PlaceId | undefined;
  readonly to: PlaceId | undefined;
  readonly length: Datum | undefined;
}

export function buildCable(b: PartBuilder): void {
  const { facts } = b;
  const cable = b.next;
  b.part.id = cable;
  const legs = legsOf(b);
  const cores: ComponentId[] = [];
  const ends = [...legs.map((leg) => leg.from), legs.at(-1)?.to].filter((place) => place !== undefined);
  b.add<Cable>({
    kind: 'cable',
    ...b.head(),
    cores,
    length: facts.datum('length'),
    section: facts.datum('size'),
    route: facts.choice('route'),
    screen: facts.choice('screen'),
    ends,
  });
  const perKm = ohmsPerKm(b);
  for (const { name, origin } of coresOf(b)) {
    const pieces = legs.map((leg) => addPiece(b, cable, name, origin, leg, perKm, legs.length > 1));
    cores.push(...pieces.map((piece) => piece.component));
    b.point(name, { component: pieces[0]?.component, core: { name, cable: b.part, pieces } });
  }
}

function addPiece(
  b: PartBuilder,
  cable: ComponentId,
  name: string,
  origin: Origin,
  leg: Leg,
  perKm: Datum | undefined,
  several: boolean,
): CorePiece {
  const { site, part, facts } = b;
  const component = b.next;
  const full = `${part.name}.${name}`;
  const end = (place: PlaceId | undefined, other: string): TerminalId => {
    const label = place === undefined ? other : (site.places[place]?.name ?? other);
    const spot = place === undefined ? site.spots.fresh() : site.spots.at(place);
    return site.terminal(`${full}.${label}`, component, origin, spot);
  };
  const first = end(leg.from, 'from');
  const second = end(leg.to, 'to');
  const placeName = (place: PlaceId | undefined) => (place === undefined ? '?' : site.places[place]?.name);
  const ohms = perKm === undefined || leg.length === undefined ? undefined : timesLength(perKm, leg.length);
  const lacks = [leg.length === undefined ? 'length' : '', perKm === undefined ? 'size or core-ohms' : ''];
  b.add<Core>({
    kind: 'core',
    name: several ? `${full} ${placeName(leg.from)}-${placeName(leg.to)}` : full,
    origin,
    owner: cable,
    cable,
    a: first,
    b: second,
    ohms,
    capacity: facts.datum('capacity'),
    colour: name,
    lacks: ohms === undefined ? lacks.filter((each) => each !== '').join(' and ') : undefined,
  });
  return { component, from: leg.from, to: leg.to, first, second };
}

/** Both are positive, so the ends multiply. */
function timesLength(perKm: Datum, length: Datum): Datum {
  const assumption = [perKm.assumption, length.assumption].filter((each) => each !== undefined).join('; ');
  const datum = {
    least: (perKm.least * length.least) / 1000,
    usual: (perKm.usual * length.usual) / 1000,
    most: (perKm.most * length.most) / 1000,
    origin: perKm.origin,
  };
  return assumption === '' ? datum : { ...datum, assumption };
}

/** Ω/km as given, or from the section. */
function ohmsPerKm(b: PartBuilder): Datum | undefined {
  const given = b.facts.datum('core-ohms');
  if (given !== undefined) return given;
  const size = b.facts.amount('size', 'mm2');
  if (size === undefined) return undefined;
  const used = b.facts.amount('class')?.usual;
  const model = coreOhmsPerKm({ section: size.usual, class: conductorClass(used) });
  if (model === undefined) return undefined;
  const { least, usual, most, assumption } = model;
  return { least, usual, most, origin: b.facts.datumOf(size, 'size').origin, assumption };
}

/** Class 6 is a finer class 5 with the same greatest resistance (IEC 60228, table 4: from memory). */
function conductorClass(number: number | undefined): ConductorClass | undefined {
  if (number === 6) return 5;
  return number === 1 || number === 2 || number === 5 ? number : undefined;
}

function coresOf(b: PartBuilder): { readonly name: string; readonly origin: Origin }[] {
  const cores: { name: string; origin: Origin }[] = [];
  const entry = b.facts.bag.get('cores');
  const only = entry?.values.length === 1 ? entry.values[0]?.terms[0] : undefined;
  if (entry !== undefined && isQuantity(only)) {
    const count = /^\d+$/.test(only.number ?? '') ? Math.min(Number(only.number), MOST_CORES) : 0;
    for (let i = 1; i <= count; i++) cores.push({ name: String(i), origin: b.facts.at(only) });
  } else if (entry !== undefined) {
    for (let i = 0; i < entry.values.length; i++) {
      const named = nameIn(entry, i);
      if (named !== undefined) cores.push({ name: named.name, origin: b.facts.at(named.node) });
    }
  }
  const screen = b.facts.given('screen');
  if (screen !== undefined && screen.word !== 'no') cores.push({ name: 'screen', origin: screen.origin });
  return cores;
}

/** One leg from `from` to `to`, or as many as `legs` says: place, length, place, length, place. */
function legsOf(b: PartBuilder): Leg[] {
  const { facts } = b;
  const entry = facts.bag.get('legs');
  if (entry === undefined) {
    return [{ from: endOf(b, 'from'), to: endOf(b, 'to'), length: facts.datum('length') }];
  }
  const reads = facts.values('legs');
  const places: (PlaceId | undefined)[] = [];
  const lengths: Datum[] = [];
  reads.forEach((read, i) => {
    if (read.sort === 'amount') lengths[places.length - 1] = facts.datumOf(read, 'legs');
    else places.push(placeOfValue(b.site, entry.values[i] as Value, entry.scope));
  });
  return places.slice(1).map((to, i) => ({ from: places[i], to, length: lengths[i] }));
}

function endOf(b: PartBuilder, name: 'from' | 'to'): PlaceId | undefined {
  const entry = b.facts.bag.get(name);
  const value = entry?.values[0];
  return entry === undefined || value === undefined ? undefined : placeOfValue(b.site, value, entry.scope);
}
