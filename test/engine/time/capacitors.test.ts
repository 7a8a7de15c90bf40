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
    expect(verdicts[1]!.needs.map(({ component, property }) => [component, property])).toEqual([[s.id('C1'), '=']]);
  });
});

describe('several capacitors in one circuit', () => {
  it('are said not to be followed', () => {
    const s = delayed(1e-3, 100);
    s.capacitor('C2', 1e-3).resistor('R2', 100);
    s.wire('K1.A1', 'R2', 'C2', 'K1.A2');
    s.case('it', s.turn('S1', 'closed'));
    const { problems } = analyse(s.build());
    expect(problems.map(({ sort, components }) => [sort, components])).toEqual([
      ['not-computed', [s.id('C1'), s.id('C2')]],
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
