/** What a case expects, judged on the branches it may take: language.md, 'Time in a case'. */
import type { Value, Verdict } from '../analysis/contract.ts';
import { needsOf } from '../analysis/figure.ts';
import { type Judged, judge, secondsValue } from '../analysis/verdicts.ts';
import type { World } from '../analysis/world.ts';
import type { Lack } from '../build/index.ts';
import type { Expect } from '../design/cases.ts';
import type { ComponentId } from '../design/components.ts';
import type { Branch, StampedInstant, Stood } from './branch.ts';
import type { Pending } from './pending.ts';
import { isPossible, isReader, isSure, lacksOfReports, type Truth, truthsOf } from './segments.ts';
import { assumptionsOf, between, type Stamp } from './stamp.ts';

const SAME = 1e-9;

/** The verdict over all branches on the expectation that stands at `index`; the worst of them counts. */
export function verdictOver(branches: readonly Branch[], index: number, complete: boolean): Verdict {
  const verdict = worstOf(branches, index);
  if (complete || verdict.holds !== true) return verdict;
  return { ...verdict, holds: 'not-evaluated', reason: 'events overlap in more orders than are followed' };
}

function worstOf(branches: readonly Branch[], index: number): Verdict {
  const verdicts = branches.map((branch) => verdictIn(branch, branch.stood[index]!));
  const [usual] = verdicts as [Verdict, ...Verdict[]];
  const worst = verdicts.find(({ holds }) => holds === false) ?? verdicts.find(({ holds }) => holds !== true) ?? usual;
  const found = { ...worst.found, ...overAll(verdicts) };
  if (verdicts.every(({ holds }) => holds === usual.holds)) return { ...usual, found };
  const at = verdicts.findIndex((verdict) => verdict.holds !== usual.holds);
  const order = branches[at]!.decided.map(({ words }) => words).join(', ');
  return { ...worst, found, order, reason: worst.reason ?? `the order decides: not with ${order}` };
}

/** How often something is entered in whichever order events come. */
function overAll(verdicts: readonly Verdict[]): Partial<Verdict['found']> {
  const all = verdicts.flatMap(({ found }) => found.entries ?? []);
  if (all.length === 0) return {};
  return {
    entries: { least: Math.min(...all.map((each) => each.least)), most: Math.max(...all.map((each) => each.most)) },
  };
}

function verdictIn(branch: Branch, stood: Stood): Verdict {
  const { expect } = stood;
  if (expect.within !== undefined) return within(branch, stood, expect.within.least);
  if (expect.times !== undefined) return times(branch, stood, expect.times);
  if (expect.throughout === true) return throughout(branch, stood);
  return conclude(expect, plain(branch, stood));
}

function conclude(expect: Expect, judged: Judged, more: Partial<Verdict['found']> = {}): Verdict {
  const { holds, figure, states, needs, reason } = judged;
  const found = { ...(figure && { figure }), ...(states && { states }), ...more };
  return { expect, holds, found, needs, ...(reason && { reason }) };
}

/** Where it stands, and on the other side of whatever may run out a little earlier or later. */
function plain({ instants }: Branch, stood: Stood): Judged {
  const { subject, predicate } = stood.expect;
  const here = judge(instants[stood.instant]!.world, subject, predicate);
  if (here.holds !== true) return here;
  for (const { world } of mayAlsoBe(instants, stood)) {
    const there = judge(world, subject, predicate);
    if (there.holds !== true) return there;
  }
  return here;
}

function mayAlsoBe(instants: readonly StampedInstant[], { instant, stamp }: Stood): readonly StampedInstant[] {
  const found: StampedInstant[] = [];
  for (let i = instant; i > 0 && instants[i]!.byItself; i--) {
    if (between(stamp, instants[i]!.stamp).most <= SAME) break;
    found.push(instants[i - 1]!);
  }
  for (let i = instant + 1; i < instants.length && instants[i]!.byItself; i++) {
    if (between(stamp, instants[i]!.stamp).least >= -SAME) break;
    found.push(instants[i]!);
  }
  return found;
}

/** True at some instant between the last turn or wait above and so much later, whatever the corner. */
function within(branch: Branch, { expect, since }: Stood, limit: number): Verdict {
  const truths = truthsOf(branch, expect.subject, expect.predicate);
  let late: Value | undefined;
  let lacks: readonly Lack[] = [];
  for (const truth of truths) {
    if (truth.is !== 'yes' || !isSure(truth) || isOver(truth, since)) continue;
    const comes = between(since, truth.from);
    if (comes.least > limit + SAME) break;
    const missing = lacksBetween(since, truth.from);
    if (missing.length > 0) {
      lacks = missing;
      continue;
    }
    const seconds = secondsValue(positive(comes), assumptionsOf(truth.from));
    if (comes.most <= limit + SAME) return conclude(expect, truth.judged, { seconds });
    late ??= seconds;
  }
  const [first] = truths.filter((truth) => !isOver(truth, since));
  const judged = first!.judged;
  if (lacks.length > 0) {
    const { design } = branch.entries[0]!.world;
    return conclude(expect, { ...judged, holds: 'not-evaluated', needs: needsOf(design, lacks) });
  }
  const unknown = truths.find((truth) => truth.is === 'unknown' && !isOver(truth, since));
  if (unknown !== undefined && late === undefined) return conclude(expect, unknown.judged);
  const maybe = truths.find((truth) => truth.is === 'maybe' && !isOver(truth, since));
  const shown = maybe ?? first!;
  return conclude(expect, { ...shown.judged, holds: false }, late === undefined ? {} : { seconds: late });
}

/** Perhaps over at an instant already. */
function isOver({ to }: Truth, at: Stamp): boolean {
  return to !== undefined && between(at, to).least <= SAME;
}

function positive({ least, usual, most }: { least: number; usual: number; most: number }) {
  return { least: Math.max(0, least), usual: Math.max(0, usual), most: Math.max(0, most) };
}

/** Data that the time from one event to a later one lacks. */
function lacksBetween(from: Stamp, to: Stamp): readonly Lack[] {
  const before = new Set<Stamp>();
  for (let at: Stamp | undefined = from; at !== undefined; at = at.cause) before.add(at);
  const lacks: Lack[] = [];
  for (let at: Stamp | undefined = to; at !== undefined && !before.has(at); at = at.cause) {
    lacks.push(...(at.by.lacks ?? []));
  }
  return lacks;
}

/** How often something is certainly entered, and how often it may be, everything having run out. */
export interface Entries {
  readonly least: number;
  readonly most: number;
}

export function entriesOf(branch: Branch, truths: readonly Truth[]): Entries {
  let [least, most] = [0, 0];
  let surelyIn = truths[0]?.is === 'yes';
  let perhapsIn = truths[0]?.is === 'yes' || truths[0]?.is === 'maybe';
  for (const truth of truths.slice(1)) {
    const often = roundsOf(branch, truth.entry);
    if (truth.is === 'yes' && isSure(truth)) {
      if (!surelyIn) least += often;
      surelyIn = true;
    } else if (truth.is === 'no' && isSure(truth)) surelyIn = false;
    if (!isPossible(truth)) continue;
    if (truth.is === 'no' || (truth.is === 'maybe' && perhapsIn)) perhapsIn = false;
    else if (truth.is !== 'unknown') {
      if (!perhapsIn) most += often;
      perhapsIn = true;
    }
  }
  return { least, most };
}

/** How often what an entry brings about comes, rounds that are passed over or go on for ever included. */
function roundsOf({ endless, skips }: Branch, entry: number): number {
  if (endless !== undefined && entry > endless.from) return Number.POSITIVE_INFINITY;
  const passed = skips.filter(({ before, last }) => entry > before && entry <= last);
  return passed.reduce((count, { rounds }) => count + rounds, 1);
}

/**
 * Data without which nobody knows in which order contacts move that a part hangs on: what shows between them may be
 * something that neither the instant before nor the one after shows.
 */
function lacksOfOrder(branch: Branch, { subject }: Expect): readonly Lack[] {
  if (subject.sort === 'between') return [];
  const moved = new Map<number, Pending[]>();
  for (const { epoch, events, world } of branch.entries) {
    const deciders = decidersOf(world, subject.component);
    for (const pending of events) {
      if (pending.event.sort !== 'relay' || !deciders.has(pending.target)) continue;
      const list = moved.get(epoch);
      if (list === undefined) moved.set(epoch, [pending]);
      else list.push(pending);
    }
  }
  const several = [...moved.values()].filter((list) => new Set(list.map(({ target }) => target)).size > 1);
  return several.flatMap((list) => list.flatMap(({ stamp }) => stamp.by.lacks ?? []));
}

function decidersOf(world: World, component: ComponentId): ReadonlySet<ComponentId> {
  const elements = world.shared.model.ofComponent[component] ?? [];
  return new Set(elements.flatMap((element) => world.islandOf(element)?.deciders ?? []));
}

/** A verdict over all instants, unless times are not known that it hangs on. */
function ordered(branch: Branch, verdict: Verdict): Verdict {
  const { subject, predicate } = verdict.expect;
  const reports =
    subject.sort === 'component' && predicate.sort === 'state' && isReader(branch.entries[0]!.world, subject.component);
  const lacks = [
    ...(reports ? lacksOfReports(branch, subject.component) : []),
    ...(verdict.holds === true ? lacksOfOrder(branch, verdict.expect) : []),
  ];
  if (lacks.length === 0) return verdict;
  return { ...verdict, holds: 'not-evaluated', needs: needsOf(branch.entries[0]!.world.design, lacks) };
}

function times(branch: Branch, { expect }: Stood, wanted: number): Verdict {
  const truths = truthsOf(branch, expect.subject, expect.predicate);
  const unknown = truths.find(({ is }) => is === 'unknown');
  if (unknown !== undefined) return conclude(expect, unknown.judged);
  const entries = entriesOf(branch, truths);
  const { judged } = truths.at(-1)!;
  const holds = entries.least === wanted && entries.most === wanted;
  return ordered(branch, conclude(expect, { ...judged, holds }, { entries }));
}

/** At every instant from the beginning of the case to the line. */
function throughout(branch: Branch, stood: Stood): Verdict {
  const { expect, stamp } = stood;
  for (const truth of truthsOf(branch, expect.subject, expect.predicate)) {
    if (truth.is === 'yes' || !isPossible(truth)) continue;
    const effect = branch.entries[truth.entry]!.epoch <= stood.epoch;
    if (!effect && between(truth.from, stamp).most <= SAME) continue;
    return ordered(
      branch,
      conclude(expect, { ...truth.judged, holds: truth.is === 'unknown' ? 'not-evaluated' : false }),
    );
  }
  return ordered(branch, conclude(expect, plain(branch, stood)));
}
