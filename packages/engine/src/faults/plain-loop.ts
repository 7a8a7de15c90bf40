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
import { DisjointSets } from '../disjoint.ts';
import { DenseStars } from '../network/dense.ts';
import type { Read } from './answers.ts';
import type { FaultSpread } from './contract.ts';
import { ENDS, type End, ZoneScale } from './zone-scale.ts';

/** A resistor, contact, core or join between two local nodes, with its ohms: Infinity where it does not conduct. */
export interface Branch {
  readonly a: number;
  readonly b: number;
  readonly ohms: FaultSpread;
}

const OPEN: FaultSpread = {
  least: Number.POSITIVE_INFINITY,
  usual: Number.POSITIVE_INFINITY,
  most: Number.POSITIVE_INFINITY,
};

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
  private readonly known = new Map<string, FaultSpread | undefined>();

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

  /** What the zone reads with its elements in `states` and some joins more; `undefined` where that is not plain. */
  read(_zone: ComponentOf<'zone'>, states: readonly string[], joins: readonly ExtraJoin[]): Read | undefined {
    const ohms = this.ohms(
      states,
      joins.map((join) => this.branch(join)),
    );
    return ohms === undefined ? undefined : this.asRead(ohms);
  }

  /** Ohms between the zone's terminals, its own feed left out. */
  ohms(states: readonly string[], extra: readonly Branch[] = []): FaultSpread | undefined {
    const powered = this.island.elements.every(({ rule }, place) => rule.role !== 'feed' || states[place] === 'on');
    if (!powered) return undefined;
    const branches: Branch[] = [...extra];
    for (const place of this.places) {
      const ohms = this.ohmsOf(place, states[place]!);
      if (ohms === undefined) return undefined;
      branches.push({ a: this.island.a[place]!, b: this.island.b[place]!, ohms });
    }
    return resistance(this.island.nodes.length, branches, this.hot, this.back);
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
    const element = this.island.elements[place]!;
    const key = `${place} ${state}`;
    if (this.known.has(key)) return this.known.get(key);
    const made = ohmsIn(element, state, this.world);
    this.known.set(key, made);
    return made;
  }
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

const stars = new DenseStars();

/** Ohms between two nodes of a network of ohms. Infinity where nothing connects them. */
export function resistance(nodes: number, branches: readonly Branch[], from: number, to: number): FaultSpread {
  const [least, usual, most] = ENDS.map((end) => resistanceAt(nodes, branches, from, to, end));
  return { least: least!, usual: usual!, most: most! };
}

function resistanceAt(nodes: number, branches: readonly Branch[], from: number, to: number, end: End): number {
  const merged = new DisjointSets(nodes);
  const joined = new DisjointSets(nodes);
  for (const { a, b, ohms } of branches) {
    const value = ohms[end];
    if (value === Number.POSITIVE_INFINITY) continue;
    joined.unite(a, b);
    if (value === 0) merged.unite(a, b);
  }
  const start = merged.find(from);
  const stop = merged.find(to);
  if (start === stop) return 0;
  const part = joined.find(from);
  if (part !== joined.find(to)) return Number.POSITIVE_INFINITY;
  const numbers = new Int32Array(nodes).fill(-1);
  let size = 0;
  for (let node = 0; node < nodes; node++) {
    const root = merged.find(node);
    if (root === stop || joined.find(node) !== part || numbers[root] !== -1) continue;
    numbers[root] = size++;
  }
  stars.reset(size);
  for (const { a, b, ohms } of branches) {
    const value = ohms[end];
    if (value === Number.POSITIVE_INFINITY || value === 0) continue;
    const [one, other] = [merged.find(a), merged.find(b)];
    if (one === other || joined.find(a) !== part) continue;
    if (one === stop) stars.addGround(numbers[other]!, 1 / value);
    else if (other === stop) stars.addGround(numbers[one]!, 1 / value);
    else stars.addJoin(numbers[one]!, numbers[other]!, 1 / value);
  }
  if (!stars.factor()) return Number.NaN;
  const injected = new Float64Array(size);
  injected[numbers[start]!] = 1;
  stars.solve(injected);
  return injected[numbers[start]!]!;
}
