/**
 * The site at a settled instant: what was turned, which relays are operated, which units have power, which supplies
 * hold their volts. A world other than rest keeps only what differs from rest.
 */

import { type Element, type Island, type Layout, type Region, type StateView, unitOf } from '../build/index.ts';
import type { Component, ComponentId, ComponentOf } from '../design/components.ts';
import type { Circuit } from './circuit.ts';
import { DEAD, type Decision } from './decision.ts';
import type { Doings } from './doings.ts';
import type { Doubt } from './power.ts';
import type { Ranged } from './range.ts';
import { isStiff, type Overlay, type Shared } from './shared.ts';
import { ALTERED } from './wiring.ts';

/** The states that an island may be in, the usual one first, as words for its elements. */
export interface Alternatives {
  readonly states: readonly (readonly string[])[];
  /** False where there were too many to list. */
  readonly complete: boolean;
  readonly lacks: Decision['lacks'];
  readonly reason?: string;
  /** The island in each of the states, once somebody has asked. */
  circuits?: readonly Circuit[];
}

/** Undecided parts of one island beyond which not every combination is followed. */
const MOST_UNDECIDED = 6;

export class World implements StateView {
  readonly shared: Shared;
  /** Rest, of which this world keeps the differences; absent for rest itself. */
  readonly rest: World | undefined;
  readonly doings: Doings;
  readonly decisions = new Map<ComponentId, Decision>();
  /** Units that are fed: whether they have power. */
  readonly power = new Map<ComponentId, boolean>();
  /** Units of which nobody can say whether they have power; a row without a doubt takes back that of rest. */
  readonly doubts = new Map<ComponentId, Doubt | undefined>();
  /** Supplies that hold their limit instead of their volts. */
  readonly limiting = new Set<ComponentId>();
  readonly layouts = new Map<Region, Layout>();
  /** Islands whose figures may differ from those at rest. */
  readonly dirty = new Set<Island>();
  /** Amperes drawn by rails at feeds and sources, while they are being found and after. */
  readonly carriedAmps = new Map<ComponentId, string>();
  /** Outputs that follow something: what they do for it. */
  readonly followed = new Map<ComponentId, string>();
  /** Confirmations that hang on what went before, where that is followed through time. */
  readonly confirmed = new Map<ComponentId, readonly string[]>();
  /** What limiting supplies would deliver if they could. */
  readonly demands = new Map<ComponentId, Ranged>();
  /** An upper bound of what is drawn from each stiff supply; kept for rest. */
  readonly drawnAtMost = new Map<ComponentId, number>();
  private readonly alternativesOf = new Map<Island, Alternatives>();
  /** Finds what rails draw; set by the one who settles. */
  findCarried: (component: ComponentId) => string = () => '0/0/0';

  private readonly overlay: Overlay | undefined;

  constructor(shared: Shared, doings: Doings, rest?: World) {
    this.shared = shared;
    this.doings = doings;
    this.rest = rest;
    this.overlay = doings.joins.length === 0 ? undefined : shared.overlay(doings.joins);
  }

  get design() {
    return this.shared.model.design;
  }

  decision(relay: ComponentId): Decision {
    return this.decisions.get(relay) ?? this.rest?.decision(relay) ?? DEAD;
  }

  /** Whether a unit works: not turned off, and fed enough where it says how it is fed. */
  powered(unit: ComponentId): boolean {
    if (this.own(unit) === 'off') return false;
    return this.power.get(unit) ?? this.rest?.power.get(unit) ?? true;
  }

  /** Why nobody can say whether a unit works. */
  doubt(unit: ComponentId): Doubt | undefined {
    if (this.own(unit) === 'off') return undefined;
    return this.doubts.has(unit) ? this.doubts.get(unit) : this.rest?.doubt(unit);
  }

  /** The doubt in which a member stands with its unit: none where it does the same with supply and without. */
  doubtOf(part: Component): Doubt | undefined {
    const unit = unitOf(part, this.design);
    const doubt = unit === undefined ? undefined : this.doubt(unit);
    if (doubt === undefined) return undefined;
    return this.word(part.id, FED) === this.word(part.id, UNFED) ? undefined : doubt;
  }

  isLimiting(source: ComponentId): boolean {
    return this.limiting.has(source) || this.rest?.limiting.has(source) === true;
  }

  /** `powers`: which units have power, where that is chosen for them. */
  word(component: ComponentId, powers: Powers = this): string {
    const part = this.design.components[component]!;
    const read = WORDS[part.kind];
    return read === undefined ? 'normal' : read(part, this, powers);
  }

  driverOf(contact: ComponentOf<'contact'>): string {
    if (!this.shared.model.early.has(contact.id)) return this.word(contact.driver);
    return this.decision(contact.driver).early ?? 'released';
  }

  /** What an output does for what it follows. */
  follows(output: ComponentId): string | undefined {
    return this.followed.get(output) ?? this.rest?.follows(output);
  }

  /** What a part itself was told, before its supply is asked. */
  own(component: ComponentId): string | undefined {
    return this.doings.forced.get(component) ?? this.doings.turned.get(component);
  }

  carried(component: ComponentId): string {
    const known = this.carriedAmps.get(component);
    if (known !== undefined) return known;
    this.carriedAmps.set(component, '0/0/0');
    const found = this.findCarried(component);
    this.carriedAmps.set(component, found);
    return found;
  }

  layoutOf(region: Region): Layout {
    const own = this.layouts.get(region);
    if (own !== undefined) return own;
    if (this.rest !== undefined && region !== this.overlay?.region) return this.rest.layoutOf(region);
    return this.layOut(region);
  }

  /** Finds the layout of a region anew, after sources have changed. */
  layOut(region: Region): Layout {
    const layout = this.shared.layout(region, this.apart(region));
    this.layouts.set(region, layout);
    return layout;
  }

  /** The layout in which one limiting supply holds its volts after all. */
  layOutWith(supply: Element): Layout {
    const region = this.regionOf(supply);
    const apart = new Set(this.apart(region));
    apart.delete(supply);
    const layout = this.shared.layout(region, apart);
    if (this.rest !== undefined) for (const island of layout.islands) this.dirty.add(island);
    return layout;
  }

  private apart(region: Region): ReadonlySet<Element> {
    const apart = new Set<Element>();
    for (const element of region.elements) {
      if (!isStiff(element)) continue;
      const { id } = element.component;
      if (this.word(id) !== 'on' || this.isLimiting(id) || this.doings.altered.has(id)) apart.add(element);
    }
    return apart;
  }

  regionOf(element: Element): Region {
    return this.regionAt(element.a)!;
  }

  /** The region that a node lies in; absent where no part ends there. */
  regionAt(node: number): Region | undefined {
    const region = this.shared.model.regionOf(node);
    const { overlay } = this;
    if (overlay === undefined) return region;
    return region === undefined ? overlay.loose.get(node) : overlay.covers.has(region) ? overlay.region : region;
  }

  /** The regions of the design that were made one because something was joined. */
  coveredRegions(): Iterable<Region> {
    return this.overlay?.covers ?? [];
  }

  /** The region that is in this world and not at rest, because something was joined. */
  joinedRegion(): Region | undefined {
    return this.overlay?.region;
  }

  islandOf(element: Element): Island | undefined {
    return this.layoutOf(this.regionOf(element)).islandOf(element);
  }

  /** The same instant with something else done to it and nothing settled anew: relays stay as they are. */
  measured(doings: Doings): World {
    const made = new World(this.shared, doings, this.rest ?? this);
    for (const [relay, decision] of this.decisions) made.decisions.set(relay, decision);
    for (const [unit, power] of this.power) made.power.set(unit, power);
    for (const [unit, doubt] of this.doubts) made.doubts.set(unit, doubt);
    for (const [output, word] of this.followed) made.followed.set(output, word);
    for (const [confirm, states] of this.confirmed) made.confirmed.set(confirm, states);
    const region = made.joinedRegion();
    if (region !== undefined) for (const island of made.layOut(region).islands) made.dirty.add(island);
    return made;
  }

  differs(island: Island): boolean {
    return this.rest === undefined || this.dirty.has(island);
  }

  /** Forgets what hung on states that have changed since. */
  forget(island: Island): void {
    this.alternativesOf.delete(island);
  }

  statesIn(island: Island, view: StateView = this): readonly string[] {
    return island.elements.map((element) => {
      const word = element.rule.state?.(element.component, view) ?? '';
      const altered = this.doings.altered.get(element.component.id);
      return altered === undefined ? word : `${word}${ALTERED}${altered}`;
    });
  }

  alternatives(island: Island): Alternatives {
    if (!this.differs(island)) return this.rest!.alternatives(island);
    const known = this.alternativesOf.get(island);
    if (known !== undefined) return known;
    const made = this.makeAlternatives(island);
    this.alternativesOf.set(island, made);
    return made;
  }

  circuits(island: Island): readonly Circuit[] {
    const alternatives = this.alternatives(island);
    alternatives.circuits ??= alternatives.states.map((states) => this.shared.circuit(island, states));
    return alternatives.circuits;
  }

  private makeAlternatives(island: Island): Alternatives {
    const open: { component: ComponentId; words: readonly string[] }[] = [];
    const lacks: Decision['lacks'][number][] = [];
    let reason: string | undefined;
    const unsure = this.doubtsIn(island);
    for (const [unit, doubt] of unsure) {
      if (doubt.sort === 'spread')
        open.push({ component: unit, words: this.powered(unit) ? ['on', 'off'] : ['off', 'on'] });
      if (doubt.sort !== 'unknown') continue;
      // A unit may hang on what it switches itself: its lacks come back to it and count once.
      for (const lack of doubt.lacks) {
        if (!lacks.some((other) => other.component === lack.component && other.property === lack.property))
          lacks.push(lack);
      }
      reason ??= doubt.reason;
    }
    for (const component of island.deciders) {
      const words = this.possible(component);
      if (words.length > 1) open.push({ component, words });
      if (this.design.components[component]!.kind !== 'relay') continue;
      const decision = this.decision(component);
      lacks.push(...decision.lacks);
      reason ??= decision.reason;
    }
    const complete = open.length <= MOST_UNDECIDED;
    const states: (readonly string[])[] = [];
    const seen = new Set<string>();
    const take = (assigned: ReadonlyMap<ComponentId, string>) => {
      const words = this.statesIn(island, new Assigned(this, assigned));
      const key = words.join('|');
      if (!seen.has(key)) states.push(words);
      seen.add(key);
    };
    if (complete) {
      for (let bits = 0; bits < 1 << open.length; bits++) {
        take(new Map(open.map(({ component, words }, i) => [component, words[(bits >> i) & 1]!])));
      }
    } else {
      const usual = new Map(open.map(({ component, words }) => [component, words[0]!]));
      take(usual);
      for (const { component, words } of open) take(new Map([...usual, [component, words[1]!]]));
      take(new Map(open.map(({ component, words }) => [component, words[1]!])));
    }
    return { states, complete, lacks, ...(reason === undefined ? {} : { reason }) };
  }

  /** What a member does at this instant, the usual word first: with supply and without, where its unit is in doubt. */
  wordsOf(component: ComponentId): readonly string[] {
    const word = this.word(component);
    if (this.doubtOf(this.design.components[component]!) === undefined) return [word];
    return [...new Set([word, this.word(component, FED), this.word(component, UNFED)])];
  }

  /** Words that a decider may have at this instant, the usual one first, with its unit in its usual state. */
  possible(component: ComponentId): readonly string[] {
    const part = this.design.components[component]!;
    if (part.kind === 'relay') return this.decision(component).possible;
    const word = this.word(component);
    return word === 'pulsing' ? ['on', 'off'] : [word];
  }

  /**
   * Units on whose doubtful supply an island hangs: those that work its contacts and outputs and, where nothing at all
   * can be said of the supply, those that feed its zones and give it its volts.
   */
  private doubtsIn(island: Island): ReadonlyMap<ComponentId, Doubt> {
    const found = new Map<ComponentId, Doubt>();
    if (!this.isInDoubt()) return found;
    const note = (part: Component, doubt: Doubt | undefined) => {
      const unit = doubt === undefined ? undefined : unitOf(part, this.design);
      if (unit !== undefined) found.set(unit, doubt!);
    };
    for (const component of island.deciders) {
      const part = this.design.components[component]!;
      note(part, this.doubtOf(part));
    }
    const unfed = (part: Component) => {
      const unit = unitOf(part, this.design);
      const doubt = unit === undefined ? undefined : this.doubt(unit);
      if (doubt?.sort === 'unknown') note(part, doubt);
    };
    for (const { component, rule } of island.elements) if (rule.role === 'feed') unfed(component);
    for (const { element } of island.pins) unfed(element.component);
    return found;
  }

  private isInDoubt(): boolean {
    return this.doubts.size > 0 || this.rest?.isInDoubt() === true;
  }
}

/** Tells which units have power. */
type Powers = Pick<StateView, 'powered'>;

const FED: Powers = { powered: () => true };
const UNFED: Powers = { powered: () => false };

/** A view in which some parts are in a state that was chosen for them. */
export class Assigned implements StateView {
  private readonly world: World;
  private readonly assigned: ReadonlyMap<ComponentId, string>;

  constructor(world: World, assigned: ReadonlyMap<ComponentId, string>) {
    this.world = world;
    this.assigned = assigned;
  }

  word(component: ComponentId): string {
    const unit = unitOf(this.world.design.components[component]!, this.world.design);
    // What a member would do counts for nothing where its unit is taken to have no supply.
    const isDead = unit !== undefined && this.assigned.get(unit) === 'off';
    return (isDead ? undefined : this.assigned.get(component)) ?? this.world.word(component, this);
  }

  powered(unit: ComponentId): boolean {
    const chosen = this.assigned.get(unit);
    return chosen === undefined ? this.world.powered(unit) : chosen === 'on';
  }

  driverOf(contact: ComponentOf<'contact'>): string {
    return this.world.shared.model.early.has(contact.id) ? this.world.driverOf(contact) : this.word(contact.driver);
  }

  carried(component: ComponentId): string {
    return this.world.carried(component);
  }
}

type Words = { readonly [K in Component['kind']]?: (part: never, world: World, powers: Powers) => string };

function hasPower(part: Component, world: World, powers: Powers): boolean {
  const unit = unitOf(part, world.design);
  return unit === undefined || powers.powered(unit);
}

/** The word of a part of each kind. Kinds without a row are always in the same state. */
const WORDS = {
  relay: (part, world) => world.decision(part.id).usual,
  switch: (part, world) => world.own(part.id) ?? part.rest.word,
  actuator: (part, world, powers) => {
    const own = world.own(part.id) ?? part.rest.word;
    if (hasPower(part, world, powers)) return own;
    const dead = part.unpowered?.word ?? 'unchanged';
    return dead === 'unchanged' ? own : dead;
  },
  output: (part, world, powers) => {
    const stuck = world.doings.forced.get(part.id);
    if (stuck !== undefined) return stuck;
    if (hasPower(part, world, powers)) return world.own(part.id) ?? world.follows(part.id) ?? part.rest.word;
    return part.unpowered?.word === 'on' || part.unpowered?.word === 'closed' ? 'on' : 'unpowered';
  },
  source: (part, world) => {
    if (isOff(part, world)) return 'off';
    const chargers = world.shared.model.chargers.get(part.id) ?? [];
    return chargers.some((id) => !isOff(world.design.components[id]!, world)) ? 'floating' : 'on';
  },
  fuse: (part, world) => world.own(part.id) ?? 'intact',
  unit: (part, world, powers) => (powers.powered(part.id) ? (world.own(part.id) ?? 'on') : 'off'),
  feed: (part, world) => world.own(part.id) ?? 'on',
  load: (part, world) => world.own(part.id) ?? 'normal',
} satisfies {
  [K in Component['kind']]?: (part: Extract<Component, { kind: K }>, world: World, powers: Powers) => string;
} as Words as {
  readonly [K in Component['kind']]?: (part: Component, world: World, powers: Powers) => string;
};

/** How many sources may hang on each other before a circle is taken for granted. */
const LONGEST_FEED = 16;

function isOff(part: Component, world: World, depth = 0): boolean {
  if (part.kind !== 'source' || depth > LONGEST_FEED) return false;
  if (world.own(part.id) === 'off' || !hasPower(part, world, world)) return true;
  return part.fedBy !== undefined && isOff(world.design.components[part.fedBy]!, world, depth + 1);
}
