/** The worked example of the language with every figure that is stated under it. */
import { analyse, type Figure, type Moment, type Value } from '@couplet/engine';
import { describe, expect, it } from 'vitest';
import { tidewater } from '../../support/tidewater.ts';

const site = tidewater();
const analysis = analyse(site.build());

function moment(caseName: string, index = 0): Moment {
  const found = analysis.cases.find((one) => one.name === caseName)?.moments[index];
  if (found === undefined) throw new Error(`No moment ${index} of ${caseName}`);
  return found;
}

function value(figure: Figure): Value {
  if (figure.sort !== 'value') throw new Error(`Expected a value, got ${JSON.stringify(figure)}`);
  return figure;
}

const rest = moment('rest');
const highWater = moment('high-water');

describe('Tidewater Mill at rest', () => {
  it('holds the relay in and the beacon off', () => {
    expect(rest.states(site.id('K1'))).toEqual(['operated']);
    expect(rest.states(site.id('P1'))).toEqual(['off']);
  });

  it('has 10.9 V to 14.1 V across the coil', () => {
    const volts = value(rest.volts(site.terminal('K1.A1'), site.terminal('K1.A2')));
    expect(volts.least).toBeCloseTo(10.9, 12);
    expect(volts.most).toBeCloseTo(14.1, 12);
    expect(volts.leastCorner.map(({ what }) => what)).toEqual(['level.V12', 'level.Q1 drop']);
  });

  it('takes 24.1 mA from Q1 at most, with a cold coil at its lower tolerance', () => {
    const amps = value(rest.amps(site.id('level.Q1')));
    expect(amps.most).toBeCloseTo(14.1 / (648 * (1 + 0.00393 * -25)), 12);
    expect((amps.most * 1000).toFixed(1)).toBe('24.1');
    expect(amps.mostCorner).toContainEqual(expect.objectContaining({ what: 'pit ambient', value: -5, unit: 'degC' }));
  });

  it('reads 2,226.6 ohms [2,202.0 to 2,250.7], 1.607 V, 0.722 mA and normal', () => {
    const reading = rest.reading(site.id('panel.Z4'));
    const ohms = value(reading.ohms);
    expect(ohms.usual.toFixed(1)).toBe('2226.6');
    expect(ohms.least.toFixed(1)).toBe('2202.0');
    expect(ohms.most.toFixed(1)).toBe('2250.7');
    expect(ohms.proven).toBe(true);
    expect(value(reading.volts).usual.toFixed(3)).toBe('1.607');
    expect((value(rest.amps(site.id('RE'))).usual * 1000).toFixed(3)).toBe('0.722');
    expect(reading.usual).toBe('normal');
    expect(reading.possible).toEqual(['normal']);
  });

  it('has nothing to say against it', () => {
    expect(analysis.problems).toEqual([]);
  });
});

describe('Tidewater Mill in high water', () => {
  it('reads 6,926.6 ohms [6,855.0 to 6,997.7], 2.979 V and alarm', () => {
    const reading = highWater.reading(site.id('panel.Z4'));
    const ohms = value(reading.ohms);
    expect(ohms.usual.toFixed(1)).toBe('6926.6');
    expect(ohms.least.toFixed(1)).toBe('6855.0');
    expect(ohms.most.toFixed(1)).toBe('6997.7');
    expect(value(reading.volts).usual.toFixed(3)).toBe('2.979');
    expect(reading.possible).toEqual(['alarm']);
  });

  it('lights the beacon with 11.1 V to 14.1 V and 0.588 A at most', () => {
    const volts = value(highWater.volts(site.terminal('P1.plus'), site.terminal('P1.minus')));
    expect(volts.least).toBeCloseTo(11.1, 12);
    expect(volts.most).toBeCloseTo(14.1, 12);
    expect(value(highWater.amps(site.id('P1'))).most).toBeCloseTo(14.1 / 24, 12);
    expect(highWater.states(site.id('P1'))).toEqual(['on']);
  });

  it('goes dark again after 90 s', () => {
    const later = moment('high-water', 1);
    expect(later.time).toBe(90);
    expect(later.states(site.id('P1'))).toEqual(['off']);
    expect(later.reading(site.id('panel.Z4')).usual).toBe('alarm');
  });
});

describe('what Tidewater Mill expects', () => {
  it('is all borne out', () => {
    const verdicts = analysis.cases.flatMap((one) => one.verdicts.map(({ holds }) => [one.name, holds]));
    expect(verdicts).toEqual([
      ['rest', true],
      ['rest', true],
      ['high-water', true],
      ['high-water', true],
      ['high-water', true],
      ['supply-lost', true],
    ]);
  });

  it('drops the relay when the controller loses its supply', () => {
    expect(moment('supply-lost').states(site.id('K1'))).toEqual(['released']);
    expect(moment('supply-lost').reading(site.id('panel.Z4')).usual).toBe('alarm');
  });

  it('tells in which cases a part can change', () => {
    const names = (part: string) => analysis.casesOf(site.id(part)).map(({ name }) => name);
    expect(names('P1')).toEqual(['rest', 'high-water', 'supply-lost']);
    expect(names('panel.Z4')).toEqual(['rest', 'high-water', 'supply-lost']);
    expect(names('panel.Z5')).toEqual(['rest']);
  });

  it('answers the same changed question as the rules will ask', () => {
    const welded = [{ sort: 'bridge', component: site.id('K1.11-14') }] as const;
    expect(highWater.vary(welded).reading(site.id('panel.Z4')).usual).toBe('normal');
    const missing = [{ sort: 'remove', component: site.id('RA') }] as const;
    expect(highWater.vary(missing).reading(site.id('panel.Z4')).usual).toBe('open');
    expect(rest.vary(missing).reading(site.id('panel.Z4')).usual).toBe('normal');
    const leaking = [
      { sort: 'join', a: site.terminal('W1.GN.mill'), b: site.terminal('W1.YE.mill'), ohms: 5000 },
    ] as const;
    const { ohms } = highWater.vary(leaking).reading(site.id('panel.Z4'));
    expect(value(ohms).usual).toBeCloseTo(1 / (1 / 6926.6 + 1 / 5000), 9);
  });
});
