/**
 * Loops of several zones that share a conductor and hold nothing but ohms: what one zone drives moves what another
 * reads. Nothing outside can be moved by what happens in them, so that they are solved by themselves.
 */

import type { Circuit } from '../analysis/circuit.ts';
import type { ExtraJoin } from '../analysis/doings.ts';
import { loopOhmsGauge, voltsGauge } from '../analysis/gauges.ts';
import { type Gauge, inCircuit, type Ranged } from '../analysis/range.ts';
import { classesOf } from '../analysis/states.ts';
import type { World } from '../analysis/world.ts';
import { type Element, Island } from '../build/index.ts';
import type { ComponentId, ComponentOf } from '../design/components.ts';
import type { Read } from './answers.ts';
import type { FaultSpread } from './contract.ts';
import { type AlteredPlaces, altered, OHMIC } from './plain-loop.ts';

/** Causes with a spread beyond which only the usual figures are computed. */
export const MOST_AXES = 12;

export class SharedLoops {
  readonly island: Island;
  readonly zones: readonly ComponentId[];
  readonly usualOnly: boolean;
  private readonly world: World;
  private readonly feeds: ReadonlyMap<ComponentId, Element>;

  private constructor(world: World, island: Island, feeds: ReadonlyMap<ComponentId, Element>, usualOnly: boolean) {
    this.world = world;
    this.island = island;
    this.feeds = feeds;
    this.zones = [...feeds.keys()];
    this.usualOnly = usualOnly;
  }

  static of(world: World, island: Island): SharedLoops | undefined {
    if (island.coils.length > 0 || island.pins.length > 0) return undefined;
    const feeds = new Map<ComponentId, Element>();
    for (const element of island.elements) {
      const { component, rule } = element;
      if (component.kind === 'zone') {
        if (rule.role === 'main') feeds.set(component.id, element);
      } else if (!OHMIC.has(component.kind)) return undefined;
    }
    const [circuit] = world.circuits(island);
    if (feeds.size < 2 || circuit === undefined || circuit.lacks.length > 0) return undefined;
    return new SharedLoops(world, island, feeds, circuit.axes.length > MOST_AXES);
  }

  /** What a zone reads with the elements in `states`, some of them altered, and some joins more. */
  read(
    zone: ComponentOf<'zone'>,
    states: readonly string[],
    alterations: AlteredPlaces,
    joins: readonly ExtraJoin[],
  ): Read | undefined {
    const { shared } = this.world;
    const words = [...states];
    for (const [place, alteration] of alterations) words[place] = altered(states[place]!, alteration);
    const extra = joins.map((join) => shared.extraElement(join));
    const island = extra.length === 0 ? this.island : new Island([...this.island.elements, ...extra], []);
    const circuit = shared.transient(island, [...words, ...extra.map(() => '')]);
    const feed = this.feeds.get(zone.id);
    const [a, b] = [shared.model.nodeOf(zone.a), shared.model.nodeOf(zone.b)];
    if (feed === undefined || island.local(b) < 0) return undefined;
    const ohms = this.measured(circuit, loopOhmsGauge(island, feed, a, b));
    const volts = this.measured(circuit, voltsGauge(island, a, b));
    return ohms === undefined || volts === undefined ? undefined : { ohms, volts, ...classesOf(zone, ohms, volts) };
  }

  private measured(circuit: Circuit, gauge: Gauge): FaultSpread | undefined {
    if (this.usualOnly) {
      const solved = circuit.atUsual();
      const value = solved.outcome.sort === 'solved' ? gauge.measure(circuit)(solved) : undefined;
      return value === undefined ? undefined : { least: value, usual: value, most: value };
    }
    return spreadOf(inCircuit(circuit, gauge));
  }
}

function spreadOf(range: Ranged): FaultSpread | undefined {
  if (range.sort !== 'range') return undefined;
  const { least, usual, most } = range;
  return { least, usual, most };
}
