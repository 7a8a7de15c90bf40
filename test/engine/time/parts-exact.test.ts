/** Steps of a course, each by itself and by hand: natural modes, delays of relays, events and where relays stand. */
import type { ComponentOf } from '@couplet/engine';
import { describe, expect, test } from 'vitest';
import type { Decision } from '../../../packages/engine/src/analysis/decision.ts';
import { NOTHING_DONE } from '../../../packages/engine/src/analysis/doings.ts';
import { finish } from '../../../packages/engine/src/analysis/moment.ts';
import { settling } from '../../../packages/engine/src/analysis/settle.ts';
import { Shared } from '../../../packages/engine/src/analysis/shared.ts';
import { Model } from '../../../packages/engine/src/build/index.ts';
import { Course } from '../../../packages/engine/src/time/course.ts';
import { modesOf } from '../../../packages/engine/src/time/modes.ts';
import { goalOf, moveDelay, suppressionsOf } from '../../../packages/engine/src/time/moving.ts';
import { earlier, goalKey, isSlow, type Pending } from '../../../packages/engine/src/time/pending.ts';
import { type Seconds, START } from '../../../packages/engine/src/time/stamp.ts';
import { choice, datum } from '../../support/data.ts';
import { SiteBuilder } from '../../support/site.ts';
import { EXACT } from './support.ts';

const takes = (least: number, usual: number, most: number): Seconds => ({ least, usual, most });
const exactly = (time: number): Seconds => takes(time, time, time);
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
