/** Pulsing outputs, confirmations and outputs that follow what panels report, worked by hand. */
import { analyse } from '@couplet/engine';
import { describe, expect, it } from 'vitest';
import { choice, datum } from '../../support/data.ts';
import { SiteBuilder } from '../../support/site.ts';
import { BANDS, caseOf, lineOf, verdictsOf } from './support.ts';

/** A controller with a beacon on an output. */
function beacon(facts: Partial<Parameters<SiteBuilder['output']>[2]> = {}): SiteBuilder {
  const s = new SiteBuilder();
  s.unit('u');
  s.rail('u.V', 'u.GND', { volts: datum(12) });
  s.output('u.Q1', 'sink', { returns: 'u.GND', drop: datum(0), leak: datum(0), ...facts });
  s.load('P1', 'resistive', { sort: 'ohms', ohms: datum(100) }, { works: datum([9, 16]) });
  return s.wire('u.V', 'P1', 'u.Q1');
}

describe('a pulsing beacon', () => {
  const pattern = { on: datum(0.5), off: datum(1) };

  it('is on and off in turn: one round is shown with its period', () => {
    const s = beacon({ pattern });
    s.case('it', s.turn('u.Q1', 'pulsing'));
    const one = caseOf(analyse(s.build()), 'it');
    const track = one.timeline.find(({ component }) => component === s.id('P1'))!;
    expect(track.repeats!.period).toEqual({ least: 1.5, usual: 1.5, most: 1.5 });
    expect(lineOf(s, one, 'P1').slice(0, 4)).toEqual(['off', '0: on', '0.5: off', '1.5: on']);
  });

  it('is on within a pause, off within a pulse, and entered without end', () => {
    const s = beacon({ pattern });
    s.case(
      'it',
      s.turn('u.Q1', 'pulsing'),
      s.expect('P1', 'on', { within: 0.1 }),
      s.expect('P1', 'off', { within: 0.6 }),
      s.wait(0.7),
      s.expect('P1', 'on', { within: 0.7 }),
      s.expect('P1', 'on', { within: 0.85 }),
      s.expect('P1', 'on', { times: 5 }),
      s.expect('P1', 'off', { throughout: true }),
    );
    // The next pulse comes at 1.5 s, 0.8 s after the line.
    expect(verdictsOf(s.build())).toEqual([true, true, false, true, false, false]);
  });

  it('is counted while it pulses for a time: at 0, 1.5, 3 and 4.5 s of 5', () => {
    const s = beacon({ pattern });
    s.case(
      'it',
      s.turn('u.Q1', 'pulsing', { for: 5 }),
      s.expect('P1', 'on', { times: 4 }),
      s.wait(6),
      s.expect('P1', 'off'),
    );
    expect(verdictsOf(s.build())).toEqual([true, true]);
  });

  it('is counted over a day as well', () => {
    const s = beacon({ pattern });
    const day = 24 * 3600;
    s.case('it', s.turn('u.Q1', 'pulsing', { for: day }), s.expect('P1', 'on', { times: day / 1.5 }));
    expect(verdictsOf(s.build())).toEqual([true]);
  });

  it('may or may not be on where the times of its pattern have a spread', () => {
    const s = beacon({ pattern: { on: datum([0.4, 0.5, 0.6]), off: datum([0.9, 1, 1.1]) } });
    s.case(
      'it',
      s.turn('u.Q1', 'pulsing'),
      s.wait(0.55),
      s.expect('P1', 'on', { within: 0.7 }),
      s.expect('P1', 'on', { within: 1.16 }),
    );
    // The second pulse begins between 1.3 and 1.7 s.
    expect(verdictsOf(s.build())).toEqual([false, true]);
  });
});

describe('an output with pulses of a length', () => {
  it('goes off by itself each time it is turned on', () => {
    const s = beacon({ pulseLength: datum(2) });
    s.case(
      'it',
      s.turn('u.Q1', 'on'),
      s.expect('P1', 'on'),
      s.wait(3),
      s.expect('P1', 'off'),
      s.turn('u.Q1', 'on'),
      s.expect('P1', 'on', { times: 2 }),
    );
    const one = caseOf(analyse(s.build()), 'it');
    expect(one.verdicts.map(({ holds }) => holds)).toEqual([true, true, true]);
    expect(lineOf(s, one, 'P1')).toEqual(['off', '0: on', '2: off', '3: on', '5: off']);
  });

  it('comes again after its time while its reason lasts', () => {
    const s = beacon({ pulseLength: datum(2), repeats: datum(10) });
    s.case('it', s.turn('u.Q1', 'on', { for: 25 }), s.expect('P1', 'on', { times: 3 }));
    const one = caseOf(analyse(s.build()), 'it');
    expect(lineOf(s, one, 'P1')).toEqual(['off', '0: on', '2: off', '10: on', '12: off', '20: on', '22: off']);
    expect(one.verdicts[0]!.holds).toBe(true);
  });
});

/** Two zones of 400 ms behind switches, a confirmation of both, a siren that follows it. */
function confirmed(facts: Partial<Parameters<SiteBuilder['confirm']>[2]> = {}): SiteBuilder {
  const s = beacon();
  for (const n of [1, 2]) {
    s.zone(`Z${n}`, 'ZC', {
      feedVolts: datum(5),
      feedOhms: datum(4700),
      bands: BANDS,
      responds: datum(0.4),
      restores: datum(0.4),
    });
    s.switch(`S${n}`, 'break').switch(`T${n}`, 'break').resistor(`RE${n}`, 2200).resistor(`RA${n}`, 4700);
    s.wire(`Z${n}`, `T${n}`, `S${n}`, `RE${n}`, 'ZC').wire(`S${n}.11`, `RA${n}`, `S${n}.12`);
  }
  s.confirm('BOTH', ['Z1', 'Z2'], facts);
  return s.follow('u.Q1', ['BOTH', 'confirmed']);
}

describe('a confirmation within 30 s', () => {
  const within = { within: datum(30) };

  it('comes with the second report, and its siren with it', () => {
    const s = confirmed(within);
    s.case(
      'it',
      s.turn('S1', 'open', { for: 2 }),
      s.expect('BOTH', 'unconfirmed'),
      s.wait(20),
      s.turn('S2', 'open', { for: 2 }),
      s.expect('BOTH', 'confirmed', { within: 0.5 }),
      s.expect('P1', 'on', { within: 0.5 }),
      s.expect('BOTH', 'confirmed', { times: 1 }),
    );
    const one = caseOf(analyse(s.build()), 'it');
    expect(one.verdicts.map(({ holds }) => holds)).toEqual([true, true, true, true]);
    // Reported 400 ms after it is read; gone 400 ms after the last zone is normal again.
    expect(lineOf(s, one, 'BOTH')).toEqual(['unconfirmed', '20.4: confirmed', '22.4: unconfirmed']);
    expect(lineOf(s, one, 'P1')).toEqual(['off', '20.4: on', '22.4: off']);
  });

  it('does not come when the second one is too late', () => {
    const s = confirmed(within);
    s.case(
      'it',
      s.turn('S1', 'open', { for: 2 }),
      s.wait(31),
      s.turn('S2', 'open', { for: 2 }),
      s.expect('BOTH', 'confirmed', { within: 1 }),
      s.expect('P1', 'on', { times: 0 }),
    );
    expect(verdictsOf(s.build())).toEqual([false, true]);
  });

  it('may or may not come where its edge falls into the spread of the times', () => {
    const s = confirmed(within);
    s.case(
      'it',
      s.turn('S1', 'open', { for: 2 }),
      s.wait([29, 31]),
      s.turn('S2', 'open'),
      s.expect('P1', 'on', { times: 1 }),
    );
    const analysis = analyse(s.build());
    const [verdict] = caseOf(analysis, 'it').verdicts;
    expect(verdict!.holds).toBe(false);
    expect(verdict!.order).toBeDefined();
    expect(analysis.problems.map(({ sort }) => sort)).toContain('order-decides');
  });

  it('comes from one zone alone while its partner is in trouble, where that counts', () => {
    const verdicts = (word: 'counts-alone' | 'does-not-count') => {
      const s = confirmed({ ...within, partnerInTrouble: choice(word) });
      s.case(
        'it',
        s.turn('T1', 'open'),
        s.wait(60),
        s.turn('S2', 'open'),
        s.expect('BOTH', 'confirmed', { within: 1 }),
      );
      return verdictsOf(s.build());
    };
    expect(verdicts('counts-alone')).toEqual([true]);
    expect(verdicts('does-not-count')).toEqual([false]);
  });
});

describe('a confirmation without a time', () => {
  it('needs both zones in alarm at once', () => {
    const s = confirmed();
    s.case(
      'it',
      s.turn('S1', 'open', { for: 5 }),
      s.wait(4),
      s.turn('S2', 'open', { for: 5 }),
      s.expect('BOTH', 'confirmed', { within: 1 }),
    );
    s.caseAfter(
      'apart',
      'it',
      s.turn('S1', 'open', { for: 2 }),
      s.wait(4),
      s.turn('S2', 'open'),
      s.expect('P1', 'on', { times: 0 }),
    );
    const analysis = analyse(s.build());
    expect(caseOf(analysis, 'it').verdicts[0]!.holds).toBe(true);
    expect(caseOf(analysis, 'apart').verdicts[0]!.holds).toBe(true);
  });

  it('is seen at a settled instant too', () => {
    const s = confirmed();
    s.case('it', s.turn('S1', 'open'), s.turn('S2', 'open'), s.expect('BOTH', 'confirmed'), s.expect('P1', 'on'));
    expect(verdictsOf(s.build())).toEqual([true, true]);
  });
});

describe('an output that feeds back into what it follows', () => {
  /** The zone is held in alarm by a relay that the output works while the zone is in alarm. */
  function held(): SiteBuilder {
    const s = beacon();
    s.relay('K1', {
      rated: datum(12),
      ohms: datum(400),
      operates: datum(8),
      releases: datum(1),
      rise: datum(0),
      operateTime: datum(0.01),
      releaseTime: datum(0.01),
    });
    s.wire('u.V', 'K1.A1-A2', 'u.Q1');
    s.zone('Z1', 'ZC', {
      feedVolts: datum(5),
      feedOhms: datum(4700),
      bands: BANDS,
      responds: datum(0.4),
      restores: datum(0.4),
    });
    s.switch('S1', 'break').resistor('RE', 2200).resistor('RA', 4700);
    s.wire('Z1', 'S1', 'K1.11-12', 'RE', 'ZC').wire('S1.11', 'RA', 'K1.12');
    return s.follow('u.Q1', ['Z1', 'alarm']);
  }

  it('remembers an alarm that stood long enough for the output to come on', () => {
    const s = held();
    s.case('it', s.turn('S1', 'open', { for: 2 }), s.wait(10), s.expect('Z1', 'alarm'), s.expect('P1', 'on'));
    expect(verdictsOf(s.build())).toEqual([true, true]);
  });

  it('forgets one that was gone before', () => {
    const s = held();
    s.case(
      'it',
      s.turn('S1', 'open', { for: 0.3 }),
      s.wait(10),
      s.expect('Z1', 'normal'),
      s.expect('P1', 'on', { times: 0 }),
    );
    expect(verdictsOf(s.build())).toEqual([true, true]);
  });
});

describe('an input', () => {
  it('reports what stands as long as it responds', () => {
    const played = (length: number) => {
      const s = beacon();
      const edge = (unit: 'A') => ({ unit, origin: -1 });
      s.input('DI', 'DI.P', 'DI.N', {
        ohms: datum(3300),
        drop: datum(1.2),
        on: { above: 0.002, ...edge('A') },
        off: { below: 0.001, ...edge('A') },
        responds: datum(0.05),
      });
      s.wire('u.V', 'DI', 'u.Q1');
      s.case('it', s.turn('u.Q1', 'on', { for: length }), s.expect('DI', 'on', { times: 1 }));
      return verdictsOf(s.build());
    };
    expect(played(0.06)).toEqual([true]);
    expect(played(0.04)).toEqual([false]);
  });
});
