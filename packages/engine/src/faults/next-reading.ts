/** The reading to take next: the one that splits the leading candidates into the most even parts. */
import type { Reading } from '../design/cases.ts';
import type { Component, ComponentKind, TerminalId } from '../design/components.ts';
import type { Design } from '../design/design.ts';
import type { FaultSpread } from './contract.ts';
import type { Ground } from './ground.ts';
import { meterTolerance } from './meter.ts';
import { type Point, roomOf, shownIn, worldsOf } from './predict.ts';
import type { Tried } from './trace.ts';
import type { NextReading } from './trace-contract.ts';
import type { Upstream } from './upstream.ts';

/** Share of the best weight from which on a candidate leads. */
const LEADS = 0.1;
/** Leading candidates, places and cases that are looked at; a person will not measure more. */
const MOST_LEADERS = 24;
const MOST_POINTS = 80;
const MOST_CASES = 5;

/** Where a meter is put first: the places that a person finds without taking anything apart. */
const ORDER: readonly ComponentKind[] = [
  'zone',
  'source',
  'feed',
  'output',
  'relay',
  'load',
  'fuse',
  'contact',
  'resistor',
];

export function* nextReading(
  ground: Ground,
  tried: readonly Tried[],
  readings: readonly Reading[],
  upstream: Upstream,
): Generator<void, NextReading | undefined> {
  const best = tried[0]?.weight ?? 0;
  const leaders = tried.filter(({ weight }) => best > 0 && weight >= LEADS * best).slice(0, MOST_LEADERS);
  // Where the site as written explains everything there is nothing to look for.
  if (leaders.length < 2 || leaders[0]!.fault === undefined) return undefined;
  const points = [...pointsOf(ground, upstream)].slice(0, MOST_POINTS);
  let found: NextReading | undefined;
  let least = leaders.length * leaders.length;
  for (const name of casesOf(ground, readings, upstream)) {
    for (const { point, what } of points) {
      if (readings.some((one) => one.case === name && isSame(ground, one, point))) continue;
      const outcomes = yield* outcomesOf(ground, leaders, name, point);
      if (outcomes === undefined) continue;
      const size = outcomes.reduce((sum, { candidates }) => sum + candidates.length ** 2, 0);
      // Of readings that split as evenly, the first one is the easiest to take.
      if (size >= least) continue;
      least = size;
      found = { case: name, point, what, outcomes };
      yield;
    }
  }
  return found;
}

/** Rest first, then the cases that were read, then others that change something here. */
function casesOf(ground: Ground, readings: readonly Reading[], { islands }: Upstream): readonly string[] {
  const names = new Set<string>(['rest']);
  for (const { case: name } of readings) names.add(name);
  for (const island of islands) {
    for (const index of ground.casesOf.get(island) ?? []) names.add(ground.design.cases[index]!.name);
  }
  return [...names].slice(0, MOST_CASES);
}

function* pointsOf(ground: Ground, { islands }: Upstream): Generator<{ readonly point: Point; readonly what: string }> {
  const { design } = ground;
  const parts = new Set<Component>();
  for (const { elements, pins } of islands) {
    for (const { component } of elements) parts.add(component);
    for (const { element } of pins) parts.add(element.component);
  }
  const sorted = [...parts]
    .filter(({ kind }) => ORDER.includes(kind))
    .sort((one, other) => ORDER.indexOf(one.kind) - ORDER.indexOf(other.kind) || one.id - other.id);
  const seen = new Set<string>();
  for (const quantity of ['volts', 'ohms'] as const) {
    for (const part of sorted) {
      if (quantity === 'ohms' && part.kind !== 'zone') continue;
      const ends = endsOf(part);
      if (ends === undefined || part.name === '') continue;
      const [a, b] = ends;
      const nodes = [a, b].map((end) => ground.shared.model.nodeOf(end));
      const key = `${quantity} ${nodes.sort((one, other) => one - other).join()}`;
      if (nodes[0] === nodes[1] || seen.has(key)) continue;
      seen.add(key);
      yield { point: { quantity, a, b }, what: `${quantity} ${nameOf(design, a)} to ${nameOf(design, b)}` };
    }
  }
}

function endsOf(part: Component): readonly [TerminalId, TerminalId] | undefined {
  if (part.kind === 'relay') return [part.coil.a, part.coil.b];
  if (part.kind === 'output') return part.returns === undefined ? undefined : [part.a, part.returns];
  return 'a' in part && 'b' in part ? [part.a, part.b] : undefined;
}

function nameOf(design: Design, terminal: TerminalId): string {
  return design.terminals[terminal]!.name;
}

function isSame(ground: Ground, reading: Reading, point: Point): boolean {
  const { model } = ground.shared;
  if (reading.quantity !== point.quantity || reading.a === undefined || reading.b === undefined) return false;
  return model.nodeOf(reading.a) === model.nodeOf(point.a!) && model.nodeOf(reading.b) === model.nodeOf(point.b!);
}

/** Candidates in heaps that the meter tells apart; `undefined` where it tells none apart or something is not computed. */
function* outcomesOf(
  ground: Ground,
  leaders: readonly Tried[],
  name: string,
  point: Point,
): Generator<void, NextReading['outcomes'] | undefined> {
  const room = roomOf(ground, point);
  const shown: { readonly candidate: number; readonly spread: FaultSpread }[] = [];
  for (const [candidate, { trial }] of leaders.entries()) {
    const world = (yield* worldsOf(ground.design, trial, name))?.at(-1);
    const one = world === undefined ? undefined : shownIn(world, point, false);
    if (one === undefined || !('spread' in one)) return undefined;
    shown.push({ candidate, spread: one.spread });
  }
  shown.sort((one, other) => one.spread.least - other.spread.least);
  const heaps: { spread: FaultSpread; candidates: number[]; upTo: number }[] = [];
  for (const { candidate, spread } of shown) {
    const last = heaps.at(-1);
    const low = spread.least - meterTolerance(finite(spread.least), point.quantity) - room;
    const high = spread.most + meterTolerance(finite(spread.most), point.quantity) + room;
    if (last === undefined || low > last.upTo) heaps.push({ spread, candidates: [candidate], upTo: high });
    else {
      last.candidates.push(candidate);
      last.spread = { ...last.spread, most: Math.max(last.spread.most, spread.most) };
      last.upTo = Math.max(last.upTo, high);
    }
  }
  return heaps.length < 2 ? undefined : heaps.map(({ spread, candidates }) => ({ spread, candidates }));
}

function finite(value: number): number {
  return Number.isFinite(value) ? value : 0;
}
