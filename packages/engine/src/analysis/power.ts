/** Whether units are fed enough to work. */

import type { Island, Lack } from '../build/index.ts';
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

/** Why nobody can say whether a unit works. */
export type Doubt =
  /** Corners of its volts lie on both sides of what it works at: what its members do is followed both ways. */
  | { readonly sort: 'spread' }
  /** Its volts cannot be computed: what its members would do without supply cannot be told. */
  | { readonly sort: 'unknown'; readonly lacks: readonly Lack[]; readonly reason?: string };

export interface Enough {
  readonly powered: boolean;
  readonly doubt?: Doubt;
  readonly problem?: ProblemNote;
}

/** Whether two doubts say the same. */
export function sameDoubt(one: Doubt | undefined, other: Doubt | undefined): boolean {
  if (one?.sort !== 'unknown' || other?.sort !== 'unknown') return one?.sort === other?.sort;
  return one.lacks.length === other.lacks.length && one.reason === other.reason;
}

/**
 * A unit works while any of its feeds has at least the lower end of `works`. Where a datum of what hangs on its feed is
 * missing, the unit is taken to work at rest, as its author means it to; what is done after that may take its supply away.
 */
export function hasEnough(world: World, unit: ComponentId): Enough {
  const part = world.design.components[unit] as ComponentOf<'unit'>;
  let problem: ProblemNote | undefined;
  let powered = false;
  let surely = false;
  let doubt: Doubt | undefined;
  for (const member of part.members) {
    const feed = world.design.components[member]!;
    if (feed.kind !== 'feed' || world.word(member) === 'off') continue;
    if (!isWired(world, feed)) {
      powered = true;
      surely = true;
      continue;
    }
    const element = world.shared.model.ofComponent[member]!.find((other) => other.rule.role === 'main')!;
    const island = world.islandOf(element);
    if (island === undefined) continue;
    const volts = rangeOf(world, island, voltsGauge(island, element.a, element.b));
    if (volts.sort === 'unknown') {
      powered = true;
      const { lacks, reason } = volts;
      if (world.rest !== undefined) doubt = { sort: 'unknown', lacks, ...(reason === undefined ? {} : { reason }) };
    }
    if (volts.sort !== 'range') continue;
    const enough = feed.works?.least ?? Number.MIN_VALUE;
    if (volts.usual >= enough) powered = true;
    if (volts.least >= enough) surely = true;
    if (volts.least < enough && volts.most >= enough) {
      doubt ??= { sort: 'spread' };
      if (!feedsOthers(world, part)) continue;
      const detail = `${feed.name} may see less than its working volts; what it feeds itself then is not followed`;
      problem = { sort: 'not-computed', components: [member], detail };
    }
  }
  if (surely) return { powered };
  return { powered, ...(doubt === undefined ? {} : { doubt }), ...(problem === undefined ? {} : { problem }) };
}

/** Whether anything hangs on volts that come out of the unit: its rails, its zones, inputs that feed their contacts. */
function feedsOthers(world: World, { members }: ComponentOf<'unit'>): boolean {
  return members.some((member) => {
    const part = world.design.components[member]!;
    const isFeeding =
      part.kind === 'source' || part.kind === 'zone' || (part.kind === 'input' && part.feedVolts !== undefined);
    return isFeeding && (world.shared.model.isJoined(part.a) || world.shared.model.isJoined(part.b));
  });
}
