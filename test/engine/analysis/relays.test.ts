/** Relays that hold themselves, hunt, hesitate, follow each other; supplies that give out; units that lose power. */
import { analyse, type Design, type Figure, type Moment, type Value } from '@couplet/engine';
import { describe, expect, it } from 'vitest';
import { ambient, atMost, choice, datum, tolerance } from '../../support/data.ts';
import { SiteBuilder } from '../../support/site.ts';

const COIL = {
  rated: datum(12),
  ohms: tolerance(400, 0.1),
  operates: datum(8.4),
  releases: datum(1.2),
  rise: datum(30),
  operateTime: atMost(0.01),
  releaseTime: atMost(0.005),
} as const;

function site(): SiteBuilder {
  return new SiteBuilder().place('hall', { ambient: ambient(5, 35) });
}

function restOf(design: Design): Moment {
  return analyse(design).cases[0]!.moments[0]!;
}

function value(figure: Figure): Value {
  if (figure.sort !== 'value') throw new Error(`Expected a value, got ${JSON.stringify(figure)}`);
  return figure;
}

describe('relays in a row', () => {
  it('settle one after the other, each with the state of the one before it', () => {
    const s = site();
    s.supply('G1', { volts: datum([11, 12, 13]), place: 'hall' });
    for (const name of ['K1', 'K2', 'K3']) s.relay(name, { ...COIL, place: 'hall' });
    s.switch('S1', 'make');
    s.wire('G1.plus', 'S1', 'K1.A1-A2', 'G1.minus');
    s.wire('G1.plus', 'K1.11-14', 'K2.A1-A2', 'G1.minus');
    s.wire('G1.plus', 'K2.11-12', 'K3.A1-A2', 'G1.minus');
    s.case('pressed', s.turn('S1', 'closed'), s.expect('K3', 'released', { within: 0.1 }));
    const { cases, problems } = analyse(s.build());
    expect(problems).toEqual([]);
    const states = (moment: Moment) => ['K1', 'K2', 'K3'].map((name) => moment.states(s.id(name)));
    expect(states(cases[0]!.moments[0]!)).toEqual([['released'], ['released'], ['operated']]);
    const pressed = cases[1]!;
    expect(states(pressed.moments[0]!)).toEqual([['operated'], ['operated'], ['released']]);
    expect(pressed.verdicts[0]!.holds).toBe(true);
    expect(pressed.verdicts[0]!.found.seconds?.most).toBeCloseTo(0.01 + 0.01 + 0.005, 12);
  });
});

describe('a relay that holds itself', () => {
  const s = site();
  s.supply('G1', { volts: datum(12), place: 'hall' });
  s.relay('K1', { ...COIL, place: 'hall' });
  s.switch('S1', 'make').switch('S2', 'break');
  s.wire('G1.plus', 'S2', 'S1', 'K1.A1-A2', 'G1.minus');
  s.wire('S2.12', 'K1.11-14', 'K1.A1');
  s.case('start', s.turn('S1', 'closed', { for: 1 }), s.wait(2), s.expect('K1', 'operated'));
  s.caseAfter('stop', 'start', s.turn('S2', 'open', { for: 1 }), s.wait(2), s.expect('K1', 'released'));
  const { cases, problems } = analyse(s.build());

  it('rests dead, because everything comes on from dead', () => {
    expect(cases[0]!.moments[0]!.states(s.id('K1'))).toEqual(['released']);
  });

  it('stays in after the button and drops out after the stop button', () => {
    expect(cases[1]!.verdicts.map(({ holds }) => holds)).toEqual([true]);
    expect(cases[2]!.verdicts.map(({ holds }) => holds)).toEqual([true]);
  });

  it('is told as memory, with both states', () => {
    const memory = problems.find(({ sort }) => sort === 'memory');
    expect(memory?.components).toEqual([s.id('K1')]);
    expect(memory?.detail).toContain('K1 released; K1 operated');
  });
});

describe('a relay that breaks its own coil', () => {
  it('finds no rest, and says so instead of a state', () => {
    const s = site();
    s.supply('G1', { volts: datum(12), place: 'hall' });
    s.relay('K1', { ...COIL, place: 'hall' });
    s.wire('G1.plus', 'K1.11-12', 'K1.A1-A2', 'G1.minus');
    s.case('rest', s.expect('K1', 'operated'));
    const { cases, problems } = analyse(s.build());
    expect(problems.map(({ sort, components }) => [sort, components])).toContainEqual([
      'relay-oscillates',
      [s.id('K1')],
    ]);
    expect(cases[0]!.moments[0]!.states(s.id('K1'))).toEqual([]);
    expect(cases[0]!.verdicts[0]!.holds).toBe('not-evaluated');
  });

  it('two relays that chase each other have no rest either', () => {
    const s = site();
    s.supply('G1', { volts: datum(12), place: 'hall' });
    s.relay('K1', { ...COIL, place: 'hall' }).relay('K2', { ...COIL, place: 'hall' });
    s.wire('G1.plus', 'K2.11-12', 'K1.A1-A2', 'G1.minus');
    s.wire('G1.plus', 'K1.11-14', 'K2.A1-A2', 'G1.minus');
    const { problems } = analyse(s.build());
    expect(problems.map(({ sort }) => sort)).toContain('relay-oscillates');
  });

  it('two relays that exclude each other remember which came first', () => {
    const s = site();
    s.supply('G1', { volts: datum(12), place: 'hall' });
    s.relay('K1', { ...COIL, place: 'hall' }).relay('K2', { ...COIL, place: 'hall' });
    s.wire('G1.plus', 'K2.11-12', 'K1.A1-A2', 'G1.minus');
    s.wire('G1.plus', 'K1.11-12', 'K2.A1-A2', 'G1.minus');
    const { problems } = analyse(s.build());
    const memory = problems.find(({ sort }) => sort === 'memory');
    expect(memory?.components).toEqual([s.id('K1'), s.id('K2')]);
    expect(memory?.detail).toContain('2 states');
  });
});

describe('a relay between its guarantees', () => {
  const s = site();
  // 9 V at least is under 8.4 V × 1.177 at 65 °C; 12 V usually is enough.
  s.supply('G1', { volts: datum([9, 12, 13]), place: 'hall' });
  s.relay('K1', { ...COIL, place: 'hall' });
  s.wire('G1.plus', 'K1.A1-A2', 'G1.minus');
  s.zone('Z1', 'ZC', {
    feedVolts: datum(5),
    feedOhms: datum(4700),
    bands: [
      ['normal', undefined, 4000],
      ['alarm', 4000, 9000],
      ['open', 9000, undefined],
    ],
  });
  s.resistor('RE', 2200).resistor('RA', 4700);
  s.wire('Z1', 'K1.11-14', 'RE', 'ZC').wire('K1.11', 'RA', 'K1.14');
  const rest = restOf(s.build());

  it('is undecided, usually operated', () => {
    expect(rest.states(s.id('K1'))).toEqual(['operated', 'released']);
  });

  it('leaves its loop in either state: the union of both, and nothing between them', () => {
    const reading = rest.reading(s.id('Z1'));
    const ohms = value(reading.ohms);
    expect([ohms.least, ohms.usual, ohms.most]).toEqual([
      expect.closeTo(2200, 9),
      expect.closeTo(2200, 9),
      expect.closeTo(6900, 9),
    ]);
    expect(reading.possible).toEqual(['normal', 'alarm']);
  });
});

describe('a relay of which something is not known', () => {
  const s = site();
  s.supply('G1', { volts: datum(12), place: 'hall' });
  s.relay('K1', { ...COIL, ohms: undefined, place: 'hall' });
  s.relay('K2', { ...COIL, place: 'hall' });
  s.wire('G1.plus', 'K1.A1-A2', 'G1.minus').wire('G1.plus', 'K2.A1-A2', 'G1.minus');
  s.resistor('R1', 100).resistor('R2', 100);
  s.wire('G1.plus', 'K1.11-14', 'R1', 'G1.minus').wire('G1.plus', 'K2.11-14', 'R2', 'G1.minus');
  s.case('rest', s.expect('K1', 'operated'), s.expect('K2', 'operated'));
  const { cases } = analyse(s.build());
  const rest = cases[0]!.moments[0]!;

  it('is not evaluated, and nor is what hangs on it', () => {
    expect(rest.states(s.id('K1'))).toEqual([]);
    const figure = rest.amps(s.id('R1'));
    expect(figure).toEqual({
      sort: 'not-evaluated',
      needs: [{ component: s.id('K1'), property: 'coil', origin: 1000 + s.id('K1') }],
    });
    expect(cases[0]!.verdicts[0]!.holds).toBe('not-evaluated');
    expect(cases[0]!.verdicts[0]!.needs.map(({ property }) => property)).toEqual(['coil']);
  });

  it('does not take down what hangs on the same supply', () => {
    expect(rest.states(s.id('K2'))).toEqual(['operated']);
    expect(value(rest.amps(s.id('R2'))).usual).toBeCloseTo(0.12, 12);
  });

  it('keeps the supply itself from being judged', () => {
    expect(rest.demand(s.id('G1')).sort).toBe('not-evaluated');
  });
});

describe('a supply that reaches its limit', () => {
  const s = site();
  s.supply('G1', { volts: datum(12), limit: datum(1), place: 'hall' });
  s.resistor('R1', 10).resistor('R2', 20);
  s.wire('G1.plus', 'R1', 'G1.minus').wire('G1.plus', 'R2', 'G1.minus');
  const { cases, problems } = analyse(s.build());
  const rest = cases[0]!.moments[0]!;

  it('holds the limit and lets the volts fall', () => {
    expect(value(rest.amps(s.id('G1'))).usual).toBeCloseTo(1, 12);
    expect(value(rest.volts(s.terminal('G1.plus'), s.terminal('G1.minus'))).usual).toBeCloseTo(20 / 3, 12);
    expect(value(rest.amps(s.id('R1'))).usual).toBeCloseTo(2 / 3, 12);
    expect(problems).toEqual([]);
  });

  it('is asked for 1.8 A', () => {
    expect(value(rest.demand(s.id('G1'))).usual).toBeCloseTo(1.8, 12);
  });
});

describe('an output that limits', () => {
  it('holds its limit, and its demand is what it would carry without', () => {
    const s = site();
    s.unit('u', { place: 'hall' });
    s.rail('u.V', 'u.GND', { volts: datum(12) });
    s.output('u.Q1', 'sink', { returns: 'u.GND', drop: datum(0), limits: datum(0.5), rest: 'on' });
    s.resistor('R1', 12).wire('u.V', 'R1', 'u.Q1');
    const rest = restOf(s.build());
    expect(value(rest.amps(s.id('u.Q1'))).usual).toBeCloseTo(0.5, 12);
    expect(value(rest.demand(s.id('u.Q1'))).usual).toBeCloseTo(1, 12);
  });
});

describe('a unit that is fed', () => {
  function fed(cableOhms: number): SiteBuilder {
    const s = site();
    s.place('yard', { ambient: ambient(20, 20) });
    s.supply('G1', { volts: datum(12), place: 'hall' });
    s.unit('u', { place: 'yard' });
    s.feed('u.IN', 'u.P', 'u.N', { works: datum([9, 16]), draws: datum(0.1) });
    s.rail('u.AUX', 'u.N', { volts: datum(12), fedBy: s.id('u.IN'), ownDraw: datum(0.05) });
    s.contact('u.ALARM', 'u.C', 'u.O', { rest: 'closed', unpowered: 'open' });
    s.load('P1', 'constant-current', { sort: 'amps', amps: datum(0.2) }, { place: 'yard', works: datum([9, 16]) });
    s.cable('W1', ['a', 'b'], cableOhms, 'hall', 'yard');
    s.wire('G1.plus', 'W1.a', 'u.P').wire('u.N', 'W1.b', 'G1.minus');
    s.wire('u.AUX', 'P1', 'u.N');
    return s;
  }

  it('draws for itself, for its rail and for what hangs on the rail', () => {
    const s = fed(1);
    const rest = restOf(s.build());
    expect(rest.states(s.id('u'))).toEqual(['on']);
    expect(value(rest.amps(s.id('u.IN'))).usual).toBeCloseTo(0.35, 12);
    expect(value(rest.volts(s.terminal('u.P'), s.terminal('u.N'))).usual).toBeCloseTo(12 - 0.7, 12);
    expect(value(rest.amps(s.id('G1'))).usual).toBeCloseTo(0.35, 12);
    expect(rest.states(s.id('u.ALARM'))).toEqual(['closed']);
  });

  it('is dead with its rail and its contacts where too little arrives', () => {
    const s = fed(10);
    const rest = restOf(s.build());
    expect(rest.states(s.id('u'))).toEqual(['off']);
    expect(rest.states(s.id('u.AUX'))).toEqual(['off']);
    expect(rest.states(s.id('u.ALARM'))).toEqual(['open']);
    expect(rest.states(s.id('P1'))).toEqual(['off']);
  });

  it('goes dead when its supply is turned off', () => {
    const s = fed(1);
    s.case('dark', s.turn('G1', 'off'), s.expect('u', 'off'), s.expect('u.ALARM', 'open'), s.expect('P1', 'off'));
    const { cases } = analyse(s.build());
    expect(cases[1]!.verdicts.map(({ holds }) => holds)).toEqual([true, true, true]);
  });
});

describe('a battery on its charger', () => {
  it('delivers nothing until the charger is lost', () => {
    const s = site();
    s.battery('B1', { volts: datum([11, 12.5, 12.9]), ohms: datum(0.05), place: 'hall' });
    s.supply('G1', { volts: datum(13.6), limit: datum(2), charges: s.id('B1'), place: 'hall' });
    s.resistor('R1', 10);
    s.wire('G1.plus', 'R1', 'G1.minus').wire('G1.plus', 'B1.plus').wire('G1.minus', 'B1.minus');
    s.case('mains-lost', s.turn('G1', 'off'), s.expect('B1', 'on'));
    const { cases } = analyse(s.build());
    expect(value(cases[0]!.moments[0]!.amps(s.id('B1'))).usual).toBeCloseTo(0, 12);
    expect(value(cases[0]!.moments[0]!.amps(s.id('G1'))).usual).toBeCloseTo(1.36, 12);
    expect(value(cases[1]!.moments[0]!.amps(s.id('B1'))).usual).toBeCloseTo(12.5 / 10.05, 12);
  });
});

describe('contradictory sources', () => {
  it('are a problem that names them, never a number', () => {
    const s = site();
    s.supply('G1', { volts: datum(12), place: 'hall' }).supply('G2', { volts: datum(24), place: 'hall' });
    s.resistor('R1', 100);
    s.wire('G1.plus', 'R1', 'G1.minus').wire('G1.plus', 'G2.plus').wire('G1.minus', 'G2.minus');
    const { cases, problems } = analyse(s.build());
    expect(problems.map(({ sort, components }) => [sort, components])).toEqual([
      ['contradictory-sources', [s.id('G1'), s.id('G2')]],
    ]);
    expect(cases[0]!.moments[0]!.amps(s.id('G1')).sort).toBe('not-evaluated');
  });
});

describe('latching relays', () => {
  it('with two coils stay where the last pulse put them', () => {
    const s = site();
    s.supply('G1', { volts: datum(12), place: 'hall' });
    s.relay('K1', { ...COIL, latching: choice('two-coil'), rest: choice('reset'), twoCoils: true, place: 'hall' });
    s.switch('S1', 'make').switch('S2', 'make');
    s.wire('G1.plus', 'S1', 'K1.A1-A2', 'G1.minus').wire('G1.plus', 'S2', 'K1.B1-B2', 'G1.minus');
    s.case('set', s.turn('S1', 'closed', { for: 1 }), s.wait(2), s.expect('K1', 'set'));
    s.caseAfter('reset', 'set', s.turn('S2', 'closed', { for: 1 }), s.wait(2), s.expect('K1', 'reset'));
    const { cases } = analyse(s.build());
    expect(cases[0]!.moments[0]!.states(s.id('K1'))).toEqual(['reset']);
    expect(cases[1]!.verdicts[0]!.holds).toBe(true);
    expect(cases[2]!.verdicts[0]!.holds).toBe(true);
  });
});
