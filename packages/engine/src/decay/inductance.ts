/** The inductance of a coil that nobody gives, from the power that it takes. */
import { formatFigure } from '../quantity/format.ts';
import type { Ranged } from './extremes.ts';

/**
 * Seconds a watt: a coil's current needs 6 ms a watt to 95 % of its final value, which is three time constants.
 * Source: IEC 60947-5-1, DC-13: T0.95 = 6 P up to 50 W, 300 ms beyond (from memory).
 */
const SECONDS_PER_WATT = 0.006 / 3;
const GREATEST_TAU = 0.3 / 3;

/** Small relays are slower than their watts say. Common practice, no source. */
const LEAST_TAU = 1.5e-3;

/** Specimens and makes lie between half and double. Common practice, no source. */
const SPREAD = 2;

/** Seconds: the usual time constant L/R of a direct-current coil that takes `watts`. */
export function assumedTimeConstant(watts: number): number {
  return Math.min(GREATEST_TAU, Math.max(LEAST_TAU, SECONDS_PER_WATT * watts));
}

/**
 * H of a coil of `ratedVolts` and `ohms` at 20 °C, from half to double the usual; undefined where either is not a positive
 * number. The clause names the figure and where it is from.
 */
export function assumedInductance(name: string, ratedVolts: number, ohms: number): Ranged | undefined {
  if (!(ratedVolts > 0) || !(ohms > 0) || !Number.isFinite(ratedVolts) || !Number.isFinite(ohms)) return undefined;
  const tau = assumedTimeConstant(ratedVolts ** 2 / ohms);
  const usual = tau * ohms;
  const [least, most] = [usual / SPREAD, usual * SPREAD];
  const shown = (henries: number) => formatFigure(henries, 'H');
  const range = `${shown(usual)} (${shown(least)} .. ${shown(most)})`;
  const origin = 'IEC 60947-5-1 DC-13, from memory; spread common practice, no source';
  const assumption = `inductance of ${name} not given, taken as ${range}: L/R ${formatFigure(tau, 's')} (${origin})`;
  return { what: `${name} inductance`, unit: 'H', least, usual, most, assumption };
}
