/**
 * Relays that influence each other, at the usual figures: coil volts for any state of them all. Each island that holds
 * their coils is put together from laws that are made once, so that many states can be tried.
 */
import type { Element, Island } from '../build/index.ts';
import type { ComponentId, ComponentOf } from '../design/components.ts';
import type { Law } from '../network/contract.ts';
import { solve } from '../network/index.ts';
import { type Bounds, boundsOf, type RelayState, usualState } from './decision.ts';
import { Assigned, type World } from './world.ts';

export type Relay = ComponentOf<'relay'>;
export type States = ReadonlyMap<ComponentId, RelayState>;

/** A law for each state of the relay that decides it; the same for both where none of the circle does. */
interface Choice {
  readonly driver: ComponentId | undefined;
  readonly operated: Law | undefined;
  readonly released: Law | undefined;
}

interface Bench {
  readonly island: Island;
  readonly choices: readonly Choice[];
  readonly drivers: readonly ComponentId[];
  /** False where a datum is missing. */
  readonly known: boolean;
  lastKey: string;
  lastVolts: Float64Array | undefined;
}

export class Circle {
  readonly relays: readonly Relay[];
  private readonly world: World;
  private readonly members: ReadonlySet<ComponentId>;
  private readonly benches = new Map<Island, Bench>();
  private readonly bounds = new Map<ComponentId, Bounds | undefined>();

  constructor(world: World, relays: readonly Relay[]) {
    this.world = world;
    this.relays = relays;
    this.members = new Set(relays.map(({ id }) => id));
    for (const relay of relays) {
      const bounds = boundsOf(relay, world.shared.model.context, 'usual', false);
      this.bounds.set(relay.id, Array.isArray(bounds) ? undefined : bounds);
    }
  }

  /** Where a relay goes from its present state; it stays where that cannot be computed. */
  next(relay: Relay, states: States): RelayState {
    const now = states.get(relay.id)!;
    const bounds = this.bounds.get(relay.id);
    const volts = this.volts(relay, states);
    return bounds === undefined || volts === undefined ? now : usualState(relay, bounds, volts, now);
  }

  /** Whether a relay certainly stays in its present state. */
  holds(relay: Relay, states: States): boolean {
    if (relay.latching !== undefined) return this.next(relay, states) === states.get(relay.id);
    const bounds = this.bounds.get(relay.id);
    const volts = this.volts(relay, states);
    if (bounds === undefined || volts === undefined) return false;
    const size = Math.abs(volts);
    return states.get(relay.id) === 'operated' ? size >= bounds.holds : size <= bounds.releases;
  }

  /** Volts across the first coil less those across the second of a latching relay. */
  volts(relay: Relay, states: States): number | undefined {
    // A coil that is open has no pull, whatever volts stand at its terminals.
    if (this.world.doings.altered.get(relay.id) === 'removed') return 0;
    let volts = 0;
    for (const [i, element] of this.coils(relay).entries()) {
      const island = this.world.islandOf(element);
      if (island === undefined) continue;
      const solved = this.solve(island, states);
      if (solved === undefined) return undefined;
      const across = solved[island.local(element.a)]! - solved[island.local(element.b)]!;
      volts += i === 0 ? across : -across;
    }
    return volts;
  }

  /**
   * The relays that go to their state in `states` whatever the others do and wherever they come from: the volts that
   * speak most against it still bring it about. They are found by moving one relay after the other to whichever state
   * speaks more against it, until none does.
   */
  certain(states: States): ReadonlySet<ComponentId> {
    const found = new Set<ComponentId>();
    for (const relay of this.relays) {
      if (relay.latching === undefined && this.isCertain(relay, states)) found.add(relay.id);
    }
    return found;
  }

  private isCertain(relay: Relay, states: States): boolean {
    const bounds = this.bounds.get(relay.id);
    if (bounds === undefined) return false;
    const operated = states.get(relay.id) === 'operated';
    const size = (at: States) => {
      const volts = this.volts(relay, at);
      return volts === undefined ? Number.NaN : Math.abs(volts);
    };
    const worse = (one: number, other: number) => (operated ? one < other : one > other);
    let worst = new Map(states);
    let value = size(worst);
    for (let moved = true; moved; ) {
      moved = false;
      for (const [id, state] of worst) {
        const other = new Map(worst).set(id, state === 'operated' ? 'released' : 'operated');
        const there = size(other);
        if (Number.isNaN(there)) return false;
        if (!worse(there, value)) continue;
        worst = other;
        value = there;
        moved = true;
      }
    }
    return operated ? value >= bounds.operates : value <= bounds.releases;
  }

  private coils(relay: Relay): readonly Element[] {
    const coils = this.world.shared.model.ofComponent[relay.id]!.filter(isCoil);
    return relay.latching === undefined ? coils.slice(0, 1) : coils;
  }

  /** Volts of the island's nodes against each other, `undefined` where they cannot be computed. */
  private solve(island: Island, states: States): Float64Array | undefined {
    let bench = this.benches.get(island);
    if (bench === undefined) {
      bench = this.makeBench(island);
      this.benches.set(island, bench);
    }
    if (!bench.known) return undefined;
    const key = bench.drivers.map((driver) => (states.get(driver) === 'operated' ? '1' : '0')).join('');
    if (bench.lastKey === key) return bench.lastVolts;
    const laws: Law[] = [];
    for (const { driver, operated, released } of bench.choices) {
      const law = driver === undefined || states.get(driver) === 'operated' ? operated : released;
      if (law !== undefined) laws.push(law);
    }
    const point = solve({ nodes: island.nodes.length, laws });
    bench.lastKey = key;
    bench.lastVolts = point.outcome.sort === 'solved' ? unconnectedAsNone(island, point.volts, point.group) : undefined;
    return bench.lastVolts;
  }

  private makeBench(island: Island): Bench {
    const drivers = island.deciders.filter((decider) => this.members.has(decider));
    const laws = (state: RelayState) => {
      const view = new Assigned(this.world, new Map(drivers.map((driver) => [driver, state])));
      const circuit = this.world.shared.transient(island, this.world.statesIn(island, view));
      return circuit.lacks.length > 0 ? undefined : circuit.usualLaws();
    };
    const operated = laws('operated');
    const released = laws('released');
    const known = operated !== undefined && released !== undefined;
    const choices: Choice[] = [];
    for (let i = 0; known && i < operated.length; i++) {
      const element = island.elements[i];
      const driver = element?.component.kind === 'contact' ? element.component.driver : undefined;
      const decided = driver !== undefined && this.members.has(driver);
      choices.push({ driver: decided ? driver : undefined, operated: operated[i], released: released[i] });
    }
    return { island, choices, drivers, known, lastKey: '-', lastVolts: undefined };
  }
}

/** One of the windings of a relay, not its suppressor or the control of a timer. */
export function isCoil({ rule }: Element): boolean {
  return rule.role === 'main' || rule.role === 'second-coil';
}

/** A coil between parts that nothing connects has no volts. */
function unconnectedAsNone(island: Island, volts: Float64Array, group: Int32Array): Float64Array {
  const made = volts.slice();
  for (const [i, element] of island.elements.entries()) {
    if (element.component.kind !== 'relay' || !isCoil(element)) continue;
    const [a, b] = [island.a[i]!, island.b[i]!];
    if (group[a] !== group[b]) made[a] = made[b]!;
  }
  return made;
}
