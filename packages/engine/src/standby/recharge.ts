/** Whether a charger gives a battery back what it lost in the demanded time, and does not push it too hard. */
import type { Value } from '../analysis/contract.ts';
import { extremesOf, type Ranged, ranged } from '../decay/extremes.ts';
import { type Battery, HOUR } from './battery.ts';

/** Share of the capacity to be restored. Source: EN 50131-1, EN 50131-6 (from memory). */
export const RESTORED_SHARE = 0.8;

/** Amperes for each ampere-hour above which charging is too strong, per hour. Source: common practice, no source. */
export const STRONGEST_CHARGE = 0.25;

/** Ampere-hours kept of those charged, lead-acid and lithium iron phosphate. Common practice, no source. */
const LEAD_EFFICIENCY = { least: 0.8, usual: 0.85, most: 0.95 };
const LITHIUM_EFFICIENCY = { least: 0.95, usual: 0.98, most: 1 };

/** The charge efficiency that is assumed of a battery, as a share of the A·h that go in. */
export function assumedEfficiency(battery: Battery): Ranged {
  const spread = battery.chemistry.name === 'LiFePO4' ? LITHIUM_EFFICIENCY : LEAD_EFFICIENCY;
  const percent = (share: number) => `${Math.round(share * 100)} %`;
  const range = `${percent(spread.usual)} (${percent(spread.least)} .. ${percent(spread.most)})`;
  const assumption = `charge efficiency of ${battery.name} taken as ${range} (common practice, no source)`;
  return ranged(`${battery.name} charge efficiency`, 'ratio', { ...spread, assumption });
}

export interface Recharge {
  readonly sort: 'recharge';
  /** A that restore the share in the demanded time. */
  readonly neededAmps: Value;
  /** A that the charger has to spare. */
  readonly chargerAmps: Ranged;
  /** A above which charging is too strong. */
  readonly strongestAmps: Value;
  /** s in which the share is restored with what the charger has to spare. */
  readonly restoredIn: Value;
  readonly tooSmall: boolean;
  readonly tooStrong: boolean;
  /** Set where lithium iron phosphate would be charged in frost, which it does not bear (from memory). */
  readonly frost?: string;
}

/**
 * A battery and what charges it. `chargerAmps`: A left for the battery when the supply carries its loads (least), and that
 * it may push when they are off (most). `seconds`: the demanded time. A charger is taken to hold its current until the
 * share is restored.
 */
export function recharge(given: {
  readonly battery: Battery;
  readonly chargerAmps: Ranged;
  readonly seconds: Ranged;
  readonly efficiency?: Ranged;
  readonly share?: number;
  readonly strongest?: number;
}): Recharge {
  const { battery, chargerAmps, seconds, share = RESTORED_SHARE, strongest = STRONGEST_CHARGE } = given;
  const efficiency = given.efficiency ?? assumedEfficiency(battery);
  const assumptions = [`charger of ${battery.name} taken to hold its current until ${share * 100} % are restored`];
  const lost = (capacity: number, kept: number) => (Math.max(0, capacity) * HOUR * share) / kept;
  const neededAmps = extremesOf({
    unit: 'A',
    variables: [
      { of: battery.ampereHours, direction: 'rises' },
      { of: efficiency, direction: 'falls' },
      { of: seconds, direction: 'falls' },
    ],
    at: ([capacity = 0, kept = 1, time = 0]) => quotient(lost(capacity, kept), time),
    assumptions,
  });
  const strongestAmps = extremesOf({
    unit: 'A',
    variables: [{ of: battery.ampereHours, direction: 'rises' }],
    at: ([capacity = 0]) => strongest * Math.max(0, capacity),
  });
  const lithium = battery.chemistry.name === 'LiFePO4';
  const frost = lithium && battery.celsius.least < 0 ? { frost: frostClause(battery) } : {};
  return {
    sort: 'recharge',
    neededAmps,
    chargerAmps,
    strongestAmps,
    restoredIn: extremesOf({
      unit: 's',
      variables: [
        { of: battery.ampereHours, direction: 'rises' },
        { of: efficiency, direction: 'falls' },
        { of: chargerAmps, direction: 'falls' },
      ],
      at: ([capacity = 0, kept = 1, amps = 0]) => quotient(lost(capacity, kept), amps),
      assumptions,
    }),
    tooSmall: chargerAmps.least < neededAmps.most,
    tooStrong: chargerAmps.most > strongestAmps.least,
    ...frost,
  };
}

function frostClause(battery: Battery): string {
  return `${battery.name} stands at ${battery.celsius.least} °C: lithium iron phosphate is not to be charged below 0 °C (from memory)`;
}

/** Nothing to restore takes nothing; no current, or no time, is never enough for the rest. */
function quotient(charge: number, by: number): number {
  if (charge === 0) return 0;
  return by > 0 ? charge / by : Number.POSITIVE_INFINITY;
}
