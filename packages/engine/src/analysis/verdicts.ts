/** Whether what a case expects is borne out, at the worst corner and at the worst times. */

import type { Lack } from '../build/index.ts';
import type { Predicate, Subject } from '../design/cases.ts';
import type { ComponentId } from '../design/components.ts';
import { type Seconds, sum } from '../time/stamp.ts';
import type { Figure, Need, States, Value, Verdict } from './contract.ts';
import { figureOf, needsOf } from './figure.ts';
import type { Ranged } from './range.ts';
import { ampsOf, loopOhms, meterOhms, voltsAcross, voltsBetween, wattsOf } from './readings.ts';
import { pulseOf } from './signals.ts';
import { statesOf } from './states.ts';
import type { Asked, Instant } from './timeline.ts';
import { type Delay, Delays } from './timing.ts';
import type { World } from './world.ts';

export interface Judged {
  readonly holds: boolean | 'not-evaluated';
  readonly figure?: Figure;
  readonly states?: States;
  readonly needs: readonly Need[];
  readonly reason?: string;
}

export function verdictOn(asked: Asked, instants: readonly Instant[]): Verdict {
  const { expect } = asked;
  if (asked.verdict !== undefined) return asked.verdict();
  if (expect.within !== undefined) return within(asked, instants, expect.within.least);
  if (expect.times !== undefined) return times(asked, instants, expect.times);
  if (expect.throughout === true) return throughout(asked, instants);
  return conclude(asked, plain(asked, instants));
}

export function conclude(asked: Pick<Asked, 'expect'>, judged: Judged, seconds?: Value): Verdict {
  const { holds, figure, states, needs, reason } = judged;
  return {
    ...(reason && { reason }),
    expect: asked.expect,
    holds,
    found: { ...(figure && { figure }), ...(states && { states }), ...(seconds && { seconds }) },
    needs,
  };
}

/** At the instant where it stands, and at its neighbours where something may go back a little earlier or later. */
function plain(asked: Asked, instants: readonly Instant[]): Judged {
  const here = judge(instants[asked.instant]!.world, asked.expect.subject, asked.expect.predicate);
  if (here.holds !== true) return here;
  for (const neighbour of mayAlsoBe(asked, instants)) {
    const there = judge(neighbour.world, asked.expect.subject, asked.expect.predicate);
    if (there.holds !== true) return there;
  }
  return here;
}

function mayAlsoBe(asked: Asked, instants: readonly Instant[]): readonly Instant[] {
  const found: Instant[] = [];
  for (let i = asked.instant; i > 0; i--) {
    const instant = instants[i]!;
    if (!instant.byItself || instant.time.most <= asked.time.least) break;
    found.push(instants[i - 1]!);
  }
  for (let i = asked.instant + 1; i < instants.length; i++) {
    const instant = instants[i]!;
    if (!instant.byItself || instant.time.least > asked.time.most) break;
    if (instant.time.usual > asked.time.usual || instant.time.least < asked.time.most) found.push(instant);
  }
  return found;
}

/** True at some instant from the last turn or wait on, once its effect has arrived, and for as long as it is needed. */
function within(asked: Asked, instants: readonly Instant[], limit: number): Verdict {
  const { subject, predicate } = asked.expect;
  const first = judge(instants[asked.since]!.world, subject, predicate);
  let missing: readonly Need[] = [];
  let late: Value | undefined;
  for (let i = asked.since; i < instants.length; i++) {
    const instant = instants[i]!;
    const starts = instant.time.most - asked.time.least;
    if (starts > limit) break;
    const judged = i === asked.since ? first : judge(instant.world, subject, predicate);
    const { seconds, lacks, assumptions } = arrival(subject, instants, i);
    if (judged.holds !== true && !pulses(instant.world, subject, predicate, seconds.most)) continue;
    const time = secondsValue(
      {
        least: Math.max(0, instant.time.least - asked.time.most + seconds.least),
        usual: Math.max(0, instant.time.usual - asked.time.usual + seconds.usual),
        most: Math.max(0, starts + seconds.most),
      },
      assumptions,
    );
    if (lacks.length > 0) {
      missing = needsOf(instant.world.design, lacks);
      continue;
    }
    if (time.most <= limit && lasts(subject, predicate, instants, i, seconds.most)) {
      return conclude(asked, { ...judged, holds: true }, time);
    }
    late ??= time;
  }
  if (missing.length > 0) return conclude(asked, { ...first, holds: 'not-evaluated', needs: missing });
  return conclude(asked, { ...first, holds: first.holds === 'not-evaluated' ? 'not-evaluated' : false }, late);
}

/** In the on phase of a pulsing output, and long enough in it to be noticed. */
function pulses(world: World, subject: Subject, predicate: Predicate, needed: number): boolean {
  if (subject.sort !== 'component' || predicate.sort !== 'state') return false;
  const pulse = pulseOf(world, subject.component);
  return pulse !== undefined && pulse.shortest >= needed && statesOf(world, subject.component)[0] === predicate.word;
}

/** How long after the instant begins the subject shows it: relays on the way, then the zone's response. */
function arrival(subject: Subject, instants: readonly Instant[], at: number): Delay {
  const none: Delay = { seconds: { least: 0, usual: 0, most: 0 }, lacks: [], assumptions: [] };
  if (at === 0 || subject.sort === 'between') return none;
  const before = instants[at - 1]!.world;
  const after = instants[at]!.world;
  const { component } = subject;
  const part = after.design.components[component]!;
  const delays = new Delays(before, after);
  if (part.kind === 'relay') return delays.ofRelay(component);
  const settled = delays.untilSettled(component);
  if (part.kind !== 'zone' && part.kind !== 'input') return settled;
  const was = statesOf(before, component)[0];
  if (was === statesOf(after, component)[0]) return none;
  const returns = part.kind === 'zone' && statesOf(after, component)[0] === restName(after, component);
  const response = part.kind === 'zone' && returns ? part.restores : part.responds;
  if (response === undefined) {
    const lack: Lack = { component, property: returns ? 'restores' : 'responds' };
    return { ...settled, lacks: [...settled.lacks, lack] };
  }
  return { ...settled, seconds: sum(settled.seconds, response) };
}

function restName(world: World, component: ComponentId): string | undefined {
  return statesOf(world.rest ?? world, component)[0];
}

/** Whether the state stands at least as long as it takes to be noticed. */
function lasts(
  subject: Subject,
  predicate: Predicate,
  instants: readonly Instant[],
  from: number,
  needed: number,
): boolean {
  for (let i = from + 1; i < instants.length; i++) {
    if (judge(instants[i]!.world, subject, predicate).holds === true) continue;
    return instants[i]!.time.least - instants[from]!.time.most >= needed;
  }
  return true;
}

/** Entered so many times over the whole case, everything having run out. */
function times(asked: Asked, instants: readonly Instant[], wanted: number): Verdict {
  const { subject, predicate } = asked.expect;
  if (subject.sort !== 'between' && instants.some(({ world }) => pulseOf(world, subject.component) !== undefined)) {
    const reason = 'how often something is entered that follows a pulsing output is not counted';
    return conclude(asked, { holds: 'not-evaluated', needs: [], reason });
  }
  const judged = instants.map(({ world }) => judge(world, subject, predicate));
  const unknown = judged.find(({ holds }) => holds === 'not-evaluated');
  const here = judged[asked.instant]!;
  if (unknown !== undefined) return conclude(asked, { ...unknown, holds: 'not-evaluated' });
  const entered = judged.filter(({ holds }, i) => i > 0 && holds === true && judged[i - 1]!.holds !== true).length;
  return conclude(asked, { ...here, holds: entered === wanted });
}

/** Judged at settled instants, which is everything where nothing moves between them. */
function throughout(asked: Asked, instants: readonly Instant[]): Verdict {
  const { subject, predicate } = asked.expect;
  for (let i = 0; i < asked.instant; i++) {
    const judged = judge(instants[i]!.world, subject, predicate);
    if (judged.holds !== true) return conclude(asked, judged);
  }
  return conclude(asked, plain(asked, instants));
}

export function secondsValue({ least, usual, most }: Seconds, clauses: readonly string[]): Value {
  const assumptions = [...new Set(clauses)].sort();
  return { sort: 'value', unit: 's', least, usual, most, leastCorner: [], mostCorner: [], proven: true, assumptions };
}

export function judge(world: World, subject: Subject, predicate: Predicate): Judged {
  if (predicate.sort === 'state') return judgeState(world, subject, predicate.word);
  const range = measured(world, subject, predicate.dimension);
  const figure = figureOf(world.design, range, predicate.dimension);
  if (range.sort === 'unknown') {
    const needs = figure.sort === 'not-evaluated' ? figure.needs : [];
    return { holds: 'not-evaluated', figure, needs, ...(range.reason && { reason: range.reason }) };
  }
  if (range.sort === 'no-connection') return { holds: false, figure, needs: [] };
  return { holds: COMPARISONS[predicate.sort](predicate as never, range), figure, needs: [] };
}

type Span = { readonly least: number; readonly usual: number; readonly most: number };

const COMPARISONS: {
  readonly [S in 'compare' | 'range' | 'about']: (predicate: Extract<Predicate, { sort: S }>, found: Span) => boolean;
} = {
  compare: ({ operator, value }, { least, most }) => {
    if (operator === '>=') return least >= value;
    if (operator === '>') return least > value;
    return operator === '<=' ? most <= value : most < value;
  },
  range: (wanted, { least, most }) => least >= wanted.least && most <= wanted.most,
  about: (wanted, { usual }) => usual >= wanted.least && usual <= wanted.most,
};

function measured(world: World, subject: Subject, dimension: string): Ranged {
  if (subject.sort === 'amps') return ampsOf(world, subject.component);
  if (subject.sort === 'between') {
    if (subject.quantity === 'volts') return voltsBetween(world, subject.a, subject.b);
    return meterOhms(world, subject.a, subject.b);
  }
  const part = world.design.components[subject.component]!;
  if (dimension === 'A') return ampsOf(world, part.id);
  if (dimension === 'W') return wattsOf(world, part.id);
  if (dimension === 'ohm' && (part.kind === 'zone' || part.kind === 'input')) return loopOhms(world, part);
  if (part.kind === 'unit') {
    const feed = part.members.find((member) => world.design.components[member]!.kind === 'feed');
    return feed === undefined ? { sort: 'no-connection' } : voltsAcross(world, feed);
  }
  return voltsAcross(world, part.id);
}

function judgeState(world: World, subject: Subject, word: string): Judged {
  if (subject.sort === 'between') return { holds: 'not-evaluated', needs: [] };
  const { component } = subject;
  const part = world.design.components[component]!;
  if (word === 'any') return { holds: true, states: statesOf(world, component), needs: [] };
  const states = statesOf(world, component);
  if (states.length === 0) {
    const reason = reasonFor(world, component);
    return { holds: 'not-evaluated', needs: needsFor(world, component), ...(reason && { reason }) };
  }
  const same = (state: string) =>
    state === word ||
    (part.kind === 'zone' && state.split('+').includes(word)) ||
    (part.kind === 'output' && word === 'off' && state === 'unpowered');
  return { holds: states.every(same), states, needs: [] };
}

function reasonFor(world: World, component: ComponentId): string | undefined {
  const part = world.design.components[component]!;
  if (part.kind === 'relay') return world.decision(component).reason;
  if (part.kind === 'contact') return world.decision(part.driver).reason;
  const range = part.kind === 'zone' ? loopOhms(world, part) : voltsAcross(world, component);
  return range.sort === 'unknown' ? range.reason : undefined;
}

/** What a state that cannot be told is waiting for. */
function needsFor(world: World, component: ComponentId): readonly Need[] {
  const part = world.design.components[component]!;
  const { design } = world;
  if (part.kind === 'relay') return needsOf(design, world.decision(component).lacks);
  if (part.kind === 'contact') return needsOf(design, world.decision(part.driver).lacks);
  if (part.kind === 'load' && part.works === undefined) return needsOf(design, [{ component, property: 'works' }]);
  if (part.kind === 'zone' && part.scheme === undefined) return needsOf(design, [{ component, property: 'scheme' }]);
  if (part.kind === 'input' && (part.on === undefined || part.off === undefined)) {
    return needsOf(design, [{ component, property: part.on === undefined ? 'on' : 'off' }]);
  }
  const range = part.kind === 'zone' ? loopOhms(world, part) : voltsAcross(world, component);
  return range.sort === 'unknown' ? needsOf(design, range.lacks) : [];
}
