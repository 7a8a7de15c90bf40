/** A branch as stretches of time: what a part is in, what a panel has taken notice of, and whether something holds. */
import { statesOf } from '../analysis/states.ts';
import { type Judged, judge } from '../analysis/verdicts.ts';
import type { World } from '../analysis/world.ts';
import type { Lack } from '../build/index.ts';
import type { Predicate, Subject } from '../design/cases.ts';
import type { ComponentId, ComponentOf } from '../design/components.ts';
import type { Branch, Entry, Skip } from './branch.ts';
import { responseOf } from './readers.ts';
import { after, between, type Seconds, type Stamp } from './stamp.ts';

/** A stretch in which a part stays in the same possible states, the usual one first. */
export interface Stretch {
  readonly from: Stamp;
  /** Absent where it stays to the end. */
  readonly to?: Stamp;
  readonly states: readonly string[];
  /** Index of the entry of the branch that brings it about. */
  readonly entry: number;
  /** Index of the entry that ends it; the number of entries where it stays. */
  readonly until: number;
  readonly world: World;
}

const SAME = 1e-9;

/** States of a part from the beginning of the case on, each stretch different from the one before it. */
export function stretchesOf(branch: Branch, component: ComponentId): readonly Stretch[] {
  return stretchesBy(branch, ({ world, held }) => held.get(component) ?? statesOf(world, component));
}

/** Stretches in which a reading of the site stays the same. */
export function stretchesBy(branch: Branch, states: (entry: Entry) => readonly string[]): readonly Stretch[] {
  const found: Omit<Stretch, 'to' | 'until'>[] = [];
  branch.entries.forEach((each, entry) => {
    const here = states(each);
    if (found.at(-1)?.states.join() === here.join()) return;
    found.push({ from: each.stamp, states: here, entry, world: each.world });
  });
  const count = branch.entries.length;
  const list = found.map((stretch, i): Stretch => {
    const next = found[i + 1];
    return next === undefined ? { ...stretch, until: count } : { ...stretch, to: next.from, until: next.entry };
  });
  const whole = branch.skips.reduce(split, list);
  return branch.endless === undefined ? whole : cut(branch, whole);
}

/**
 * A stretch that stands where rounds are passed over ends in the first of them as it does in the last, and begins in the
 * last as it does in the first. One that stands for a whole round stands through all of them.
 */
function split(list: readonly Stretch[], { before, last, from, to }: Skip): readonly Stretch[] {
  return list.flatMap((stretch) => {
    if (stretch.entry <= before || stretch.entry > last || stretch.until <= last || stretch.to === undefined) {
      return [stretch];
    }
    const ends = after(from, between(to, stretch.to));
    const begins = after(to, between(from, stretch.from));
    return [
      { ...stretch, to: ends, until: last },
      { ...stretch, from: begins },
    ];
  });
}

/** What begins with the last entry of an endless branch begins the next round: it ends where that entry stands. */
function cut(branch: Branch, list: readonly Stretch[]): readonly Stretch[] {
  const last = branch.entries.length - 1;
  const end = branch.entries[last]!.stamp;
  const kept = list.filter(({ entry }, i) => i === 0 || entry < last);
  // What has not changed for a whole round stays for ever.
  return kept.map((stretch) =>
    stretch.to === undefined && stretch.entry > branch.endless!.from ? { ...stretch, to: end, until: last } : stretch,
  );
}

export function lengthOf({ from, to }: Pick<Stretch, 'from' | 'to'>): Seconds {
  if (to !== undefined) return between(from, to);
  const ever = Number.POSITIVE_INFINITY;
  return { least: ever, usual: ever, most: ever };
}

type Reader = ComponentOf<'zone'> | ComponentOf<'input'>;

export function isReader(world: World, component: ComponentId): boolean {
  const { kind } = world.design.components[component]!;
  return kind === 'zone' || kind === 'input';
}

/**
 * What the panel reports of a zone, or a module of an input: a state that stands as long as it takes to be noticed. Where
 * that is not certain both states are possible.
 */
export function reportsOf(branch: Branch, component: ComponentId): readonly Stretch[] {
  const reads = stretchesOf(branch, component);
  const part = reads[0]!.world.design.components[component] as Reader;
  const normal = statesOf(reads[0]!.world.rest ?? reads[0]!.world, component)[0];
  const found: Omit<Stretch, 'to' | 'until'>[] = [{ ...reads[0]! }];
  for (const read of reads.slice(1)) {
    const { states } = found.at(-1)!;
    if (states.join() === read.states.join()) continue;
    const takes = responseOf(part, read.states[0] === normal);
    const lasts = lengthOf(read);
    if (lasts.most <= takes.least + (takes.least > 0 ? -SAME : SAME)) continue;
    const certain = lasts.least >= takes.most - SAME && lasts.least > SAME;
    const usual = lasts.usual >= takes.usual - SAME;
    const both = usual ? [...read.states, ...states] : [...states, ...read.states];
    found.push({ ...read, from: after(read.from, takes), states: certain ? read.states : [...new Set(both)] });
  }
  return found.map((stretch, i): Stretch => {
    const next = found[i + 1];
    const { to: _, until: __, ...start } = stretch as Stretch;
    if (next !== undefined) return { ...start, to: next.from, until: next.entry };
    const end = branch.endless === undefined ? undefined : reads.at(-1)!.to;
    return { ...start, ...(end === undefined ? {} : { to: end }), until: branch.entries.length };
  });
}

/** Data without which it is not known when the panel takes notice of what changes. */
export function lacksOfReports(branch: Branch, component: ComponentId): readonly Lack[] {
  const [first, ...reads] = stretchesOf(branch, component);
  const part = first!.world.design.components[component] as Reader;
  const normal = statesOf(first!.world.rest ?? first!.world, component)[0];
  return reads.flatMap(({ states }) => responseOf(part, states[0] === normal).lacks ?? []);
}

/** A stretch in which something holds, does not, or may. */
export interface Truth {
  readonly from: Stamp;
  readonly to?: Stamp;
  readonly entry: number;
  readonly judged: Judged;
  readonly is: 'yes' | 'no' | 'maybe' | 'unknown';
}

export function truthsOf(branch: Branch, subject: Subject, predicate: Predicate): readonly Truth[] {
  const state = predicate.sort === 'state' && subject.sort === 'component' ? predicate.word : undefined;
  const reads =
    state !== undefined && subject.sort === 'component' && isReader(branch.entries[0]!.world, subject.component);
  const truths: Truth[] = [];
  const stretches = reads
    ? reportsOf(branch, (subject as { component: ComponentId }).component)
    : plainOf(branch, subject, predicate);
  for (const { from, to, entry, world, states } of stretches) {
    const judged = reads
      ? ofStates(states, state!, world, subject)
      : judgeEntry(branch.entries[entry]!, subject, predicate);
    const is = verdictOf(judged, state);
    const last = truths.at(-1);
    // Each stretch of doubt may have come out otherwise than the one before it.
    if (last !== undefined && last.is === is && is !== 'maybe') {
      truths[truths.length - 1] = { from: last.from, entry: last.entry, judged: last.judged, is, ...(to && { to }) };
      continue;
    }
    truths.push({ from, entry, judged, is, ...(to && { to }) });
  }
  return truths;
}

/** Stretches in which a predicate that is not about what a panel reports stays as it is. */
function plainOf(branch: Branch, subject: Subject, predicate: Predicate): readonly Stretch[] {
  return stretchesBy(branch, (entry) => {
    const { holds, states } = judgeEntry(entry, subject, predicate);
    return [String(holds), ...(states ?? [])];
  });
}

function judgeEntry({ world, held }: Entry, subject: Subject, predicate: Predicate): Judged {
  const states = subject.sort === 'component' ? held.get(subject.component) : undefined;
  if (states === undefined || predicate.sort !== 'state') return judge(world, subject, predicate);
  return ofStates(states, predicate.word, world, subject);
}

function ofStates(states: readonly string[], word: string, world: World, subject: Subject): Judged {
  if (states.length === 0) return judge(world, subject, { sort: 'state', word });
  const holds = word === 'any' || states.every((each) => isIn(each, word));
  return { holds, states, needs: [] };
}

function isIn(state: string, word: string): boolean {
  return state === word || state.split('+').includes(word);
}

function verdictOf({ holds, states }: Judged, word: string | undefined): Truth['is'] {
  if (holds === 'not-evaluated') return 'unknown';
  if (holds) return 'yes';
  return word !== undefined && states?.some((state) => isIn(state, word)) ? 'maybe' : 'no';
}

/** Certainly longer than nothing. */
export function isSure(stretch: Pick<Stretch, 'from' | 'to'>): boolean {
  return lengthOf(stretch).least > SAME;
}

/** Perhaps longer than nothing. */
export function isPossible(stretch: Pick<Stretch, 'from' | 'to'>): boolean {
  return lengthOf(stretch).most > SAME;
}
