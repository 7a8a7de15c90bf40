/**
 * How long a doing takes until its effect has arrived: operate and release times of the relays on the way, one after
 * the other, and the response of the zone at the end. Seconds.
 */

import type { Element, Island, Lack } from '../build/index.ts';
import type { ComponentId, ComponentOf } from '../design/components.ts';
import { copperFactor } from '../tables/copper.ts';
import { boundsOf } from './decision.ts';
import type { Seconds } from './timeline.ts';
import type { World } from './world.ts';

export type Delay = { readonly seconds: Seconds; readonly lacks: readonly Lack[] };

const AT_ONCE: Delay = { seconds: { least: 0, usual: 0, most: 0 }, lacks: [] };

/** Delays between the world that a doing found and the one in which all has settled. */
export class Delays {
  private readonly before: World;
  private readonly after: World;
  private readonly known = new Map<ComponentId, Delay>();

  constructor(before: World, after: World) {
    this.before = before;
    this.after = after;
  }

  /** Until the last relay has moved that the part's own island hangs on. */
  untilSettled(component: ComponentId): Delay {
    const elements = this.after.shared.model.ofComponent[component] ?? [];
    return this.last(elements.map((element) => this.ofElement(element)));
  }

  /** Until a relay itself has moved; nothing where it has not. */
  ofRelay(id: ComponentId): Delay {
    const known = this.known.get(id);
    if (known !== undefined) return known;
    this.known.set(id, AT_ONCE);
    const was = this.before.decision(id).usual;
    const is = this.after.decision(id).usual;
    const made = was === is ? AT_ONCE : this.moving(id, is === 'operated');
    this.known.set(id, made);
    return made;
  }

  private moving(id: ComponentId, operates: boolean): Delay {
    const relay = this.after.design.components[id] as ComponentOf<'relay'>;
    const arrives = this.untilSettled(id);
    const own = operates ? relay.operateTime : relay.releaseTime;
    if (own === undefined) {
      const property = operates ? 'operate-time' : 'release-time';
      return { seconds: arrives.seconds, lacks: [...arrives.lacks, { component: id, property }] };
    }
    const decay = operates ? 0 : this.decay(relay);
    const seconds = {
      least: arrives.seconds.least + own.least,
      usual: arrives.seconds.usual + own.usual + decay,
      most: arrives.seconds.most + own.most + decay,
    };
    return { seconds, lacks: arrives.lacks };
  }

  /**
   * Longest time that the coil's current takes to fall to what certainly releases, through the suppressor built in:
   * t = (L / R) ln((I₀ + Vc / R) / (Irel + Vc / R)), L taken as constant.
   */
  private decay(relay: ComponentOf<'relay'>): number {
    const clamp = CLAMPS[relay.suppressor?.sort ?? 'none']?.(relay.suppressor?.volts?.least ?? 0);
    const { inductance, ohms, rated } = relay;
    if (clamp === undefined || inductance === undefined || ohms === undefined || rated === undefined) return 0;
    const { context } = this.after.shared.model;
    const bounds = boundsOf(relay, context, 'worst', false);
    if (Array.isArray(bounds)) return 0;
    const least = ohms.least * copperFactor(context.parameters.ambient(relay.place).least);
    const full = (relay.range?.most ?? rated.most) / least;
    const gone = bounds.releases / least;
    return (inductance.most / least) * Math.log((full + clamp / least) / (gone + clamp / least));
  }

  private ofElement(element: Element): Delay {
    const island = this.after.islandOf(element);
    return island === undefined ? AT_ONCE : this.ofIsland(island);
  }

  private ofIsland(island: Island): Delay {
    return this.last(island.deciders.map((decider) => this.ofDecider(decider)));
  }

  private ofDecider(decider: ComponentId): Delay {
    return this.after.design.components[decider]!.kind === 'relay' ? this.ofRelay(decider) : AT_ONCE;
  }

  private last(delays: readonly Delay[]): Delay {
    if (delays.length === 0) return AT_ONCE;
    return {
      seconds: {
        least: Math.max(...delays.map(({ seconds }) => seconds.least)),
        usual: Math.max(...delays.map(({ seconds }) => seconds.usual)),
        most: Math.max(...delays.map(({ seconds }) => seconds.most)),
      },
      lacks: delays.flatMap(({ lacks }) => lacks),
    };
  }
}

/** Volts that a suppressor holds against the dying current; an rc member is not followed here. */
const CLAMPS: Readonly<Record<string, (volts: number) => number>> = {
  diode: () => 0.7,
  zener: (volts) => volts + 0.7,
  varistor: (volts) => volts,
};
