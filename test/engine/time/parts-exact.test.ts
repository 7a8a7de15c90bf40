/** Steps of a course, each by itself and by hand: natural modes, delays of relays, what panels take notice of, counts. */
import type { ComponentOf, Expect, Verdict } from '@couplet/engine';
import { describe, expect, test } from 'vitest';
import type { Decision } from '../../../packages/engine/src/analysis/decision.ts';
import { NOTHING_DONE } from '../../../packages/engine/src/analysis/doings.ts';
import { finish } from '../../../packages/engine/src/analysis/moment.ts';
import { settling } from '../../../packages/engine/src/analysis/settle.ts';
import { Shared } from '../../../packages/engine/src/analysis/shared.ts';
import { Model } from '../../../packages/engine/src/build/index.ts';
import type { Branch, Entry } from '../../../packages/engine/src/time/branch.ts';
import { Course } from '../../../packages/engine/src/time/course.ts';
import { entriesOf, verdictOver } from '../../../packages/engine/src/time/judging.ts';
import { modesOf } from '../../../packages/engine/src/time/modes.ts';
import { goalOf, moveDelay, suppressionsOf } from '../../../packages/engine/src/time/moving.ts';
import { earlier, goalKey, isSlow, type Pending } from '../../../packages/engine/src/time/pending.ts';
import { responseOf } from '../../../packages/engine/src/time/readers.ts';
import { lacksOfReports, reportsOf, type Truth, truthsOf } from '../../../packages/engine/src/time/segments.ts';
import { after as later, type Seconds, START, type Stamp } from '../../../packages/engine/src/time/stamp.ts';
import { choice, datum } from '../../support/data.ts';
import { SiteBuilder } from '../../support/site.ts';
import { BANDS, EXACT, round } from './support.ts';

const takes = (least: number, usual: number, most: number): Seconds => ({ least, usual, most });
const exactly = (time: number): Seconds => takes(time, time, time);
const at = (time: number): Stamp => later(START, exactly(time));
const restOf = (site: SiteBuilder) => finish(settling(new Shared(new Model(site.build())), NOTHING_DONE)).world;

describe('natural modes of a symmetric matrix', () => {
  /** The matrix that the modes make up again, and how far they are from being orthonormal. */
  function check(matrix: readonly (readonly number[])[], wanted: readonly number[]) {
    const before = JSON.stringify(matrix);
    const { values, vectors } = modesOf(matrix);
    expect(JSON.stringify(matrix)).toBe(before);
    const sorted = [...values].sort((a, b) => a - b);
    sorted.forEach((value, k) => {
      expect(value).toBeCloseTo(wanted[k]!, 12);
    });
    const n = matrix.length;
    for (let i = 0; i < n; i++) {
      for (let k = 0; k < n; k++) {
        const made = values.reduce((sum, value, m) => sum + vectors[i]![m]! * value * vectors[k]![m]!, 0);
        expect(made).toBeCloseTo(matrix[i]![k]!, 11);
        const product = vectors.reduce((sum, row) => sum + row[i]! * row[k]!, 0);
        expect(product).toBeCloseTo(i === k ? 1 : 0, 12);
      }
    }
  }

  test('of two coupled alike: sum and difference', () => {
    check(
      [
        [2, 1],
        [1, 2],
      ],
      [1, 3],
    );
    check(
      [
        [2, -1],
        [-1, 2],
      ],
      [1, 3],
    );
  });

  test('of a chain of three: 2 − √2, 2, 2 + √2', () => {
    check(
      [
        [2, -1, 0],
        [-1, 2, -1],
        [0, -1, 2],
      ],
      [2 - Math.SQRT2, 2, 2 + Math.SQRT2],
    );
  });

  test('of unequal diagonals, either way round', () => {
    // Trace 5, determinant 4 − 4 = 0; and trace −3, determinant −10 − … by (−3 ± √(9 + 4·14)) / 2.
    check(
      [
        [1, 2],
        [2, 4],
      ],
      [0, 5],
    );
    check(
      [
        [4, 2],
        [2, 1],
      ],
      [0, 5],
    );
    const root = Math.sqrt(65);
    check(
      [
        [-5, 2],
        [2, 2],
      ],
      [(-3 - root) / 2, (-3 + root) / 2],
    );
  });

  test('of one that has nothing beside its diagonal, and of four', () => {
    check(
      [
        [3, 0, 0],
        [0, -1, 0],
        [0, 0, 2],
      ],
      [-1, 2, 3],
    );
    // All ones: 4 once, and nought three times.
    check(
      Array.from({ length: 4 }, () => [1, 1, 1, 1]),
      [0, 0, 0, 4],
    );
  });
});

describe('how long a relay takes to move', () => {
  const plain = new SiteBuilder().relay('K1', { ...EXACT, ohms: undefined } as never);
  const world = restOf(plain);
  const of = (facts: object, goal: 'operated' | 'released') => {
    const relay = { id: 7, kind: 'relay', name: 'K7', coil: { a: 0, b: 1 }, contacts: [], ...facts };
    const { least, usual, most, ...more } = moveDelay(relay as unknown as ComponentOf<'relay'>, goal, world, world);
    return { time: [least, usual, most], ...more };
  };
  const own = { operateTime: datum([1, 2, 4]), releaseTime: datum([5, 6, 8]) };
  const timer = { function: choice('on-delay') };

  test('is its own time, or none and what is missing', () => {
    expect(of(own, 'operated')).toEqual({ time: [1, 2, 4] });
    expect(of(own, 'released')).toEqual({ time: [5, 6, 8] });
    expect(of({}, 'operated')).toEqual({ time: [0, 0, 0], lacks: [{ component: 7, property: 'operate-time' }] });
    expect(of({}, 'released')).toEqual({ time: [0, 0, 0], lacks: [{ component: 7, property: 'release-time' }] });
  });

  test('keeps what was assumed, and takes the usual one for the most where there is no bound', () => {
    const assumed = { operateTime: { ...datum([1, 2, Number.POSITIVE_INFINITY]), assumption: 'so long' } };
    expect(of(assumed, 'operated')).toEqual({ time: [1, 2, 2], assumptions: ['so long'] });
  });

  test('is part of the time of a timer, unless it is given', () => {
    expect(of({ timer }, 'operated')).toEqual({ time: [0, 0, 0] });
    expect(of({ timer }, 'released')).toEqual({ time: [0, 0, 0] });
    expect(of({ timer, ...own }, 'operated')).toEqual({ time: [1, 2, 4] });
    expect(of({ timer, ...own }, 'released')).toEqual({ time: [5, 6, 8] });
  });

  test('of a latching one is at least its minimum pulse, before which it may have moved', () => {
    const latching = choice('two-coil');
    expect(of({ latching, ...own, minimumPulse: datum(3) }, 'operated')).toEqual({ time: [1, 3, 4] });
    expect(of({ latching, ...own, minimumPulse: datum([1, 3, 9]) }, 'released')).toEqual({ time: [5, 6, 9] });
    expect(of({ latching, operateTime: datum(2) }, 'released')).toEqual({ time: [2, 2, 2] });
    expect(of({ latching, minimumPulse: datum(3) }, 'operated')).toEqual({ time: [0, 3, 3] });
    expect(of({ latching }, 'operated')).toEqual({
      time: [0, 0, 0],
      lacks: [{ component: 7, property: 'minimum-pulse' }],
    });
  });

  test('goes to the state that is usual then, or to the one that is possible too', () => {
    const decision = (...possible: Decision['possible'][number][]): Decision => ({
      usual: possible[0]!,
      possible,
      lacks: [],
    });
    const [down, up] = [decision('released'), decision('operated')];
    expect(goalOf(down, up)).toBe('operated');
    expect(goalOf(up, down)).toBe('released');
    expect(goalOf(down, decision('released', 'operated'))).toBe('operated');
    expect(goalOf(up, decision('operated', 'released'))).toBe('released');
    expect(goalOf(decision('released', 'operated'), down)).toBe('released');
  });

  test('is lengthened by what lies right across the coil: diodes from minus to plus, resistors, what is built in', () => {
    const site = new SiteBuilder().supply('G1', { volts: datum(12) });
    site.relay('K1', { ...EXACT, suppressor: { sort: 'diode', origin: -1 } }).relay('K2', EXACT);
    site
      .diode('D1', 0.7)
      .diode('D2', 0.8, { slope: datum(3) })
      .diode('D3', 0.9)
      .resistor('R1', 470)
      .resistor('R2', 100);
    site.wire('G1.plus', 'K1.A1-A2', 'G1.minus');
    site.wire('K1.A2', 'D1', 'K1.A1').wire('K1.A1', 'R1', 'K1.A2').wire('K1.A1', 'D3', 'K1.A2');
    // D2 lies across the other coil, R2 in series with it.
    site.wire('G1.plus', 'R2', 'K2.A1-A2', 'G1.minus').wire('K2.A2', 'D2', 'K2.A1');
    const there = restOf(site);
    const found = (name: string) =>
      suppressionsOf(site.components[site.id(name)] as ComponentOf<'relay'>, there).map((each) => [
        each.sort,
        ...('drop' in each && each.drop !== undefined ? [(each.drop as { usual: number }).usual] : []),
        ...('ohms' in each && each.ohms !== undefined ? [(each.ohms as { usual: number }).usual] : []),
        ...('slope' in each && each.slope !== undefined ? [(each.slope as { usual: number }).usual] : []),
      ]);
    const [, ...fitted] = found('K1');
    expect(found('K1')[0]![0]).toBe('diode');
    expect(fitted).toEqual([
      ['diode', 0.7],
      ['resistor', 470],
    ]);
    expect(found('K2')).toEqual([['diode', 0.8, 3]]);
  });
});

describe('events', () => {
  const event = (facts: Partial<Pending> & Pick<Pending, 'event'>): Pending => ({
    target: 1,
    stamp: START,
    rank: 0,
    order: 0,
    ...facts,
  });
  const relay: Pending['event'] = {
    sort: 'relay',
    decision: { usual: 'operated', possible: ['operated', 'released'], lacks: [] },
  };

  test('are named by what they are and do', () => {
    expect(goalKey(event({ event: relay }))).toBe('relay 1 operated/released');
    expect(goalKey(event({ target: 2, event: { sort: 'timer' } }))).toBe('timer 2 ');
    expect(goalKey(event({ event: { sort: 'report', state: undefined } }))).toBe('report 1 ');
    expect(goalKey(event({ event: { sort: 'report', state: 'alarm' } }))).toBe('report 1 alarm');
    expect(goalKey(event({ event: { sort: 'window', zone: 9 } }))).toBe('window 1 9');
    expect(goalKey(event({ event: { sort: 'charge', sensor: 8 } }))).toBe('charge 1 8');
  });

  test('run out by themselves, or follow from others', () => {
    const slow = (sort: string) => isSlow(event({ event: { sort } as never }));
    expect(['line', 'back', 'timer', 'pulse', 'window'].map(slow)).toEqual([true, true, true, true, true]);
    expect(['relay', 'trigger', 'report', 'charge'].map(slow)).toEqual([false, false, false, false]);
  });

  test('are taken by their rank, and made first come first', () => {
    const list = [
      event({ rank: 2, order: 1, event: relay }),
      event({ rank: 1, order: 3, event: relay }),
      event({ rank: 1, order: 2, event: relay }),
    ];
    expect([...list].sort(earlier).map(({ order }) => order)).toEqual([2, 3, 1]);
  });
});

describe('where relays stand in a course', () => {
  test('what stands as at rest is not kept, and a copy goes its own way', () => {
    const site = new SiteBuilder()
      .supply('G1', { volts: datum(12) })
      .relay('K1', EXACT)
      .relay('K2', EXACT);
    const world = restOf(site);
    const course = new Course(world.shared, world, world, NOTHING_DONE);
    const up: Decision = { usual: 'operated', possible: ['operated'], lacks: [] };
    const [one, two] = [site.id('K1'), site.id('K2')];
    const empty = course.key();
    course.place(two, up);
    course.place(one, up);
    const inOrder = course.key();
    course.place(one, world.decision(one));
    course.place(two, world.decision(two));
    expect(course.key()).toBe(empty);
    course.place(one, up);
    course.place(two, up);
    expect(course.key()).toBe(inOrder);
    const copy = course.clone();
    copy.place(one, world.decision(one));
    expect([course.position(one).usual, copy.position(one).usual]).toEqual(['operated', 'released']);
  });

  test('events are found again, moved and called off by target and sort', () => {
    const site = new SiteBuilder().relay('K1', EXACT).relay('K2', EXACT);
    const world = restOf(site);
    const course = new Course(world.shared, world, world, NOTHING_DONE);
    const [one, two] = [site.id('K1'), site.id('K2')];
    const first = course.schedule(one, START, exactly(1), { sort: 'timer' });
    const second = course.schedule(two, START, exactly(2), { sort: 'timer' });
    const third = course.schedule(one, START, exactly(3), { sort: 'trigger' });
    expect([first, second, third].map(({ rank, order }) => [rank, order])).toEqual([
      [1, 0],
      [2, 1],
      [3, 2],
    ]);
    expect(course.pendingOf(two, 'timer')).toBe(second);
    expect(course.pendingOf(two, 'trigger')).toBeUndefined();
    course.replace(first, { rank: 5 });
    expect(course.find(first)).toMatchObject({ rank: 5, order: 0, target: one });
    expect(course.find(second)).toBe(second);
    course.cancel(one, 'timer');
    expect(course.pendings).toEqual([second, third]);
    course.cancel(two, 'trigger');
    expect(course.pendings).toEqual([second, third]);
  });
});

describe('what a panel takes notice of', () => {
  const build = (facts: object) => {
    const made = new SiteBuilder();
    made.zone('Z1', 'ZC', { feedVolts: datum(5), feedOhms: datum(4700), bands: BANDS, ...facts } as never);
    return made.resistor('RE', 2200).wire('Z1', 'RE', 'ZC');
  };
  type Laid = readonly (readonly [time: Seconds | number, ...states: string[]])[];
  function branch(facts: object, laid: Laid, more: Partial<Branch> = {}): { branch: Branch; zone: number } {
    const made = build(facts);
    const world = restOf(made);
    const zone = made.id('Z1');
    const entries = laid.map(([time, ...states], i) => ({
      stamp: i === 0 ? START : typeof time === 'number' ? at(time) : later(START, time),
      world,
      epoch: i,
      events: [],
      held: new Map([[zone, states]]),
    }));
    const one: Branch = {
      entries: entries as unknown as Entry[],
      instants: [],
      stood: [],
      skips: [],
      decided: [],
      end: '',
    };
    return { branch: { ...one, ...more }, zone };
  }
  const told = (facts: object, laid: Laid) => {
    const made = branch(facts, laid);
    return reportsOf(made.branch, made.zone).map(({ from, states }) => [
      round(from.least),
      round(from.most),
      states.join('/'),
    ]);
  };
  const EXACTLY = { responds: datum(0.4), restores: datum(0.3) };

  test('has stood for its time, and is gone so long after it is gone', () => {
    expect(
      told(EXACTLY, [
        [0, 'normal'],
        [1, 'alarm'],
        [2, 'normal'],
      ]),
    ).toEqual([
      [0, 0, 'normal'],
      [1.4, 1.4, 'alarm'],
      [2.3, 2.3, 'normal'],
    ]);
  });

  test('is nothing that stands for less, and just what stands for it', () => {
    expect(
      told(EXACTLY, [
        [0, 'normal'],
        [1, 'alarm'],
        [1.39, 'normal'],
      ]),
    ).toEqual([[0, 0, 'normal']]);
    expect(
      told(EXACTLY, [
        [0, 'normal'],
        [1, 'alarm'],
        [1.4, 'normal'],
        [9, 'normal'],
      ]),
    ).toEqual([
      [0, 0, 'normal'],
      [1.4, 1.4, 'alarm'],
      [1.7, 1.7, 'normal'],
    ]);
    // Back for too short a time: the alarm is still told.
    expect(
      told(EXACTLY, [
        [0, 'normal'],
        [1, 'alarm'],
        [2, 'normal'],
        [2.2, 'alarm'],
      ]),
    ).toEqual([
      [0, 0, 'normal'],
      [1.4, 1.4, 'alarm'],
    ]);
  });

  test('is uncertain where it stands for long enough for some specimens', () => {
    const spread = { responds: datum([0.2, 0.4, 0.6]), restores: datum(0.3) };
    const usually = told(spread, [
      [0, 'normal'],
      [1, 'alarm'],
      [1.5, 'normal'],
    ]);
    expect(usually[1]).toEqual([1.2, 1.6, 'alarm/normal']);
    const hardly = told(spread, [
      [0, 'normal'],
      [1, 'alarm'],
      [1.3, 'normal'],
    ]);
    expect(hardly[1]).toEqual([1.2, 1.6, 'normal/alarm']);
    const surely = told(spread, [
      [0, 'normal'],
      [1, 'alarm'],
      [1.6, 'normal'],
    ]);
    expect(surely[1]).toEqual([1.2, 1.6, 'alarm']);
    expect(
      told(spread, [
        [0, 'normal'],
        [1, 'alarm'],
        [1.2, 'normal'],
      ]),
    ).toHaveLength(3);
    expect(
      told(spread, [
        [0, 'normal'],
        [1, 'alarm'],
        [1.199, 'normal'],
      ]),
    ).toHaveLength(1);
  });

  test('at once where no time is needed, but nothing that lasts for no time', () => {
    const quick = { responds: datum(0), restores: datum(0) };
    expect(
      told(quick, [
        [0, 'normal'],
        [1, 'alarm'],
        [2, 'normal'],
      ]).map(([least]) => least),
    ).toEqual([0, 1, 2]);
    expect(
      told(quick, [
        [0, 'normal'],
        [1, 'alarm'],
        [1, 'normal'],
      ]),
    ).toHaveLength(1);
  });

  test('needs its times', () => {
    const lacks = (facts: object) => {
      const made = branch(facts, [
        [0, 'normal'],
        [1, 'alarm'],
        [2, 'normal'],
      ]);
      return lacksOfReports(made.branch, made.zone).map(({ property }) => property);
    };
    expect(lacks({})).toEqual(['responds', 'restores']);
    expect(lacks({ responds: datum(0.4) })).toEqual(['restores']);
    expect(lacks(EXACTLY)).toEqual([]);
    const zone = { id: 3, kind: 'zone', responds: datum(1), restores: datum(2) } as unknown as ComponentOf<'zone'>;
    expect([responseOf(zone, false).usual, responseOf(zone, true).usual]).toEqual([1, 2]);
    const input = { id: 3, kind: 'input', responds: datum(1) } as unknown as ComponentOf<'input'>;
    expect([responseOf(input, false).usual, responseOf(input, true).usual]).toEqual([1, 1]);
  });

  test('holds, does not, or may', () => {
    const spread = { responds: datum([0.2, 0.4, 0.6]), restores: datum(0) };
    const made = branch(spread, [
      [0, 'normal'],
      [1, 'alarm'],
      [1.5, 'normal'],
      [3, 'alarm+masked'],
    ]);
    const is = (word: string) =>
      truthsOf(made.branch, { sort: 'component', component: made.zone }, { sort: 'state', word }).map(
        ({ is: one, from, to }) => [one, round(from.usual), to === undefined ? undefined : round(to.usual)],
      );
    expect(is('alarm')).toEqual([
      ['no', 0, 1.4],
      ['maybe', 1.4, 1.5],
      ['no', 1.5, 3.4],
      ['yes', 3.4, undefined],
    ]);
    expect(is('masked').map(([one]) => one)).toEqual(['no', 'yes']);
    expect(is('any')).toEqual([['yes', 0, undefined]]);
  });
});

describe('how often something is entered', () => {
  const truths = (...list: readonly (readonly [Truth['is'], Seconds, Seconds?])[]): readonly Truth[] =>
    list.map(([is, from, to], entry) => ({
      is,
      from: later(START, from),
      ...(to === undefined ? {} : { to: later(START, to) }),
      entry,
      judged: { holds: true, needs: [] },
    }));
  const branch = (more: Partial<Branch> = {}): Branch => ({
    entries: [],
    instants: [],
    stood: [],
    skips: [],
    decided: [],
    end: '',
    ...more,
  });
  const of = (list: readonly Truth[], more: Partial<Branch> = {}) => {
    const { least, most } = entriesOf(branch(more), list);
    return [least, most];
  };
  const [t0, t1, t2, t3, t4] = [0, 1, 2, 3, 4].map(exactly) as [Seconds, Seconds, Seconds, Seconds, Seconds];

  test('is once for each time that it begins, and not for what stood from the start', () => {
    expect(of(truths(['no', t0, t1], ['yes', t1, t2], ['no', t2]))).toEqual([1, 1]);
    expect(of(truths(['yes', t0, t1], ['no', t1, t2], ['yes', t2]))).toEqual([1, 1]);
    expect(of(truths(['yes', t0]))).toEqual([0, 0]);
    expect(of(truths(['no', t0, t1], ['yes', t1, t2], ['no', t2, t3], ['yes', t3]))).toEqual([2, 2]);
  });

  test('counts what may be only for the most', () => {
    expect(of(truths(['no', t0, t1], ['maybe', t1, t2], ['no', t2]))).toEqual([0, 1]);
    expect(of(truths(['no', t0, t1], ['maybe', t1, t2], ['yes', t2]))).toEqual([1, 1]);
    expect(of(truths(['no', t0, t1], ['maybe', t1, t2], ['maybe', t2, t3], ['maybe', t3, t4]))).toEqual([0, 2]);
  });

  test('passes over what lasts for no time, and over a gap that may not have been', () => {
    expect(of(truths(['no', t0, t1], ['yes', t1, t1], ['no', t1]))).toEqual([0, 0]);
    expect(of(truths(['no', t0, t1], ['yes', t1, t2], ['no', t2, t2], ['yes', t2]))).toEqual([1, 1]);
    const vague = takes(2, 3, 4);
    // The gap may be nothing, so that it may have been entered once or twice.
    expect(of(truths(['no', t0, t1], ['yes', t1, t2], ['no', t2, vague], ['yes', vague]))).toEqual([1, 2]);
    expect(of(truths(['no', t0, t1], ['unknown', t1, t2], ['yes', t2]))).toEqual([1, 1]);
  });

  test('is as often as the rounds come that are passed over, or without end', () => {
    const skip = { before: 0, last: 1, rounds: 5, from: at(1), to: at(9) };
    expect(of(truths(['no', t0, t1], ['yes', t1, t2], ['no', t2]), { skips: [skip] })).toEqual([6, 6]);
    expect(of(truths(['no', t0, t1], ['yes', t1]), { skips: [{ ...skip, before: 1, last: 2 }] })).toEqual([1, 1]);
    const endless = { from: 0, period: exactly(1), parts: [], oscillates: false };
    const ever = Number.POSITIVE_INFINITY;
    expect(of(truths(['no', t0, t1], ['yes', t1, t2], ['no', t2]), { endless })).toEqual([ever, ever]);
    expect(of(truths(['no', t0, t1], ['yes', t1]), { endless: { ...endless, from: 1 } })).toEqual([1, 1]);
  });
});

describe('a verdict over several orders of events', () => {
  const site = new SiteBuilder();
  site
    .switch('S1', 'make')
    .supply('G1', { volts: datum(12) })
    .resistor('R1', 120)
    .wire('G1.plus', 'S1', 'R1', 'G1.minus');
  const world = restOf(site);
  const asked = (word: string): Expect => site.expect('S1', word);
  const branch = (expect_: Expect, words: string): Branch => ({
    entries: [],
    instants: [{ stamp: START, time: exactly(0), label: '', world, doings: NOTHING_DONE, turns: [], byItself: false }],
    stood: [{ expect: expect_, stamp: START, since: START, instant: 0, epoch: 0 }],
    skips: [],
    decided: words === '' ? [] : [{ words, components: [] }],
    end: '',
  });
  const over = (complete: boolean, ...branches: readonly Branch[]): Pick<Verdict, 'holds' | 'order' | 'reason'> => {
    const { holds, order, reason } = verdictOver(branches, 0, complete);
    return { holds, ...(order === undefined ? {} : { order }), ...(reason === undefined ? {} : { reason }) };
  };
  const [good, bad] = [asked('open'), asked('closed')];

  test('is that of all of them where they agree', () => {
    expect(over(true, branch(good, ''), branch(good, 'A before B'))).toEqual({ holds: true });
    expect(over(true, branch(bad, ''), branch(bad, 'A before B'))).toEqual({ holds: false });
  });

  test('is the worst, with the order that makes the difference', () => {
    expect(over(true, branch(good, ''), branch(good, 'A before B'), branch(bad, 'C before D'))).toEqual({
      holds: false,
      order: 'C before D',
      reason: 'the order decides: not with C before D',
    });
    expect(over(true, branch(bad, ''), branch(good, 'A before B')).holds).toBe(false);
  });

  test('is no pass where not every order was followed', () => {
    expect(over(false, branch(good, ''))).toEqual({
      holds: 'not-evaluated',
      reason: 'events overlap in more orders than are followed',
    });
    expect(over(false, branch(bad, ''))).toEqual({ holds: false });
  });
});
