/** Ends of fuses once more: which of several counts, what warms on the way, and which clauses it all rests on. */
import { type FarEnd, farEndsOf, ranged, worstEnd } from '@couplet/engine';
import { describe, expect, test } from 'vitest';
import { ambient, datum } from '../../support/data.ts';
import { SiteBuilder } from '../../support/site.ts';
import { expectNear } from './support.ts';

/** A supply of 12 V in a hut, a fuse, a hot trench to the quay and a cold one back. */
function site(): SiteBuilder {
  const s = new SiteBuilder()
    .place('hut', { ambient: ambient(5, 25) })
    .place('quay', { ambient: ambient(-5, 40) })
    .place('cellar', { ambient: ambient(10, 15) })
    .place('vault', { ambient: ambient(10, 15) });
  s.supply('G1', { volts: datum(12), place: 'hut' });
  s.fuse('F1', { ...datum(0.04), assumption: 'F1 taken as 40 mΩ' }, { rated: datum(1), place: 'hut' });
  s.cable('W1', ['RD', 'BK'], 2, 'hut', 'quay').cable('W2', ['RD', 'BK'], 3, 'cellar', 'vault');
  s.load('P1', 'resistive', { sort: 'amps', amps: datum(0.1) }, { works: datum([9, 15]) });
  return s;
}

function ends(s: SiteBuilder, fuse = 'F1'): readonly FarEnd[] {
  return farEndsOf(s.build()).find((each) => each.fuse === s.id(fuse))!.ends;
}

describe('what stands at an end', () => {
  test('an input that is not fed from inside, not one that is', () => {
    for (const fed of [false, true]) {
      const s = site();
      s.input('X1', 'X1.P', 'X1.N', { ohms: datum(3300), ...(fed ? { feedVolts: datum(12) } : {}) });
      s.wire('G1.plus', 'F1', 'W1.RD', 'X1.P').wire('X1.N', 'W1.BK', 'G1.minus');
      expect(ends(s).map(({ at }) => at)).toEqual(fed ? [] : [s.id('X1')]);
    }
  });

  test('the second coil of a relay as its first', () => {
    const s = site().relay('K1', { twoCoils: true });
    s.wire('G1.plus', 'F1', 'W1.RD', 'K1.B1').wire('K1.B2', 'W1.BK', 'G1.minus');
    expect(ends(s).map(({ at }) => at)).toEqual([s.id('K1')]);
    expectNear(ends(s)[0]!.loop.copperOhms.usual, 4);
  });

  test('a diode and a resistor, from whichever side they are reached', () => {
    for (const name of ['D1', 'R1', '!D1', '!R1']) {
      const s = site().diode('D1', 0.7).resistor('R1', 100);
      s.wire('G1.plus', 'F1', 'W1.RD', name, 'W1.BK', 'G1.minus');
      expect(ends(s).map(({ at }) => at)).toEqual([s.id(name.replace('!', ''))]);
      expectNear(ends(s)[0]!.loop.copperOhms.usual, 4);
    }
  });

  test('of several at one node each is looked at, and the one with the longest way back counts', () => {
    const s = site().resistor('R1', 100);
    s.wire('G1.plus', 'F1', 'W1.RD', 'P1', 'W1.BK', 'G1.minus').wire('P1.plus', 'R1', 'W2.RD', 'G1.minus');
    expect(ends(s).map(({ at }) => at)).toEqual([s.id('R1')]);
    expectNear(ends(s)[0]!.loop.copperOhms.usual, 2 + 3);
  });
});

describe('the way', () => {
  test('does not lead through the other pole, whichever way round its cores are joined', () => {
    // The return core of W1 carries on in W2, which ends at a load on the side of the minus.
    const s = site();
    s.load('P2', 'resistive', { sort: 'amps', amps: datum(0.1) }, {});
    s.wire('G1.plus', 'F1', 'W1.RD', 'P1', 'W1.BK', 'G1.minus');
    s.wire('P1.minus', 'W2.RD', 'P2', 'G1.minus');
    const [end] = ends(s);
    expect(end!.at).toBe(s.id('P1'));
    expect(end!.cables).toEqual([s.id('W1')]);
  });

  test('does not lead on through what copper joins to the other pole', () => {
    const s = site().relay('K1', { contactOhms: 1, place: 'hut' });
    s.load('P2', 'resistive', { sort: 'amps', amps: datum(0.1) }, {});
    s.wire('G1.plus', 'F1', 'K1.14').wire('K1.11', 'P1', 'G1.minus');
    // P2 hangs before the fuse; K1 turns P1 to its minus side, which a core joins to that of the supply.
    s.wire('G1.plus', 'P2', 'W1.RD', 'G1.minus').wire('P2.minus', 'K1.12');
    expect(ends(s).map(({ at }) => at)).toEqual([s.id('P1')]);
    expectNear(ends(s)[0]!.loop.otherOhms.usual, 1.04);
  });

  test('cores in parallel are one however their ends are named', () => {
    const s = site();
    s.wire('G1.plus', 'F1', 'W1.RD', 'P1', 'G1.minus').wire('P1.plus', 'W1.BK', 'F1.2');
    expectNear(ends(s)[0]!.loop.copperOhms.usual, 2 / 2);
  });

  test('an arrester on it counts with its ohms', () => {
    const s = site().fuse('FV1', 2);
    s.components[s.id('FV1')] = { ...s.components[s.id('FV1')]!, kind: 'arrester' } as never;
    s.wire('G1.plus', 'F1', 'FV1', 'W1.RD', 'P1', 'W1.BK', 'G1.minus');
    expectNear(ends(s)[0]!.loop.otherOhms.usual, 2.04);
  });

  test('cables of two places: the coldest to the warmest of them, and the middle as usual', () => {
    const s = site();
    s.wire('G1.plus', 'F1', 'W1.RD', 'W2.RD', 'P1', 'W2.BK', 'W1.BK', 'G1.minus');
    const { celsius, copperOhms } = ends(s)[0]!.loop;
    expect(ends(s)[0]!.cables).toEqual([s.id('W1'), s.id('W2')]);
    expectNear(copperOhms.usual, 10);
    expect([celsius.least, celsius.usual, celsius.most]).toEqual([-5, (20 + 12.5) / 2, 40]);
    expect(celsius.what).toBe('ambient of the cables');
  });

  test('a cable that goes through a hotter place counts as hot in comparing ends', () => {
    // 2 × 2 Ω at 40 °C are 4.3144 Ω; 2 × 2.1 Ω at 15 °C and below are 4.117 Ω.
    const s = site().cable('W3', ['RD', 'BK'], 2.1, 'cellar', 'vault').resistor('R1', 100);
    s.wire('G1.plus', 'F1', 'W1.RD', 'P1', 'W1.BK', 'G1.minus');
    s.wire('F1.2', 'W3.RD', 'R1', 'W3.BK', 'G1.minus');
    expect(ends(s).map(({ at }) => at)).toEqual([s.id('P1')]);
  });

  test('ohms of contacts count in comparing ends', () => {
    const s = site().switch('S1', 'make', { contactOhms: 1 }).resistor('R1', 100);
    s.wire('G1.plus', 'F1', 'S1', 'R1', 'G1.minus').wire('F1.2', 'P1', 'G1.minus');
    expect(ends(s).map(({ at }) => at)).toEqual([s.id('R1')]);
  });

  test('what was taken for granted of the copper and of the rest is said with each', () => {
    const s = site();
    s.components[s.id('W1.RD')] = {
      ...s.components[s.id('W1.RD')]!,
      ohms: { ...datum(2), assumption: 'W1 taken as 2 Ω' },
    } as never;
    s.wire('G1.plus', 'F1', 'W1.RD', 'P1', 'W1.BK', 'G1.minus');
    const { loop } = ends(s)[0]!;
    expect(loop.copperOhms.assumption).toBe('W1 taken as 2 Ω');
    expect(loop.otherOhms.assumption).toBe('F1 taken as 40 mΩ');
  });

  test('without copper no way back is taken for granted', () => {
    const s = site();
    s.unit('u', { place: 'hut' })
      .common('u.GND')
      .output('u.Q1', 'sink', { returns: 'u.GND', drop: datum(0.5) });
    s.wire('G1.minus', 'u.GND').wire('G1.plus', 'F1', 'P1', 'u.Q1');
    expect(ends(s)[0]!.loop.copperOhms.assumption).toBeUndefined();
    expect(ends(s)[0]!.loop.celsius).toMatchObject({ least: 20, most: 20 });
  });

  test('a supply whose poles are one has none', () => {
    const s = site().wire('G1.plus', 'G1.minus').wire('G1.plus', 'F1', 'P1', 'G1.minus');
    expect(ends(s)).toEqual([]);
  });
});

describe('the worst of the supplies', () => {
  const found = () => {
    const s = site()
      .supply('G2', { volts: datum(9), place: 'hut' })
      .relay('K1', { contactOhms: 0, place: 'hut' });
    s.wire('G1.plus', 'K1.12').wire('G2.plus', 'K1.14').wire('G1.minus', 'G2.minus');
    s.wire('K1.11', 'F1', 'W1.RD', 'P1', 'W1.BK', 'G1.minus');
    return { s, fuse: farEndsOf(s.build()).find(({ fuse }) => fuse === s.id('F1'))! };
  };

  test('is the one whose short draws least', () => {
    const { s, fuse } = found();
    const worst = worstEnd(fuse, datum(1))!;
    expect(fuse.ends.map(({ source }) => source)).toEqual([s.id('G1'), s.id('G2')]);
    expect(worst.end.source).toBe(s.id('G2'));
    expectNear(worst.clearing.amps.least, 9 / (0.04 + 4 * 1.0786));
    const turned = { ...fuse, ends: [...fuse.ends].reverse() };
    expect(worstEnd(turned, datum(1))!.end.source).toBe(s.id('G2'));
  });

  test('is judged by the factors that are given, and there is none without ends', () => {
    const { fuse } = found();
    expect(worstEnd(fuse, datum(1), { mustOpen: 1, prompt: 2 })!.clearing.clearing).toBe('promptly');
    expect(worstEnd(fuse, datum(1))!.clearing.clearing).toBe('never');
    expect(worstEnd({ ...fuse, ends: [] }, datum(1))).toBeUndefined();
    expect(ranged('fuse', 'A', datum(1)).assumption).toBeUndefined();
  });
});
