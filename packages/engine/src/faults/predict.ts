/** What a meter would show at a place of the site, with a fault or without. */
import type { Range, Ranged } from '../analysis/range.ts';
import { ampsOf, meterOhms, voltsBetween } from '../analysis/readings.ts';
import type { World } from '../analysis/world.ts';
import type { ComponentId, TerminalId } from '../design/components.ts';
import type { Design } from '../design/design.ts';
import type { FaultSpread } from './contract.ts';
import type { Ground, Trial } from './ground.ts';
import { CABLE_SHARE, JOINTS_OHMS, LEADS_OHMS, METER_OHMS } from './meter.ts';
import { upstreamOf } from './upstream.ts';

/** A place and a quantity; amperes in a part, the others between two terminals. */
export interface Point {
  readonly quantity: 'volts' | 'ohms' | 'amps';
  readonly a?: TerminalId;
  readonly b?: TerminalId;
  readonly component?: ComponentId;
}

export type Shown = { readonly spread: FaultSpread } | { readonly reason: string };

const NOTHING: FaultSpread = { least: 0, usual: 0, most: 0 };

/** `loaded`: with the meter's own ohms across the place. */
export function shownIn(world: World, point: Point, loaded: boolean): Shown {
  const { quantity, a, b, component } = point;
  if (quantity === 'amps') {
    return component === undefined ? { reason: 'there is no such part' } : asShown(ampsOf(world, component));
  }
  if (a === undefined || b === undefined) return { reason: 'there is no such terminal' };
  if (quantity === 'ohms') {
    const shown = asShown(meterOhms(world, a, b), OPEN);
    if (!('spread' in shown)) return shown;
    const { least, usual, most } = shown.spread;
    return { spread: { least: least + LEADS_OHMS, usual: usual + LEADS_OHMS, most: most + LEADS_OHMS } };
  }
  const { doings } = world;
  const at = loaded ? world.measured({ ...doings, joins: [...doings.joins, { a, b, ohms: METER_OHMS }] }) : world;
  return asShown(voltsBetween(at, a, b));
}

const OPEN: FaultSpread = {
  least: Number.POSITIVE_INFINITY,
  usual: Number.POSITIVE_INFINITY,
  most: Number.POSITIVE_INFINITY,
};

/** Where nothing is connected a meter shows nothing. */
function asShown(range: Ranged, unconnected = NOTHING): Shown {
  if (range.sort === 'no-connection') return { spread: unconnected };
  if (range.sort === 'range') return { spread: spreadOf(range) };
  return { reason: range.reason ?? 'a datum is missing' };
}

function spreadOf({ least, usual, most }: Range): FaultSpread {
  return { least, usual, most };
}

/** The settled instants of a case that a reading may have been taken at, `undefined` where there is no such case. */
export function* worldsOf(design: Design, trial: Trial, name: string): Generator<void, readonly World[] | undefined> {
  const indices = design.cases.flatMap((one, index) => (one.name === name ? [index] : []));
  if (indices.length === 0) return name === 'rest' ? [trial.rest] : undefined;
  const worlds: World[] = [];
  for (const index of indices) {
    const { instants } = yield* trial.line(index);
    const reached = instants.length === 1 ? instants : instants.slice(1);
    worlds.push(...reached.map(({ world }) => world));
  }
  return [...new Set(worlds)];
}

/** Ohms by which a sound loop may differ from what is computed besides its parts' tolerance; none but for ohms. */
export function roomOf(ground: Ground, { quantity, a, b }: Point): number {
  if (quantity !== 'ohms' || a === undefined || b === undefined) return 0;
  const { islands } = upstreamOf(ground.rest, [{ a, b }]);
  let copper = 0;
  for (const { elements } of islands) {
    const inLoop = elements.some(({ component }) => component.kind === 'zone');
    if (!inLoop) continue;
    for (const { component } of elements) if (component.kind === 'core') copper += component.ohms?.usual ?? 0;
  }
  return CABLE_SHARE * copper + JOINTS_OHMS;
}
