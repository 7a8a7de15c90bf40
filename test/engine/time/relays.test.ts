/** Relays through time, worked by hand: pulses, suppression, self-hold, latching, oscillation, memory of order. */
import { analyse } from '@couplet/engine';
import { describe, expect, it } from 'vitest';
import { atMost, choice, datum } from '../../support/data.ts';
import { SiteBuilder } from '../../support/site.ts';
import { BANDS, COIL, caseOf, EXACT, lineOf, verdictsOf } from './support.ts';

/** A controller whose output drives K1, and a zone of 400 ms behind K1: alarm while K1 is operated. */
function pulsed(coil: object = COIL): SiteBuilder {
  const s = new SiteBuilder();
  s.unit('u');
  s.rail('u.V', 'u.GND', { volts: datum(12) });
  s.output('u.Q1', 'sink', { returns: 'u.GND', drop: datum(0), leak: datum(0) });
  s.relay('K1', coil);
  s.wire('u.V', 'K1.A1-A2', 'u.Q1');
  s.zone('Z1', 'ZC', {
    feedVolts: datum(5),
    feedOhms: datum(4700),
    bands: BANDS,
    responds: datum(0.4),
    restores: datum(0.4),
  });
  s.resistor('RE', 2200).resistor('RA', 4700);
  return s.wire('Z1', 'K1.11-12', 'RE', 'ZC').wire('K1.11', 'RA', 'K1.12');
}

describe('a pulse of 500 ms through a relay of 6 and 4 ms into a zone of 400 ms', () => {
  const s = pulsed();
  s.case('it', s.turn('u.Q1', 'on', { for: 0.5 }), s.expect('Z1', 'alarm', { within: 0.41 }), s.wait(1));
  const one = caseOf(analyse(s.build()), 'it');

  it('closes the contact up to 6 ms late and opens it up to 4 ms late', () => {
    expect(lineOf(s, one, 'K1')).toEqual(['released', '0 .. 0.006: operated', '0.5 .. 0.504: released']);
    expect(lineOf(s, one, 'Z1', 'reads')).toEqual(['normal', '0 .. 0.006: alarm', '0.5 .. 0.504: normal']);
  });

  it('is reported 400 ms after it is read, and gone 400 ms after it is gone', () => {
    expect(lineOf(s, one, 'Z1', 'reports')).toEqual(['normal', '0.4 .. 0.406: alarm', '0.9 .. 0.904: normal']);
    expect(one.verdicts[0]!.holds).toBe(true);
    expect(one.verdicts[0]!.found.seconds).toMatchObject({ least: 0.4, most: expect.closeTo(0.406, 12) });
  });

  it('lasts from 500 − 6 to 500 + 4 ms at the zone', () => {
    expect(one.signals).toHaveLength(1);
    expect(one.signals[0]!.shortest).toBeCloseTo(0.494, 12);
    expect(one.signals[0]!.longest).toBeCloseTo(0.504, 12);
  });
});

describe('pulses that a relay or a zone may miss', () => {
  const played = (pulse: number, coil: object = EXACT) => {
    const s = pulsed(coil);
    s.case(
      'it',
      s.turn('u.Q1', 'on', { for: pulse }),
      s.expect('Z1', 'alarm', { within: 1 }),
      s.expect('Z1', 'alarm', { times: 1 }),
      s.expect('Z1', 'alarm', { times: 0 }),
      s.expect('K1', 'operated', { times: 1 }),
    );
    return caseOf(analyse(s.build()), 'it').verdicts;
  };

  it('are lost on a relay that takes longer to operate', () => {
    expect(played(0.003).map(({ holds }) => holds)).toEqual([false, false, true, false]);
  });

  it('are lost on a zone that takes longer to respond', () => {
    // The contact is closed for 300 − 6 + 4 = 298 ms.
    expect(played(0.3).map(({ holds }) => holds)).toEqual([false, false, true, true]);
  });

  it('arrive where the contact stands long enough', () => {
    // 402 − 6 + 4 = 400 ms.
    expect(played(0.402).map(({ holds }) => holds)).toEqual([true, true, false, true]);
    expect(played(0.4019).map(({ holds }) => holds)).toEqual([false, false, true, true]);
  });

  it('are both lost and seen where the relay may be quick or slow: the order decides', () => {
    const quickOrSlow = { ...EXACT, operateTime: atMost(0.006) };
    const verdicts = played(0.003, quickOrSlow);
    expect(verdicts[3]!.holds).toBe(false);
    expect(verdicts[3]!.order).toContain('K1 operates');
    const s = pulsed(quickOrSlow);
    s.case('it', s.turn('u.Q1', 'on', { for: 0.003 }), s.expect('K1', 'operated', { times: 1 }));
    const { problems } = analyse(s.build());
    expect(problems.map(({ sort, components }) => [sort, components])).toEqual([
      ['order-decides', [s.id('K1'), s.id('u.Q1')]],
    ]);
  });
});

describe('a release through a diode', () => {
  /** L/R = 0.9 H / 400 Ω = 2.25 ms; from 12 V to 1.2 V with 0.6 .. 1 V against it. */
  const decay = (drop: number, level: number) => 0.00225 * Math.log((12 + drop) / (level + drop));

  it('lengthens the signal by the decay of the coil', () => {
    const s = pulsed({
      ...EXACT,
      inductance: datum(0.9),
      holds: datum(8),
      suppressor: { sort: 'diode', origin: -1 },
    });
    s.case('it', s.turn('u.Q1', 'on', { for: 1 }), s.wait(2));
    const [signal] = caseOf(analyse(s.build()), 'it').signals;
    expect(signal!.longest).toBeCloseTo(1 - 0.006 + 0.004 + decay(0.6, 1.2), 9);
    expect(signal!.shortest).toBeCloseTo(1 - 0.006 + 0.004 + decay(1, 8), 9);
  });

  it('is the same through a diode that is fitted across the coil', () => {
    const s = pulsed({ ...EXACT, inductance: datum(0.9), holds: datum(8) });
    s.diode('D1', datum(0.7)).wire('K1.A2', 'D1', 'K1.A1');
    s.case('it', s.turn('u.Q1', 'on', { for: 1 }), s.wait(2));
    const [signal] = caseOf(analyse(s.build()), 'it').signals;
    expect(signal!.longest).toBeCloseTo(0.998 + decay(0.7, 1.2), 9);
  });

  it('says which inductance it assumes', () => {
    const s = pulsed({ ...EXACT, suppressor: { sort: 'diode', origin: -1 } });
    s.output('u.Q2', 'sink', { returns: 'u.GND', drop: datum(0) });
    s.case('it', s.turn('u.Q1', 'on'), s.wait(1), s.turn('u.Q1', 'off'), s.expect('Z1', 'normal', { within: 1 }));
    const [verdict] = caseOf(analyse(s.build()), 'it').verdicts;
    expect(verdict!.holds).toBe(true);
    expect(verdict!.found.seconds!.assumptions.join()).toContain('inductance of K1 not given');
  });
});

describe('a relay that holds itself', () => {
  function held(): SiteBuilder {
    const s = new SiteBuilder();
    s.supply('G1', { volts: datum(12) });
    s.relay('K1', { ...EXACT, selfHold: choice('meant') });
    s.switch('S1', 'make').switch('S2', 'break');
    s.wire('G1.plus', 'S2', 'S1', 'K1.A1-A2', 'G1.minus');
    return s.wire('S2.12', 'K1.11-14', 'K1.A1');
  }

  it('stays in after a press that lasts, and drops out with the reset', () => {
    const s = held();
    s.case(
      'it',
      s.turn('S1', 'closed', { for: 0.1 }),
      s.wait(1),
      s.expect('K1', 'operated'),
      s.turn('S2', 'open', { for: 0.1 }),
      s.wait(1),
      s.expect('K1', 'released'),
    );
    const analysis = analyse(s.build());
    const one = caseOf(analysis, 'it');
    expect(one.verdicts.map(({ holds }) => holds)).toEqual([true, true]);
    expect(lineOf(s, one, 'K1')).toEqual(['released', '0.006: operated', '1.004: released']);
  });

  it('does not take a press that is over before it has operated', () => {
    const s = held();
    s.case('it', s.turn('S1', 'closed', { for: 0.005 }), s.wait(1), s.expect('K1', 'released'));
    expect(verdictsOf(s.build())).toEqual([true]);
  });

  it('does not let go where the reset is shorter than its release', () => {
    const s = held();
    s.case('set', s.turn('S1', 'closed', { for: 0.1 }));
    s.caseAfter('it', 'set', s.turn('S2', 'open', { for: 0.003 }), s.wait(1), s.expect('K1', 'operated'));
    expect(verdictsOf(s.build())).toEqual([true]);
  });
});

describe('a latching relay of two coils', () => {
  function latch(): SiteBuilder {
    const s = new SiteBuilder();
    s.supply('G1', { volts: datum(12) });
    s.relay('K1', {
      ...EXACT,
      latching: choice('two-coil'),
      rest: choice('reset'),
      twoCoils: true,
      minimumPulse: datum(0.02),
    });
    s.switch('S1', 'make').switch('S2', 'make');
    s.wire('G1.plus', 'S1', 'K1.A1-A2', 'G1.minus');
    return s.wire('G1.plus', 'S2', 'K1.B1-B2', 'G1.minus');
  }

  it('is set by one pulse and reset by the other', () => {
    const s = latch();
    s.case(
      'it',
      s.turn('S1', 'closed', { for: 0.1 }),
      s.wait(1),
      s.expect('K1', 'set'),
      s.turn('S2', 'closed', { for: 0.1 }),
      s.wait(1),
      s.expect('K1', 'reset'),
    );
    const one = caseOf(analyse(s.build()), 'it');
    expect(one.verdicts.map(({ holds }) => holds)).toEqual([true, true]);
    // Its contacts move within 6 ms and are certain to have stayed once the pulse has lasted for its minimum.
    expect(lineOf(s, one, 'K1')).toEqual(['reset', '0.006 .. 0.02: set', '1.004 .. 1.02: reset']);
    expect(one.signals.map(({ className, shortest }) => [className, shortest])).toEqual([
      ['set', expect.closeTo(0.1, 12)],
      ['reset', expect.closeTo(0.1, 12)],
    ]);
  });

  it('is not certainly thrown by a pulse shorter than its minimum, and not at all by one shorter than it moves', () => {
    const states = (pulse: number) => {
      const s = latch();
      const press = s.turn('S1', 'closed', { for: pulse });
      s.case('it', press, s.wait(1), s.expect('K1', 'set'), s.expect('K1', 'reset'));
      return verdictsOf(s.build());
    };
    expect(states(0.025)).toEqual([true, false]);
    expect(states(0.015)).toEqual([false, false]);
    expect(states(0.005)).toEqual([false, true]);
  });
});

describe('a latching relay of one coil', () => {
  it('is set by plus and reset by minus', () => {
    const s = new SiteBuilder();
    s.supply('G1', { volts: datum(12) });
    s.relay('K1', { ...EXACT, latching: choice('reversing'), rest: choice('reset'), minimumPulse: datum(0.02) });
    s.switch('S1', 'make').switch('S2', 'make').switch('S3', 'make').switch('S4', 'make');
    s.wire('G1.plus', 'S1', 'K1.A1-A2', 'S2', 'G1.minus');
    s.wire('G1.plus', 'S3', 'K1.A2').wire('K1.A1', 'S4', 'G1.minus');
    s.case(
      'it',
      s.turn('S1', 'closed', { for: 0.1 }),
      s.turn('S2', 'closed', { for: 0.1 }),
      s.wait(1),
      s.expect('K1', 'set'),
      s.turn('S3', 'closed', { for: 0.1 }),
      s.turn('S4', 'closed', { for: 0.1 }),
      s.wait(1),
      s.expect('K1', 'reset'),
    );
    expect(verdictsOf(s.build())).toEqual([true, true]);
  });
});

describe('relays without a state to rest in', () => {
  it('swing with the sum of operating and releasing', () => {
    const s = new SiteBuilder();
    s.supply('G1', { volts: datum(12) });
    s.relay('K1', EXACT).switch('S1', 'make');
    s.wire('G1.plus', 'S1', 'K1.11-12', 'K1.A1-A2', 'G1.minus');
    s.case('it', s.turn('S1', 'closed'), s.expect('K1', 'operated'), s.wait(60));
    const { problems, cases } = analyse(s.build());
    const swings = problems.filter(({ sort }) => sort === 'relay-oscillates');
    expect(swings.map(({ components }) => components)).toEqual([[s.id('K1')]]);
    expect(swings[0]!.detail).toBe('K1 operates, K1 releases, and so on every 0.01 s');
    expect(cases[1]!.verdicts[0]!.holds).toBe('not-evaluated');
  });

  it('two in a ring: each moves once a half round, 6 + 6 + 4 + 4 ms a round', () => {
    const s = new SiteBuilder();
    s.supply('G1', { volts: datum(12) });
    s.relay('K1', EXACT).relay('K2', EXACT).switch('S1', 'make');
    s.wire('G1.plus', 'S1', 'K2.11-12', 'K1.A1-A2', 'G1.minus');
    s.wire('G1.plus', 'K1.11-14', 'K2.A1-A2', 'G1.minus');
    s.case('it', s.turn('S1', 'closed'));
    const { problems } = analyse(s.build());
    const swings = problems.filter(({ sort }) => sort === 'relay-oscillates');
    expect(swings.map(({ components, detail }) => [components, detail])).toEqual([
      [[s.id('K1'), s.id('K2')], 'K1 operates, K2 operates, K1 releases, K2 releases, and so on every 0.02 s'],
    ]);
  });
});

describe('two relays that exclude each other', () => {
  /** K1 through K2's break contact and K2 through K1's, fed together: the quicker one wins. */
  function rivals(first: object, second: object): SiteBuilder {
    const s = new SiteBuilder();
    s.supply('G1', { volts: datum(12) });
    s.relay('K1', first).relay('K2', second).switch('S1', 'make');
    s.wire('G1.plus', 'S1', 'K2.11-12', 'K1.A1-A2', 'G1.minus');
    s.wire('S1.14', 'K1.11-12', 'K2.A1-A2', 'G1.minus');
    s.case('it', s.turn('S1', 'closed'), s.wait(1), s.expect('K1', 'operated'));
    return s;
  }

  it('end with the quicker one operated', () => {
    const quick = { ...EXACT, operateTime: datum([0.003, 0.005]) };
    const slow = { ...EXACT, operateTime: datum([0.006, 0.009]) };
    expect(verdictsOf(rivals(quick, slow).build())).toEqual([true]);
    expect(verdictsOf(rivals(slow, quick).build())).toEqual([false]);
  });

  it('end either way where their times overlap', () => {
    const s = rivals(
      { ...EXACT, operateTime: datum([0.003, 0.008]) },
      { ...EXACT, operateTime: datum([0.006, 0.009]) },
    );
    const analysis = analyse(s.build());
    const [verdict] = caseOf(analysis, 'it').verdicts;
    expect(verdict!.holds).toBe(false);
    expect(verdict!.order).toBe('K2 operates before K1 operates');
    expect(analysis.problems.map(({ sort }) => sort)).toContain('order-decides');
  });

  it('do not depend on the order where the delay is shared', () => {
    // Both wait for the same press, whose own time is uncertain by far more than the relays differ.
    const quick = { ...EXACT, operateTime: datum([0.003, 0.005]) };
    const slow = { ...EXACT, operateTime: datum([0.006, 0.009]) };
    const s = new SiteBuilder();
    s.supply('G1', { volts: datum(12) });
    s.relay('K1', quick).relay('K2', slow).switch('S1', 'break');
    s.wire('G1.plus', 'S1', 'K2.11-12', 'K1.A1-A2', 'G1.minus');
    s.wire('S1.12', 'K1.11-12', 'K2.A1-A2', 'G1.minus');
    s.case('it', s.turn('S1', 'open', { for: [1, 2, 9] }), s.wait(20), s.expect('K1', 'operated'));
    expect(verdictsOf(s.build())).toEqual([true]);
  });
});

describe('a relay of which a time is missing', () => {
  it('is followed without it, and no time is judged that hangs on it', () => {
    const s = pulsed({ ...COIL, operateTime: undefined, releaseTime: atMost(0.004) });
    s.case(
      'it',
      s.turn('u.Q1', 'on', { for: 1 }),
      s.expect('Z1', 'alarm'),
      s.expect('Z1', 'alarm', { within: 1 }),
      s.wait(2),
      s.turn('u.Q1', 'off'),
    );
    const { verdicts } = caseOf(analyse(s.build()), 'it');
    expect(verdicts.map(({ holds }) => holds)).toEqual([true, 'not-evaluated']);
    expect(verdicts[1]!.needs.map(({ property }) => property)).toEqual(['operate-time']);
  });
});

describe('rest that does not come', () => {
  it('names the round and its time', () => {
    const s = new SiteBuilder();
    s.supply('G1', { volts: datum(12) });
    s.relay('K1', COIL);
    s.wire('G1.plus', 'K1.11-12', 'K1.A1-A2', 'G1.minus');
    const { problems, cases } = analyse(s.build());
    expect(problems.map(({ sort, detail }) => [sort, detail])).toEqual([
      ['relay-oscillates', 'K1 releases, K1 operates, and so on every 0.01 s (0 s .. 0.01 s)'],
    ]);
    expect(cases[0]!.moments[0]!.states(s.id('K1'))).toEqual([]);
  });
});

describe('relays without times that find no rest', () => {
  it('are told without the time of their round, and nothing is said of their states', () => {
    const s = new SiteBuilder();
    s.supply('G1', { volts: datum(12) });
    s.relay('K1', { ...COIL, operateTime: undefined, releaseTime: undefined }).switch('S1', 'make');
    s.wire('G1.plus', 'S1', 'K1.11-12', 'K1.A1-A2', 'G1.minus');
    s.case('it', s.turn('S1', 'closed'), s.expect('K1', 'released', { throughout: true }));
    const { problems, cases } = analyse(s.build());
    expect(problems.map(({ sort, detail }) => [sort, detail])).toEqual([
      ['relay-oscillates', 'K1 operates, K1 releases, and so on, how often their times do not say'],
    ]);
    expect(cases[1]!.verdicts[0]!.holds).toBe('not-evaluated');
  });
});
