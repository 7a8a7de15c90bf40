/**
 * Charge and decay of a capacitor between two of its volts, through the resistance of what it hangs on.
 * Source: Kuphaldt, Lessons In Electric Circuits, vol I ch 16.
 */
import type { Value } from '../analysis/contract.ts';
import { extremesOf, type Ranged } from './extremes.ts';
import { firstOrderSeconds, firstOrderValue } from './first-order.ts';

/**
 * A capacitor of `farads` behind `ohms` of a source of `sourceVolts` (0 where it only discharges); `drawnAmps` is a
 * constant current that something takes from it. `ohms` Infinity: only the draw acts.
 */
export interface ChargedCapacitor {
  readonly farads: number;
  readonly ohms: number;
  readonly sourceVolts: number;
  readonly fromVolts: number;
  readonly drawnAmps?: number;
}

/** Seconds until it stands at `volts`; 0 where it starts there, Infinity where it never comes there. */
export function capacitorSeconds(capacitor: ChargedCapacitor, volts: number): number {
  const { farads, ohms, sourceVolts, fromVolts, drawnAmps = 0 } = capacitor;
  if (ohms !== Number.POSITIVE_INFINITY) {
    const towards = sourceVolts - drawnAmps * ohms;
    return firstOrderSeconds({ from: fromVolts, towards, tau: farads * ohms }, volts);
  }
  if (volts === fromVolts) return 0;
  const seconds = drawnAmps === 0 ? -1 : (farads * (fromVolts - volts)) / drawnAmps;
  return seconds < 0 ? Number.POSITIVE_INFINITY : seconds;
}

/** Volts `seconds` later. */
export function capacitorVolts(capacitor: ChargedCapacitor, seconds: number): number {
  const { farads, ohms, sourceVolts, fromVolts, drawnAmps = 0 } = capacitor;
  if (ohms !== Number.POSITIVE_INFINITY) {
    const towards = sourceVolts - drawnAmps * ohms;
    return firstOrderValue({ from: fromVolts, towards, tau: farads * ohms }, seconds);
  }
  return seconds > 0 && farads > 0 ? fromVolts - (drawnAmps * seconds) / farads : fromVolts;
}

/**
 * Seconds from `from` to `to` (V) towards `source` (V) through `ohms`, of a capacitor of `farads`, over all their spreads:
 * the time of a timer's RC, or how long a capacitor carries something. Whether it rises or falls is told by the usual
 * values; a corner that cannot get there gives Infinity, one that starts beyond `to` gives 0.
 */
export function chargeSeconds(given: {
  readonly farads: Ranged;
  readonly ohms: Ranged;
  readonly source: Ranged;
  readonly from: Ranged;
  readonly to: Ranged;
}): Value {
  const rises = given.source.usual >= given.from.usual;
  const sign = rises ? 1 : -1;
  return extremesOf({
    unit: 's',
    // With D = source − from and d = source − to: t = RC ln(D / d), where a nearer source or a farther start takes longer.
    variables: [
      { of: given.farads, direction: 'rises' },
      { of: given.ohms, direction: 'rises' },
      { of: given.source, direction: rises ? 'falls' : 'rises' },
      { of: given.from, direction: rises ? 'falls' : 'rises' },
      { of: given.to, direction: rises ? 'rises' : 'falls' },
    ],
    at: ([farads = 0, ohms = 0, source = 0, from = 0, to = 0]) => {
      if (sign * (from - to) >= 0) return 0;
      return firstOrderSeconds({ from, towards: source, tau: Math.max(0, farads) * Math.max(0, ohms) }, to);
    },
  });
}
