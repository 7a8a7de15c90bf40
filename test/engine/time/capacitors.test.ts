/** Capacitors through time, worked by hand and against the formulas of `decay`. */
import { analyse, capacitorSeconds } from '@couplet/engine';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { straightSeconds } from '../../../packages/engine/src/time/rc.ts';
import { type Amount, datum } from '../../support/data.ts';
import { SiteBuilder } from '../../support/site.ts';
import { BANDS, caseOf, EXACT, lineOf, verdictsOf } from './support.ts';

/** Where a line has its points, least and most in seconds. */
function times(s: SiteBuilder, part: string, what?: 'reads'): readonly (readonly [number, string, number, number])[] {
  const one = caseOf(analyse(s.build()), 'it');
  const track = one.timeline.find((each) => each.component === s.id(part) && (what ?? each.what) === each.what);
  return (track?.points ?? []).map(({ time, states }, i) => [i, states.join('/'), time.least, time.most]);
}

/** A relay with a capacitor across its coil, fed through S1 and R1. */
function delayed(farads: Amount, ohms: number): SiteBuilder {
  const s = new SiteBuilder();
  s.supply('G1', { volts: datum(12) });
  s.relay('K1', EXACT).capacitor('C1', farads).switch('S1', 'make').resistor('R1', ohms);
  s.wire('G1.plus', 'S1', 'R1', 'K1.A1-A2', 'G1.minus');
  return s.wire('K1.A1', 'C1', 'K1.A2');
}

describe('a capacitor across a coil', () => {
  it('delays its release: 400 Ω × 1000 µF from 12 V to what holds and what releases', () => {
    const s = delayed(1e-3, 0.001);
    s.case('it', s.turn('S1', 'closed'), s.wait(10), s.turn('S1', 'open'));
    const [, operated, released] = times(s, 'K1');
    expect(operated).toEqual([1, 'operated', expect.closeTo(10 - 9.994, 4), expect.closeTo(0.006, 4)]);
    const tau = 0.4;
    expect(released![2]).toBeCloseTo(10 + tau * Math.log(12 / 8) + 0.004, 4);
    expect(released![3]).toBeCloseTo(10 + tau * Math.log(12 / 1.2) + 0.004, 4);
  });

  it('delays its operation: 12 V behind 100 Ω and 400 Ω are 9.6 V behind 80 Ω', () => {
    const s = delayed(1e-3, 100);
    s.case('it', s.turn('S1', 'closed'), s.expect('K1', 'released'), s.expect('K1', 'operated', { within: 0.16 }));
    const [, operated] = times(s, 'K1');
    // At the earliest at what releases, at the latest at what operates every specimen.
    expect(operated![2]).toBeCloseTo(0.08 * Math.log(9.6 / 8.4) + 0.006, 9);
    expect(operated![3]).toBeCloseTo(0.08 * Math.log(9.6 / 1.6) + 0.006, 9);
    expect(verdictsOf(s.build())).toEqual([false, true]);
  });

  it('counts with its tolerance', () => {
    const s = delayed([0.8e-3, 1e-3, 1.2e-3], 100);
    s.case('it', s.turn('S1', 'closed'));
    const [, operated] = times(s, 'K1');
    expect(operated![2]).toBeCloseTo(0.8 * 0.08 * Math.log(9.6 / 8.4) + 0.006, 9);
    expect(operated![3]).toBeCloseTo(1.2 * 0.08 * Math.log(9.6 / 1.6) + 0.006, 9);
  });

  it('bridges a gap that is shorter than it takes to run down', () => {
    const gap = (length: number) => {
      const s = delayed(1e-3, 10);
      s.case(
        'it',
        s.turn('S1', 'closed'),
        s.wait(10),
        s.turn('S1', 'open', { for: length }),
        s.expect('K1', 'released', { times: 0 }),
      );
      return verdictsOf(s.build());
    };
    // From 11.7 V to the 8 V that hold: 0.4 s × ln(11.7 / 8) = 152 ms.
    expect(gap(0.15)).toEqual([true]);
    expect(gap(0.16)).toEqual([false]);
  });

  it('sets out from where it is when the next change comes', () => {
    const s = delayed(1e-3, 100);
    // Closed for 50 ms it is at 9.6 (1 − e^(−50/80)) = 4.46 V; open for 100 ms it falls to 4.46 e^(−1/4) = 3.47 V.
    s.case('it', s.turn('S1', 'closed', { for: 0.05 }), s.wait(0.15), s.turn('S1', 'closed'));
    const v = 9.6 * (1 - Math.exp(-0.05 / 0.08)) * Math.exp(-0.1 / 0.4);
    const operated = times(s, 'K1').at(-1)!;
    expect(operated[1]).toBe('operated');
    expect(operated[3]).toBeCloseTo(0.15 + 0.08 * Math.log((9.6 - v) / 1.6) + 0.006, 6);
  });
});

describe('a capacitor in series with a coil', () => {
  it('gives the relay one kick', () => {
    const s = new SiteBuilder();
    s.supply('G1', { volts: datum(12) });
    s.relay('K1', EXACT).capacitor('C1', 1e-3).switch('S1', 'make');
    s.wire('G1.plus', 'S1', 'C1', 'K1.A1-A2', 'G1.minus');
    s.case('it', s.turn('S1', 'closed'), s.expect('K1', 'operated', { times: 1 }), s.expect('K1', 'released'));
    expect(verdictsOf(s.build())).toEqual([true, true]);
    const [, operated, released] = times(s, 'K1');
    expect(operated).toEqual([1, 'operated', 0.006, 0.006]);
    expect(released![2]).toBeCloseTo(0.4 * Math.log(12 / 8) + 0.004, 9);
    expect(released![3]).toBeCloseTo(0.4 * Math.log(12 / 1.2) + 0.004, 9);
  });
});

describe('a capacitor that carries a load', () => {
  /** Behind a diode of 0.7 V, so that nothing else discharges it. */
  function carried(): SiteBuilder {
    const s = new SiteBuilder();
    s.supply('G1', { volts: datum(12.7) });
    s.diode('D1', datum(0.7)).capacitor('C1', 4.7e-3);
    s.load('P1', 'resistive', { sort: 'ohms', ohms: datum(100) }, { works: datum([9, 16]) });
    return s.wire('G1.plus', 'D1', 'P1', 'G1.minus').wire('P1.plus', 'C1', 'P1.minus');
  }

  it('keeps it on until its volts have fallen to the least that it works at', () => {
    const s = carried();
    s.case(
      'it',
      s.turn('G1', 'off', { for: 5 }),
      s.expect('P1', 'off', { within: 1.22 }),
      s.expect('P1', 'off', { within: 1.21 }),
    );
    const tau = 0.47;
    const [start, ...line] = times(s, 'P1');
    expect(start![1]).toBe('on');
    expect(line[0]).toEqual([
      1,
      'neither',
      expect.closeTo(tau * Math.log(12 / 9), 6),
      expect.closeTo(tau * Math.log(12 / 9), 6),
    ]);
    expect(line[1]).toEqual([
      2,
      'off',
      expect.closeTo(tau * Math.log(12 / 0.9), 6),
      expect.closeTo(tau * Math.log(12 / 0.9), 6),
    ]);
    expect(verdictsOf(s.build())).toEqual([true, false]);
  });

  it('bridges a short loss of the supply', () => {
    const lost = (length: number) => {
      const s = carried();
      s.case(
        'it',
        s.turn('G1', 'off', { for: length }),
        s.expect('P1', 'on', { throughout: true }),
        s.wait(1),
        s.expect('P1', 'on', { throughout: true }),
      );
      return verdictsOf(s.build())[1];
    };
    expect(lost(0.13)).toBe(true);
    expect(lost(0.14)).toBe(false);
  });
});

describe('a capacitor across a zone', () => {
  it('delays what the panel reads', () => {
    const s = new SiteBuilder();
    s.zone('Z1', 'ZC', {
      feedVolts: datum(5),
      feedOhms: datum(4700),
      bands: BANDS,
      responds: datum(0.4),
      restores: datum(0.4),
    });
    s.resistor('RE', 2200).resistor('RA', 4700).switch('S1', 'break').capacitor('C1', 10e-6);
    s.wire('Z1', 'S1', 'RE', 'ZC').wire('S1.11', 'RA', 'S1.12').wire('Z1', 'C1', 'ZC');
    s.case('it', s.turn('S1', 'open'));
    const across = (ohms: number) => (5 * ohms) / (ohms + 4700);
    const tau = 10e-6 * (1 / (1 / 4700 + 1 / 6900));
    const seconds = tau * Math.log((across(6900) - across(2200)) / (across(6900) - across(4000)));
    const [, alarm] = times(s, 'Z1', 'reads');
    expect(alarm).toEqual([1, 'alarm', expect.closeTo(seconds, 9), expect.closeTo(seconds, 9)]);
    expect(lineOf(s, caseOf(analyse(s.build()), 'it'), 'Z1', 'reports')).toHaveLength(2);
  });
});

describe('a capacitor of which nothing is said', () => {
  it('keeps times from being judged that hang on it', () => {
    const s = delayed(1e-3, 100);
    s.components[s.id('C1')] = { ...s.components[s.id('C1')]!, farads: undefined } as (typeof s.components)[number];
    s.case('it', s.turn('S1', 'closed'), s.expect('K1', 'operated'), s.expect('K1', 'operated', { within: 1 }));
    const { verdicts } = caseOf(analyse(s.build()), 'it');
    expect(verdicts.map(({ holds }) => holds)).toEqual([true, 'not-evaluated']);
    expect(verdicts[1]!.needs.map(({ component, property }) => [component, property])).toEqual([
      [s.id('C1'), 'rating'],
    ]);
  });
});

describe('several capacitors in one circuit', () => {
  /** Two steps of ohms and farads behind 12 V; a load without draw reads the volts of the second capacitor. */
  function ladder(second: Amount): SiteBuilder {
    const s = new SiteBuilder();
    s.supply('G1', { volts: datum(12) })
      .switch('S1', 'make')
      .resistor('R1', 1000)
      .resistor('R2', 1000);
    s.capacitor('C1', 1e-3)
      .capacitor('C2', second)
      .load('P1', 'resistive', { sort: 'ohms', ohms: datum(1e12) }, { works: datum([6, 12, 30]) });
    s.wire('G1.plus', 'S1', 'R1', 'C1', 'G1.minus');
    s.wire('R1.2', 'R2', 'C2', 'G1.minus');
    return s.wire('R2.2', 'P1', 'G1.minus');
  }

  it('charge one through the other: 1 kΩ and 1000 µF twice, as its two natural modes say', () => {
    const s = ladder(1e-3);
    s.case('it', s.turn('S1', 'closed'));
    // With R C = 1 s and x = v − 12 V: x1' = −2 x1 + x2, x2' = x1 − x2. Its modes are (−3 ± √5) / 2 per second, and from
    // x = (−12, −12) the second runs down as −12 (A e^(a t) + B e^(b t)), A + B = 1, A a + B b = 0 as no current flows yet.
    const [a, b] = [(-3 + Math.sqrt(5)) / 2, (-3 - Math.sqrt(5)) / 2];
    const A = b / (b - a);
    const v2 = (t: number) => 12 - 12 * (A * Math.exp(a * t) + (1 - A) * Math.exp(b * t));
    const on = times(s, 'P1').find(([, states]) => states === 'on')!;
    expect(on[2]).toBeCloseTo(on[3], 9);
    expect(v2(on[2])).toBeCloseTo(6, 6);
  });

  it('count with their tolerances, each at the end that helps', () => {
    const s = ladder([0.9e-3, 1e-3, 1.1e-3]);
    s.case('it', s.turn('S1', 'closed'));
    const [, , least, most] = times(s, 'P1').find(([, states]) => states === 'on')!;
    const alone = (farads: number) => {
      const exact = ladder(farads);
      exact.case('it', exact.turn('S1', 'closed'));
      return times(exact, 'P1').find(([, states]) => states === 'on')![2];
    };
    expect(least).toBeCloseTo(alone(0.9e-3), 9);
    expect(most).toBeCloseTo(alone(1.1e-3), 9);
  });

  it('side by side are one of both', () => {
    const both = delayed(0.4e-3, 100);
    both.capacitor('C2', 0.6e-3).wire('K1.A1', 'C2', 'K1.A2');
    both.case('it', both.turn('S1', 'closed'));
    const one = delayed(1e-3, 100);
    one.case('it', one.turn('S1', 'closed'));
    expect(times(both, 'K1')).toEqual(
      times(one, 'K1').map(([i, states, ...spread]) => [i, states, ...spread.map((t) => expect.closeTo(t, 9))]),
    );
  });

  it('right across the supply hold its volts, and the others go their way', () => {
    const s = delayed(1e-3, 100);
    s.capacitor('C2', 1e-3).wire('G1.plus', 'C2', 'G1.minus');
    s.case('it', s.turn('S1', 'closed'));
    const one = delayed(1e-3, 100);
    one.case('it', one.turn('S1', 'closed'));
    expect(times(s, 'K1')).toEqual(times(one, 'K1'));
    expect(analyse(s.build()).problems).toEqual([]);
  });

  it('share their charge through what is between them', () => {
    // C1 at 12 V and C2 at 0 V of the same size meet at 6 V through 1 kΩ: apart by 12 e^(−2 t / R C), so C2 is at
    // 4 V when e^(−2 t) = 1/3, once nothing else is joined to them.
    const s = new SiteBuilder();
    s.supply('G1', { volts: datum(12) })
      .switch('S1', 'break')
      .switch('S2', 'make')
      .resistor('R1', 1000);
    s.capacitor('C1', 1e-3).capacitor('C2', 1e-3);
    s.load('P1', 'resistive', { sort: 'ohms', ohms: datum(1e12) }, { works: datum([4, 12, 30]) });
    s.wire('G1.plus', 'S1', 'C1', 'G1.minus');
    s.wire('C1.plus', 'S2', 'R1', 'C2', 'G1.minus');
    s.wire('R1.2', 'P1', 'G1.minus');
    s.case('it', s.turn('S1', 'open'), s.turn('S2', 'closed'));
    const on = times(s, 'P1').find(([, states]) => states === 'on')!;
    expect(on[2]).toBeCloseTo(Math.log(3) / 2, 6);
  });

  it('let a load come on and go off again that is off at both ends', () => {
    // As above with 10 kΩ across C2: x1' = −x1 + x2, x2' = x1 − 1.1 x2 in volts a second.
    const s = new SiteBuilder();
    s.supply('G1', { volts: datum(12) })
      .switch('S1', 'break')
      .switch('S2', 'make')
      .resistor('R1', 1000);
    s.capacitor('C1', 1e-3).capacitor('C2', 1e-3);
    s.load('P1', 'resistive', { sort: 'ohms', ohms: datum(1e4) }, { works: datum([4, 12, 30]) });
    s.wire('G1.plus', 'S1', 'C1', 'G1.minus');
    s.wire('C1.plus', 'S2', 'R1', 'C2', 'G1.minus');
    s.wire('R1.2', 'P1', 'G1.minus');
    s.case('it', s.turn('S1', 'open'), s.turn('S2', 'closed'), s.expect('P1', 'on', { times: 1 }));
    const root = Math.sqrt(2.1 ** 2 - 4 * 0.1) / 2;
    const [a, b] = [-1.05 + root, -1.05 - root];
    const v2 = (t: number) => (12 / (a - b)) * (Math.exp(a * t) - Math.exp(b * t));
    const points = times(s, 'P1').filter(([i]) => i > 0);
    expect(points.map(([, states]) => states)).toEqual(['neither', 'on', 'neither', 'off']);
    for (const [, , least, most] of points) expect(most).toBeCloseTo(least, 9);
    const [, on, over] = points.map(([, , least]) => least);
    expect([v2(on!), v2(over!)]).toEqual([expect.closeTo(4, 6), expect.closeTo(4, 6)]);
    expect(verdictsOf(s.build())).toEqual([true]);
  });

  it('in a ring without ohms are said not to be followed', () => {
    const s = delayed(1e-3, 100);
    s.capacitor('C2', 1e-3).capacitor('C3', 1e-3);
    s.wire('K1.A1', 'C2', 'C3', 'K1.A2');
    s.case('it', s.turn('S1', 'closed'));
    const { problems } = analyse(s.build());
    expect(problems.map(({ sort, components }) => [sort, components])).toEqual([
      ['not-computed', [s.id('C1'), s.id('C2'), s.id('C3')]],
    ]);
  });
});

describe('the closed form between two currents', () => {
  const positive = (least: number, most: number) => fc.double({ min: least, max: most, noNaN: true });

  it('is what the formulas of decay say of a source behind a resistance', () => {
    fc.assert(
      fc.property(
        positive(1e-9, 1),
        positive(1, 1e6),
        positive(-50, 50),
        positive(-50, 50),
        positive(0.01, 0.99),
        (farads, ohms, sourceVolts, fromVolts, share) => {
          fc.pre(Math.abs(sourceVolts - fromVolts) > 0.01);
          const volts = fromVolts + share * (sourceVolts - fromVolts);
          const amps = (at: number) => (sourceVolts - at) / ohms;
          const made = straightSeconds(farads, fromVolts, volts, amps(fromVolts), amps(volts));
          const known = capacitorSeconds({ farads, ohms, sourceVolts, fromVolts }, volts);
          expect(made / known).toBeCloseTo(1, 9);
        },
      ),
    );
  });

  it('is a constant current where the two are the same, and never where they flow the other way', () => {
    expect(straightSeconds(1e-3, 12, 9, -0.1, -0.1)).toBeCloseTo(
      capacitorSeconds({ farads: 1e-3, ohms: Infinity, sourceVolts: 0, fromVolts: 12, drawnAmps: 0.1 }, 9),
      15,
    );
    expect(straightSeconds(1e-3, 12, 9, 0.1, 0.1)).toBe(Infinity);
    expect(straightSeconds(1e-3, 12, 9, -0.1, 0.1)).toBe(Infinity);
  });
});
