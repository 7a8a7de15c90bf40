/** From what a zone reads to what becomes of its answers: announced, quiet, misread or blind. */
import type { Ranged } from '../analysis/range.ts';
import { type ZoneClasses, zoneClasses } from '../analysis/states.ts';
import type { World } from '../analysis/world.ts';
import type { ComponentOf } from '../design/components.ts';
import type { FaultCell, FaultClass, FaultSpread } from './contract.ts';

/** What a zone reads at an instant, before anybody asks what it should read. */
export interface Read {
  readonly ohms?: FaultSpread;
  readonly volts?: FaultSpread;
  readonly usual: string | undefined;
  readonly possible: readonly (string | undefined)[];
  readonly reason?: string;
}

/** What is asked of a zone in a case: a class that shall arrive at one of some instants. */
export interface Event {
  readonly expected: string;
  /** Indices into the case's instants. */
  readonly at: readonly number[];
}

/** Worst last. */
const ORDER: readonly FaultClass[] = ['announced', 'quiet', 'misread', 'blind'];

export function isWorse(one: FaultClass, other: FaultClass): boolean {
  return ORDER.indexOf(one) > ORDER.indexOf(other);
}

export function readIn(world: World, zone: ComponentOf<'zone'>): Read {
  return asRead(zoneClasses(zone, world));
}

function asRead({ ohms, volts, usual, possible }: ZoneClasses): Read {
  const unknown = ohms.sort === 'unknown' ? ohms : volts.sort === 'unknown' ? volts : undefined;
  if (unknown !== undefined) {
    const reason = unknown.reason ?? 'a datum is missing';
    return { usual: undefined, possible: [], reason };
  }
  return { ...spread('ohms', ohms), ...spread('volts', volts), usual, possible };
}

function spread(name: 'ohms' | 'volts', range: Ranged): { readonly [N in 'ohms' | 'volts']?: FaultSpread } {
  if (range.sort !== 'range') return {};
  const { least, usual, most } = range;
  return { [name]: { least, usual, most } };
}

/** At rest: whether the zone may still show that all is well. */
export function restCell(read: Read, normal: string): FaultCell {
  return cell(read, (name) => (name === normal ? 'quiet' : 'announced'));
}

/** In a case: the worst of its events, each at the instant that brings it best. */
export function caseCell(reads: (instant: number) => Read, events: readonly Event[], normal: string): FaultCell {
  let worst: FaultCell | undefined;
  for (const { expected, at } of events) {
    let best: FaultCell | undefined;
    for (const instant of at) {
      const one = cell(reads(instant), (name) => arrival(name, expected, normal));
      if (best === undefined || rank(one) < rank(best)) best = one;
    }
    if (best !== undefined && (worst === undefined || rank(best) > rank(worst))) worst = best;
  }
  return worst ?? { possible: [], answer: 'not-evaluated', certain: true, reason: 'nothing is expected' };
}

/** What could not be computed stands before everything but a certain loss. */
function rank({ answer }: FaultCell): number {
  return answer === 'not-evaluated' ? 2.5 : ORDER.indexOf(answer);
}

function arrival(name: string | undefined, expected: string, normal: string): FaultClass {
  if (name === normal) return 'blind';
  return name !== undefined && reports(name, expected) ? 'quiet' : 'misread';
}

/** Whether a class, or several reported together, say all that is expected. */
export function reports(name: string, expected: string): boolean {
  if (name === expected) return true;
  const said = name.split('+');
  return expected.split('+').every((word) => said.includes(word));
}

function cell(read: Read, answerTo: (name: string | undefined) => FaultClass): FaultCell {
  const { ohms, volts, usual, possible, reason } = read;
  const shown = {
    ...(ohms === undefined ? {} : { ohms }),
    ...(volts === undefined ? {} : { volts }),
    ...(usual === undefined ? {} : { usual }),
    possible,
  };
  if (possible.length === 0) {
    return { ...shown, answer: 'not-evaluated', certain: true, reason: reason ?? 'the zone has no bands' };
  }
  let answer = answerTo(possible[0]);
  let certain = true;
  for (const name of possible) {
    const other = answerTo(name);
    if (other !== answer) certain = false;
    if (isWorse(other, answer)) answer = other;
  }
  return { ...shown, answer, certain };
}

/** Either of several readings, the usual one first. */
export function unite(reads: readonly Read[]): Read {
  const [first] = reads;
  if (first === undefined || reads.length === 1) return first ?? { usual: undefined, possible: [] };
  const possible = [...new Set(reads.flatMap((read) => read.possible))];
  const span = (name: 'ohms' | 'volts') => {
    const all = reads.flatMap((read) => read[name] ?? []);
    if (all.length < reads.length) return {};
    const least = Math.min(...all.map((one) => one.least));
    const most = Math.max(...all.map((one) => one.most));
    return { [name]: { least, usual: first[name]!.usual, most } };
  };
  return { ...span('ohms'), ...span('volts'), usual: first.usual, possible };
}
