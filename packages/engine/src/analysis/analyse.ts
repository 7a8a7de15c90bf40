/** The analysis of a whole design: rest first, then every case in its order. */

import type { Island } from '../build/index.ts';
import { Model } from '../build/index.ts';
import type { Case } from '../design/cases.ts';
import type { ComponentId } from '../design/components.ts';
import type { Design } from '../design/design.ts';
import { casesOnBattery } from '../standby/on-battery.ts';
import { resting } from '../time/rest.ts';
import type { Analysis, CaseAnalysis, Change, Problem } from './contract.ts';
import { type Doings, NOTHING_DONE, withChanges } from './doings.ts';
import { finish, SettledMoment } from './moment.ts';
import type { ProblemNote } from './problems.ts';
import { settling } from './settle.ts';
import { Shared } from './shared.ts';
import { type Instant, NOW, running } from './timeline.ts';
import { verdictOn } from './verdicts.ts';
import type { World } from './world.ts';

/** Never throws on what a user wrote. */
export function analyse(design: Design): Analysis {
  return finish(analyseSteps(design));
}

/** As `analyse`, yielding after each piece of work so that the caller may give way or stop. */
export function* analyseSteps(design: Design): Generator<void, Analysis> {
  const shared = new Shared(new Model(design));
  const problems = new Problems();
  const settled = yield* resting(shared);
  const rest = settled.world;
  problems.add('rest', 'at rest', settled.problems);
  yield* problems.look(rest, 'rest', 'at rest');
  const atRest: Instant = {
    time: NOW,
    label: 'at rest',
    world: rest,
    doings: NOTHING_DONE,
    turns: [],
    byItself: false,
  };
  const restMoment = new SettledMoment(rest, 0, 'at rest', [NOTHING_DONE]);
  const cases: CaseAnalysis[] = [];
  const ends = new Map<number, { instant: Instant; history: readonly Doings[]; replay?: Replay }>();
  const written = design.cases.findIndex((one) => one.name === 'rest');
  if (written < 0) cases.push({ name: 'rest', moments: [restMoment], verdicts: [], signals: [], timeline: [] });
  for (const index of inOrder(design.cases)) {
    const one = design.cases[index]!;
    const start = one.after === undefined ? undefined : ends.get(one.after);
    const from = start?.instant ?? atRest;
    const line = yield* running(shared, one, from, rest);
    const { instants } = line;
    const replay = line.inTime || start?.replay ? replaying(shared, one, rest, start?.replay) : undefined;
    const history: Doings[] = [...(start?.history ?? [NOTHING_DONE])];
    const moments: SettledMoment[] = [];
    const before = start?.replay;
    const beginning = before && ((changes: readonly Change[]) => before(changes).at(-1)!.world);
    const named = start === undefined ? 'at rest' : from.label;
    const begins = new SettledMoment(from.world, 0, named, [...history], [], beginning);
    if (instants.length === 1 || line.asked.some(({ instant }) => instant === 0)) moments.push(begins);
    for (const { world, time, label, doings } of instants.slice(1)) {
      history.push(doings);
      const again = replay && ((changes: readonly Change[]) => worldAt(replay(changes), label));
      moments.push(new SettledMoment(world, time.usual, label, [...history], [], again));
      yield* problems.look(world, one.name, label);
    }
    problems.add(one.name, moments.at(-1)?.label ?? '', line.problems);
    ends.set(index, { instant: instants.at(-1)!, history, ...(replay && { replay }) });
    cases.push({
      case: one,
      name: one.name,
      moments: one.name === 'rest' && instants.length === 1 ? [restMoment] : moments,
      verdicts: line.asked.map((asked) => verdictOn(asked, instants)),
      signals: line.signals(),
      get timeline() {
        return line.tracks();
      },
    });
    yield;
  }
  const onBatteries = yield* carriedByBatteries(shared, atRest, problems);
  return new WholeAnalysis(design, [...restFirst(cases), ...onBatteries], problems.list);
}

/** A case played again in a changed design, from rest on. */
type Replay = (changes: readonly Change[]) => readonly Instant[];

function replaying(shared: Shared, one: Case, rest: World, before: Replay | undefined): Replay {
  return (changes) => {
    const start = before?.(changes).at(-1) ?? changedRest(shared, rest, changes);
    return finish(running(shared, one, start, rest)).instants;
  };
}

function changedRest(shared: Shared, rest: World, changes: readonly Change[]): Instant {
  const doings = withChanges(shared.model.design, NOTHING_DONE, changes);
  const { world } = finish(settling(shared, doings, rest));
  return { time: NOW, label: 'at rest', world, doings, turns: [], byItself: false };
}

/** The instant of the same name, or the last one where the changed design does not come to it. */
function worldAt(instants: readonly Instant[], label: string): World {
  return (instants.find((instant) => instant.label === label) ?? instants.at(-1)!).world;
}

/** The cases that batteries carry, while what charges them is lost. */
function* carriedByBatteries(
  shared: Shared,
  atRest: Instant,
  problems: Problems,
): Generator<void, readonly CaseAnalysis[]> {
  const found: CaseAnalysis[] = [];
  for (const { battery, of, case: one } of casesOnBattery(shared.model.design)) {
    const { instants, problems: notes } = yield* running(shared, one, atRest, atRest.world);
    const history: Doings[] = [NOTHING_DONE];
    const moments: SettledMoment[] = [];
    for (const { world, time, label, doings } of instants.slice(1)) {
      history.push(doings);
      moments.push(new SettledMoment(world, time.usual, label, [...history]));
      yield* problems.look(world, one.name, label);
    }
    problems.add(one.name, moments.at(-1)?.label ?? '', notes);
    found.push({
      case: one,
      name: one.name,
      onBattery: { battery, of },
      moments,
      verdicts: [],
      signals: [],
      timeline: [],
    });
    yield;
  }
  return found;
}

/** Cases after those they follow; one that follows itself in a circle begins at rest. */
function inOrder(cases: readonly Case[]): readonly number[] {
  const order: number[] = [];
  const done = new Set<number>();
  const visit = (index: number, above: ReadonlySet<number>) => {
    if (done.has(index) || above.has(index)) return;
    const { after } = cases[index]!;
    if (after !== undefined && cases[after] !== undefined) visit(after, new Set([...above, index]));
    if (done.has(index)) return;
    done.add(index);
    order.push(index);
  };
  for (let index = 0; index < cases.length; index++) visit(index, new Set());
  return order;
}

function restFirst(cases: readonly CaseAnalysis[]): readonly CaseAnalysis[] {
  const rest = cases.filter(({ name }) => name === 'rest');
  return [...rest, ...cases.filter(({ name }) => name !== 'rest')];
}

class WholeAnalysis implements Analysis {
  readonly design: Design;
  readonly cases: readonly CaseAnalysis[];
  readonly problems: readonly Problem[];
  private byPart: ReadonlyMap<ComponentId, readonly CaseAnalysis[]> | undefined;

  constructor(design: Design, cases: readonly CaseAnalysis[], problems: readonly Problem[]) {
    this.design = design;
    this.cases = cases;
    this.problems = problems;
  }

  casesOf(component: ComponentId): readonly CaseAnalysis[] {
    this.byPart ??= this.sortByPart();
    return this.byPart.get(component) ?? this.cases.slice(0, 1);
  }

  private sortByPart(): ReadonlyMap<ComponentId, readonly CaseAnalysis[]> {
    const [rest, ...others] = this.cases;
    const found = new Map<ComponentId, CaseAnalysis[]>();
    for (const one of others) {
      const parts = new Set<ComponentId>();
      for (const moment of one.moments) {
        const affected = moment.affected();
        if (affected !== 'all') for (const part of affected) parts.add(part);
      }
      for (const part of parts) {
        const known = found.get(part);
        if (known === undefined) found.set(part, [rest!, one]);
        else known.push(one);
      }
    }
    return found;
  }
}

const SORTS: Readonly<Record<string, Problem['sort']>> = {
  contradictory: 'contradictory-sources',
  'no-solution': 'no-solution',
  'bound-reached': 'bound-reached',
};

/** Problems without repeats: the same thing in a later case is told once. */
class Problems {
  readonly list: Problem[] = [];
  private readonly seen = new Set<string>();

  add(caseName: string, moment: string, notes: readonly ProblemNote[]): void {
    for (const note of notes) {
      const key = `${note.sort} ${note.components.join()} ${note.detail}`;
      if (this.seen.has(key)) continue;
      this.seen.add(key);
      this.list.push({ ...note, caseName, moment });
    }
  }

  /** Solves every island that differs from rest once, so that what cannot be solved is told. */
  *look(world: World, caseName: string, moment: string): Generator<void, void> {
    const islands = world.rest === undefined ? allIslands(world) : world.dirty;
    let count = 0;
    for (const island of islands) {
      this.add(caseName, moment, notesOn(world, island));
      if (++count % 64 === 0) yield;
    }
  }
}

function* allIslands(world: World): Generator<Island, void> {
  for (const region of world.shared.model.regions) yield* world.layoutOf(region).islands;
}

function notesOn(world: World, island: Island): readonly ProblemNote[] {
  const [circuit] = world.circuits(island);
  if (circuit === undefined || circuit.lacks.length > 0 || circuit.isSound) return [];
  const { outcome, residual } = circuit.atUsual();
  const parts = (laws: readonly number[]): readonly ComponentId[] => circuit.componentsOf(laws);
  if (outcome.sort === 'solved') {
    if (residual === 0) return [];
    const detail = `the currents at some node do not add up by ${residual.toPrecision(2)} A`;
    return [{ sort: 'residual', components: parts([...circuit.lawOf]), detail }];
  }
  const names = parts(outcome.laws).map((id) => world.design.components[id]!.name);
  const watts = outcome.sort === 'no-solution' ? outcome.deliverable : undefined;
  const detail = `${DETAILS[outcome.sort]}: ${names.join(', ')}${watts === undefined ? '' : `; ${watts.toPrecision(3)} W can be delivered`}`;
  return [{ sort: SORTS[outcome.sort]!, components: parts(outcome.laws), detail }];
}

const DETAILS: Readonly<Record<string, string>> = {
  contradictory: 'sources contradict each other',
  'no-solution': 'more power is asked for than can be delivered',
  'bound-reached': 'no operating point was found within the bounds of the search',
};
