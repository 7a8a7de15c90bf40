/** What a short at the far end passes on its way, and how much of it the fuse sees: sites worked by hand. */
import { type FarEnd, farEndsOf, fuseClearing, ranged } from '@couplet/engine';
import { describe, expect, test } from 'vitest';
import { ambient, datum } from '../../support/data.ts';
import { SiteBuilder } from '../../support/site.ts';
import { expectNear } from './support.ts';

const HUT = { ambient: ambient(5, 25) };
const QUAY = { ambient: ambient(-5, 40) };

/** A supply in a hut with fuses of 1 A and no resistance, a cable of 2 Ω a core to the quay. */
function site(limit: number | undefined = 20): SiteBuilder {
  const s = new SiteBuilder().place('hut', HUT).place('quay', QUAY);
  s.supply('G1', {
    volts: datum([11.5, 12, 12.6]),
    ohms: datum([0, 0.05, 0.1]),
    ...(limit === undefined ? {} : { limit: datum(limit) }),
    place: 'hut',
  });
  s.fuse('F1', 0.04, { rated: datum(1), place: 'hut' });
  s.cable('W1', ['RD', 'BK', 'WH', 'BN'], [1.8, 2, 2.2], 'hut', 'quay');
  for (const name of ['P1', 'P2']) {
    s.load(name, 'resistive', { sort: 'amps', amps: datum(0.1) }, { works: datum([9, 15]) });
  }
  return s;
}

function ends(s: SiteBuilder, fuse = 'F1'): readonly FarEnd[] {
  return farEndsOf(s.build()).find((each) => each.fuse === s.id(fuse))!.ends;
}

function clearing(end: FarEnd, amps: number) {
  return fuseClearing(end.loop, ranged('F1', 'A', datum(amps)));
}

describe('the way there and back', () => {
  test('by hand: out by one core, back by another, hot copper, least volts', () => {
    const s = site().wire('G1.plus', 'F1', 'W1.RD', 'P1', 'W1.BK', 'G1.minus');
    const [end] = ends(s);
    expect([end!.source, end!.at, end!.cables]).toEqual([s.id('G1'), s.id('P1'), [s.id('W1')]]);
    expect(end!.loop.copperOhms).toMatchObject({ least: 3.6, usual: 4, most: 4.4 });
    expect(end!.loop.otherOhms.usual).toBe(0.04);
    expect([end!.loop.celsius.least, end!.loop.celsius.most]).toEqual([-5, 40]);
    // 11.5 V / (0.1 + 4.4 × (1 + 0.00393 × 20) + 0.04) = 11.5 / 4.88584 = 2.353740 A.
    const found = clearing(end!, 1);
    expectNear(found.amps.least, 11.5 / (0.14 + 4.4 * 1.0786));
    expect(found.clearing).toBe('slowly');
    expect(clearing(end!, 1.2).clearing).toBe('never');
    expect(clearing(end!, 0.5).clearing).toBe('promptly');
  });

  test('the farthest of what hangs behind it counts', () => {
    const s = site();
    s.wire('G1.plus', 'F1', 'P1', 'G1.minus').wire('F1.2', 'W1.RD', 'P2', 'W1.BK', 'G1.minus');
    expect(ends(s).map(({ at }) => at)).toEqual([s.id('P2')]);
  });

  test('cores in parallel between the same ends are one', () => {
    const s = site();
    s.wire('G1.plus', 'F1', 'W1.RD', 'P1', 'W1.BK', 'G1.minus').wire('F1.2', 'W1.WH', 'P1.plus');
    const [end] = ends(s);
    expectNear(end!.loop.copperOhms.usual, 1 + 2);
    expectNear(end!.loop.copperOhms.most, 1.1 + 2.2);
  });

  test('contacts on the way count with their ohms, whichever way they stand', () => {
    const s = site().switch('S1', 'make', { contactOhms: 0.1, place: 'hut' });
    s.wire('G1.plus', 'F1', 'S1', 'W1.RD', 'P1', 'W1.BK', 'G1.minus');
    expectNear(ends(s)[0]!.loop.otherOhms.usual, 0.14);
  });

  test('without cable only supply, fuse and contacts are left, and the limit of the supply decides', () => {
    const s = site(2).wire('G1.plus', 'F1', 'P1', 'G1.minus');
    const [end] = ends(s);
    expect(end!.cables).toEqual([]);
    const found = clearing(end!, 1);
    expect([found.amps.least, found.amps.most, found.heldBy, found.clearing]).toEqual([2, 2, 'limit', 'never']);
    expect(clearing(end!, 0.5).clearing).toBe('promptly');
    const generous = site(5).wire('G1.plus', 'F1', 'P1', 'G1.minus');
    expect(clearing(ends(generous)[0]!, 1).clearing).toBe('promptly');
  });

  test('a return through an output, or none at all, is taken as long as the way there', () => {
    const s = site();
    s.unit('u', { place: 'hut' })
      .common('u.GND')
      .output('u.Q1', 'sink', { returns: 'u.GND', drop: datum(0.5) });
    s.wire('G1.minus', 'u.GND').wire('G1.plus', 'F1', 'W1.RD', 'P1', 'W1.BK', 'u.Q1');
    const [end] = ends(s);
    expect(end!.loop.copperOhms).toMatchObject({
      usual: 4,
      assumption: 'the way back from P1 taken as long as the way there',
    });
  });

  test('relays and feeds of units are ends as loads are', () => {
    const s = site()
      .unit('u', { place: 'quay' })
      .feed('u.IN', 'u.P', 'u.M', { draws: datum(0.1) });
    s.relay('K1', { place: 'hut' });
    s.wire('G1.plus', 'F1', 'K1.A1-A2', 'G1.minus').wire('F1.2', 'W1.RD', 'u.P').wire('u.M', 'W1.BK', 'G1.minus');
    expect(ends(s).map(({ at }) => at)).toEqual([s.id('u.IN')]);
    expectNear(ends(s)[0]!.loop.copperOhms.usual, 4);
  });

  test('a load that contacts turn round reaches both poles by them, and is an end all the same', () => {
    const s = site().relay('K1', { poles: 2, contactOhms: 0, place: 'hut' });
    s.wire('G1.plus', 'F1', 'K1.14').wire('F1.2', 'K1.22').wire('G1.minus', 'K1.12').wire('G1.minus', 'K1.24');
    s.wire('K1.11', 'W1.RD', 'P1', 'W1.BK', 'K1.21');
    const [end] = ends(s);
    expect(end!.at).toBe(s.id('P1'));
    expectNear(end!.loop.copperOhms.usual, 4);
  });
});

describe('fuse behind fuse', () => {
  test('the one before protects as far as the next', () => {
    const s = site().fuse('F2', 0.04, { rated: datum(0.5), place: 'quay' });
    s.wire('G1.plus', 'F1', 'W1.RD', 'F2', 'P1', 'W1.BK', 'G1.minus');
    expect(ends(s, 'F1').map(({ at }) => at)).toEqual([s.id('F2')]);
    // One core there, taken as one core back.
    expectNear(ends(s, 'F1')[0]!.loop.copperOhms.usual, 4);
    expect(ends(s, 'F1')[0]!.loop.copperOhms.assumption).toContain('from F2 taken as long');
    expect(ends(s, 'F2').map(({ at }) => at)).toEqual([s.id('P1')]);
    expectNear(ends(s, 'F2')[0]!.loop.otherOhms.usual, 0.08);
  });
});

describe('several supplies', () => {
  test('behind a charger that limits stands its battery', () => {
    const s = new SiteBuilder().place('hut', HUT);
    s.battery('B1', { volts: datum([10.5, 12, 13.65]), ohms: datum(0.1), place: 'hut' });
    s.supply('G1', { volts: datum(13.65), limit: datum(1), charges: s.id('B1'), place: 'hut' });
    s.fuse('F1', 0, { rated: datum(1), place: 'hut' }).fuse('FB', 0, { rated: datum(3), place: 'hut' });
    s.load('P1', 'resistive', { sort: 'amps', amps: datum(0.1) }, { place: 'hut' });
    s.wire('G1.plus', 'FB', 'B1.plus').wire('G1.minus', 'B1.minus').wire('G1.plus', 'F1', 'P1', 'G1.minus');
    const [end, ...others] = ends(s);
    expect([end!.source, others.length]).toEqual([s.id('B1'), 0]);
    // 10.5 V / 0.1 Ω.
    expectNear(clearing(end!, 1).amps.least, 105);
    expect(ends(s, 'FB').map(({ at, source }) => [source, at])).toEqual([[s.id('B1'), s.id('F1')]]);
  });

  test('two that may feed it are two ends', () => {
    const s = site().supply('G2', { volts: datum(12), limit: datum(1), place: 'hut' });
    s.relay('K1', { contactOhms: 0, place: 'hut' });
    s.wire('G1.plus', 'K1.12').wire('G2.plus', 'K1.14').wire('G1.minus', 'G2.minus');
    s.wire('K1.11', 'F1', 'P1', 'G1.minus');
    expect(ends(s).map(({ source }) => source)).toEqual([s.id('G1'), s.id('G2')]);
  });
});

describe('what cannot be told', () => {
  test('a cable without length, a supply without volts', () => {
    const s = new SiteBuilder().place('hut', HUT).place('quay', QUAY);
    s.supply('G1', { place: 'hut' }).fuse('F1', 0, { rated: datum(1), place: 'hut' });
    s.cable('W1', ['RD', 'BK'], undefined, 'hut', 'quay').load('P1', 'resistive', undefined, {});
    s.wire('G1.plus', 'F1', 'W1.RD', 'P1', 'W1.BK', 'G1.minus');
    const [found] = farEndsOf(s.build());
    expect(found!.ends).toEqual([]);
    expect(found!.needs.map(({ component, property }) => [component, property])).toEqual([
      [s.id('W1'), 'length'],
      [s.id('G1'), 'volts'],
    ]);
  });

  test('a fuse that no supply reaches, and one that is not wired', () => {
    const s = site().fuse('F2', 0, { place: 'hut' }).resistor('R1', 100);
    s.wire('G1.plus', 'R1', 'F1', 'P1', 'G1.minus');
    expect(farEndsOf(s.build())).toEqual([{ fuse: s.id('F1'), ends: [], needs: [] }]);
  });
});

test('ten thousand loads behind one fuse are looked at once each', () => {
  const s = site();
  for (let k = 0; k < 10_000; k++) {
    s.load(`L${k}`, 'resistive', { sort: 'amps', amps: datum(0.001) }, {});
    s.wire(k === 0 ? 'G1.plus' : 'F1.2', ...(k === 0 ? ['F1'] : []), `L${k}`, 'G1.minus');
  }
  s.wire('F1.2', 'W1.RD', 'P1', 'W1.BK', 'G1.minus');
  expect(ends(s).map(({ at }) => at)).toEqual([s.id('P1')]);
});
