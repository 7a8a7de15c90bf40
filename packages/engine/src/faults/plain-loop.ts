/**
 * Loops of one zone that hold nothing but ohms: resistors, contacts, cores, fuses. The ohms between two nodes of such a
 * network never fall when one of them rises, so that least, usual and most are found with all ohms least, usual and
 * most: three solves in place of all corners.
 * Source: Rayleigh's monotonicity law (Doyle and Snell, 'Random Walks and Electric Networks', chapter on Rayleigh's
 * method; from memory).
 */
import type { ExtraJoin } from '../analysis/doings.ts';
import { classesOf } from '../analysis/states.ts';
import { ALTERED, stateLaw } from '../analysis/wiring.ts';
import type { World } from '../analysis/world.ts';
import type { Element, Island } from '../build/index.ts';
import type { ComponentId, ComponentOf } from '../design/components.ts';
import type { Read } from './answers.ts';
import type { FaultSpread } from './contract.ts';
import { OhmsBetween } from './ohms-between.ts';
import { ENDS, type End, ZoneScale } from './zone-scale.ts';

/** A resistor, contact, core or join between two local nodes, with its ohms: Infinity where it does not conduct. */
export interface Branch {
  readonly a: number;
  readonly b: number;
  readonly ohms: FaultSpread;
}

/** What is done to the elements at some places. */
export type AlteredPlaces = readonly (readonly [place: number, alteration: string])[];

const NOTHING_ALTERED: AlteredPlaces = [];
const NO_BRANCHES: readonly Branch[] = [];

const OPEN: FaultSpread = {
  least: Number.POSITIVE_INFINITY,
  usual: Number.POSITIVE_INFINITY,
  most: Number.POSITIVE_INFINITY,
};

/** Ohms at each place in one state of the loop, `undefined` where it is no ohms; `fed`: the zone feeds its loop. */
interface Sound {
  readonly fed: boolean;
  readonly ohms: readonly (FaultSpread | undefined)[];
}

const network = new OhmsBetween();

export class PlainLoop {
  readonly island: Island;
  readonly zones: readonly ComponentId[];
  readonly usualOnly = false;
  readonly zone: ComponentOf<'zone'>;
  private readonly world: World;
  private readonly hot: number;
  private readonly back: number;
  private readonly scale: ZoneScale;
  /** Places of the branches among the island's elements. */
  private readonly places: readonly number[];
  private readonly known: Map<string, FaultSpread | undefined>[] = [];
  private readonly sound = new WeakMap<readonly string[], Sound>();

  private constructor(world: World, island: Island, scale: ZoneScale, places: readonly number[]) {
    this.world = world;
    this.island = island;
    this.zone = scale.zone;
    this.zones = [scale.zone.id];
    this.places = places;
    const { model } = world.shared;
    this.hot = island.local(model.nodeOf(this.zone.a));
    this.back = island.local(model.nodeOf(this.zone.b));
    this.scale = scale;
  }

  /** The island as a plain loop; `undefined` where it is none. */
  static of(world: World, island: Island): PlainLoop | undefined {
    if (island.coils.length > 0 || island.pins.length > 0) return undefined;
    let zone: ComponentOf<'zone'> | undefined;
    const places: number[] = [];
    for (const [place, { component }] of island.elements.entries()) {
      if (component.kind === 'zone') {
        if (zone !== undefined && zone.id !== component.id) return undefined;
        zone = component;
      } else if (OHMIC.has(component.kind)) places.push(place);
      else return undefined;
    }
    const scale = zone === undefined ? undefined : ZoneScale.of(zone);
    if (scale === undefined) return undefined;
    const made = new PlainLoop(world, island, scale, places);
    return made.hot < 0 || made.back < 0 || made.hot === made.back ? undefined : made;
  }

  /**
   * What the zone reads with its elements in `states`, some of them altered, and some joins more; `undefined` where that
   * is not plain.
   */
  read(
    _zone: ComponentOf<'zone'>,
    states: readonly string[],
    altered: AlteredPlaces,
    joins: readonly ExtraJoin[],
  ): Read | undefined {
    const extra = joins.length === 0 ? NO_BRANCHES : joins.map((join) => this.branch(join));
    const ohms = this.ohms(states, extra, altered);
    return ohms === undefined ? undefined : this.asRead(ohms);
  }

  /** Ohms between the zone's terminals, its own feed left out. */
  ohms(
    states: readonly string[],
    extra: readonly Branch[] = NO_BRANCHES,
    alterations: AlteredPlaces = NOTHING_ALTERED,
  ): FaultSpread | undefined {
    const sound = this.soundIn(states);
    if (!sound.fed) return undefined;
    let ohms: (FaultSpread | undefined)[] | undefined;
    for (const [place, alteration] of alterations) {
      if (!this.places.includes(place)) continue;
      ohms ??= [...sound.ohms];
      ohms[place] = this.ohmsOf(place, altered(states[place]!, alteration));
    }
    const all = ohms ?? sound.ohms;
    let exact = extra.every((branch) => isExact(branch.ohms));
    for (const place of this.places) {
      const one = all[place];
      if (one === undefined) return undefined;
      exact &&= isExact(one);
    }
    const usual = this.at('usual', all, extra);
    if (exact) return { least: usual, usual, most: usual };
    return { least: this.at('least', all, extra), usual, most: this.at('most', all, extra) };
  }

  private at(end: End, ohms: readonly (FaultSpread | undefined)[], extra: readonly Branch[]): number {
    const { a, b, nodes } = this.island;
    network.reset(nodes.length);
    for (const place of this.places) network.add(a[place]!, b[place]!, ohms[place]![end]);
    for (const branch of extra) network.add(branch.a, branch.b, branch.ohms[end]);
    return network.between(this.hot, this.back);
  }

  private soundIn(states: readonly string[]): Sound {
    const known = this.sound.get(states);
    if (known !== undefined) return known;
    const fed = this.island.elements.every(({ rule }, place) => rule.role !== 'feed' || states[place] === 'on');
    const ohms: (FaultSpread | undefined)[] = new Array(states.length).fill(undefined);
    for (const place of this.places) ohms[place] = this.ohmsOf(place, states[place]!);
    const made = { fed, ohms };
    this.sound.set(states, made);
    return made;
  }

  private branch({ a, b, ohms, like }: ExtraJoin): Branch {
    const { model } = this.world.shared;
    const element = like === undefined ? undefined : model.ofComponent[like]![0];
    const exactly = { least: ohms, usual: ohms, most: ohms };
    const spread = element === undefined ? exactly : (ohmsIn(element, '', this.world) ?? exactly);
    return { a: this.island.local(model.nodeOf(a)), b: this.island.local(model.nodeOf(b)), ohms: spread };
  }

  private asRead(ohms: FaultSpread): Read {
    const both = this.scale.readings(ohms);
    return { ...both, ...classesOf(this.zone, both.ohms, both.volts) };
  }

  private ohmsOf(place: number, state: string): FaultSpread | undefined {
    this.known[place] ??= new Map();
    const known = this.known[place];
    if (known.has(state)) return known.get(state);
    const made = ohmsIn(this.island.elements[place]!, state, this.world);
    known.set(state, made);
    return made;
  }
}

function isExact({ least, usual, most }: FaultSpread): boolean {
  return least === usual && usual === most;
}

/** What a loop may hold besides its zone. A capacitor is open once all has settled. */
export const OHMIC: ReadonlySet<string> = new Set(['resistor', 'contact', 'core', 'fuse', 'capacitor']);

/** Ohms of an element in a state, all its parameters at their least, usual and most; `undefined` where it is no ohms. */
export function ohmsIn(element: Element, state: string, world: World): FaultSpread | undefined {
  const answer = stateLaw(element, state, world.shared.model.context);
  if (answer.sort === 'open') return OPEN;
  if (answer.sort !== 'law' || !answer.aligned) return undefined;
  const [least, usual, most] = ENDS.map((end) => answer.shape(answer.parameters.map((parameter) => parameter[end])));
  if (least?.sort !== 'ohms' || usual?.sort !== 'ohms' || most?.sort !== 'ohms') return undefined;
  return { least: least.ohms, usual: usual.ohms, most: most.ohms };
}

/** An alteration put to a state's word, in place of one that it may have. */
export function altered(state: string, alteration: string): string {
  const cut = state.indexOf(ALTERED);
  return `${cut < 0 ? state : state.slice(0, cut)}${ALTERED}${alteration}`;
}
