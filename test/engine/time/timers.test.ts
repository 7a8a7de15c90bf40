/** Timers through time, worked by hand. */
import { analyse } from '@couplet/engine';
import { describe, expect, it } from 'vitest';
import { choice, datum } from '../../support/data.ts';
import { SiteBuilder } from '../../support/site.ts';
import { BANDS, caseOf, EXACT, lineOf, verdictsOf } from './support.ts';

const ELECTRONICS = { works: datum([9, 16]), draws: datum(0.02) } as const;
type Timed = NonNullable<Parameters<SiteBuilder['relay']>[1]>['timed'];

/** A timer fed from G1, its control B1 worked by S1, a lamp behind its make contact; S2 takes its supply away. */
function controlled(timed: NonNullable<Timed>): SiteBuilder {
  const s = new SiteBuilder();
  s.supply('G1', { volts: datum(12) });
  s.relay('K1', { timed: { ...ELECTRONICS, control: true, ...timed } });
  s.switch('S1', 'make').switch('S2', 'break');
  s.load('P1', 'resistive', { sort: 'ohms', ohms: datum(100) }, { works: datum([9, 16]) });
  s.wire('G1.plus', 'S2', 'K1.A1-A2', 'G1.minus').wire('G1.plus', 'S1', 'K1.B1');
  return s.wire('G1.plus', 'K1.11-14', 'P1', 'G1.minus');
}

/** A timer that its supply starts, through S1. */
function fed(timed: NonNullable<Timed>): SiteBuilder {
  const s = new SiteBuilder();
  s.supply('G1', { volts: datum(12) });
  s.relay('K1', { timed: { ...ELECTRONICS, ...timed } });
  s.switch('S1', 'make');
  return s.wire('G1.plus', 'S1', 'K1.A1-A2', 'G1.minus');
}

/** The line of K1 in a case of presses of S1: at which second, for how long. */
function pressed(s: SiteBuilder, ...presses: readonly (readonly [at: number, lasts: number])[]): readonly string[] {
  let now = 0;
  const steps = presses.flatMap(([at, lasts]) => {
    const wait = s.wait(at - now);
    now = at;
    return [wait, s.turn('S1', 'closed', { for: lasts })];
  });
  s.case('it', ...steps);
  const analysis = analyse(s.build());
  expect(analysis.problems).toEqual([]);
  return lineOf(s, caseOf(analysis, 'it'), 'K1');
}

describe('an off-delay of 10 s', () => {
  const time = datum(10);

  it('operates with its control and holds on for its time', () => {
    expect(pressed(controlled({ function: 'off-delay', time }), [1, 2])).toEqual([
      'released',
      '1: operated',
      '13: released',
    ]);
  });

  it('bridges pulses that come before its time has run out', () => {
    const line = pressed(controlled({ function: 'off-delay', time }), [1, 0.5], [9, 0.5], [18, 0.5]);
    expect(line).toEqual(['released', '1: operated', '28.5: released']);
  });

  it('holds on with the spread of its time', () => {
    const s = controlled({ function: 'off-delay', time: datum([8, 12]) });
    s.case(
      'it',
      s.turn('S1', 'closed', { for: 1 }),
      s.expect('P1', 'on'),
      s.wait(8.5),
      s.expect('P1', 'on'),
      s.wait(2),
      s.expect('P1', 'on'),
      s.wait(3),
      s.expect('P1', 'off'),
    );
    const one = caseOf(analyse(s.build()), 'it');
    expect(lineOf(s, one, 'K1')).toEqual(['released', '0: operated', '9 .. 13: released']);
    // At 8.5 s it is certainly on, at 10.5 s it may be off, at 13.5 s it certainly is.
    expect(one.verdicts.map(({ holds }) => holds)).toEqual([true, true, false, true]);
  });

  it('lets go with its supply', () => {
    const s = controlled({ function: 'off-delay', time });
    s.case('it', s.turn('S1', 'closed', { for: 1 }), s.wait(5), s.turn('S2', 'open'));
    expect(lineOf(s, caseOf(analyse(s.build()), 'it'), 'K1')).toEqual(['released', '0: operated', '5: released']);
  });

  it('without a control holds on when its supply has gone', () => {
    expect(pressed(fed({ function: 'off-delay', time }), [1, 2])).toEqual(['released', '1: operated', '13: released']);
  });
});

describe('an on-delay of 5 s', () => {
  const time = datum(5);

  it('operates when its supply has stood for its time, and releases with it', () => {
    expect(pressed(fed({ function: 'on-delay', time }), [1, 8])).toEqual(['released', '6: operated', '9: released']);
  });

  it('does nothing for what is shorter', () => {
    expect(pressed(fed({ function: 'on-delay', time }), [1, 4.9], [7, 4.9])).toEqual([]);
  });

  it('takes its control as well as its supply', () => {
    expect(pressed(controlled({ function: 'on-delay', time }), [1, 8])).toEqual([
      'released',
      '6: operated',
      '9: released',
    ]);
  });
});

describe('a one-shot of 3 s', () => {
  const time = datum(3);

  it('is on for its time however short or long the press is', () => {
    const shot = () => controlled({ function: 'one-shot', time });
    expect(pressed(shot(), [1, 0.1])).toEqual(['released', '1: operated', '4: released']);
    expect(pressed(shot(), [1, 20])).toEqual(['released', '1: operated', '4: released']);
  });

  it('starts again with each press, or not', () => {
    const shot = (word: 'yes' | 'no') => controlled({ function: 'one-shot', time, retriggerable: choice(word) });
    expect(pressed(shot('yes'), [1, 0.1], [3, 0.1])).toEqual(['released', '1: operated', '6: released']);
    expect(pressed(shot('no'), [1, 0.1], [3, 0.1])).toEqual(['released', '1: operated', '4: released']);
  });

  it('does not say what it does with a second press where that is not given', () => {
    const s = controlled({ function: 'one-shot', time });
    s.case(
      'it',
      s.turn('S1', 'closed', { for: 0.1 }),
      s.expect('P1', 'on', { within: 1 }),
      s.wait(2),
      s.turn('S1', 'closed', { for: 0.1 }),
      s.expect('P1', 'off', { within: 3.1 }),
    );
    const { verdicts } = caseOf(analyse(s.build()), 'it');
    expect(verdicts.map(({ holds }) => holds)).toEqual([true, 'not-evaluated']);
    expect(verdicts[1]!.needs.map(({ property }) => property)).toEqual(['retriggerable']);
  });

  it('rests released although its control is on at rest', () => {
    const s = new SiteBuilder();
    s.supply('G1', { volts: datum(12) });
    s.relay('K1', { timed: { ...ELECTRONICS, function: 'one-shot', time, control: true } });
    s.wire('G1.plus', 'K1.A1-A2', 'G1.minus').wire('G1.plus', 'K1.B1');
    expect(analyse(s.build()).cases[0]!.moments[0]!.states(s.id('K1'))).toEqual(['released']);
  });
});

describe('a pulsing timer of 2 s', () => {
  const time = datum(2);

  it('is on and off in turn while it is fed', () => {
    expect(pressed(fed({ function: 'pulsing', time }), [1, 5])).toEqual([
      'released',
      '1: operated',
      '3: released',
      '5: operated',
      '6: released',
    ]);
  });

  it('goes on without end: one round is shown, and it is no oscillation', () => {
    const s = fed({ function: 'pulsing', time });
    s.case(
      'it',
      s.turn('S1', 'closed'),
      s.expect('K1', 'operated'),
      s.expect('K1', 'released', { within: 2.1 }),
      s.expect('K1', 'operated', { times: 3 }),
    );
    const analysis = analyse(s.build());
    const one = caseOf(analysis, 'it');
    expect(analysis.problems).toEqual([]);
    const [track] = one.timeline.filter(({ component }) => component === s.id('K1'));
    expect(track!.repeats!.period).toEqual({ least: 4, usual: 4, most: 4 });
    // Where an expectation without a time stands, a pulsing timer may be on or off.
    expect(one.verdicts.map(({ holds }) => holds)).toEqual([false, true, false]);
    expect(one.verdicts[2]!.found.entries).toEqual({ least: Infinity, most: Infinity });
  });
});

describe('the least trigger of a timer', () => {
  const timed = { function: 'off-delay', time: datum(10), minimumTrigger: datum(0.05) } as const;

  it('lets shorter presses go unseen and delays longer ones', () => {
    expect(pressed(controlled(timed), [1, 0.04])).toEqual([]);
    expect(pressed(controlled(timed), [1, 0.06])).toEqual(['released', '1.05: operated', '11.06: released']);
  });

  it('shows the length of each trigger among the signals', () => {
    const s = controlled(timed);
    s.case('it', s.turn('S1', 'closed', { for: 0.04 }));
    const { signals } = caseOf(analyse(s.build()), 'it');
    expect(signals.map(({ component, className, longest }) => [component, className, longest])).toEqual([
      [s.id('K1'), 'trigger', expect.closeTo(0.04, 12)],
    ]);
  });
});

describe('a timer between relays', () => {
  it('bridges pulses of an output for a zone that would miss each of them', () => {
    const s = new SiteBuilder();
    s.unit('u');
    s.rail('u.V', 'u.GND', { volts: datum(12) });
    const pattern = { on: datum(0.3), off: datum(0.7) };
    s.output('u.Q1', 'sink', { returns: 'u.GND', drop: datum(0), leak: datum(0), pattern });
    s.relay('K1', EXACT);
    s.relay('K2', { timed: { ...ELECTRONICS, function: 'off-delay', time: datum(2), control: true } });
    s.wire('u.V', 'K1.A1-A2', 'u.Q1').wire('u.V', 'K2.A1-A2', 'u.GND').wire('u.V', 'K1.11-14', 'K2.B1');
    s.zone('Z1', 'ZC', {
      feedVolts: datum(5),
      feedOhms: datum(4700),
      bands: BANDS,
      responds: datum(0.4),
      restores: datum(0.4),
    });
    s.resistor('RE', 2200).resistor('RA', 4700);
    s.wire('Z1', 'K2.11-12', 'RE', 'ZC').wire('K2.11', 'RA', 'K2.12');
    s.case(
      'it',
      s.turn('u.Q1', 'pulsing', { for: 10 }),
      s.expect('Z1', 'alarm', { within: 0.45 }),
      s.expect('Z1', 'alarm', { times: 1 }),
    );
    const analysis = analyse(s.build());
    const one = caseOf(analysis, 'it');
    expect(one.verdicts.map(({ holds }) => holds)).toEqual([true, true]);
    // The last pulse begins at 9 s and ends at 9.3 s; K1 follows 4 ms later, K2 another 2 s.
    expect(lineOf(s, one, 'K2')).toEqual(['released', '0.006: operated', '11.304: released']);
    expect(lineOf(s, one, 'Z1', 'reports')).toEqual(['normal', '0.406: alarm', '11.704: normal']);
  });

  it('may feed itself: a flasher of two on-delays is found by playing it, and has no rest', () => {
    const s = new SiteBuilder();
    s.supply('G1', { volts: datum(12) });
    s.relay('K1', { timed: { ...ELECTRONICS, function: 'on-delay', time: datum(1) } });
    s.relay('K2', { timed: { ...ELECTRONICS, function: 'on-delay', time: datum(2) } });
    s.switch('S1', 'make');
    s.wire('G1.plus', 'S1', 'K2.11-12', 'K1.A1-A2', 'G1.minus').wire('G1.plus', 'K1.11-14', 'K2.A1-A2', 'G1.minus');
    s.case('it', s.turn('S1', 'closed'), s.expect('K1', 'operated', { within: 1.1 }));
    const analysis = analyse(s.build());
    const one = caseOf(analysis, 'it');
    expect(one.verdicts[0]!.holds).toBe(true);
    // K1 operates 1 s after K2's contact closes, K2 2 s later; both let go at once.
    const [track] = one.timeline.filter(({ component }) => component === s.id('K1'));
    expect(track!.repeats!.period.usual).toBeCloseTo(3, 9);
    expect(analysis.problems.filter(({ sort }) => sort === 'relay-oscillates')).toEqual([]);
  });
});

describe('a timer in a circle at rest', () => {
  it('rests where it ends up when everything comes on together', () => {
    // K1 breaks the feed of its own on-delay once it has operated, and holds itself by its other pole.
    const s = new SiteBuilder();
    s.supply('G1', { volts: datum(12) });
    s.relay('K1', { poles: 2, timed: { ...ELECTRONICS, function: 'on-delay', time: datum(1) } });
    s.wire('G1.plus', 'K1.11-12', 'K1.A1-A2', 'G1.minus').wire('G1.plus', 'K1.21-24', 'K1.A1');
    const { problems, cases } = analyse(s.build());
    expect(problems).toEqual([]);
    expect(cases[0]!.moments[0]!.states(s.id('K1'))).toEqual(['operated']);
  });
});

describe('a timer of which something is missing', () => {
  it('is not judged without its time', () => {
    const s = fed({ function: 'on-delay' });
    s.case('it', s.turn('S1', 'closed'), s.expect('K1', 'operated', { within: 10 }));
    const [verdict] = caseOf(analyse(s.build()), 'it').verdicts;
    expect(verdict!.holds).toBe('not-evaluated');
    expect(verdict!.needs.map(({ property }) => property)).toEqual(['time']);
  });

  it('is not judged without the volts between which it works', () => {
    const s = new SiteBuilder();
    s.supply('G1', { volts: datum(12) });
    s.relay('K1', { ohms: datum(400), timed: { function: 'on-delay', time: datum(1) } }).switch('S1', 'make');
    s.wire('G1.plus', 'S1', 'K1.A1-A2', 'G1.minus');
    s.case('it', s.turn('S1', 'closed'), s.expect('K1', 'operated', { within: 10 }));
    const [verdict] = caseOf(analyse(s.build()), 'it').verdicts;
    expect(verdict!.holds).toBe('not-evaluated');
    expect(verdict!.needs.map(({ property }) => property)).toEqual(['works']);
  });

  it('keeps what hangs on it from being judged, and nothing else', () => {
    const s = controlled({ function: 'off-delay' });
    s.load('P2', 'resistive', { sort: 'ohms', ohms: datum(100) }, { works: datum([9, 16]) });
    s.wire('S1.14', 'P2', 'G1.minus');
    s.case(
      'it',
      s.turn('S1', 'closed', { for: 1 }),
      s.expect('P2', 'on'),
      s.wait(2),
      s.expect('P1', 'off'),
      s.expect('P2', 'off'),
    );
    expect(verdictsOf(s.build())).toEqual([true, 'not-evaluated', true]);
  });
});
