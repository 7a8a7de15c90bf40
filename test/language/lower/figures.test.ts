/** From the text to the figures: Tidewater Mill gives what its description states, every example what it expects. */
import { analyse, type Figure, type Moment } from '@couplet/engine';
import { describe, expect, test } from 'vitest';
import { example, SITES } from './examples.ts';
import { findingsOf, lowerText, partOf } from './site.ts';

/** The description's digits are for contacts of 0 Ω. */
function tidewater() {
  const files = Object.entries(example('tidewater-mill')).map(([name, text]) => [
    name,
    text.replace('contacts: changeover', 'contacts: changeover\n  contact-ohms: 0 ohm'),
  ]);
  return lowerText(Object.fromEntries(files));
}

function rounded(figure: Figure, digits: number): [number, number, number] {
  if (figure.sort !== 'value') throw new Error(`no value: ${figure.sort}`);
  const round = (value: number) => Number(value.toFixed(digits));
  return [round(figure.least), round(figure.usual), round(figure.most)];
}

describe('Tidewater Mill', () => {
  const { design } = tidewater();
  const analysis = analyse(design);
  const moment = (name: string): Moment => {
    const found = analysis.cases.find((each) => each.name === name)?.moments[0];
    if (found === undefined) throw new Error(`no case ${name}`);
    return found;
  };
  const rest = moment('rest');
  const high = moment('high-water');
  const zone = partOf(design, 'panel.Z4', 'zone');
  const coil = partOf(design, 'K1', 'relay').coil;
  const beacon = partOf(design, 'P1', 'load');

  test('nothing is left open', () => {
    expect(analysis.problems).toEqual([]);
    expect(analysis.cases.map((each) => each.name)).toEqual(['rest', 'high-water', 'supply-lost']);
    expect(analysis.cases.flatMap((each) => each.verdicts.map((verdict) => verdict.holds))).toEqual(
      Array(6).fill(true),
    );
  });

  test('the coil gets 10.9 V at least and 14.1 V at most', () => {
    const [least, , most] = rounded(rest.volts(coil.a, coil.b), 2);
    expect([least, most]).toEqual([10.9, 14.1]);
  });

  test('Q1 carries 24.1 mA at most, P1 takes 0.588 A at most at 11.1 V to 14.1 V', () => {
    expect(rounded(rest.demand(partOf(design, 'level.Q1', 'output').id), 4)[2]).toBe(0.0241);
    const [least, , most] = rounded(high.volts(beacon.a, beacon.b), 2);
    expect([least, most]).toEqual([11.1, 14.1]);
    expect(rounded(high.amps(beacon.id), 4)[2]).toBe(0.5875);
  });

  test('the loop reads 2,226.6 Ω at rest and 6,926.6 Ω in high water', () => {
    expect(rounded(rest.reading(zone.id).ohms, 1)).toEqual([2202.0, 2226.6, 2250.7]);
    expect(rounded(rest.reading(zone.id).volts, 3)[1]).toBe(1.607);
    expect(rounded(rest.amps(zone.id), 6)[1]).toBe(0.000722);
    expect(rounded(high.reading(zone.id).ohms, 1)).toEqual([6855.0, 6926.6, 6997.7]);
    expect(rounded(high.reading(zone.id).volts, 3)[1]).toBe(2.979);
  });
});

describe.each(SITES)('%s', (site) => {
  const lowered = lowerText(example(site));

  test('lowers without a finding', () => expect(findingsOf(lowered)).toEqual([]));

  test('bears out every expectation that it states', () => {
    const verdicts = analyse(lowered.design).cases.flatMap((each) => each.verdicts);
    expect(verdicts.length).toBeGreaterThan(0);
    expect(verdicts.filter((verdict) => verdict.holds !== true)).toEqual([]);
  });
});
