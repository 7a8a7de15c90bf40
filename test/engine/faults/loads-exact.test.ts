/** What keeps a load dark, and which faults are put on top of errors that were passed: worked by hand. */
import { type FaultCell, type FaultRow, type FaultTable, faultTable, type Predicate } from '@couplet/engine';
import { describe, expect, test } from 'vitest';
import { putOnTop } from '../../../packages/engine/src/faults/fitting.ts';
import type { Judged } from '../../../packages/engine/src/faults/judged.ts';
import type { Trials } from '../../../packages/engine/src/faults/trials.ts';
import { datum } from '../../support/data.ts';
import { SiteBuilder } from '../../support/site.ts';
import { BANDS, EXACT } from '../time/support.ts';

/** A lamp of 120 Ω behind a fuse and a switch, across 12 V. */
function lamp(): SiteBuilder {
  const site = new SiteBuilder();
  site
    .supply('G1', { volts: datum(12), limit: datum(2) })
    .fuse('F1', 0)
    .switch('S1', 'make', { contactOhms: 0 });
  site.load('P1', 'resistive', { sort: 'ohms', ohms: datum(120) }, { works: datum([9, 15]) });
  return site.wire('G1.plus', 'F1', 'S1', 'P1', 'G1.minus');
}

const listed = ({ design, loads }: FaultTable): readonly string[] =>
  loads.map(({ component, fault, caseName }) => `${design.components[component]!.name}: ${fault.name} (${caseName})`);

describe('what keeps a lamp dark, or lights it', () => {
  test('is listed by fault and by case, in the order of the faults', () => {
    const site = lamp();
    site.case('rest', site.expect('P1', 'off')).case('lit', site.turn('S1', 'closed'), site.expect('P1', 'on'));
    expect(listed(faultTable(site.build()))).toEqual([
      'P1: G1 lost (lit)',
      'P1: F1 blown (lit)',
      'P1: S1.13-14 welded (rest)',
      'P1: S1.13-14 never closes (lit)',
      'P1: P1 missing (lit)',
      'P1: P1 linked (lit)',
    ]);
  });

  test('in cases that go on from others too, and wherever in a case it is expected', () => {
    const site = lamp();
    site.case('lit', site.turn('S1', 'closed'), site.expect('P1', 'on'));
    site.caseAfter('dark', 'lit', site.expect('P1', 'on'), site.turn('S1', 'open'), site.expect('P1', 'off'));
    const table = faultTable(site.build());
    const of = (name: string) =>
      table.loads
        .filter(({ fault }) => fault.name === name)
        .map(({ caseName, expect: { predicate } }) => `${caseName} ${(predicate as { word: string }).word}`);
    expect(of('S1.13-14 welded')).toEqual(['dark off']);
    expect(of('S1.13-14 never closes')).toEqual(['lit on', 'dark on']);
    expect(of('P1 missing')).toEqual(['lit on', 'dark on']);
  });

  test('not where it is not as expected anyway, nor with what a relay or contact is expected to do', () => {
    const site = lamp().relay('K1', EXACT).wire('S1.14', 'K1.A1-A2', 'G1.minus');
    site.case('lit', site.turn('S1', 'closed'), site.expect('P1', 'off'), site.expect('K1', 'operated'));
    const table = faultTable(site.build());
    expect(table.faults.map(({ name }) => name)).toContain('K1 coil open');
    expect(table.loads).toEqual([]);
  });

  test('is left out where only usual figures or classes are asked for', () => {
    const site = lamp();
    site.case('lit', site.turn('S1', 'closed'), site.expect('P1', 'on'));
    expect(faultTable(site.build(), { spreads: false }).loads).toEqual([]);
    expect(faultTable(site.build(), { classesOnly: true }).loads).toEqual([]);
  });

  test('nor where a zone gives the fault away', () => {
    const build = (watched: boolean) => {
      const site = lamp();
      site.unit('u').zone('u.Z', 'u.ZC', { feedVolts: datum(5), feedOhms: datum(4700), bands: BANDS });
      site.relay('K1', EXACT).resistor('RE', 2200).wire('u.Z', 'K1.11-14', 'RE', 'u.ZC').wire('K1.A2', 'G1.minus');
      // Fed before the fuse or behind it.
      site.wire(watched ? 'F1.2' : 'G1.plus', 'K1.A1');
      site.case('lit', site.turn('S1', 'closed'), site.expect('P1', 'on'));
      return listed(faultTable(site.build())).filter((line) => line.includes('F1 blown'));
    };
    expect(build(false)).toEqual(['P1: F1 blown (lit)']);
    expect(build(true)).toEqual([]);
  });
});

describe('a part that is gone', () => {
  const compare = (operator: '>=' | '>' | '<=' | '<', value: number): Predicate => ({
    sort: 'compare',
    operator,
    value,
    dimension: 'V',
  });
  const range = (least: number, most: number): Predicate => ({ sort: 'range', least, most, dimension: 'V' });

  test.each([
    ['at least 10 V', compare('>=', 10), false],
    ['at least 0 V', compare('>=', 0), true],
    ['more than 0 V', compare('>', 0), false],
    ['more than -1 V', compare('>', -1), true],
    ['at most 13 V', compare('<=', 13), true],
    ['less than 13 V', compare('<', 13), true],
    ['11 V to 13 V', range(11, 13), false],
    ['0 V to 13 V', range(0, 13), true],
    ['-1 V to 13 V', range(-1, 13), true],
    ['about 12 V', { sort: 'about', least: 11.9, most: 12.1, dimension: 'V' } as Predicate, false],
    ['on', { sort: 'state', word: 'on' } as Predicate, false],
  ] as const)('has nothing across it: %s', (_, predicate, holds) => {
    const site = lamp();
    site.case('lit', site.turn('S1', 'closed'), site.expect('P1', predicate));
    const table = faultTable(site.build());
    const failing = table.loads.filter(({ fault }) => fault.name === 'P1 missing');
    expect(failing.length).toBe(holds ? 0 : 1);
  });

  test.each([
    ['at most 0 V', compare('<=', 0)],
    ['-1 V to 0 V', range(-1, 0)],
    ['off', { sort: 'state', word: 'off' } as Predicate],
  ] as const)('is as dark as it should be at rest: %s', (_, predicate) => {
    const site = lamp();
    site.case('rest', site.expect('P1', predicate));
    const names = faultTable(site.build()).loads.map(({ fault }) => fault.name);
    // Without any source there is no figure to measure: 'no connection' is not 0 V.
    const unfed = predicate.sort === 'state' ? [] : ['G1 lost'];
    expect(names).toEqual([...unfed, 'S1.13-14 welded']);
  });

  test('is named by the first of two terminals that are measured', () => {
    const site = lamp();
    const across = (a: string, b: string) =>
      ({ sort: 'between', quantity: 'volts', a: site.terminal(a), b: site.terminal(b) }) as const;
    site.case('lit', site.turn('S1', 'closed'), site.expect(across('P1.plus', 'P1.minus'), compare('>=', 10)));
    expect(listed(faultTable(site.build()))).toContain('P1: P1 missing (lit)');
    const other = lamp();
    const at = {
      sort: 'between',
      quantity: 'volts',
      a: other.terminal('S1.14'),
      b: other.terminal('P1.minus'),
    } as const;
    other.case('lit', other.turn('S1', 'closed'), other.expect(at, compare('>=', 10)));
    // A contact is told by what lies behind it.
    expect(faultTable(other.build()).loads).toEqual([]);
  });
});

describe('service faults on top of errors that were passed', () => {
  const ohms = (value: number | undefined): FaultCell => ({
    possible: ['normal'],
    usual: 'normal',
    answer: 'quiet',
    certain: true,
    ...(value === undefined ? {} : { ohms: { least: value, usual: value, most: value } }),
  });
  /** Whether a row is looked at further than its readings. */
  function isLookedAt(
    name: FaultRow['class'],
    rest: number | undefined,
    inCase: number | undefined,
    passed = 1,
  ): boolean {
    let asked = false;
    const site = new SiteBuilder().resistor('R1', 1).build();
    const judged = {
      healthy: { rest: ohms(1000), cells: [ohms(5000)] },
      passed: Array.from({ length: passed }, () => ({ blind: new Map() })),
      loop: {
        isTouched: () => {
          asked = true;
          return false;
        },
      },
    } as unknown as Judged;
    const row = {
      class: name,
      rest: ohms(rest),
      cells: [ohms(inCase)],
      variant: { changes: [] },
    } as unknown as FaultRow;
    [...putOnTop(judged, row, { ground: { design: site } } as unknown as Trials)];
    return asked;
  }

  test('are looked at where they move a reading by more than a fiftieth', () => {
    expect(isLookedAt('quiet', 1000, 5000)).toBe(false);
    expect(isLookedAt('quiet', 1020, 5000)).toBe(false);
    expect(isLookedAt('quiet', 1021, 5000)).toBe(true);
    expect(isLookedAt('quiet', 979, 5000)).toBe(true);
    expect(isLookedAt('quiet', 1000, 5100)).toBe(false);
    expect(isLookedAt('quiet', 1000, 5101)).toBe(true);
    expect(isLookedAt('quiet', 1000, undefined)).toBe(true);
  });

  test('or where something else arrives than should, and only where an error was passed', () => {
    expect(isLookedAt('misread', 1000, 5000)).toBe(true);
    expect(isLookedAt('announced', 1000, 5000)).toBe(true);
    expect(isLookedAt('misread', 1000, 5000, 0)).toBe(false);
  });
});
