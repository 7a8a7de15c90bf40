/** Cases: order of events, what goes back by itself, every form of expectation, faults as turns, signals. */
import { type Analysis, analyse, type Datum, type Predicate, type Step } from '@couplet/engine';
import { describe, expect, it } from 'vitest';
import { atMost, datum, tolerance } from '../../support/data.ts';
import { SiteBuilder } from '../../support/site.ts';
import { tidewaterParts } from '../../support/tidewater.ts';

function compare(operator: '>=' | '<=' | '>' | '<', value: number, dimension: string): Predicate {
  return { sort: 'compare', operator, value, dimension };
}

/** Verdicts of one case that is added to Tidewater Mill. */
function verdictsOf(steps: (site: SiteBuilder) => readonly Step[]): readonly (boolean | 'not-evaluated')[] {
  const site = tidewaterParts();
  site.case('it', ...steps(site));
  return analyse(site.build()).cases[1]!.verdicts.map(({ holds }) => holds);
}

describe('where an expectation stands', () => {
  it('sees the turns above it and not those below', () => {
    const verdicts = verdictsOf((s) => [
      s.expect('panel.Z4', 'normal'),
      s.turn('level.Q1', 'off'),
      s.expect('panel.Z4', 'alarm'),
      s.turn('level.Q1', 'on'),
      s.expect('panel.Z4', 'normal'),
    ]);
    expect(verdicts).toEqual([true, true, true]);
  });

  it('is judged before anything that was started runs out', () => {
    const verdicts = verdictsOf((s) => [
      s.turn('level.Q2', 'on', { for: 90 }),
      s.expect('P1', 'on'),
      s.wait(89),
      s.expect('P1', 'on'),
      s.wait(2),
      s.expect('P1', 'off'),
    ]);
    expect(verdicts).toEqual([true, true, true]);
  });

  it('must hold at both sides of an end whose time has a spread', () => {
    const on = (wait: number) =>
      verdictsOf((s) => [s.turn('level.Q2', 'on', { for: [80, 90, 100] }), s.wait(wait), s.expect('P1', 'on')]);
    const off = (wait: number) =>
      verdictsOf((s) => [s.turn('level.Q2', 'on', { for: [80, 90, 100] }), s.wait(wait), s.expect('P1', 'off')]);
    expect(on(79)).toEqual([true]);
    expect(on(85)).toEqual([false]);
    expect(off(95)).toEqual([false]);
    expect(off(101)).toEqual([true]);
  });

  it('starts a turn that is made again anew', () => {
    const verdicts = verdictsOf((s) => [
      s.turn('level.Q2', 'on', { for: 10 }),
      s.wait(8),
      s.turn('level.Q2', 'on', { for: 10 }),
      s.wait(8),
      s.expect('P1', 'on'),
    ]);
    expect(verdicts).toEqual([true]);
  });
});

describe('within', () => {
  it('adds the relay, its suppressor and the zone', () => {
    const site = tidewaterParts();
    site.case('it', site.turn('level.Q1', 'off'), site.expect('panel.Z4', 'alarm', { within: 1 }));
    const [verdict] = analyse(site.build()).cases[1]!.verdicts;
    expect(verdict!.holds).toBe(true);
    // 4 ms to release, some 3 ms of decay through the diode, 400 ms of the zone.
    expect(verdict!.found.seconds!.most).toBeGreaterThan(0.406);
    expect(verdict!.found.seconds!.most).toBeLessThan(0.409);
  });

  it('fails where the response takes longer', () => {
    const verdicts = verdictsOf((s) => [s.turn('level.Q1', 'off'), s.expect('panel.Z4', 'alarm', { within: 0.3 })]);
    expect(verdicts).toEqual([false]);
  });

  it('fails where the signal is gone before the zone responds', () => {
    const pulse = (length: number) =>
      verdictsOf((s) => [s.turn('level.Q1', 'off', { for: length }), s.expect('panel.Z4', 'alarm', { within: 1 })]);
    expect(pulse(0.3)).toEqual([false]);
    expect(pulse(0.5)).toEqual([true]);
  });

  it('looks ahead at what happens by itself', () => {
    const verdicts = verdictsOf((s) => [
      s.turn('level.Q1', 'off', { for: 2 }),
      s.expect('panel.Z4', 'normal', { within: 3 }),
      s.expect('panel.Z4', 'normal', { within: 2.1 }),
    ]);
    expect(verdicts).toEqual([true, false]);
  });

  it('says which time it lacks', () => {
    const site = new SiteBuilder();
    site.supply('G1', { volts: datum(12) });
    site.relay('K1', { rated: datum(12), ohms: datum(400), operates: datum(8), releases: datum(1), rise: datum(0) });
    site.switch('S1', 'make').wire('G1.plus', 'S1', 'K1.A1-A2', 'G1.minus');
    site.case('it', site.turn('S1', 'closed'), site.expect('K1', 'operated', { within: 1 }));
    const [verdict] = analyse(site.build()).cases[1]!.verdicts;
    expect(verdict!.holds).toBe('not-evaluated');
    expect(verdict!.needs.map(({ property }) => property)).toEqual(['operate-time']);
  });
});

describe('times and throughout', () => {
  it('counts entries over the whole case, everything having run out', () => {
    const verdicts = verdictsOf((s) => [
      s.expect('P1', 'on', { times: 2 }),
      s.expect('P1', 'on', { times: 1 }),
      s.expect('panel.Z4', 'alarm', { times: 0 }),
      s.turn('level.Q2', 'on', { for: 5 }),
      s.wait(10),
      s.turn('level.Q2', 'on', { for: 5 }),
    ]);
    expect(verdicts).toEqual([true, false, true]);
  });

  it('holds at every instant up to the line', () => {
    const verdicts = verdictsOf((s) => [
      s.turn('level.Q2', 'on', { for: 5 }),
      s.expect('panel.Z4', 'normal', { throughout: true }),
      s.turn('level.Q1', 'off', { for: 5 }),
      s.wait(10),
      s.expect('panel.Z4', 'normal'),
      s.expect('panel.Z4', 'normal', { throughout: true }),
    ]);
    expect(verdicts).toEqual([true, true, false]);
  });
});

describe('what several contacts of one loop do between two instants', () => {
  function twoRelays(operateTime?: Datum, responds?: Datum): SiteBuilder {
    const site = new SiteBuilder();
    site.supply('G1', { volts: datum(12) });
    const facts = { rated: datum(12), ohms: datum(400), operates: datum(8), releases: datum(1), rise: datum(0) };
    const coil = operateTime === undefined ? facts : { ...facts, operateTime };
    site.relay('K1', coil).relay('K2', coil).switch('S1', 'make');
    site.wire('G1.plus', 'S1', 'K1.A1-A2', 'G1.minus').wire('S1.14', 'K2.A1-A2', 'G1.minus');
    const bands = [
      ['normal', undefined, 4000],
      ['open', 4000, undefined],
    ] as const;
    const notices = responds === undefined ? {} : { responds, restores: responds };
    site.zone('Z1', 'ZC', { feedVolts: datum(5), feedOhms: datum(4700), bands, ...notices }).resistor('RE', 2200);
    // Closed through K1 at rest and through K2 when both have operated: open for a moment between.
    return site.wire('Z1', 'K1.11-12', 'RE', 'ZC').wire('K1.11', 'K2.11-14', 'K1.12');
  }

  function verdicts(site: SiteBuilder) {
    site.case(
      'it',
      site.turn('S1', 'closed'),
      site.expect('Z1', 'normal'),
      site.expect('Z1', 'normal', { throughout: true }),
      site.expect('Z1', 'open', { times: 0 }),
    );
    return analyse(site.build()).cases[1]!.verdicts;
  }

  it('is not judged without their times', () => {
    const found = verdicts(twoRelays(undefined, datum(0.4)));
    expect(found.map(({ holds }) => holds)).toEqual([true, 'not-evaluated', 'not-evaluated']);
    expect(found[1]!.needs.map(({ property }) => property)).toEqual(['operate-time', 'operate-time']);
  });

  it('is not judged without the time of the zone', () => {
    const found = verdicts(twoRelays(datum([0.004, 0.01])));
    expect(found.map(({ holds }) => holds)).toEqual([true, 'not-evaluated', 'not-evaluated']);
    expect([...new Set(found[1]!.needs.map(({ property }) => property))]).toEqual(['responds', 'restores']);
  });

  it('is too short for a zone that takes its time, and may be seen by one that only promises not to take longer', () => {
    // K1 and K2 may lie 10 − 4 = 6 ms apart.
    const slow = verdicts(twoRelays(datum([0.004, 0.01]), datum([0.1, 0.4])));
    expect(slow.map(({ holds }) => holds)).toEqual([true, true, true]);
    const quick = verdicts(twoRelays(datum([0.004, 0.01]), atMost(0.4)));
    expect(quick.map(({ holds }) => holds)).toEqual([true, false, false]);
    expect(quick[2]!.found.entries).toEqual({ least: 0, most: 1 });
    const together = verdicts(twoRelays(datum(0.01), atMost(0.4)));
    expect(together.map(({ holds }) => holds)).toEqual([true, true, true]);
  });
});

describe('figures', () => {
  it('hold at the worst corner, as ranges for the whole spread, about the usual value', () => {
    const verdicts = verdictsOf((s) => [
      s.turn('level.Q2', 'on'),
      s.expect('P1', compare('>=', 11.1 - 1e-9, 'V')),
      s.expect('P1', compare('>=', 11.2, 'V')),
      s.expect('P1', compare('<=', 0.6, 'A')),
      s.expect('P1', compare('<', 0.58, 'A')),
      s.expect('P1', { sort: 'range', least: 11, most: 14.2, dimension: 'V' }),
      s.expect('P1', { sort: 'range', least: 11, most: 14, dimension: 'V' }),
      s.expect('P1', { sort: 'about', value: 12.5, least: 12.375, most: 12.625, dimension: 'V' }),
      s.expect('P1', { sort: 'about', value: 12.8, least: 12.672, most: 12.928, dimension: 'V' }),
      s.expect('P1', compare('<', 9, 'W')),
      s.expect('panel.Z4', { sort: 'range', least: 2201.9, most: 2250.8, dimension: 'ohm' }),
      s.expect({ sort: 'amps', component: s.id('RE') }, compare('>', 0.0007, 'A')),
    ]);
    expect(verdicts).toEqual([true, false, true, false, true, false, true, false, true, true, true]);
  });

  it('measure between terminals: volts live, ohms dead with the first terminal lifted', () => {
    const verdicts = verdictsOf((s) => {
      const [a, b] = [s.terminal('panel.Z4'), s.terminal('panel.ZC')];
      const ohms = { sort: 'between', quantity: 'ohms', a, b } as const;
      return [
        s.expect(
          { sort: 'between', quantity: 'volts', a, b },
          { sort: 'range', least: 1.5, most: 1.7, dimension: 'V' },
        ),
        s.expect(ohms, { sort: 'range', least: 2201.9, most: 2250.8, dimension: 'ohm' }),
        s.turn('level.Q1', 'off'),
        s.expect(ohms, { sort: 'range', least: 6854.9, most: 6997.8, dimension: 'ohm' }),
      ];
    });
    expect(verdicts).toEqual([true, true, true]);
  });
});

describe('faults as turns', () => {
  it.each([
    ['W1.GN', 'cut', 'open'],
    ['RE', 'missing', 'open'],
    ['RA', 'missing', 'normal'],
    ['RE', 'linked', 'short'],
    ['RE', 'a-decade-high', 'open'],
    ['K1', 'coil-open', 'alarm'],
    ['level.Q1', 'stuck-off', 'alarm'],
    ['level.V12', 'lost', 'alarm'],
  ])('%s %s reads %s at once', (part, fault, reads) => {
    const verdicts = verdictsOf((s) => [s.turn(part, fault), s.expect('panel.Z4', reads)]);
    expect(verdicts).toEqual([true]);
  });

  it('that stick keep the part from doing what it is turned to', () => {
    const verdicts = verdictsOf((s) => [
      s.turn('K1.11-14', 'welded'),
      s.turn('level.Q1', 'off'),
      s.expect('panel.Z4', 'normal'),
      s.expect('K1', 'released'),
    ]);
    expect(verdicts).toEqual([true, true]);
  });

  it('between cores and to earth join what they say', () => {
    const site = tidewaterParts();
    site.earth().bond('functional earth', 'panel.ZC', 'earth');
    site.case('shorted', site.turn('W1.GN', 'shorted', { other: 'W1.YE' }), site.expect('panel.Z4', 'short'));
    site.case('earthed', site.turn('W1.GN', 'earthed'), site.expect('panel.Z4', 'short'));
    expect(analyse(site.build()).cases.flatMap(({ verdicts }) => verdicts.map(({ holds }) => holds))).toEqual([
      true,
      true,
    ]);
  });

  it('to earth joins the pole that is said to be earthed', () => {
    const site = tidewaterParts();
    site.case('earthed', site.turn('W1.GN', 'earthed'), site.expect('panel.Z4', 'short'));
    const { cases, problems } = analyse(site.build());
    expect(problems).toEqual([]);
    expect(cases.flatMap(({ verdicts }) => verdicts.map(({ holds }) => holds))).toEqual([true]);
  });

  it("of fitting put parts in each other's place, and the resistor at the other end of its core", () => {
    const site = tidewaterParts();
    site.case('swapped', site.turn('RE', 'swapped', { other: 'RA' }), site.expect('panel.Z4', 'alarm'));
    site.case('moved', site.turn('RE', 'at-other-end'), site.expect('panel.Z4', 'normal'));
    site.case('crossed', site.turn('W1.GN', 'swapped', { other: 'W1.YE' }), site.expect('panel.Z4', 'normal'));
    const { cases, problems } = analyse(site.build());
    expect(problems).toEqual([]);
    expect(cases.flatMap(({ verdicts }) => verdicts.map(({ holds }) => holds))).toEqual([true, true, true]);
    const [zone] = site.build().components.flatMap((part) => (part.name === 'panel.Z4' ? [part.id] : []));
    const ohms = cases.slice(1).map(({ moments }) => moments.at(-1)!.reading(zone!).ohms);
    // 4.7 kΩ in place of 2.2 kΩ, which then lies across the closed contact; the cable and the contact stay in the loop.
    expect(ohms[0]).toMatchObject({ usual: expect.closeTo(4700 + 26.6, 1) });
    expect(ohms[1]).toMatchObject({ usual: expect.closeTo(2200 + 26.6, 1) });
    expect(ohms[2]).toMatchObject({ usual: expect.closeTo(2200 + 26.6, 1) });
  });

  it('of a relay as a whole are those of the one contact that is wired', () => {
    const verdicts = verdictsOf((s) => [
      s.turn('K1', 'welded'),
      s.turn('level.Q1', 'off'),
      s.expect('panel.Z4', 'normal'),
    ]);
    expect(verdicts).toEqual([true]);
    expect(verdictsOf((s) => [s.turn('K1', 'never-closes'), s.expect('panel.Z4', 'alarm')])).toEqual([true]);
  });

  it('of a coil the wrong way round shorts the output through what suppresses it', () => {
    expect(verdictsOf((s) => [s.turn('K1', 'reversed'), s.expect('panel.Z4', 'alarm')])).toEqual([true]);
  });

  it('that mean nothing for a part are told', () => {
    const site = tidewaterParts();
    site.case('swapped', site.turn('RE', 'swapped', { other: 'P1' }), site.expect('panel.Z4', 'normal'));
    const { problems } = analyse(site.build());
    expect(problems.map(({ sort, detail }) => [sort, detail])).toEqual([
      ['not-computed', 'turning RE swapped is not followed'],
    ]);
  });
});

describe('signals', () => {
  const signals = (analysis: Analysis) =>
    analysis.cases[1]!.signals.map(({ component, className, shortest, longest }) => ({
      part: analysis.design.components[component]!.name,
      className,
      shortest,
      longest,
    }));

  it('last as long as the turn, less what the relay takes to follow', () => {
    const site = tidewaterParts();
    site.case('pulse', site.turn('level.Q1', 'off', { for: [0.4, 0.5, 0.6] }));
    const [signal, ...others] = signals(analyse(site.build()));
    expect(others).toEqual([]);
    expect(signal).toMatchObject({ part: 'panel.Z4', className: 'alarm' });
    // Releasing eats up to 4 ms and the decay; operating again lengthens by nothing at its least.
    expect(signal!.shortest).toBeGreaterThan(0.4 - 0.008);
    expect(signal!.shortest).toBeLessThan(0.4 - 0.004);
    // At the longest the coil has only to decay from its least volts to those that it is certainly held at.
    expect(signal!.longest).toBeLessThan(0.606);
    expect(signal!.longest).toBeGreaterThan(0.606 - 0.0002);
  });

  it('last for ever where nothing ends them', () => {
    const site = tidewaterParts();
    site.case('stays', site.turn('level.Q1', 'off'));
    expect(signals(analyse(site.build()))).toEqual([
      { part: 'panel.Z4', className: 'alarm', shortest: Number.POSITIVE_INFINITY, longest: Number.POSITIVE_INFINITY },
    ]);
  });

  it('follow the pattern of a pulsing output', () => {
    const site = new SiteBuilder();
    site.unit('u');
    site.rail('u.V', 'u.GND', { volts: datum(12) });
    const pattern = { on: datum(0.5), off: datum(1) };
    site.output('u.Q1', 'sink', { returns: 'u.GND', drop: atMost(0.3), leak: datum(0), pattern });
    site.input('DI', 'DI.P', 'DI.N', {
      ohms: tolerance(3300, 0.05),
      drop: datum(1.2),
      on: { above: 0.002, unit: 'A', origin: -1 },
      off: { below: 0.001, unit: 'A', origin: -1 },
    });
    site.wire('u.V', 'DI', 'u.Q1');
    site.case('blinks', site.turn('u.Q1', 'pulsing'));
    expect(signals(analyse(site.build()))).toEqual([{ part: 'DI', className: 'on', shortest: 0.5, longest: 0.5 }]);
  });
});

describe('watts', () => {
  it('are greatest where a resistance matches what it sees', () => {
    const site = new SiteBuilder();
    site.supply('G1', { volts: datum(12) });
    site.resistor('RS', 100).resistor('RL', [50, 120, 200]);
    site.wire('G1.plus', 'RS', 'RL', 'G1.minus');
    const figure = analyse(site.build()).cases[0]!.moments[0]!.watts(site.id('RL'));
    if (figure.sort !== 'value') throw new Error('watts of RL');
    expect(figure.most).toBeCloseTo(144 / 400, 12);
    expect(figure.least).toBeCloseTo(Math.min((12 / 150) ** 2 * 50, (12 / 300) ** 2 * 200), 12);
    expect(figure.mostCorner).toContainEqual({ what: 'RL', value: expect.closeTo(100, 6), unit: 'ohm', share: 1 });
  });
});
