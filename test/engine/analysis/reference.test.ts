/**
 * Examples of the references that a design can express. Given and expected values are read from their file, so that
 * a test cannot drift from its source; these are derived there, not published.
 */
import { analyse, type Figure, type Moment, type Value } from '@couplet/engine';
import { describe, expect, it } from 'vitest';
import derived from '../../reference/derived.json' with { type: 'json' };
import { datum, tolerance } from '../../support/data.ts';
import { SiteBuilder } from '../../support/site.ts';

// biome-ignore lint/suspicious/noExplicitAny: each example has a shape of its own.
function example(id: string): { given: any; expected: any } {
  const found = derived.examples.find((one) => one.id === id);
  if (found === undefined) throw new Error(`No example ${id}`);
  return found;
}

function restOf(site: SiteBuilder): Moment {
  return analyse(site.build()).cases[0]!.moments[0]!;
}

function value(figure: Figure): Value {
  if (figure.sort !== 'value') throw new Error(`Expected a value, got ${JSON.stringify(figure)}`);
  return figure;
}

/** Within one unit of the last published digit. */
function expectDigits(found: number, published: number): void {
  const digits = String(published).replace('.', '').replace(/^0+/, '').length;
  expect(Math.abs(found - published)).toBeLessThanOrEqual(Math.abs(published) * 10 ** (1 - digits));
}

describe('deol-states: a supervised loop with a resistor across the contact and one at its end', () => {
  const { given, expected } = example('deol-states');
  const bands = [['any', undefined, undefined]] as const;

  function loop(): SiteBuilder {
    const site = new SiteBuilder();
    site.place('panel', {}).place('door', {});
    site.zone('Z1', 'ZC', {
      place: 'panel',
      feedVolts: datum(given.Vs),
      feedOhms: tolerance(given.pullUp, given.tol_each),
      bands,
    });
    site.cable('W1', ['a', 'b'], given.loopCable / 2, 'panel', 'door');
    site.switch('S1', 'break').switch('S2', 'break');
    site.resistor('RA', tolerance(given.Ra, given.tol_each)).resistor('RE', tolerance(given.EOL, given.tol_each));
    site.wire('Z1', 'W1.a', 'S2', 'S1', 'RE', 'W1.b', 'ZC').wire('S1.11', 'RA', 'S1.12');
    site.case('alarm', site.turn('S1', 'open'), site.expect('Z1', 'any'));
    site.case('tamper', site.turn('S2', 'open'), site.expect('Z1', 'any'));
    return site;
  }

  it.each([
    ['normal', 0, 'normal'],
    ['alarm', 1, 'alarm'],
  ] as const)('%s', (_name, index, key) => {
    const site = loop();
    const { ohms, volts } = analyse(site.build()).cases[index]!.moments[0]!.reading(site.id('Z1'));
    expect(value(ohms).usual).toBeCloseTo(expected[key].R, 9);
    expectDigits(value(volts).usual, expected[key].V);
    expectDigits(value(volts).least, expected[key].V_range_1pct[0]);
    expectDigits(value(volts).most, expected[key].V_range_1pct[1]);
  });

  it('open reads the full feed and infinite ohms', () => {
    const site = loop();
    const { ohms, volts } = analyse(site.build()).cases[2]!.moments[0]!.reading(site.id('Z1'));
    expect(value(volts).usual).toBeCloseTo(expected['open(tamper)'].V, 12);
    expect(value(ohms).usual).toBe(Number.POSITIVE_INFINITY);
  });

  it('short at the far end reads the cable alone', () => {
    const site = loop();
    const short = [{ sort: 'join', a: site.terminal('W1.a.door'), b: site.terminal('W1.b.door') }] as const;
    const { ohms, volts } = restOf(site).vary(short).reading(site.id('Z1'));
    expect(value(ohms).usual).toBeCloseTo(expected.short.R, 9);
    expectDigits(value(volts).usual, expected.short.V);
  });
});

describe('a siren at the end of two wires', () => {
  function siren(style: 'resistive' | 'constant-current', volts: number, amps: number, loop: number): SiteBuilder {
    const site = new SiteBuilder();
    site.place('panel', {}).place('wall', {});
    site.supply('G1', { place: 'panel', volts: datum(volts) });
    const works = { works: datum([6, 15]), place: 'wall' };
    site.load('P1', style, { sort: 'amps', amps: datum(amps), atVolts: datum(12) }, works);
    site.cable('W1', ['a', 'b'], loop / 2, 'panel', 'wall');
    return site.wire('G1.plus', 'W1.a', 'P1', 'W1.b', 'G1.minus');
  }

  it('siren-R: resistive', () => {
    const { given, expected } = example('siren-R');
    const site = siren('resistive', given.Vs, 0.3, (given.cable_m * 2 * given.ohm_per_km) / 1000);
    const rest = restOf(site);
    expectDigits(value(rest.amps(site.id('P1'))).usual, expected.I);
    expectDigits(value(rest.volts(site.terminal('P1.plus'), site.terminal('P1.minus'))).usual, expected.V_load);
  });

  it('siren-I: constant current', () => {
    const { given, expected } = example('siren-I');
    const site = siren('constant-current', given.Vs, given.I, given.R_loop);
    const volts = value(restOf(site).volts(site.terminal('P1.plus'), site.terminal('P1.minus')));
    expect(volts.usual).toBeCloseTo(expected.V_load, 12);
    expect(given.Vs - volts.usual).toBeCloseTo(expected.drop, 12);
  });
});

describe('leakage of an output that is off', () => {
  function leaking(leak: number, ohms: number): { site: SiteBuilder; volts: number } {
    const site = new SiteBuilder();
    site.unit('u');
    site.rail('u.V', 'u.GND', { volts: datum(12) });
    site.output('u.Q1', 'sink', { returns: 'u.GND', drop: datum(0), leak: datum(leak) });
    site.resistor('R1', ohms).wire('u.V', 'R1', 'u.Q1');
    return { site, volts: value(restOf(site).volts(site.terminal('R1.1'), site.terminal('R1.2'))).usual };
  }

  it('leak-relay: into a coil', () => {
    const { given, expected } = example('leak-relay');
    expect(leaking(given.leak, given.coil).volts).toBeCloseTo(expected.V, 12);
  });

  it('leak-input: into an input of high ohms', () => {
    const { given, expected } = example('leak-input');
    expect(leaking(given.leak, given.Rin).volts).toBeCloseTo(expected.V, 12);
  });

  it('never exceeds what the supply can push through the load', () => {
    expect(leaking(0.1, 1000).volts).toBeCloseTo(12, 12);
  });
});

describe('wcca-divider: extreme values of a divider', () => {
  it('are those of the corners', () => {
    const { given, expected } = example('wcca-divider');
    const site = new SiteBuilder();
    site.supply('G1', { volts: datum(given.V) });
    site.resistor('R1', tolerance(given.R1, given.tol)).resistor('R2', tolerance(given.R2, given.tol));
    site.wire('G1.plus', 'R1', 'R2', 'G1.minus');
    const volts = value(restOf(site).volts(site.terminal('R2.1'), site.terminal('R2.2')));
    expect(volts.usual).toBeCloseTo(expected.nominal, 12);
    expect(volts.least).toBeCloseTo(expected.EVA_corner[0], 12);
    expect(volts.most).toBeCloseTo(expected.EVA_corner[1], 12);
    expect(volts.leastCorner.map(({ what, value: at }) => `${what} ${at}`).sort()).toEqual(['R1 10100', 'R2 9900']);
  });
});
