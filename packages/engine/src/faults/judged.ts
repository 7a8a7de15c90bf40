/** A zone whose answers can be judged, and how it is judged. */
import { needsOf } from '../analysis/figure.ts';
import { zoneClasses } from '../analysis/states.ts';
import type { World } from '../analysis/world.ts';
import type { ComponentId, ComponentOf } from '../design/components.ts';
import { caseCell, type Read, readIn, restCell } from './answers.ts';
import { type Column, columnsOf } from './columns.ts';
import type { FaultCell, FaultRow, ZoneFaults } from './contract.ts';
import type { Passed } from './fitting.ts';
import { OwnLoop } from './own-loop.ts';
import type { FaultSite } from './site.ts';
import type { Effect } from './trials.ts';

/** How the zone reads at rest and in each column. */
export interface Cells {
  readonly rest: FaultCell;
  readonly cells: readonly FaultCell[];
}

export interface Judged {
  readonly zone: ComponentOf<'zone'>;
  /** Its class at rest. */
  readonly normal: string;
  readonly loop: OwnLoop;
  readonly columns: readonly Column[];
  readonly healthy: Cells;
  readonly rows: FaultRow[];
  readonly passed: Passed[];
}

/** `isEnough`: whether what is read at rest says all that is asked, so that no case is looked at. */
export function cellsOf(
  { zone, normal, columns }: Pick<Judged, 'zone' | 'normal' | 'columns'>,
  effect: Effect,
  isEnough: (rest: FaultCell) => boolean = () => false,
): Cells {
  const rest = restCell(effect.readRest(zone), normal);
  if (isEnough(rest)) return { rest, cells: columns.map(() => NOT_ASKED) };
  const cells = columns.map(({ case: index, events }) => {
    const asked = events.map(({ expected, at }) => ({ expected, at: effect.instantsOf(index, at) }));
    return caseCell((instant) => effect.readCase(zone, index, instant), asked, normal);
  });
  return { rest, cells };
}

const NOT_ASKED: FaultCell = { possible: [], answer: 'not-evaluated', certain: true, reason: 'announced at rest' };

/** Zones that something is wired to, with nothing wrong; those that cannot be judged with the reason. */
export function zonesOf(site: FaultSite): {
  readonly judged: ReadonlyMap<ComponentId, Judged>;
  readonly unjudged: readonly ZoneFaults[];
} {
  const { ground } = site;
  const { rest, shared, lines, design } = ground;
  const judged = new Map<ComponentId, Judged>();
  const unjudged: ZoneFaults[] = [];
  for (const zone of design.components) {
    if (zone.kind !== 'zone' || !shared.model.isJoined(zone.a)) continue;
    const read = readIn(rest, zone);
    const normal = read.usual;
    if (normal === undefined) {
      unjudged.push(withoutTable(zone, read, rest));
      continue;
    }
    const columns = columnsOf(ground, zone, normal);
    const cells = columns.map(({ case: index, events }) =>
      caseCell((instant) => readIn(lines[index]!.instants[instant]!.world, zone), events, normal),
    );
    const healthy = { rest: restCell(read, normal), cells };
    const loop = new OwnLoop(site, zone);
    judged.set(zone.id, { zone, normal, loop, columns, healthy, rows: [], passed: [] });
  }
  return { judged, unjudged };
}

function withoutTable(zone: ComponentOf<'zone'>, read: Read, rest: World): ZoneFaults {
  const { ohms, volts } = zoneClasses(zone, rest);
  const lacks = [ohms, volts].flatMap((range) => (range.sort === 'unknown' ? range.lacks : []));
  if (zone.scheme === undefined) lacks.push({ component: zone.id, property: 'scheme' });
  const needs = needsOf(rest.design, lacks);
  const reason =
    zone.scheme === undefined ? 'it has no bands' : (read.reason ?? 'what it reads at rest lies outside every band');
  const healthy = { rest: restCell(read, ''), cells: [] };
  return { zone: zone.id, columns: [], healthy, rows: [], leakage: [], passed: [], needs, reason };
}
