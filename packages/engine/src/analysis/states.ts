/** In which states parts are at a settled instant, the usual one first; none where that cannot be said. */
import type { Band, Component, ComponentOf } from '../design/components.ts';
import type { Datum } from '../design/datum.ts';
import { steadyConfirm } from '../time/watch.ts';
import type { Ranged } from './range.ts';
import { ampsOf, loopOhms, voltsAcross } from './readings.ts';
import type { World } from './world.ts';

export function statesOf(world: World, id: number): readonly string[] {
  const part = world.design.components[id]!;
  const read = STATES[part.kind];
  return read === undefined ? [] : read(part, world);
}

type Row<K extends Component['kind']> = (part: ComponentOf<K>, world: World) => readonly string[];

const ROWS: { readonly [K in Component['kind']]?: Row<K> } = {
  relay: (part, world) => {
    const { possible, lacks, reason } = world.decision(part.id);
    if (lacks.length > 0 || reason !== undefined) return [];
    if (part.latching === undefined) return possible;
    return possible.map((state) => (state === 'operated' ? 'set' : 'reset'));
  },
  output: (part, world) => memberStates(part, world),
  contact: (part, world) => contactStates(part, world),
  switch: (part, world) => turnedStates(part, part.simple, world),
  actuator: (part, world) => turnedStates(part, part.form === 'simple', world),
  unit: (part, world) => [world.word(part.id)],
  source: (part, world) => [world.word(part.id) === 'off' ? 'off' : 'on'],
  fuse: (part, world) => [world.word(part.id)],
  load: (part, world) => loadStates(part, world),
  confirm: (part, world) => world.confirmed.get(part.id) ?? steadyConfirm(part, world, statesOf),
  feed: (part, world) => {
    const least = part.works?.least;
    if (least === undefined) return [];
    return within(voltsAcross(world, part.id), (volts) => (volts >= least ? 'on' : 'off'), [least], 'off');
  },
  input: (part, world) => inputStates(part, world),
  zone: (part, world) => {
    const { possible } = zoneClasses(part, world);
    return possible.filter((name) => name !== undefined);
  },
};

const STATES = ROWS as { readonly [K in Component['kind']]?: (part: Component, world: World) => readonly string[] };

function contactStates(part: ComponentOf<'contact'>, world: World): readonly string[] {
  const altered = world.doings.altered.get(part.id);
  if (altered === 'bridged') return ['closed'];
  if (altered === 'removed') return ['open'];
  const driver = world.decision(part.driver);
  if (driver.lacks.length > 0 || driver.reason !== undefined) return [];
  const works = world.design.components[part.driver]!;
  const states = works.kind === 'relay' ? world.possible(works.id) : memberStates(works, world);
  return states.map((state) => (state === part.closes ? 'closed' : 'open'));
}

function turnedStates(
  part: ComponentOf<'switch'> | ComponentOf<'actuator'>,
  simple: boolean,
  world: World,
): readonly string[] {
  if (!simple) return memberStates(part, world);
  const contact = world.shared.model.drivenBy(part.id)[0]?.component;
  return contact?.kind === 'contact' ? contactStates(contact, world) : memberStates(part, world);
}

/** What a member of a unit does, with supply and without where nobody can say whether it has any. */
function memberStates(part: Component, world: World): readonly string[] {
  return world.doubtOf(part)?.sort === 'unknown' ? [] : world.wordsOf(part.id);
}

function loadStates(part: ComponentOf<'load'>, world: World): readonly string[] {
  const { works } = part;
  if (works === undefined) return [];
  return within(voltsAcross(world, part.id), loadNamer(part), [offBelow(part, works), works.least, works.most], 'off');
}

function offBelow(part: ComponentOf<'load'>, works: Datum): number {
  return part.offBelow?.usual ?? works.least * OFF_BELOW;
}

/** On inside `works`, off below `off-below` or a tenth of the lower end, neither between and above; by its volts. */
export function loadNamer(part: ComponentOf<'load'>): (volts: number) => string {
  const works = part.works!;
  const off = offBelow(part, works);
  return (signed) => {
    const volts = part.polarised?.word === 'no' ? Math.abs(signed) : signed;
    if (volts < off) return 'off';
    return volts >= works.least * (1 - ROUNDING) && volts <= works.most * (1 + ROUNDING) ? 'on' : 'neither';
  };
}

/** Share of the lower working volts below which a load counts as off; the language's default. */
const OFF_BELOW = 0.1;
const ROUNDING = 1e-12;

function inputStates(part: ComponentOf<'input'>, world: World): readonly string[] {
  const { on, off } = part;
  if (on === undefined || off === undefined) return [];
  const range = on.unit === 'A' ? ampsOf(world, part.id) : voltsAcross(world, part.id);
  return within(range, inputNamer(part), [on.above, off.below], 'off');
}

/** By the volts or amperes of an input that says both its edges. */
export function inputNamer({ on, off }: ComponentOf<'input'>): (value: number) => string {
  return (value) => (value > on!.above ? 'on' : value < off!.below ? 'off' : 'undecided');
}

/** Names of everything that a range passes through, the usual one first. */
function within(
  range: Ranged,
  name: (value: number) => string,
  edges: readonly number[],
  unconnected: string,
): readonly string[] {
  if (range.sort === 'unknown') return [];
  if (range.sort === 'no-connection') return [unconnected];
  const names = new Set([name(range.usual)]);
  for (const [least, most] of range.stretches) {
    names.add(name(least));
    names.add(name(most));
    const inner = edges.filter((edge) => edge > least && edge < most).sort((one, other) => one - other);
    const marks = [least, ...inner, most];
    for (let i = 1; i < marks.length; i++) {
      names.add(name(marks[i]!));
      names.add(name((marks[i - 1]! + marks[i]!) / 2));
    }
  }
  return [...names];
}

export interface ZoneClasses {
  readonly volts: Ranged;
  readonly ohms: Ranged;
  readonly usual: string | undefined;
  /** Everything between least and most, the usual one first; `undefined` stands for outside every band. */
  readonly possible: readonly (string | undefined)[];
}

export function zoneClasses(part: ComponentOf<'zone'>, world: World): ZoneClasses {
  const volts = voltsAcross(world, part.id);
  const ohms = loopOhms(world, part);
  const { scheme } = part;
  const range = scheme?.unit === 'V' ? volts : ohms;
  if (scheme === undefined || range.sort !== 'range') {
    const nothing = range.sort === 'no-connection' ? [undefined] : [];
    return { volts, ohms, usual: undefined, possible: nothing };
  }
  const usual = classAt(scheme.bands, range.usual);
  const possible = new Set<string | undefined>([usual]);
  for (const [least, most] of range.stretches) {
    for (const name of classesBetween(scheme.bands, least, most)) possible.add(name);
  }
  return { volts, ohms, usual, possible: [...possible] };
}

/** The same for ohms and volts that are at hand; nothing where the zone has no bands. */
export function classesOf(
  { scheme }: ComponentOf<'zone'>,
  ohms: Span,
  volts: Span,
): Pick<ZoneClasses, 'usual' | 'possible'> {
  if (scheme === undefined) return { usual: undefined, possible: [] };
  const { least, usual, most } = scheme.unit === 'V' ? volts : ohms;
  const name = classAt(scheme.bands, usual);
  return { usual: name, possible: [...new Set([name, ...classesBetween(scheme.bands, least, most)])] };
}

interface Span {
  readonly least: number;
  readonly usual: number;
  readonly most: number;
}

function nameOf(band: Band): string {
  return band.classes.join('+');
}

/** A band holds its lower edge and not its upper; the last of all holds what is open. */
export function classAt(bands: readonly Band[], value: number): string | undefined {
  const band = bands.find((other) => value >= lower(other) && (value < upper(other) || other.to === undefined));
  return band === undefined ? undefined : nameOf(band);
}

function lower(band: Band): number {
  return band.from ?? Number.NEGATIVE_INFINITY;
}

function upper(band: Band): number {
  return band.to ?? Number.POSITIVE_INFINITY;
}

function classesBetween(bands: readonly Band[], least: number, most: number): readonly (string | undefined)[] {
  const names = new Set<string | undefined>();
  let covered = least;
  let gap = false;
  const touched = bands
    .filter((band) => most >= lower(band) && (least < upper(band) || band.to === undefined))
    .sort((one, other) => lower(one) - lower(other));
  for (const band of touched) {
    if (lower(band) > covered) gap = true;
    covered = Math.max(covered, upper(band));
    names.add(nameOf(band));
  }
  const past = covered < most || (covered === most && touched.every((band) => band.to !== undefined));
  if (touched.length === 0 || gap || past) names.add(undefined);
  return [...names];
}
