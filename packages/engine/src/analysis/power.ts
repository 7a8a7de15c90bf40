/** Whether units are fed enough to work. */

import type { Island } from '../build/index.ts';
import type { ComponentId, ComponentOf } from '../design/components.ts';
import { voltsGauge } from './gauges.ts';
import type { ProblemNote } from './problems.ts';
import { rangeOf } from './range.ts';
import type { World } from './world.ts';

/** Units with a feed in one of the islands. */
export function fedUnits(islands: ReadonlySet<Island>): readonly ComponentId[] {
  const units = new Set<ComponentId>();
  for (const island of islands) {
    for (const { component, rule } of island.elements) {
      if (component.kind === 'feed' && rule.role === 'main' && component.owner !== undefined)
        units.add(component.owner);
    }
  }
  return [...units];
}

/** A feed that nobody has wired is fed by something outside the site, unless it is turned off. */
function isWired(world: World, feed: ComponentOf<'feed'>): boolean {
  return world.shared.model.isJoined(feed.a) || world.shared.model.isJoined(feed.b);
}

export interface Enough {
  readonly powered: boolean;
  readonly problem?: ProblemNote;
}

/** A unit works while any of its feeds has at least the lower end of `works`. */
export function hasEnough(world: World, unit: ComponentId): Enough {
  const part = world.design.components[unit] as ComponentOf<'unit'>;
  let problem: ProblemNote | undefined;
  let powered = false;
  for (const member of part.members) {
    const feed = world.design.components[member]!;
    if (feed.kind !== 'feed' || world.word(member) === 'off') continue;
    if (!isWired(world, feed)) {
      powered = true;
      continue;
    }
    const element = world.shared.model.ofComponent[member]!.find((other) => other.rule.role === 'main')!;
    const island = world.islandOf(element);
    if (island === undefined) continue;
    const volts = rangeOf(world, island, voltsGauge(island, element.a, element.b));
    // What cannot be computed for want of a datum is said where it is asked for; the unit is taken to work.
    if (volts.sort === 'unknown') powered = true;
    if (volts.sort !== 'range') continue;
    const enough = feed.works?.least ?? Number.MIN_VALUE;
    if (volts.usual >= enough) powered = true;
    if (volts.least < enough && volts.most >= enough) {
      const detail = `${feed.name} may see less than its working volts; what the unit does then is not followed`;
      problem = { sort: 'not-computed', components: [member], detail };
    }
  }
  return problem === undefined ? { powered } : { powered, problem };
}
