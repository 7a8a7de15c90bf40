/**
 * The meter that readings are taken with, unless the site says otherwise: volts through 10 MΩ, ohms through leads of
 * 0.3 Ω, off by 0.8 % of the reading and two steps of its last digit at most, 2,000 counts. Common practice, no source.
 */

/** Ohms of the meter on its volts ranges. */
export const METER_OHMS = 10e6;
/** Ohms of its leads. */
export const LEADS_OHMS = 0.3;
/** Ohms beyond which it shows an open circuit. */
export const METER_OPEN = 20e6;
/** Ohms of a loop's joints, and share of its cable's ohms, by which a sound loop may differ from what is computed. */
export const JOINTS_OHMS = 1;
export const CABLE_SHARE = 0.2;

export type Measured = 'volts' | 'ohms' | 'amps';

const SHARE = 0.008;
const STEPS = 2;
const COUNTS = 2000;
/** The last digit on the lowest range: 200 mV, 200 Ω, 200 µA. */
const LEAST_STEP: Readonly<Record<Measured, number>> = { volts: 1e-4, ohms: 0.1, amps: 1e-7 };
/** A reading is written down with this share of it, or so many volts, amperes or ohms, to spare. */
const WRITTEN_SHARE = 0.01;
const WRITTEN: Readonly<Record<Measured, number>> = { volts: 5e-3, ohms: 0.5, amps: 5e-6 };

/** How far a value in SI units that somebody wrote down may be off: the meter, and what was rounded away. */
export function meterTolerance(value: number, quantity: Measured): number {
  const size = Math.abs(value);
  const rounded = Math.min(lastWritten(size) / 2, Math.max(size * WRITTEN_SHARE, WRITTEN[quantity]));
  return size * SHARE + STEPS * lastShown(size, quantity) + rounded;
}

/** One step of the last digit that the meter shows. */
function lastShown(size: number, quantity: Measured): number {
  const least = LEAST_STEP[quantity];
  if (size < least) return least;
  return Math.max(least, 10 ** (Math.floor(Math.log10((size * 1000) / COUNTS)) - 2));
}

/** One step of the last digit that was written: 0.01 of 1.61, 100 of 4700. */
function lastWritten(size: number): number {
  if (size === 0 || !Number.isFinite(size)) return 0;
  const [digits = '', power = '0'] = size.toExponential().split('e');
  const decimals = digits.split('.')[1]?.length ?? 0;
  return 10 ** (Number(power) - decimals);
}
