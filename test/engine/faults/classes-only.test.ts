/** The table for those who judge: every class as the whole table has it, with less solved for it. */
import { type FaultRow, faultTable } from '@couplet/engine';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { generator } from '../../support/random.ts';
import '../../support/seed.ts';
import { tidewater } from '../../support/tidewater.ts';
import { randomSite } from './random-sites.ts';

/** What rules ask of a row. */
function judgedBy({ fault, class: name, caseName, reason, variant, rest, cells }: FaultRow) {
  return {
    fault: fault.name,
    name,
    caseName,
    reason,
    where: variant.where,
    rest,
    // What a case reads is asked for where something else arrives than should.
    reads: name === 'misread' ? cells.map(({ usual }) => usual) : [],
  };
}

function comparable(table: ReturnType<typeof faultTable>) {
  return {
    zones: table.zones.map(({ zone, columns, healthy, rows, passed, reason, needs }) => ({
      zone,
      columns,
      healthy,
      rows: rows.map(judgedBy),
      passed: passed.map(({ fault, newlyBlind }) => [
        fault.name,
        newlyBlind.map((each) => [each.fault.name, each.caseName]),
      ]),
      reason,
      needs,
    })),
    blindService: table.blindService.map(({ name }) => name),
    blindFitting: table.blindFitting.map(({ name }) => name),
  };
}

describe('the fault table for those who judge', () => {
  it('has every class, case, reading and passed error of the whole table, for random sites', () => {
    let rows = 0;
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e9 }), (seed) => {
        const design = randomSite(generator(seed)).build();
        const whole = faultTable(design);
        const classes = faultTable(design, { classesOnly: true });
        expect(comparable(classes), `seed ${seed}`).toEqual(comparable(whole));
        expect(classes.loads).toEqual([]);
        for (const zone of whole.zones) rows += zone.rows.length;
      }),
      { numRuns: 12 },
    );
    expect(rows).toBeGreaterThan(200);
  }, 300_000);

  it('tells leakage where it is asked for, and looks at no case where rest gives a fault away', () => {
    const design = tidewater().build();
    const whole = faultTable(design);
    const [zone] = whole.zones;
    const classes = faultTable(design, { classesOnly: true, leakageAt: (id) => id !== zone!.zone });
    expect(zone!.leakage.length).toBeGreaterThan(0);
    expect(classes.zones.find((each) => each.zone === zone!.zone)!.leakage).toEqual([]);
    expect(comparable(classes)).toEqual(comparable(whole));
    const announced = classes.zones[0]!.rows.filter(
      (row) => row.class === 'announced' && row.fault.group === 'service',
    );
    expect(announced.length).toBeGreaterThan(5);
    for (const { cells } of announced) for (const cell of cells) expect(cell.answer).toBe('not-evaluated');
  });
});
