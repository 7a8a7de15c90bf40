/** The table against designs with each fault built in, every one analysed from the beginning. */
import {
  analyse,
  type Design,
  type FaultCell,
  type FaultVariant,
  type Figure,
  faultTable,
  type ZoneReading,
} from '@couplet/engine';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { generator } from '../../support/random.ts';
import '../../support/seed.ts';
import { samples } from '../../support/samples.ts';
import { tidewater } from '../../support/tidewater.ts';
import { edited } from './edited.ts';
import { randomSite } from './random-sites.ts';

const CLOSE = 1e-9;

function isClose(one: number, other: number): boolean {
  return one === other || Math.abs(one - other) <= CLOSE * Math.max(Math.abs(one), Math.abs(other));
}

/** `usualOnly`: least and most are not computed. */
function differences(cell: FaultCell, reading: ZoneReading, usualOnly: boolean): readonly string[] {
  const found: string[] = [];
  for (const name of ['ohms', 'volts'] as const) {
    const figure: Figure = reading[name];
    const spread = cell[name];
    if (figure.sort !== 'value' || spread === undefined) {
      if ((figure.sort === 'value') !== (spread !== undefined)) found.push(`${name}: ${figure.sort}`);
      continue;
    }
    for (const end of usualOnly ? (['usual'] as const) : (['least', 'usual', 'most'] as const)) {
      if (!isClose(spread[end], figure[end])) found.push(`${name} ${end}: ${spread[end]} and not ${figure[end]}`);
    }
  }
  if (usualOnly) return cell.usual === reading.usual ? found : [...found, `${cell.usual} and not ${reading.usual}`];
  if ([...cell.possible].sort().join() !== [...reading.possible].sort().join()) {
    found.push(`${cell.possible.join('/')} and not ${reading.possible.join('/')}`);
  }
  return found;
}

/** Compares every row of the table with the design edited; returns how many cells were compared. */
function compare(design: Design, mistakes: string[], what: string): number {
  const table = faultTable(design);
  let compared = 0;
  for (const { zone, columns, rows } of table.zones) {
    for (const row of rows) {
      const made = edited(design, row.fault, row.variant as FaultVariant);
      if (made === undefined) continue;
      const analysis = analyse(made);
      const cells = [row.rest, ...row.cells];
      cells.forEach((cell, i) => {
        // Cases are not looked at where rest gives a fault of another circuit away.
        if (row.class === 'announced' && cell.reason === 'announced at rest') return;
        const name = i === 0 ? 'rest' : columns[i - 1]!.name;
        const moments = analysis.cases.find((one) => one.name === name)!.moments;
        const found = differences(cell, moments.at(-1)!.reading(zone), row.usualOnly);
        compared++;
        for (const text of found)
          mistakes.push(`${what}, ${row.fault.name} ${row.variant.where ?? ''}, ${name}: ${text}`);
      });
    }
  }
  return compared;
}

describe('the fault table', () => {
  it('equals designs with each fault built in, for Tidewater Mill', () => {
    const mistakes: string[] = [];
    const site = tidewater(0.1).build();
    const withoutTime = site.cases.map((one) => ({
      ...one,
      steps: one.steps.flatMap((step) => (step.sort === 'turn' ? [{ ...step, for: undefined }] : [])),
    })) as Design['cases'];
    expect(compare({ ...site, cases: withoutTime }, mistakes, 'Tidewater')).toBeGreaterThan(40);
    expect(mistakes).toEqual([]);
  });

  it('equals designs with each fault built in, for random sites', () => {
    let compared = 0;
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e9 }), (seed) => {
        const mistakes: string[] = [];
        compared += compare(randomSite(generator(seed)).build(), mistakes, `seed ${seed}`);
        expect(mistakes).toEqual([]);
      }),
      { numRuns: samples(16) },
    );
    expect(compared).toBeGreaterThan(samples(800));
  }, 600_000);
});
