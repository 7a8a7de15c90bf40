/** A branch as time lines: one for each part that changes, and a second one for what a panel or module reports. */
import type { Need, States } from '../analysis/contract.ts';
import { needsOf } from '../analysis/figure.ts';
import type { Component, ComponentId } from '../design/components.ts';
import type { Branch } from './branch.ts';
import { isReader, reportsOf, type Stretch, stretchesOf } from './segments.ts';
import { lacksOf, type Seconds } from './stamp.ts';

export interface TrackPoint {
  /** Seconds since the case began, from the earliest to the latest. */
  readonly time: Seconds;
  /** From then on, the usual one first; none where they cannot be told. */
  readonly states: States;
  /** Data without which the time is not known; it then counts as if they were nothing. */
  readonly needs: readonly Need[];
}

/** What a part does over a case. */
export interface Track {
  readonly component: ComponentId;
  /** `reads`: what a zone or input reads; `reports`: what is made of it; `state`: everything else. */
  readonly what: 'state' | 'reads' | 'reports';
  /** The first one is how the case begins; each differs from the one before it. */
  readonly points: readonly TrackPoint[];
  /** Where the case goes on without end: its last points, from that time on, come again after each period. */
  readonly repeats?: { readonly from: Seconds; readonly period: Seconds };
}

/** Kinds that are shown on time lines. */
const SHOWN: ReadonlySet<Component['kind']> = new Set([
  'relay',
  'output',
  'load',
  'zone',
  'input',
  'confirm',
  'switch',
  'actuator',
  'unit',
  'source',
  'fuse',
]);

/** Of the usual order of events; where other orders bring about the same, the times of all of them. */
export function tracksOf([usual, ...others]: readonly Branch[]): readonly Track[] {
  const tracks = tracksIn(usual!);
  return others.reduce((known, branch) => widened(known, tracksIn(branch)), tracks);
}

function widened(tracks: readonly Track[], others: readonly Track[]): readonly Track[] {
  return tracks.map((track) => {
    const other = others.find(({ component, what }) => component === track.component && what === track.what);
    const states = ({ points }: Track) => points.map((point) => point.states.join()).join('|');
    if (other === undefined || states(other) !== states(track)) return track;
    const points = track.points.map((point, i): TrackPoint => {
      const { least, most } = other.points[i]!.time;
      const { time } = point;
      return { ...point, time: { ...time, least: Math.min(time.least, least), most: Math.max(time.most, most) } };
    });
    return { ...track, points };
  });
}

function tracksIn(branch: Branch): readonly Track[] {
  return changing(branch).flatMap((id) => {
    const reader = isReader(branch.entries[0]!.world, id);
    const states = track(branch, id, reader ? 'reads' : 'state', stretchesOf(branch, id));
    return reader ? [...states, ...track(branch, id, 'reports', reportsOf(branch, id))] : states;
  });
}

function track(
  branch: Branch,
  component: ComponentId,
  what: Track['what'],
  stretches: readonly Stretch[],
): readonly Track[] {
  const { design } = branch.entries[0]!.world;
  const points = stretches.map(({ from, states }): TrackPoint => {
    const { least, usual, most } = from;
    return { time: { least, usual, most }, states, needs: needsOf(design, lacksOf(from)) };
  });
  if (points.length < 2) return [];
  const { endless } = branch;
  if (endless === undefined) return [{ component, what, points }];
  const { least, usual, most } = branch.entries[endless.from]!.stamp;
  return [{ component, what, points, repeats: { from: { least, usual, most }, period: endless.period } }];
}

/** Parts that may be otherwise at some instant than at another. */
function changing(branch: Branch): readonly ComponentId[] {
  const found = new Set<ComponentId>();
  for (const { world } of branch.entries) {
    for (const island of world.dirty) for (const { component } of island.elements) found.add(component.id);
    for (const list of [
      world.doings.turned,
      world.doings.forced,
      world.decisions,
      world.power,
      world.doubts,
      world.confirmed,
    ]) {
      for (const id of list.keys()) found.add(id);
    }
  }
  const { components } = branch.entries[0]!.world.design;
  for (const id of [...found]) {
    const part = components[id];
    if (part?.owner !== undefined) found.add(part.owner);
    if (part?.kind === 'contact') found.add(part.driver);
  }
  return [...found].filter((id) => id >= 0 && SHOWN.has(components[id]!.kind)).sort((one, other) => one - other);
}
