/** The single faults of Tidewater Mill, as the language page and the page on faults state them. */
import { faultTable } from '@couplet/engine';
import { describe, expect, it } from 'vitest';
import { tidewater } from '../../support/tidewater.ts';
import { classesOf, nameOf, ohmsOf, rowNamed, zoneNamed } from './support.ts';

const table = faultTable(tidewater().build());
const zone = zoneNamed(table, 'panel.Z4');

describe('the fault table of Tidewater Mill', () => {
  it('has one zone with a column for high-water; the lost supply is a service fault and no column', () => {
    expect(table.zones.map(({ zone: id }) => nameOf(table.design, id))).toEqual(['panel.Z4']);
    expect(zone.columns.map(({ name, expected }) => [name, expected])).toEqual([['high-water', 'alarm']]);
    expect(zone.reason).toBeUndefined();
  });

  it('finds exactly three blind service faults, electrically one', () => {
    expect(table.blindService.map(({ name }) => name)).toEqual(['level.Q1 stuck on', 'K1.11-14 welded', 'RA linked']);
    const groups = table.blindService.map(({ name }) => rowNamed(zone, name).group);
    expect(new Set(groups).size).toBe(1);
    for (const { name } of table.blindService) {
      const row = rowNamed(zone, name);
      expect(row.caseName).toBe('high-water');
      // 2,200 Ω + 2 × 13.3 Ω in both: the relay's contact or its shunt is bridged, or the relay is never let go.
      expect(ohmsOf(row)).toEqual(['2226.6', '2226.6']);
    }
  });

  it('finds a missing RA misread, and an RA of 470 Ω a blind fitting error', () => {
    const missing = rowNamed(zone, 'RA missing');
    expect(missing.class).toBe('misread');
    expect(missing.cells.map(({ usual }) => usual)).toEqual(['open']);
    expect(table.blindFitting.map(({ name }) => name)).toEqual(['RA a decade low']);
    // 2,200 + 470 + 26.6.
    expect(ohmsOf(rowNamed(zone, 'RA a decade low'))).toEqual(['2226.6', '2696.6']);
  });

  it('tells every other fault by what it does', () => {
    expect(classesOf(zone)).toEqual({
      'level lost': 'announced',
      'W1.GN swapped with W1.YE': 'quiet',
      'level.V12 lost': 'announced',
      'level.Q1 stuck on': 'blind',
      'level.Q1 stuck off': 'announced',
      'K1 coil open': 'announced',
      'K1 coil shorted': 'announced',
      'K1 reversed': 'announced',
      'K1.11-14 welded': 'blind',
      'K1.11-14 never closes': 'announced',
      'RE missing': 'announced',
      'RE linked': 'announced',
      'RE swapped with RA': 'announced',
      'RE fitted at the other end': 'quiet',
      'RE a decade low': 'announced',
      'RE a decade high': 'announced',
      'RA missing': 'misread',
      'RA linked': 'blind',
      'RA a decade low': 'blind',
      'RA a decade high': 'misread',
      'W1.GN cut': 'announced',
      'W1.GN shorted to W1.YE': 'announced',
      'W1.GN earthed': 'announced',
      'W1.YE cut': 'announced',
      'W1.YE earthed': 'quiet',
      'K1.14 earthed': 'announced',
    });
  });

  it('lists what keeps the beacon dark, or lights it, under the beacon', () => {
    const listed = table.loads.map(({ component, fault, caseName }) => [
      nameOf(table.design, component),
      fault.name,
      caseName,
    ]);
    expect(listed).toEqual([
      ['P1', 'level.Q2 stuck on', 'rest'],
      ['P1', 'level.Q2 stuck on', 'high-water'],
      ['P1', 'level.Q2 stuck off', 'high-water'],
      ['P1', 'P1 missing', 'high-water'],
      ['P1', 'P1 linked', 'high-water'],
    ]);
  });

  it('keeps the origin of the part that each fault concerns', () => {
    for (const { component, origin, word } of table.faults) {
      if (word !== 'cut') expect(origin).toBe(table.design.components[component]!.origin);
    }
  });
});
