/** Times as chains of delays, stretches between them, and who watches whom: each by itself, worked by hand. */
import type { ComponentOf } from '@couplet/engine';
import { describe, expect, test } from 'vitest';
import type { Branch, Entry } from '../../../packages/engine/src/time/branch.ts';
import { seconds, skip, spread } from '../../../packages/engine/src/time/rounds.ts';
import { isPossible, isSure, lengthOf, stretchesBy } from '../../../packages/engine/src/time/segments.ts';
import {
  assumptionsOf,
  between,
  lacksOf,
  after as later,
  notBefore,
  type Seconds,
  START,
  type Stamp,
  sum,
} from '../../../packages/engine/src/time/stamp.ts';
import { confirmsNow, followHolds, followWord, sideOf, Watch } from '../../../packages/engine/src/time/watch.ts';
import { datum } from '../../support/data.ts';
import { SiteBuilder } from '../../support/site.ts';

const takes = (least: number, usual: number, most: number): Seconds => ({ least, usual, most });
const exactly = (time: number): Seconds => takes(time, time, time);
const timeOf = ({ least, usual, most }: Seconds): number[] => [least, usual, most];

describe('stamps', () => {
  const press = later(START, takes(1, 2, 4));
  const relay = later(press, takes(0.1, 0.2, 0.5));
  const other = later(press, takes(0.3, 0.3, 0.4));

  test('add up from the beginning of the case', () => {
    expect(timeOf(sum(takes(1, 2, 3), takes(10, 20, 30)))).toEqual([11, 22, 33]);
    expect(timeOf(press)).toEqual([1, 2, 4]);
    expect(timeOf(relay)).toEqual([1.1, 2.2, 4.5]);
    expect([START.depth, press.depth, relay.depth, relay.cause]).toEqual([0, 1, 2, press]);
  });

  test('two events share the delays that they have in common', () => {
    const gap = (from: Stamp, to: Stamp) => timeOf(between(from, to)).map((time) => Number(time.toFixed(9)));
    expect(gap(press, relay)).toEqual([0.1, 0.2, 0.5]);
    expect(gap(relay, press)).toEqual([-0.5, -0.2, -0.1]);
    expect(gap(relay, other)).toEqual([-0.2, 0.1, 0.3]);
    expect(gap(START, other)).toEqual([1.3, 2.3, 4.4]);
    expect(gap(relay, relay)).toEqual([0, 0, 0]);
  });

  test('an event that is known to come later is never taken to come first', () => {
    const held = notBefore(other, relay);
    expect(timeOf(between(relay, held))[0]).toBe(0);
    const follows = later(held, takes(1, 2, 3));
    const [least, usual, most] = timeOf(between(relay, follows));
    expect([least, usual, most].map((time) => Number(time!.toFixed(9)))).toEqual([1, 2.1, 3.3]);
    // Usually it would come before; then what follows on it alone counts.
    const early = notBefore(later(press, exactly(0.1)), relay);
    expect(timeOf(between(relay, later(early, takes(1, 2, 3)))).map((time) => Number(time.toFixed(9)))).toEqual([
      1, 2, 3,
    ]);
  });

  test('what has no bound is so late that nothing waits for it', () => {
    const never = later(press, takes(1, Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY));
    expect([never.least, Number.isFinite(never.usual), never.most > 1e8]).toEqual([2, true, true]);
    expect(timeOf(between(never, never))).toEqual([0, 0, 0]);
  });

  test('what a time lacks and what was taken for granted are those of its whole chain', () => {
    const one = later(START, {
      ...exactly(1),
      lacks: [{ component: 1, property: 'x' }],
      assumptions: ['b taken', 'a taken'],
    });
    const two = later(one, { ...exactly(1), lacks: [{ component: 2, property: 'y' }], assumptions: ['a taken'] });
    expect(lacksOf(two).map(({ property }) => property)).toEqual(['y', 'x']);
    expect(assumptionsOf(two)).toEqual(['a taken', 'b taken']);
    expect([lacksOf(START), assumptionsOf(START)]).toEqual([[], []]);
  });
});

describe('stretches', () => {
  function branchOf(times: readonly Stamp[], more: Partial<Branch> = {}): Branch {
    const entries = times.map((stamp) => ({ stamp }) as Entry);
    return { entries, instants: [], stood: [], skips: [], decided: [], end: '', ...more };
  }
  const at = (time: number) => later(START, exactly(time));
  const of = (states: readonly string[], branch: Branch) => {
    const found = stretchesBy(branch, (entry) => [states[branch.entries.indexOf(entry)]!]);
    return found.map(({ states: [state], from, to, entry, until }) => [state, from.usual, to?.usual, entry, until]);
  };

  test('go on while nothing changes, and the last one stays', () => {
    const branch = branchOf([START, at(1), at(2), at(5)]);
    expect(of(['off', 'on', 'on', 'off'], branch)).toEqual([
      ['off', 0, 1, 0, 1],
      ['on', 1, 5, 1, 3],
      ['off', 5, undefined, 3, 4],
    ]);
    expect(of(['on', 'on', 'on', 'on'], branch)).toEqual([['on', 0, undefined, 0, 4]]);
  });

  test('of an endless branch the last entry begins the next round', () => {
    const branch = branchOf([START, at(1), at(2), at(3)], {
      endless: { from: 1, period: exactly(2), parts: [], oscillates: true },
    });
    expect(of(['off', 'on', 'off', 'on'], branch)).toEqual([
      ['off', 0, 1, 0, 1],
      ['on', 1, 2, 1, 2],
      ['off', 2, 3, 2, 3],
    ]);
    // What has not changed for a whole round stays for ever.
    expect(of(['off', 'on', 'on', 'on'], branch).at(-1)).toEqual(['on', 1, undefined, 1, 4]);
  });

  test('rounds that are passed over end in the first as they do in the last', () => {
    // On at 1, off at 2, and again from 11 on: the stretch over the skip ends at 3 and begins anew 10 s later.
    const [from, to] = [at(2), at(12)];
    const branch = branchOf([START, at(1), from, at(13), at(14)], {
      skips: [{ before: 0, last: 2, rounds: 5, from, to }],
    });
    const states = ['off', 'on', 'off', 'on', 'off'];
    expect(of(states, branch)).toEqual([
      ['off', 0, 1, 0, 1],
      ['on', 1, 2, 1, 2],
      ['off', 2, 3, 2, 2],
      ['off', 12, 13, 2, 3],
      ['on', 13, 14, 3, 4],
      ['off', 14, undefined, 4, 5],
    ]);
  });

  test('are as long as what lies between their ends, and without end where they stay', () => {
    const press = later(START, takes(1, 2, 4));
    const stretch = { from: press, to: later(press, takes(0, 1, 2)) };
    expect(timeOf(lengthOf(stretch))).toEqual([0, 1, 2]);
    expect([isSure(stretch), isPossible(stretch)]).toEqual([false, true]);
    expect(timeOf(lengthOf({ from: press }))).toEqual([1, 1, 1].map(() => Number.POSITIVE_INFINITY));
    expect([isSure({ from: press }), isPossible({ from: press, to: press })]).toEqual([true, false]);
    expect(isSure({ from: press, to: later(press, exactly(1)) })).toBe(true);
  });
});

describe('rounds', () => {
  test('as many whole ones as there are before the end but one are passed over, with their spread', () => {
    const course = () => ({
      now: later(START, exactly(10)),
      rank: 10,
      pendings: [
        { rank: 11, stamp: later(START, exactly(11)), event: { sort: 'relay' } },
        { rank: 90, stamp: later(START, exactly(90)), event: { sort: 'back' } },
      ],
    });
    const before = course();
    const skipped = skip(before as never, takes(1.5, 2, 3), 21)!;
    // (21 − 10) / 2 is five rounds and a half: four are passed over.
    expect(skipped.rounds).toBe(4);
    expect(timeOf(between(skipped.from, skipped.to))).toEqual([6, 8, 12]);
    expect([before.rank, before.now]).toEqual([18, skipped.to]);
    expect(before.pendings.map(({ rank }) => rank)).toEqual([19, 90]);
    expect(timeOf(before.pendings[0]!.stamp)).toEqual([17, 19, 23]);
    expect(skip(course() as never, exactly(2), 14)!.rounds).toBe(1);
    expect(skip(course() as never, exactly(2), 13.9)).toBeUndefined();
  });

  test('times are shown with their spread where they have one', () => {
    expect([seconds(1.23456789), spread(exactly(2)), spread(takes(1, 2, 4))]).toEqual([
      '1.23457 s',
      '2 s',
      '2 s (1 s .. 4 s)',
    ]);
  });
});

describe('who watches whom', () => {
  const s = new SiteBuilder().zone('Z1', 'C1').zone('Z2', 'C2').zone('Z3', 'C3').unit('u');
  s.output('Q1', 'sink').output('Q2', 'sink').output('Q3', 'sink').confirm('CF', ['Z1', 'Z2', 'Z1']);
  s.follow('Q1', ['Z1', 'alarm'], ['Z1', 'tamper']).follow('Q2', ['CF', 'confirmed'], ['Z3', 'alarm']);
  const watch = new Watch(s.build());
  const id = (name: string) => s.id(name);

  test('outputs follow readers, straight or through a confirmation, each once', () => {
    expect(watch.outputs).toEqual([id('Q1'), id('Q2')]);
    expect(watch.followersOf(id('Z1'))).toEqual([id('Q1'), id('Q2')]);
    expect(watch.followersOf(id('Z2'))).toEqual([id('Q2')]);
    expect(watch.followersOf(id('Z3'))).toEqual([id('Q2')]);
    expect(watch.followersOf(id('Q3'))).toEqual([]);
    expect(watch.confirms.get(id('Z1'))).toEqual([id('CF')]);
    expect([id('Z1'), id('Z2'), id('Z3'), id('u')].map((each) => watch.isWatched(each))).toEqual([
      true,
      true,
      true,
      false,
    ]);
    expect(watch.isEmpty).toBe(false);
    expect(new Watch(new SiteBuilder().zone('Z1', 'C1').output('Q1', 'sink').build()).isEmpty).toBe(true);
    const alone = new SiteBuilder().zone('Z1', 'C1').zone('Z2', 'C2').confirm('CF', ['Z1', 'Z2']);
    expect(new Watch(alone.build()).isEmpty).toBe(false);
  });

  test('the class of a zone is alarm, normal or trouble to a confirmation', () => {
    expect(sideOf('alarm', 'normal')).toBe('alarm');
    expect(sideOf('masked+alarm', 'normal')).toBe('alarm');
    expect(sideOf('normal', undefined)).toBe('normal');
    expect(sideOf('quiet', 'quiet')).toBe('normal');
    expect(sideOf('open', 'normal')).toBe('trouble');
    expect(sideOf(undefined, undefined)).toBe('trouble');
  });

  test('two alarms confirm, one beside trouble only where that counts', () => {
    const confirm = (word?: string) =>
      ({
        kind: 'confirm',
        zones: [],
        ...(word === undefined ? {} : { partnerInTrouble: { word, origin: -1 } }),
      }) as never as ComponentOf<'confirm'>;
    expect(confirmsNow(confirm(), ['alarm', 'alarm', 'normal'])).toBe(true);
    expect(confirmsNow(confirm(), ['alarm', 'normal'])).toBe(false);
    expect(confirmsNow(confirm(), ['alarm', 'trouble'])).toBe(false);
    expect(confirmsNow(confirm('counts-alone'), ['alarm', 'trouble'])).toBe(true);
    expect(confirmsNow(confirm('counts-alone'), ['alarm', 'normal'])).toBe(false);
    expect(confirmsNow(confirm('counts-alone'), ['trouble', 'trouble'])).toBe(false);
    expect(confirmsNow(confirm('blocks'), ['alarm', 'trouble'])).toBe(false);
  });

  test('an output is on, or pulses, while anything that it follows holds', () => {
    const follows = [
      { component: 1, word: 'alarm', origin: -1 },
      { component: 2, word: 'open', origin: -1 },
    ];
    const holds = (...states: readonly (string | undefined)[]) => followHolds(follows, (part) => states[part]);
    expect(holds(undefined, 'alarm', 'normal')).toBe(true);
    expect(holds(undefined, 'normal', 'short+open')).toBe(true);
    expect(holds(undefined, 'normal', 'alarm')).toBe(false);
    expect(holds(undefined, undefined, undefined)).toBe(false);
    const output = { kind: 'output' } as never as ComponentOf<'output'>;
    expect([followWord(output, false), followWord(output, true)]).toEqual(['off', 'on']);
    const pulsing = { kind: 'output', pattern: { on: datum(1), off: datum(1) } } as never as ComponentOf<'output'>;
    expect([followWord(pulsing, false), followWord(pulsing, true)]).toEqual(['off', 'pulsing']);
  });
});
