/** The table without spreads: the same faults, cells and classes, each at its usual figures alone. */
import { type FaultCell, faultTable } from '@couplet/engine';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { generator } from '../../support/random.ts';
import '../../support/seed.ts';
import { tidewater } from '../../support/tidewater.ts';
import { randomSite } from './random-sites.ts';
import { rowNamed, zoneNamed } from './support.ts';

function isClose(one: number | undefined, other: number | undefined): boolean {
  if (one === undefined || other === undefined) return one === other;
  return one === other || Math.abs(one - other) <= 1e-9 * Math.max(Math.abs(one), Math.abs(other));
}

describe('the fault table at usual figures', () => {
  it('reads what the whole table has as usual, for random sites', () => {
    let compared = 0;
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e9 }), (seed) => {
        const design = randomSite(generator(seed)).build();
        const whole = faultTable(design);
        const usual = faultTable(design, { spreads: false });
        expect(usual.zones.map(({ zone }) => zone)).toEqual(whole.zones.map(({ zone }) => zone));
        usual.zones.forEach((zone, z) => {
          for (const row of zone.rows) {
            const same = whole.zones[z]!.rows.find(({ fault }) => fault.id === row.fault.id)!;
            // Of several ways in which a fault can stand the worst is shown, which a spread may decide.
            if (same.variant.where !== row.variant.where) continue;
            const pairs: [FaultCell, FaultCell][] = [row.rest, ...row.cells].map((cell, i) => [
              cell,
              [same.rest, ...same.cells][i]!,
            ]);
            for (const [cell, other] of pairs) {
              if (other.reason === 'announced at rest' || cell.reason === 'announced at rest') continue;
              const what = `seed ${seed}, ${row.fault.name}`;
              expect(cell.usual, what).toBe(other.usual);
              expect(isClose(cell.ohms?.usual, other.ohms?.usual), `${what}: ohms`).toBe(true);
              expect(isClose(cell.volts?.usual, other.volts?.usual), `${what}: volts`).toBe(true);
              expect(cell.ohms?.least).toBe(cell.ohms?.most);
              compared++;
            }
          }
        });
      }),
      { numRuns: 12 },
    );
    expect(compared).toBeGreaterThan(500);
  }, 300_000);

  it('counts the blind faults of Tidewater Mill as the whole table does', () => {
    const design = tidewater().build();
    const usual = faultTable(design, { spreads: false });
    const names = (table: typeof usual) => table.blindService.map(({ name }) => name);
    expect(names(usual)).toEqual(names(faultTable(design)));
    const row = rowNamed(zoneNamed(usual, 'panel.Z4'), 'RA missing');
    expect(row.class).toBe('misread');
    expect(row.usualOnly).toBe(true);
  });
});
