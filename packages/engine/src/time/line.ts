/** A case that moves by itself, as the analysis wants it: settled instants, verdicts, signals and time lines. */
import { finish } from '../analysis/moment.ts';
import type { ProblemNote } from '../analysis/problems.ts';
import type { Shared } from '../analysis/shared.ts';
import { type Asked, type Instant, once, type Timeline } from '../analysis/timeline.ts';
import type { World } from '../analysis/world.ts';
import type { Island } from '../build/index.ts';
import type { Case, Step } from '../design/cases.ts';
import type { ComponentId, ComponentOf } from '../design/components.ts';
import type { Branch } from './branch.ts';
import { verdictOver } from './judging.ts';
import { goalOf, moveDelay } from './moving.ts';
import { type Played, playing } from './play.ts';
import { responseOf } from './readers.ts';
import { signalsIn } from './signals.ts';
import { between } from './stamp.ts';
import { type Track, tracksOf } from './tracks.ts';

export function* runningInTime(shared: Shared, one: Case, start: Instant, rest: World): Generator<void, Timeline> {
  const { branches, complete, problems } = yield* playing(shared, one, start, rest);
  const [usual] = branches as [Branch, ...Branch[]];
  const asked = usual.stood.map(({ expect, stamp, since, instant }, index): Asked => {
    const { least, usual: usually, most } = stamp;
    return {
      expect,
      instant,
      time: { least, usual: usually, most },
      since: lastBefore(usual, since),
      verdict: once(() => verdictOver(branches, index, complete)),
    };
  });
  return {
    instants: usual.instants,
    asked,
    problems: [...problems, ...ordersOf(branches, asked)],
    signals: once(() => signalsIn(branches, rest)),
    tracks: once(() => tracksOf(branches)),
    inTime: true,
  };
}

/** Time lines of a case that nothing moves in by itself: its relays still take their time. */
export function tracksOfCase(shared: Shared, one: Case, start: Instant, rest: World): readonly Track[] {
  const { branches }: Played = finish(playing(shared, one, start, rest));
  return tracksOf(branches);
}

function lastBefore(branch: Branch, stamp: Branch['stood'][number]['since']): number {
  return branch.instants.findLastIndex((instant) => between(instant.stamp, stamp).usual >= -1e-12);
}

/** Where the order of events decides how the case ends or what its expectations find. */
function ordersOf(branches: readonly Branch[], asked: readonly Asked[]): readonly ProblemNote[] {
  const [usual, ...others] = branches as [Branch, ...Branch[]];
  const deciding = others.filter((other) => other.end !== usual.end);
  const judged = asked.map((each) => each.verdict!()).find(({ order }) => order !== undefined);
  if (deciding.length === 0 && judged === undefined) return [];
  const shown = deciding.length > 0 ? deciding[0]! : others.find(({ decided }) => judged!.order === wordsOf(decided))!;
  const { design } = usual.entries[0]!.world;
  // Relays first: they are what hesitates.
  const rank = (id: ComponentId) => (design.components[id]!.kind === 'relay' ? 0 : 1);
  const all = new Set(shown.decided.flatMap((each) => each.components));
  const components = [...all].sort((one, other) => rank(one) - rank(other) || one - other);
  const detail = `where ${wordsOf(shown.decided)}, the case ends otherwise`;
  return [{ sort: 'order-decides', components, detail }];
}

function wordsOf(decided: Branch['decided']): string {
  return decided.map(({ words }) => words).join(', ');
}

/** What settling a case line by line has shown of it. */
export interface Glance {
  readonly instants: readonly Instant[];
  /** Whether relays were met that influence themselves or each other. */
  readonly circles: boolean;
}

/**
 * Whether a case must be played through time: something in it moves by itself or remembers, or events follow each other
 * before everything has settled. Everything else is told by its settled instants.
 */
export function movesByItself(one: Case, { instants, circles }: Glance): boolean {
  if (circles || one.steps.some(hasUncertainTime)) return true;
  if (one.steps.some((step) => step.sort === 'expect' && (step.times !== undefined || step.throughout === true))) {
    return instants.length > 1;
  }
  const seen = new Set<Island>();
  for (const { world } of instants.slice(1)) {
    for (const island of world.dirty) {
      if (seen.has(island)) continue;
      seen.add(island);
      if (isRestless(world, island)) return true;
    }
  }
  return isHasty(instants);
}

/** Times of the case itself that have a spread: what comes after them shares it, which settled instants do not tell. */
function hasUncertainTime(step: Step): boolean {
  const time = step.sort === 'wait' ? step.seconds : step.sort === 'turn' ? step.for : undefined;
  return time !== undefined && time.least !== time.most;
}

function isRestless(world: World, island: Island): boolean {
  for (const { component, rule } of island.elements) {
    if (component.kind === 'capacitor') return true;
    if (component.kind === 'relay' && (component.timer !== undefined || component.latching !== undefined)) return true;
    if (component.kind === 'output' && moves(world, component)) return true;
    if (rule.role === 'main' && world.shared.watch.isWatched(component.id)) return true;
  }
  return false;
}

function moves(world: World, output: ComponentOf<'output'>): boolean {
  const word = world.word(output.id);
  return (word === 'pulsing' && output.pattern !== undefined) || (word === 'on' && output.pulseLength !== undefined);
}

/** Whether an event comes before the relays and readers of the one before it have certainly followed. */
function isHasty(instants: readonly Instant[]): boolean {
  for (let i = 2; i < instants.length; i++) {
    const gap = instants[i]!.time.least - instants[i - 1]!.time.most;
    if (gap < longest(instants[i - 2]!.world, instants[i - 1]!.world)) return true;
  }
  return false;
}

/** At least as long as everything takes that moved between two settled worlds: one after the other, and the readers. */
function longest(before: World, after: World): number {
  let moving = 0;
  let noticing = 0;
  for (const relay of moved(before, after)) {
    const part = after.design.components[relay] as ComponentOf<'relay'>;
    moving += moveDelay(part, goalOf(before.decision(relay), after.decision(relay)), before, after).most;
  }
  for (const island of after.dirty) {
    for (const { component } of island.elements) {
      if (component.kind !== 'zone' && component.kind !== 'input') continue;
      noticing = Math.max(noticing, responseOf(component, false).most, responseOf(component, true).most);
    }
  }
  return moving + noticing;
}

function* moved(before: World, after: World): Generator<ComponentId> {
  for (const id of new Set([...before.decisions.keys(), ...after.decisions.keys()])) {
    const [one, other] = [before.decision(id), after.decision(id)];
    if (one.usual !== other.usual || one.possible.length !== other.possible.length) yield id;
  }
}
