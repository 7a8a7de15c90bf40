/** Which cases must be played through time, and the signals of a course that is laid out by hand. */
import { type Case, NO_ORIGIN, type Step } from '@couplet/engine';
import { describe, expect, test } from 'vitest';
import type { Decision } from '../../../packages/engine/src/analysis/decision.ts';
import { NOTHING_DONE, withTurn } from '../../../packages/engine/src/analysis/doings.ts';
import { finish } from '../../../packages/engine/src/analysis/moment.ts';
import { settling } from '../../../packages/engine/src/analysis/settle.ts';
import { Shared } from '../../../packages/engine/src/analysis/shared.ts';
import type { Instant } from '../../../packages/engine/src/analysis/timeline.ts';
import { Model } from '../../../packages/engine/src/build/index.ts';
import type { Branch, Entry } from '../../../packages/engine/src/time/branch.ts';
import { movesByItself } from '../../../packages/engine/src/time/line.ts';
import type { Pending } from '../../../packages/engine/src/time/pending.ts';
import { originAt, signalsIn } from '../../../packages/engine/src/time/signals.ts';
import { after as later, type Seconds, START, type Stamp } from '../../../packages/engine/src/time/stamp.ts';
import { atMost, choice, datum } from '../../support/data.ts';
import { SiteBuilder } from '../../support/site.ts';
import { BANDS, EXACT, round } from './support.ts';

const takes = (least: number, usual: number, most: number): Seconds => ({ least, usual, most });
const exactly = (time: number): Seconds => takes(time, time, time);
const at = (time: number): Stamp => later(START, exactly(time));

describe('a case must be played', () => {
  const site = new SiteBuilder().switch('S1', 'make').resistor('R1', 1).relay('K1', EXACT);
  const case_ = (...steps: readonly Step[]): Case => ({ name: 'it', steps, origin: NO_ORIGIN });
  const DOWN: Decision = { usual: 'released', possible: ['released'], lacks: [] };
  const UP: Decision = { usual: 'operated', possible: ['operated'], lacks: [] };
  const UNSURE: Decision = { usual: 'released', possible: ['released', 'operated'], lacks: [] };

  interface Facts {
    readonly time?: Seconds;
    /** Parts whose islands have changed. */
    readonly parts?: readonly object[];
    readonly relay?: Decision;
    readonly word?: string;
    readonly watched?: boolean;
    readonly role?: string;
  }
  const relay = { id: 0, kind: 'relay', operateTime: datum(0.006), releaseTime: atMost(0.004) };
  function instant({
    time = exactly(0),
    parts = [],
    relay: one = DOWN,
    word = '',
    watched = false,
    role = 'main',
  }: Facts) {
    const elements = parts.map((component) => ({ component, rule: { role } }));
    const world = {
      dirty: elements.length === 0 ? [] : [{ elements }],
      decisions: one === DOWN ? new Map() : new Map([[0, one]]),
      decision: () => one,
      word: () => word,
      design: { components: [relay] },
      shared: { watch: { isWatched: () => watched } },
    };
    return { time, world } as unknown as Instant;
  }
  const must = (one: Case, ...instants: readonly Instant[]) => movesByItself(one, { instants, circles: false });
  const turned = case_(site.turn('S1', 'closed'));

  test('where relays influence themselves or each other', () => {
    expect(movesByItself(turned, { instants: [], circles: true })).toBe(true);
    expect(must(turned)).toBe(false);
  });

  test('where its own times have a spread', () => {
    expect(must(case_(site.wait(1), site.turn('S1', 'closed', { for: 2 })))).toBe(false);
    expect(must(case_(site.wait([1, 2]), site.turn('S1', 'closed')))).toBe(true);
    expect(must(case_(site.wait(1), site.turn('S1', 'closed', { for: [1, 2] })))).toBe(true);
    expect(must(case_(site.turn('S1', 'closed'), site.expect('K1', 'operated', { within: [1, 2] })))).toBe(false);
  });

  test('where it asks how often or throughout, and anything happens', () => {
    const often = case_(site.turn('S1', 'closed'), site.expect('K1', 'operated', { times: 1 }));
    const throughout = case_(site.turn('S1', 'closed'), site.expect('K1', 'operated', { throughout: true }));
    const plainly = case_(site.turn('S1', 'closed'), site.expect('K1', 'operated', { throughout: false }));
    for (const one of [often, throughout]) {
      expect(must(one, instant({}))).toBe(false);
      expect(must(one, instant({}), instant({}))).toBe(true);
    }
    expect(must(plainly, instant({}), instant({}))).toBe(false);
  });

  test.each([
    ['a capacitor', { kind: 'capacitor' }, {}, true],
    ['a resistor', { kind: 'resistor' }, {}, false],
    ['a timer', { kind: 'relay', timer: {} }, {}, true],
    ['a latching relay', { kind: 'relay', latching: {} }, {}, true],
    ['an ordinary relay', { kind: 'relay' }, {}, false],
    ['an output with a pattern that pulses', { kind: 'output', pattern: {} }, { word: 'pulsing' }, true],
    ['an output with a pattern that is on', { kind: 'output', pattern: {} }, { word: 'on' }, false],
    ['an output without one that pulses', { kind: 'output' }, { word: 'pulsing' }, false],
    ['an output that gives a pulse', { kind: 'output', pulseLength: {} }, { word: 'on' }, true],
    ['one that is off', { kind: 'output', pulseLength: {} }, { word: 'off' }, false],
    ['one that stays on', { kind: 'output' }, { word: 'on' }, false],
    ['a zone that something follows', { kind: 'zone' }, { watched: true }, true],
    ['a zone that nothing follows', { kind: 'zone' }, {}, false],
    ['the loop of a zone that something follows', { kind: 'zone' }, { watched: true, role: 'feed' }, false],
  ] as const)('by what changes in it: %s', (_, part, facts, wanted) => {
    const changed = instant({ parts: [{ id: 5, ...part }], ...facts });
    expect(must(turned, instant({}), changed)).toBe(wanted);
    // What stood so at the beginning does not count.
    expect(must(turned, changed, instant({}))).toBe(false);
    expect(must(turned, instant({}), instant({ parts: [{ id: 6, kind: 'resistor' }] }), changed)).toBe(wanted);
  });

  test('where an event comes before the relays of the one before have certainly followed', () => {
    // K1 operates in exactly 6 ms.
    const follows = (gap: number, first: Decision = UP) =>
      must(turned, instant({}), instant({ relay: first }), instant({ time: exactly(gap), relay: first }));
    expect(follows(0.005)).toBe(true);
    expect(follows(0.006)).toBe(false);
    expect(follows(0, DOWN)).toBe(false);
    // One that may operate counts as one that does.
    expect(follows(0.005, UNSURE)).toBe(true);
    // From the latest end of the first to the earliest of the second.
    const spread = (earliest: number) =>
      must(
        turned,
        instant({}),
        instant({ relay: UP, time: takes(0, 0, 0.001) }),
        instant({ time: takes(earliest, 1, 1), relay: UP }),
      );
    expect(spread(0.0069)).toBe(true);
    expect(spread(0.0071)).toBe(false);
    // It releases in 4 ms at most.
    const releases = (gap: number) =>
      must(turned, instant({ relay: UP }), instant({ relay: DOWN }), instant({ time: exactly(gap) }));
    expect(releases(0.0039)).toBe(true);
    expect(releases(0.004)).toBe(false);
    // Only events after the first can be too early.
    expect(must(turned, instant({ relay: UP }), instant({ relay: DOWN }))).toBe(false);
  });

  test('and before its zones have: the longer of responding and restoring, after all relays', () => {
    const follows = (gap: number, kind: string, facts: object) =>
      must(
        turned,
        instant({}),
        instant({ relay: UP, parts: [{ id: 5, kind, ...facts }] }),
        instant({ time: exactly(gap), relay: UP }),
      );
    const zone = { responds: datum(0.4), restores: datum(0.3) };
    expect([follows(0.405, 'zone', zone), follows(0.407, 'zone', zone)]).toEqual([true, false]);
    const slow = { responds: datum(0.4), restores: datum(0.5) };
    expect([follows(0.505, 'zone', slow), follows(0.507, 'zone', slow)]).toEqual([true, false]);
    expect([
      follows(0.405, 'input', { responds: datum(0.4) }),
      follows(0.407, 'input', { responds: datum(0.4) }),
    ]).toEqual([true, false]);
    expect(follows(0.007, 'load', { responds: datum(0.4) })).toBe(false);
  });
});

describe('signals', () => {
  const site = new SiteBuilder();
  site.zone('Z1', 'ZC', { feedVolts: datum(5), feedOhms: datum(4700), bands: BANDS }).resistor('RE', 2200);
  site
    .wire('Z1', 'RE', 'ZC')
    .supply('G1', { volts: datum(12) })
    .relay('K1', EXACT)
    .load('P1', 'resistive', {
      sort: 'ohms',
      ohms: datum(100),
    });
  const zone = site.id('Z1');
  const world = () => finish(settling(new Shared(new Model(site.build())), NOTHING_DONE)).world;

  interface Laid {
    readonly time: Stamp;
    readonly states: readonly string[];
    readonly epoch?: number;
    readonly events?: readonly Pending[];
  }
  /** Entries at which the zone reads something, each of an epoch of its own unless it is said. */
  function branch(laid: readonly Laid[], part = 'Z1'): Branch {
    const component = site.components[site.id(part)]!;
    const entries = laid.map(({ time, states, epoch, events = [] }, i) => ({
      stamp: time,
      world: { dirty: [{ elements: [{ component }] }], design: site.build() },
      epoch: epoch ?? i,
      events,
      held: new Map([[component.id, states]]),
    }));
    return {
      entries: entries as unknown as readonly Entry[],
      instants: [],
      stood: [],
      skips: [],
      decided: [],
      end: '',
    };
  }
  const line = (name: string): Pending => {
    const turn = { sort: 'turn', target: 0, state: 'on', origin: Number(name) } as const;
    return { target: 0, stamp: START, rank: 0, order: 0, event: { sort: 'line', turns: [turn] } };
  };
  const told = (...branches: readonly Branch[]) =>
    signalsIn(branches, world()).map(({ component, className, shortest, longest, gap, origin }) => {
      expect(component).toBe(zone);
      const numbers = [shortest, longest, ...(gap === undefined ? [] : [gap])].map(round);
      return [className, ...numbers, origin];
    });

  test('are stretches in which a zone reads other than at rest, each from the turn that brought it', () => {
    const made = branch([
      { time: START, states: ['normal'] },
      { time: later(START, takes(1, 1.1, 1.2)), states: ['alarm'], events: [line('7')] },
      { time: later(START, takes(3, 3.1, 3.4)), states: ['normal'] },
      { time: later(START, takes(6, 6, 6)), states: ['open'], events: [line('8')] },
      { time: later(START, takes(8, 8, 8)), states: ['normal'] },
    ]);
    // 3 − 1.2 to 3.4 − 1 s; then 2 s, 6 − 3.4 s after the one before.
    expect(told(made)).toEqual([
      ['alarm', 1.8, 2.4, 7],
      ['open', 2, 2, 2.6, 8],
    ]);
  });

  test('have no gap before them where they follow upon another class', () => {
    const made = branch([
      { time: START, states: ['normal'] },
      { time: at(1), states: ['alarm'], events: [line('7')] },
      { time: at(2), states: ['open'], events: [line('8')] },
      { time: at(4), states: ['normal'] },
    ]);
    expect(told(made)).toEqual([
      ['alarm', 1, 1, 7],
      ['open', 2, 2, 8],
    ]);
  });

  test('last without end where nothing ends them; neither they nor the gap before them are negative', () => {
    const made = branch([
      { time: START, states: ['normal'] },
      { time: later(START, takes(1, 2, 4)), states: ['alarm'], events: [line('7')] },
      { time: later(START, takes(3, 3, 3)), states: ['normal'] },
      { time: later(START, takes(2, 5, 6)), states: ['alarm'], events: [line('8')] },
    ]);
    expect(signalsIn([made], world()).map(({ shortest, longest, gap }) => [shortest, longest, gap])).toEqual([
      [0, 2, undefined],
      [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, 0],
    ]);
  });

  test('are not made of what is read while relays move after one and the same doing', () => {
    const made = branch([
      { time: START, states: ['normal'], epoch: 0 },
      { time: at(1), states: ['open'], epoch: 1, events: [line('7')] },
      { time: at(1.1), states: ['alarm'], epoch: 1 },
      { time: at(2), states: ['normal'], epoch: 2 },
    ]);
    expect(told(made)).toEqual([['alarm', 0.9, 0.9, 7]]);
  });

  test('are one where only what else is possible changes', () => {
    const made = branch([
      { time: START, states: ['normal'] },
      { time: at(1), states: ['alarm', 'open'], events: [line('7')] },
      { time: at(2), states: ['alarm'] },
      { time: at(4), states: ['alarm', 'normal'] },
      { time: at(5), states: ['normal'] },
    ]);
    expect(told(made)).toEqual([['alarm', 4, 4, 7]]);
    const open = branch([
      { time: START, states: ['normal'] },
      { time: at(1), states: ['alarm', 'open'], events: [line('7')] },
      { time: at(2), states: ['alarm'] },
    ]);
    expect(signalsIn([open], world())[0]).toMatchObject({ shortest: Number.POSITIVE_INFINITY });
  });

  test('are merged over all orders of events: the shortest, the longest and the least gap', () => {
    const laid = (from: number, to: number, again: number) =>
      branch([
        { time: START, states: ['normal'] },
        { time: at(from), states: ['alarm'], events: [line('7')] },
        { time: at(to), states: ['normal'] },
        { time: at(again), states: ['alarm'], events: [line('8')] },
        { time: at(9), states: ['normal'] },
      ]);
    expect(told(laid(1, 3, 5), laid(1, 2, 5), laid(1, 4, 5))).toEqual([
      ['alarm', 1, 3, 7],
      ['alarm', 4, 4, 1, 8],
    ]);
    const other = branch([
      { time: START, states: ['normal'] },
      { time: at(1), states: ['open'], events: [line('7')] },
      { time: at(2), states: ['normal'] },
    ]);
    // Another class, or from another turn, is another signal.
    expect(told(other, laid(1, 3, 5))).toEqual([
      ['open', 1, 1, 7],
      ['alarm', 2, 2, 7],
      ['alarm', 4, 4, 2, 8],
    ]);
  });

  test('are told of zones, inputs and relays that remember, and of nothing else', () => {
    const laid: readonly Laid[] = [
      { time: START, states: ['off'] },
      { time: at(1), states: ['on'], events: [line('7')] },
    ];
    expect(signalsIn([branch(laid, 'P1')], world())).toEqual([]);
    expect(signalsIn([branch(laid, 'K1')], world())).toEqual([]);
  });

  test('stand where the last turn stood, or what goes back of one', () => {
    const back: Pending = {
      ...line('9'),
      event: { sort: 'back', turn: { sort: 'turn', target: 0, state: 'on', origin: 9 } },
    };
    const empty: Pending = { ...line('1'), event: { sort: 'line', turns: [] } };
    const made = branch([
      { time: START, states: [] },
      { time: at(1), states: [], events: [line('7')] },
      { time: at(2), states: [], events: [empty] },
      { time: at(3), states: [], events: [back] },
    ]);
    expect([0, 1, 2, 3].map((entry) => originAt(made, entry))).toEqual([NO_ORIGIN, 7, 7, 9]);
  });

  test('a latching relay is driven by what certainly throws it, either way', () => {
    const driven = new SiteBuilder().supply('G1', { volts: datum(12) }).switch('S1', 'make');
    driven.relay('K1', { ...EXACT, operates: datum(12), latching: choice('reversing'), rest: choice('reset') });
    driven.wire('G1.plus', 'S1', 'K1.A2').wire('K1.A1', 'G1.minus');
    const shared = new Shared(new Model(driven.build()));
    const rest = finish(settling(shared, NOTHING_DONE)).world;
    const doings = withTurn(driven.build(), NOTHING_DONE, driven.turn('S1', 'closed'))!;
    const reset = finish(settling(shared, doings, rest)).world;
    const entry = (time: Stamp, world: unknown) => ({ stamp: time, world, epoch: 0, events: [], held: new Map() });
    const made = {
      entries: [entry(START, rest), entry(at(1), reset), entry(at(3), rest)],
      skips: [],
    } as unknown as Branch;
    // Exactly the 12 V that throw it, with minus at A1.
    expect(signalsIn([made], rest).map(({ className, shortest }) => [className, shortest])).toEqual([['reset', 2]]);
  });
});
