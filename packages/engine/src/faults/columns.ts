/** The cases that should change a zone, and what should arrive in each. */
import { zoneClasses } from '../analysis/states.ts';
import type { Case } from '../design/cases.ts';
import type { ComponentId, ComponentOf } from '../design/components.ts';
import type { Design } from '../design/design.ts';
import { type Event, reports } from './answers.ts';
import type { FaultColumn } from './contract.ts';
import type { Ground } from './ground.ts';
import { FAULT_WORDS } from './words.ts';

export interface Column extends FaultColumn {
  readonly events: readonly Event[];
}

/** `normal` is the zone's class at rest. Cases that are a service fault themselves are no columns. */
export function columnsOf(ground: Ground, zone: ComponentOf<'zone'>, normal: string): readonly Column[] {
  const { design } = ground;
  const columns: Column[] = [];
  for (const index of ground.casesOfZone.get(zone.id) ?? []) {
    if (isServiceFault(design, index)) continue;
    const events = eventsOf(ground, index, zone, normal);
    if (events.length === 0) continue;
    const expected = [...new Set(events.map((event) => event.expected))].join(', ');
    columns.push({ case: index, name: design.cases[index]!.name, expected, events });
  }
  return columns;
}

/** Instants at which the healthy zone says something else than at rest, by what it should say. */
function eventsOf(ground: Ground, index: number, zone: ComponentOf<'zone'>, normal: string): readonly Event[] {
  const { instants, asked } = ground.lines[index]!;
  const events = new Map<string, number[]>();
  // What stood before the case began is not its event.
  const before = zoneClasses(zone, instants[0]!.world).usual;
  instants.forEach(({ world }, at) => {
    const { usual } = zoneClasses(zone, world);
    if (usual === undefined || usual === normal || usual === before) return;
    const words = asked
      .filter(({ instant }) => instant === at)
      .map(({ expect }) => expect)
      .flatMap(({ subject, predicate }) =>
        subject.sort === 'component' && subject.component === zone.id && predicate.sort === 'state'
          ? [predicate.word]
          : [],
      );
    const expected = words.find((word) => word !== normal && reports(usual, word)) ?? usual;
    const list = events.get(expected);
    if (list === undefined) events.set(expected, [at]);
    else list.push(at);
  });
  return [...events].map(([expected, at]) => ({ expected, at }));
}

const WORDS: ReadonlySet<string> = new Set(FAULT_WORDS.map(({ word }) => word));

/** A lost supply, a blown fuse, or a fault by its word; also a case that goes on from such a one. */
export function isServiceFault(design: Design, index: number): boolean {
  const seen = new Set<number>();
  for (let at: number | undefined = index; at !== undefined && !seen.has(at); at = design.cases[at]?.after) {
    seen.add(at);
    const one: Case | undefined = design.cases[at];
    for (const step of one?.steps ?? []) {
      if (step.sort !== 'turn') continue;
      if (WORDS.has(step.state)) return true;
      if (step.state === 'off' && isSupply(design, step.target)) return true;
    }
  }
  return false;
}

function isSupply(design: Design, target: ComponentId): boolean {
  const kind = design.components[target]?.kind;
  return kind === 'unit' || kind === 'source' || kind === 'feed';
}
