/** What panels take notice of, how often something is entered, and verdicts over several orders: by hand. */
import type { ComponentOf, Expect, Verdict } from '@couplet/engine';
import { describe, expect, test } from 'vitest';
import { NOTHING_DONE } from '../../../packages/engine/src/analysis/doings.ts';
import { finish } from '../../../packages/engine/src/analysis/moment.ts';
import { settling } from '../../../packages/engine/src/analysis/settle.ts';
import { Shared } from '../../../packages/engine/src/analysis/shared.ts';
import { Model } from '../../../packages/engine/src/build/index.ts';
import type { Branch, Entry } from '../../../packages/engine/src/time/branch.ts';
import { entriesOf, verdictOver } from '../../../packages/engine/src/time/judging.ts';
import { responseOf } from '../../../packages/engine/src/time/readers.ts';
import { lacksOfReports, reportsOf, type Truth, truthsOf } from '../../../packages/engine/src/time/segments.ts';
import { after as later, type Seconds, START, type Stamp } from '../../../packages/engine/src/time/stamp.ts';
import { datum } from '../../support/data.ts';
import { SiteBuilder } from '../../support/site.ts';
import { BANDS, round } from './support.ts';

const takes = (least: number, usual: number, most: number): Seconds => ({ least, usual, most });
const exactly = (time: number): Seconds => takes(time, time, time);
const at = (time: number): Stamp => later(START, exactly(time));
const restOf = (site: SiteBuilder) => finish(settling(new Shared(new Model(site.build())), NOTHING_DONE)).world;

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
