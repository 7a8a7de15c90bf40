/** Relays that influence each other in a circle: every state is tested, and where they settle is followed. */
import type { ComponentId } from '../design/components.ts';
import { Circle, isCoil, type Relay, type States } from './circle.ts';
import { DEAD, type Decision, decide, type RelayState } from './decision.ts';
import { voltsGauge } from './gauges.ts';
import type { ProblemNote } from './problems.ts';
import { negated, type Ranged, rangeOf, sumOf } from './range.ts';
import type { World } from './world.ts';

/** Relays of one circle whose states are all tested. */
const MOST_TESTED = 10;
/** Circles so small that testing all states is cheaper than asking which relays are certain. */
const FEW = 4;
/** Circles so large that asking takes too long. */
const MOST_RELATED = 64;

/** Volts across a coil from A1 to A2; of a latching relay with two coils, less those of the second. */
export function coilVolts(world: World, relay: Relay): Ranged {
  // A coil that is open or shorted has no pull, whatever volts stand at its terminals.
  const altered = world.doings.altered.get(relay.id);
  if (altered === 'removed' || altered === 'bridged') return orNone({ sort: 'no-connection' });
  const [first, second] = coilsOf(world, relay).map((element) => {
    const island = world.islandOf(element);
    if (island === undefined) return { sort: 'no-connection' } as const;
    return rangeOf(world, island, voltsGauge(island, element.a, element.b));
  });
  if (relay.latching === undefined || second === undefined) return orNone(first!);
  const set = orNone(first!);
  const reset = orNone(second);
  if (set.sort !== 'range') return set;
  return reset.sort === 'range' ? sumOf([set, negated(reset)]) : reset;
}

function coilsOf(world: World, relay: Relay) {
  return world.shared.model.ofComponent[relay.id]!.filter(isCoil);
}

/** A coil that nothing is connected to has no volts: it is not operated. */
function orNone(volts: Ranged): Ranged {
  if (volts.sort !== 'no-connection') return volts;
  const none = { least: 0, usual: 0, most: 0, leastAt: [], mostAt: [], proven: true, assumptions: [] };
  return { sort: 'range', ...none, stretches: [[0, 0]] };
}

/**
 * Settles one circle. `moved` is called when a relay's possible states change, so that what hangs on it is built
 * anew. Returns what the circle cannot do.
 */
export function settleCircle(
  world: World,
  ids: readonly ComponentId[],
  moved: (relay: ComponentId) => void,
  before: World | undefined,
): readonly ProblemNote[] {
  const relays = ids.map((id) => world.design.components[id] as Relay);
  const problems: ProblemNote[] = [];
  const start = new Map(relays.map((relay) => [relay.id, beforeOf(relay, before).usual]));
  const circle = new Circle(world, relays);
  const settled = follow(circle, start);
  if (settled === undefined) {
    problems.push({ sort: 'relay-oscillates', components: ids, detail: `${names(relays)} find no state to rest in` });
  }
  const states = settled ?? start;
  if (settled !== undefined) problems.push(...memoryOf(circle, ids, settled));
  for (const relay of relays) set(world, relay, { ...DEAD, ...only(states.get(relay.id)!) }, moved);
  if (settled === undefined) {
    for (const relay of relays) {
      const usual = states.get(relay.id)!;
      const reason = `${names(relays)} find no state to rest in`;
      set(world, relay, { usual, possible: ['released', 'operated'], lacks: [], reason }, moved);
    }
    return problems;
  }
  spread(world, relays, before, moved);
  return problems;
}

/** States that the circle could hold besides the one it settled in. */
function memoryOf(circle: Circle, ids: readonly ComponentId[], settled: States): readonly ProblemNote[] {
  const { relays } = circle;
  const certain = relays.length > FEW && relays.length <= MOST_RELATED ? circle.certain(settled) : NONE;
  const open = relays.filter(({ id }) => !certain.has(id));
  if (open.length > MOST_TESTED) {
    const detail = `${relays.length} relays influence each other; other states that they could hold were not searched`;
    return [{ sort: 'not-computed', components: ids, detail }];
  }
  const held = heldStates(circle, settled, open);
  if (held.length < 2) return [];
  const states = held.map((one) => describe(open, one)).join('; ');
  const detail = `${names(open)} can stay in ${held.length} states: ${states}`;
  return [{ sort: 'memory', components: open.map(({ id }) => id), detail }];
}

const NONE: ReadonlySet<ComponentId> = new Set();

function beforeOf(relay: Relay, before: World | undefined): Decision {
  if (before !== undefined) return before.decision(relay.id);
  if (relay.latching === undefined) return DEAD;
  return relay.rest?.word === 'set' || relay.rest?.word === 'operated' ? { ...DEAD, ...only('operated') } : DEAD;
}

function only(state: RelayState): Pick<Decision, 'usual' | 'possible'> {
  return { usual: state, possible: [state] };
}

function set(world: World, relay: Relay, decision: Decision, moved: (relay: ComponentId) => void): void {
  const old = world.decision(relay.id);
  world.decisions.set(relay.id, decision);
  if (old.usual !== decision.usual || old.possible.length !== decision.possible.length) moved(relay.id);
}

/** Lets all relays move at once until they rest; failing that, one after the other. */
function follow(circle: Circle, start: States): States | undefined {
  for (const together of [true, false]) {
    let states = new Map(start);
    const seen = new Set<string>();
    for (;;) {
      const key = [...states.values()].join();
      if (seen.has(key)) break;
      seen.add(key);
      const next = new Map(states);
      for (const relay of circle.relays) {
        const state = circle.next(relay, states);
        if (state === states.get(relay.id)) continue;
        next.set(relay.id, state);
        if (!together) break;
      }
      if ([...next].every(([id, state]) => states.get(id) === state)) return states;
      states = next;
    }
  }
  return undefined;
}

/** All states that a circle certainly holds once it is in them; relays that are certain anyway stand still. */
function heldStates(circle: Circle, settled: States, open: readonly Relay[]): readonly States[] {
  const held: States[] = [];
  for (let bits = 0; bits < 1 << open.length; bits++) {
    const states = new Map(settled);
    open.forEach((relay, i) => {
      states.set(relay.id, ((bits >> i) & 1) === 1 ? 'operated' : 'released');
    });
    if (circle.relays.every((relay) => circle.holds(relay, states))) held.push(states);
  }
  return held;
}

/** Corners may leave relays of the circle undecided, which may leave others undecided: grown until nothing more joins. */
function spread(
  world: World,
  relays: readonly Relay[],
  before: World | undefined,
  moved: (relay: ComponentId) => void,
): void {
  const settled = new Map(relays.map((relay) => [relay.id, world.decision(relay.id)]));
  for (let round = 0; round <= relays.length; round++) {
    let grown = false;
    for (const relay of relays) {
      const own = world.decision(relay.id);
      const volts = coilVolts(world, relay);
      if (volts.sort === 'no-connection') continue;
      if (volts.sort === 'unknown') {
        if (own.lacks.length > 0 || own.reason !== undefined) continue;
        set(world, relay, { ...own, lacks: volts.lacks, ...(volts.reason && { reason: volts.reason }) }, moved);
        grown = true;
        continue;
      }
      const base = settled.get(relay.id)!;
      // A state that the circle itself brought about counts as the state before: held, not operated anew.
      const warm = before === undefined || before.decision(relay.id).usual === 'operated';
      const next = decide(relay, world.shared.model.context, volts, base, warm);
      const possible = new Set<RelayState>([base.usual, ...own.possible, ...next.possible]);
      if (possible.size === own.possible.length && next.lacks.length === own.lacks.length) continue;
      set(world, relay, { usual: base.usual, possible: [...possible], lacks: next.lacks }, moved);
      grown = true;
    }
    if (!grown) return;
  }
}

function names(relays: readonly Relay[]): string {
  return relays.map((relay) => relay.name).join(', ');
}

function describe(relays: readonly Relay[], states: ReadonlyMap<ComponentId, RelayState>): string {
  return relays.map((relay) => `${relay.name} ${states.get(relay.id)}`).join(', ');
}
