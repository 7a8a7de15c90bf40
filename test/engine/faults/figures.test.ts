/** What a fault table is figured with, each by itself: leakage curves, the meter, ohms between nodes, a zone's scale. */
import { type ComponentOf, meterTolerance } from '@couplet/engine';
import { describe, expect, test } from 'vitest';
import { isServiceFault } from '../../../packages/engine/src/faults/columns.ts';
import { curvesThrough, leakAt, ohmsAt, PROBE } from '../../../packages/engine/src/faults/leak-curve.ts';
import { OhmsBetween } from '../../../packages/engine/src/faults/ohms-between.ts';
import { ZoneScale } from '../../../packages/engine/src/faults/zone-scale.ts';
import { datum } from '../../support/data.ts';
import { generator } from '../../support/random.ts';
import { SiteBuilder } from '../../support/site.ts';

const ENDLESS = Number.POSITIVE_INFINITY;
const parallel = (a: number, b: number): number =>
  a === ENDLESS ? b : b === ENDLESS ? a : a + b === 0 ? 0 : (a * b) / (a + b);
const spread = (least: number, usual: number, most: number) => ({ least, usual, most });

describe('a leakage', () => {
  /** `ahead` in series with `across`, over which the leakage lies. */
  const loop = (ahead: number, across: number) => (leak: number) => ahead + parallel(across, leak);
  const through = (ends: readonly ((leak: number) => number)[]) => {
    const at = (leak: number) => spread(ends[0]!(leak), ends[1]!(leak), ends[2]!(leak));
    return curvesThrough(at(ENDLESS), at(0), at(PROBE));
  };

  test('is read along the curve through none, all and one of its ohms', () => {
    const ends = [loop(10, 2100), loop(12, 2200), loop(15, 2300)] as const;
    const curves = through(ends);
    (['least', 'usual', 'most'] as const).forEach((end, k) => {
      expect([curves[end].open, curves[end].short]).toEqual([ends[k]!(ENDLESS), ends[k]!(0)]);
      for (const leak of [0, 1, 100, 1000, 5000, 1e6, ENDLESS]) {
        expect(ohmsAt(curves[end], leak)).toBeCloseTo(ends[k]!(leak), 6);
      }
      for (const leak of [1, 100, 1000, 5000, 1e6]) {
        expect(leakAt(curves[end], ends[k]!(leak))! / leak).toBeCloseTo(1, 6);
      }
      expect(leakAt(curves[end], ends[k]!(0))).toBeUndefined();
      expect(leakAt(curves[end], ends[k]!(ENDLESS))).toBeUndefined();
      expect(leakAt(curves[end], ends[k]!(ENDLESS) + 1)).toBeUndefined();
      expect(leakAt(curves[end], 0)).toBeUndefined();
    });
  });

  test('across a loop that is open is all there is to read', () => {
    const open = loop(50, ENDLESS);
    const { usual } = through([open, open, open]);
    expect([0, 100, 4700, ENDLESS].map((leak) => ohmsAt(usual, leak))).toEqual([50, 150, 4750, ENDLESS]);
    expect(leakAt(usual, 4750)).toBeCloseTo(4700, 9);
    expect(leakAt(usual, 50)).toBeUndefined();
  });

  test('that changes nothing leaves the reading as it is', () => {
    const still = loop(2200, 0);
    const { usual } = through([still, still, still]);
    expect([0, 1, 1e6, ENDLESS].map((leak) => ohmsAt(usual, leak))).toEqual([2200, 2200, 2200, 2200]);
    expect(leakAt(usual, 2200)).toBeUndefined();
  });
});

describe('the meter', () => {
  test.each([
    // 0.8 %, two steps of the last digit of 2,000 counts, and half the last digit written.
    [1.61, 'volts', 0.01288 + 2 * 0.001 + 0.005],
    [-1.61, 'volts', 0.01288 + 2 * 0.001 + 0.005],
    // What was written with fewer digits than 1 % of it counts with 1 %.
    [4700, 'ohms', 37.6 + 2 * 10 + 47],
    [5, 'ohms', 0.04 + 2 * 0.1 + 0.5],
    [0.0241, 'amps', 0.0241 * 0.008 + 2 * 1e-4 + 5e-5],
    // Nothing is shown as nothing, to the last digit of the lowest range.
    [0, 'volts', 2e-4],
    [0, 'ohms', 0.2],
    [0, 'amps', 2e-7],
    [5e-5, 'volts', 5e-5 * 0.008 + 2e-4 + 5e-6],
    // 1999 and 2001 counts lie on two ranges.
    [1.999, 'volts', 1.999 * 0.008 + 2 * 0.001 + 0.0005],
    [2.001, 'volts', 2.001 * 0.008 + 2 * 0.01 + 0.0005],
    [2, 'volts', 0.016 + 2 * 0.01 + 0.02],
  ] as const)('%d %s may be off by %d', (value, quantity, off) => {
    expect(meterTolerance(value, quantity)).toBeCloseTo(off, 12);
  });
});

describe('ohms between two nodes', () => {
  const between = new OhmsBetween();

  test('in series, in parallel, bridged, and where nothing leads', () => {
    between.reset(5);
    between.add(0, 1, 100);
    between.add(1, 2, 200);
    between.add(0, 2, 300);
    between.add(3, 3, 50);
    between.add(2, 3, ENDLESS);
    expect(between.between(0, 2)).toBeCloseTo(150, 12);
    expect(between.between(2, 0)).toBeCloseTo(150, 12);
    expect(between.between(0, 1)).toBeCloseTo(parallel(100, 500), 12);
    expect(between.between(0, 3)).toBe(ENDLESS);
    expect(between.between(4, 4)).toBe(0);
    between.add(1, 2, 0);
    expect(between.between(1, 2)).toBe(0);
    expect(between.between(0, 2)).toBeCloseTo(75, 12);
    between.reset(2);
    expect(between.between(0, 1)).toBe(ENDLESS);
  });

  test("a bridge of five: Wheatstone's, in balance and out of it", () => {
    const bridge = (last: number) => {
      between.reset(4);
      const branches = [
        [0, 1, 100],
        [0, 2, 200],
        [1, 3, 300],
        [2, 3, last],
        [1, 2, 77],
      ] as const;
      for (const [a, b, ohms] of branches) between.add(a, b, ohms);
      return between.between(0, 3);
    };
    expect(bridge(600)).toBeCloseTo(parallel(400, 800), 9);
    // By star and triangle: the triangle of 100, 200 and 77 as a star of 53.05, 20.42 and 40.85 Ω.
    const sum = 377;
    const [atStart, atOne, atTwo] = [(100 * 200) / sum, (100 * 77) / sum, (200 * 77) / sum];
    expect(bridge(900)).toBeCloseTo(atStart + parallel(atOne + 300, atTwo + 900), 9);
  });

  test('nodes and branches without number, and what was there before does not show', () => {
    const nodes = 90;
    between.reset(nodes);
    for (let n = 1; n < nodes; n++) between.add(n - 1, n, n);
    expect(between.between(0, nodes - 1)).toBeCloseTo((nodes * (nodes - 1)) / 2, 6);
    // Hundreds of branches between two nodes are as many in parallel.
    for (let k = 0; k < 300; k++) between.add(0, nodes - 1, 3000);
    expect(between.between(0, nodes - 1)).toBeCloseTo(parallel((nodes * (nodes - 1)) / 2, 10), 9);
    between.reset(3);
    between.add(0, 1, 5);
    expect(between.between(0, 1)).toBe(5);
    expect(between.between(0, 2)).toBe(ENDLESS);
  });

  test('does not depend on the numbers of the nodes', () => {
    const random = generator(5);
    for (let set = 0; set < 20; set++) {
      const nodes = 7;
      const turn = Array.from({ length: nodes }, (_, n) => (n * 3 + set) % nodes);
      const branches = Array.from({ length: 12 }, () => {
        const pick = () => Math.floor(random() * nodes);
        return [pick(), pick(), random() < 0.2 ? 0 : 1 + 1000 * random()] as const;
      });
      const read = (name: (node: number) => number): number => {
        between.reset(nodes);
        for (const [a, b, ohms] of branches) between.add(name(a), name(b), ohms);
        return between.between(name(0), name(nodes - 1));
      };
      const [one, other] = [read((node) => node), read((node) => turn[node]!)];
      if (one === ENDLESS) expect(other).toBe(ENDLESS);
      else expect(Math.abs(other - one)).toBeLessThanOrEqual(1e-9 * one);
    }
  });
});

describe('the scale of a zone', () => {
  const zone = (facts: object): ComponentOf<'zone'> => {
    const s = new SiteBuilder().zone('Z', 'C', {
      bands: [
        ['short', undefined, 1000],
        ['normal', 1000, 4000],
        ['open', 4000, undefined],
      ],
      ...facts,
    });
    return s.build().components[s.id('Z')] as ComponentOf<'zone'>;
  };
  const fed = { feedVolts: datum([4.5, 5, 5.5]), feedOhms: datum([1900, 2000, 2200]) };
  const scale = ZoneScale.of(zone(fed))!;

  test('needs the volts and the ohms of its feed', () => {
    expect(ZoneScale.of(zone({}))).toBeUndefined();
    expect(ZoneScale.of(zone({ feedVolts: datum(5) }))).toBeUndefined();
    expect(ZoneScale.of(zone({ feedOhms: datum(5) }))).toBeUndefined();
    expect(ZoneScale.of(zone({ ...fed, feedVolts: datum([0, 5]) }))).toBeUndefined();
    expect(ZoneScale.of(zone({ ...fed, feedOhms: datum([0, 5]) }))).toBeUndefined();
  });

  test('volts are least with the least feed behind the most ohms', () => {
    const { ohms, volts } = scale.readings(spread(2000, 2000, ENDLESS));
    expect(ohms).toEqual(spread(2000, 2000, ENDLESS));
    expect(volts.least).toBeCloseTo((4.5 * 2000) / 4200, 12);
    expect(volts.usual).toBeCloseTo(2.5, 12);
    expect(volts.most).toBe(5.5);
    expect(scale.readings(spread(0, 0, 1900)).volts.most).toBeCloseTo(2.75, 12);
  });

  test('edges of bands in ohms are themselves, in volts they go through the feed', () => {
    expect(scale.edges('usual')).toEqual([1000, 4000]);
    const inVolts = ZoneScale.of(
      zone({
        ...fed,
        unit: 'V',
        bands: [
          ['short', undefined, 1],
          ['normal', 1, 3],
          ['open', 3, 9],
        ],
      }),
    )!;
    const [one, two, ...others] = inVolts.edges('usual');
    expect(one).toBeCloseTo((1 * 2000) / 4, 9);
    expect(two).toBeCloseTo((3 * 2000) / 2, 9);
    expect(others).toEqual([]);
    expect(inVolts.edges('least')[0]).toBeCloseTo((1 * 2200) / 3.5, 9);
    expect(inVolts.classAt(2000, 'usual')).toBe('normal');
    expect(inVolts.classAt(100, 'usual')).toBe('short');
  });

  test('a class is told from ohms and from volts', () => {
    expect([500, 2000, 9000, ENDLESS].map((ohms) => scale.classAt(ohms, 'usual'))).toEqual([
      'short',
      'normal',
      'open',
      'open',
    ]);
    // 5 V behind 2 kΩ: 1 kΩ are 1.667 V, 4 kΩ are 3.333 V.
    expect([0, 1.6, 1.7, 3.3, 3.4, 5, 6].map((volts) => scale.classAtVolts(volts))).toEqual([
      ...['short', 'short', 'normal', 'normal', 'open', 'open', 'open'],
    ]);
  });
});

describe('a case that is a service fault itself', () => {
  const s = new SiteBuilder().unit('u').rail('u.V', 'u.M').feed('u.IN', 'u.P', 'u.N');
  s.switch('S1', 'make', {}).resistor('R1', 100).fuse('F1', 0.1);
  const cases: readonly (readonly [string, string, string, boolean])[] = [
    ['lost supply', 'u', 'off', true],
    ['lost rail', 'u.V', 'off', true],
    ['lost feed', 'u.IN', 'off', true],
    ['switched', 'S1', 'closed', false],
    ['output off', 'S1', 'off', false],
    ['on again', 'u', 'on', false],
    ['blown', 'F1', 'blown', true],
    ['cut', 'R1', 'cut', true],
  ];
  for (const [name, part, word] of cases) s.case(name, s.wait(1), s.turn(part, word));
  s.case('only waits', s.wait(1)).case('nothing');
  s.caseAfter('after the cut', 'cut', s.turn('S1', 'closed'));
  s.caseAfter('after that', 'after the cut', s.wait(1));
  s.caseAfter('after a switch', 'switched', s.wait(1));
  const design = s.build();
  const of = (name: string) =>
    isServiceFault(
      design,
      design.cases.findIndex((one) => one.name === name),
    );

  test.each(cases)('%s: %s %s is %s', (name, _part, _word, wanted) => {
    expect(of(name)).toBe(wanted);
  });

  test('makes those that go on from it ones too', () => {
    expect(['only waits', 'nothing', 'after a switch'].map(of)).toEqual([false, false, false]);
    expect(['after the cut', 'after that'].map(of)).toEqual([true, true]);
    const round = { ...design, cases: [{ ...design.cases[0]!, after: 0, steps: [] }] };
    expect(isServiceFault(round, 0)).toBe(false);
  });
});
