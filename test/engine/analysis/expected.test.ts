/** What is expected of parts, in every form that the language has, and the states that parts are found in: worked by hand. */
import { analyse, type Predicate, type Subject, type Verdict } from '@couplet/engine';
import { describe, expect, test } from 'vitest';
import { ambient, datum } from '../../support/data.ts';
import { SiteBuilder } from '../../support/site.ts';

type Holds = Verdict['holds'];

/** 12 V (11 V .. 13 V) over 100 Ω and 200 Ω in series, a lamp that works from 9 V to 15 V, and a zone of 2k2. */
function site(): SiteBuilder {
  const s = new SiteBuilder().place('hut', { ambient: ambient(20, 20) });
  s.supply('G1', { volts: datum([11, 12, 13]), place: 'hut' });
  s.resistor('R1', 100).resistor('R2', 200).switch('S1', 'make', { contactOhms: 0 });
  s.load('P1', 'resistive', { sort: 'ohms', ohms: datum(240) }, { works: datum([9, 15]) });
  s.unit('u', { place: 'hut' }).feed('u.IN', 'u.P', 'u.M', { draws: datum(0.1), works: datum([9, 15]) });
  s.unit('panel', { place: 'hut' });
  s.zone('Z1', 'Z1.C', {
    feedVolts: datum(5),
    feedOhms: datum(2200),
    bands: [
      ['short', undefined, 1000],
      ['normal', 1000, 4000],
      ['open+masked', 4000, undefined],
    ],
  });
  s.resistor('RE', 2200).resistor('loose', 10);
  s.wire('G1.plus', 'R1', 'R2', 'G1.minus').wire('G1.plus', 'S1', 'P1', 'G1.minus');
  s.wire('G1.plus', 'u.P').wire('u.M', 'G1.minus').wire('Z1', 'RE', 'Z1.C');
  return s;
}

function verdict(
  s: SiteBuilder,
  subject: string | Subject,
  predicate: string | Predicate,
  before: boolean = false,
): Verdict {
  s.case('asked', ...(before ? [s.turn('S1', 'closed')] : []), s.expect(subject, predicate));
  const { cases } = analyse(s.build());
  return cases.find(({ name }) => name === 'asked')!.verdicts[0]!;
}

const compare = (operator: '>=' | '<=' | '>' | '<', value: number, dimension: string): Predicate => ({
  sort: 'compare',
  operator,
  value,
  dimension,
});
const range = (least: number, most: number, dimension: string): Predicate => ({
  sort: 'range',
  least,
  most,
  dimension,
});
const about = (value: number, least: number, most: number, dimension: string): Predicate => ({
  sort: 'about',
  value,
  least,
  most,
  dimension,
});

describe('a figure that is expected', () => {
  // R2 has 200 / 300 of the supply: 7.333 V .. 8.667 V, usually 8 V.
  const [least, most] = [(11 * 2) / 3, (13 * 2) / 3];

  test.each<[Predicate, Holds]>([
    [compare('>=', 7.3, 'V'), true],
    [compare('>=', 7.4, 'V'), false],
    [compare('>', 7.3, 'V'), true],
    [compare('>', 7.4, 'V'), false],
    [compare('<=', 8.7, 'V'), true],
    [compare('<=', 8.6, 'V'), false],
    [compare('<', 8.7, 'V'), true],
    [compare('<', 8.6, 'V'), false],
    [range(7.3, 8.7, 'V'), true],
    [range(7.4, 8.7, 'V'), false],
    [range(7.3, 8.6, 'V'), false],
    [about(8, 7.9, 8.1, 'V'), true],
    [about(7.8, 7.6, 7.9, 'V'), false],
    [about(8.3, 8.2, 8.4, 'V'), false],
    // A = V / R: 11 V / 300 Ω .. 13 V / 300 Ω.
    [range(0.0366, 0.0434, 'A'), true],
    [range(0.0367, 0.0434, 'A'), false],
    [compare('<', 0.4, 'W'), true],
    [compare('<', 0.36, 'W'), false],
  ])('of a resistor: %j is %j', (predicate, holds) => {
    const found = verdict(site(), 'R2', predicate);
    expect(found.holds).toBe(holds);
    expect(found.found.figure?.sort).toBe('value');
    expect(found.needs).toEqual([]);
  });

  test('its figure stands with the verdict', () => {
    const { found } = verdict(site(), 'R2', compare('>', 1, 'V'));
    if (found.figure?.sort !== 'value') return expect.fail('no value');
    expect(found.figure.least).toBeCloseTo(least, 9);
    expect(found.figure.most).toBeCloseTo(most, 9);
    expect('states' in found || 'seconds' in found).toBe(false);
  });

  test('exactly at an edge, which >= and <= hold and > and < do not', () => {
    const exact = () => site();
    for (const [operator, holds] of [
      ['>=', true],
      ['>', false],
      ['<=', true],
      ['<', false],
    ] as const) {
      const s = exact()
        .supply('G2', { volts: datum(5) })
        .resistor('R5', 10)
        .wire('G2.plus', 'R5', 'G2.minus');
      expect(verdict(s, 'R5', compare(operator, 5, 'V')).holds).toBe(holds);
    }
    for (const [predicate, holds] of [
      [range(5, 5, 'V'), true],
      [about(5, 5, 5, 'V'), true],
    ] as const) {
      const s = exact()
        .supply('G2', { volts: datum(5) })
        .resistor('R5', 10)
        .wire('G2.plus', 'R5', 'G2.minus');
      expect(verdict(s, 'R5', predicate).holds).toBe(holds);
    }
  });

  test('between two terminals, in volts and as an ohmmeter reads it', () => {
    const s = () => {
      const one = site();
      const between = (quantity: 'volts' | 'ohms'): Subject => ({
        sort: 'between',
        quantity,
        a: one.terminal('R1.1'),
        b: one.terminal('R1.2'),
      });
      return { one, between };
    };
    const volts = s();
    expect(verdict(volts.one, volts.between('volts'), range(3.6, 4.4, 'V')).holds).toBe(true);
    const other = s();
    expect(verdict(other.one, other.between('volts'), range(3.7, 4.4, 'V')).holds).toBe(false);
    const states = s();
    expect(verdict(states.one, states.between('volts'), 'on').holds).toBe('not-evaluated');
  });

  test('amperes of a part by name', () => {
    const s = site();
    expect(verdict(s, { sort: 'amps', component: s.id('R1') }, range(0.0366, 0.0434, 'A')).holds).toBe(true);
  });

  test('ohms of a zone are those that the panel infers; of a unit, volts are those of its feed', () => {
    expect(verdict(site(), 'Z1', range(2199, 2201, 'ohm')).holds).toBe(true);
    expect(verdict(site(), 'Z1', range(2.49, 2.51, 'V')).holds).toBe(true);
    const s = site();
    const fed = s.components[s.id('u')]!;
    expect(fed.kind).toBe('unit');
    expect(verdict(s, 'u', range(11, 13, 'V')).holds).toBe(true);
    expect(verdict(site(), 'panel', range(11, 13, 'V')).holds).toBe(false);
  });

  test('of what hangs on nothing there is no figure, and nothing holds', () => {
    const found = verdict(site(), 'loose', compare('<', 100, 'V'));
    expect([found.holds, found.found.figure?.sort]).toEqual([false, 'no-connection']);
  });

  test('that lacks a datum is not evaluated, and says which', () => {
    const s = site();
    s.load('P2', 'resistive', undefined, { works: datum([9, 15]) }).wire('G1.plus', 'P2', 'G1.minus');
    const found = verdict(s, { sort: 'amps', component: s.id('P2') }, compare('<', 1, 'A'));
    expect(found.holds).toBe('not-evaluated');
    expect(found.needs.map(({ component }) => component)).toEqual([s.id('P2')]);
  });
});

describe('a state that is expected', () => {
  test.each<[string, string, boolean, Holds]>([
    ['P1', 'off', false, true],
    ['P1', 'on', false, false],
    ['P1', 'on', true, true],
    ['P1', 'any', true, true],
    ['S1', 'open', false, true],
    ['S1', 'closed', true, true],
    ['S1', 'closed', false, false],
    ['u.IN', 'on', false, true],
    ['G1', 'on', false, true],
    ['G1', 'off', false, false],
    ['Z1', 'normal', false, true],
    ['Z1', 'open', false, false],
  ])('of %s: %s, with S1 closed: %j, is %j', (part, word, closed, holds) => {
    const found = verdict(site(), part, word, closed);
    expect(found.holds).toBe(holds);
    expect(found.found.states?.length).toBeGreaterThan(0);
  });

  test('a class of several words holds each of them', () => {
    const open = () => {
      const s = site();
      s.switch('T', 'break', { contactOhms: 0 });
      s.zone('Z2', 'Z2.C', {
        feedVolts: datum(5),
        feedOhms: datum(2200),
        bands: [
          ['normal', undefined, 4000],
          ['open+masked', 4000, undefined],
        ],
      });
      return s.wire('Z2', 'loose', 'T', 'Z2.C');
    };
    for (const [word, holds] of [
      ['open', true],
      ['masked', true],
      ['open+masked', true],
      ['normal', false],
    ] as const) {
      const s = open();
      s.case('asked', s.turn('T', 'open'), s.expect('Z2', word));
      expect(analyse(s.build()).cases.at(-1)!.verdicts[0]!.holds, word).toBe(holds);
    }
  });

  test('a lamp between its states is in neither', () => {
    const dim = (ohms: number) => {
      const s = new SiteBuilder().supply('G', { volts: datum(12) }).resistor('R', ohms);
      s.load('P', 'resistive', { sort: 'ohms', ohms: datum(100) }, { works: datum([9, 15]) });
      return verdictOf(s.wire('G.plus', 'R', 'P', 'G.minus'));
    };
    const verdictOf = (s: SiteBuilder) => {
      const moment = analyse(s.build()).cases[0]!.moments[0]!;
      return moment.states(s.id('P'));
    };
    // 12 V × 100 / (100 + R): 10.9 V, 6 V, and just below a tenth of 9 V.
    expect(dim(10)).toEqual(['on']);
    expect(dim(100)).toEqual(['neither']);
    expect(dim(1300)).toEqual(['off']);
    expect(dim(1200)).toEqual(['neither']);
  });

  test('of a lamp without a working range, a zone without bands and an input without edges it says what is missing', () => {
    const missing = (make: (s: SiteBuilder) => SiteBuilder, part: string) => {
      const s = make(site());
      const found = verdict(s, part, 'on');
      expect(found.holds).toBe('not-evaluated');
      return found.needs.map(({ component, property }) => {
        expect(component).toBe(s.id(part));
        return property;
      });
    };
    const lamp = (s: SiteBuilder) =>
      s.load('P3', 'resistive', { sort: 'ohms', ohms: datum(10) }, {}).wire('G1.plus', 'P3', 'G1.minus');
    expect(missing(lamp, 'P3')).toEqual(['works']);
    expect(missing((s) => s.zone('Z3', 'C3', { feedVolts: datum(5), feedOhms: datum(1) }), 'Z3')).toEqual(['scheme']);
    expect(missing((s) => s.input('X1', 'XP', 'XN', { ohms: datum(3300) }), 'X1')).toEqual(['on']);
    const half = (s: SiteBuilder) =>
      s.input('X1', 'XP', 'XN', { ohms: datum(3300), on: { unit: 'V', above: 5, origin: -1 } } as never);
    expect(missing(half, 'X1')).toEqual(['off']);
  });

  test('an input is on above its edge, off below its other one, and undecided between', () => {
    const at = (volts: number) => {
      const s = new SiteBuilder().supply('G', { volts: datum(volts) });
      s.input('X', 'XP', 'XN', {
        ohms: datum(1000),
        on: { unit: 'V', above: 8, origin: -1 },
        off: { unit: 'V', below: 4, origin: -1 },
      } as never);
      s.wire('G.plus', 'XP').wire('XN', 'G.minus');
      return analyse(s.build()).cases[0]!.moments[0]!.states(s.id('X'));
    };
    expect([9, 8, 6, 4, 3].map((volts) => at(volts)[0])).toEqual(['on', 'undecided', 'undecided', 'undecided', 'off']);
  });

  test('a spread over several bands is in all of them, the usual one first', () => {
    const at = (least: number, usual: number, most: number) => {
      const s = new SiteBuilder();
      s.zone('Z', 'C', {
        feedVolts: datum(5),
        feedOhms: datum(1000),
        bands: [
          ['short', undefined, 1000],
          ['normal', 1000, 2000],
          ['alarm', 3000, 4000],
          ['open', 4000, undefined],
        ],
      });
      s.resistor('R', [least, usual, most]).wire('Z', 'R', 'C');
      return analyse(s.build()).cases[0]!.moments[0]!.reading(s.id('Z')).possible;
    };
    expect(at(1100, 1500, 1900)).toEqual(['normal']);
    expect(at(900, 1500, 1900)).toEqual(['normal', 'short']);
    expect(at(900, 950, 1000)).toEqual(['short', 'normal']);
    expect(at(1500, 1900, 2500)).toEqual(['normal', undefined]);
    expect(at(1500, 1900, 3500)).toEqual(['normal', 'alarm', undefined]);
    expect(at(3500, 3900, 5000)).toEqual(['alarm', 'open']);
    expect(at(2100, 2500, 2900)).toEqual([undefined]);
  });
});

describe('how often and how long', () => {
  const s = () => {
    const one = site();
    const steps = [
      one.turn('S1', 'closed'),
      one.wait(1),
      one.turn('S1', 'open'),
      one.wait(1),
      one.turn('S1', 'closed'),
    ];
    return { one, steps };
  };
  const asked = (one: SiteBuilder, ...steps: Parameters<SiteBuilder['case']>[1][]) => {
    one.case('asked', ...steps);
    return analyse(one.build()).cases.find(({ name }) => name === 'asked')!.verdicts[0]!.holds;
  };

  test('a state is entered so many times over the whole case', () => {
    for (const [times, holds] of [
      [1, false],
      [2, true],
      [3, false],
    ] as const) {
      const { one, steps } = s();
      expect(asked(one, ...steps, one.expect('P1', 'on', { times }))).toBe(holds);
    }
    const never = site();
    expect(asked(never, never.wait(1), never.expect('P1', 'on', { times: 0 }))).toBe(true);
  });

  test('a state that stands throughout stands from the beginning to where it is asked', () => {
    const { one, steps } = s();
    expect(asked(one, ...steps, one.expect('P1', 'on', { throughout: true }))).toBe(false);
    const off = site();
    expect(asked(off, off.wait(5), off.expect('P1', 'off', { throughout: true }))).toBe(true);
    const late = site();
    expect(asked(late, late.turn('S1', 'closed'), late.wait(1), late.expect('P1', 'off', { throughout: true }))).toBe(
      false,
    );
  });
});
