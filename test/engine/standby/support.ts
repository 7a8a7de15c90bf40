/** Batteries for tests, and all corners of a box. */
import { type Battery, batteryOf, chemistryOf, fixed, type Ranged, ranged } from '@couplet/engine';
import { expect } from 'vitest';

export const HOUR = 3600;

export function agm(
  ampereHours: number,
  celsius: readonly [number, number, number] = [25, 25, 25],
  volts = 12,
): Battery {
  return batteryOf({
    name: 'B1',
    chemistry: chemistryOf('agm')!,
    volts,
    ampereHours: fixed('B1', 'Ah', ampereHours),
    celsius: ranged('B1 ambient', 'degC', { least: celsius[0], usual: celsius[1], most: celsius[2] }),
  });
}

export function spread(what: string, unit: string, least: number, usual: number, most: number): Ranged {
  return ranged(what, unit, { least, usual, most });
}

/** Least and most of a formula over every combination of ends. */
export function overCorners(variables: readonly Ranged[], formula: (values: number[]) => number): [number, number] {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let corner = 0; corner < 2 ** variables.length; corner++) {
    const found = formula(variables.map(({ least, most }, k) => ((corner >> k) & 1 ? most : least)));
    low = Math.min(low, found);
    high = Math.max(high, found);
  }
  return [low, high];
}

export function expectNear(found: number, wanted: number, relative = 1e-9): void {
  const bound = relative * Math.max(Math.abs(found), Math.abs(wanted));
  if (!(Math.abs(found - wanted) <= bound)) expect.fail(`${found} is not ${wanted} within ${relative}`);
}
