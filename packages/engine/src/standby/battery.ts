/** A battery as its sizing sees it: what is given, and what is taken for granted where it is not. */
import { fixed, type Ranged } from '../decay/extremes.ts';
import { BATTERY_AGEING, BATTERY_CHEMISTRIES, type BatteryChemistry } from '../tables/batteries.ts';

export interface Battery {
  readonly name: string;
  readonly chemistry: BatteryChemistry;
  /** A·h at the rated hour. */
  readonly ampereHours: Ranged;
  /** s over which the capacity is rated. */
  readonly ratedSeconds: Ranged;
  /** Peukert's exponent. */
  readonly exponent: Ranged;
  /** °C of its place. */
  readonly celsius: Ranged;
  readonly cells: number;
}

export const HOUR = 3600;

/** Hours over which the capacity of small stationary batteries is stated. Common practice, no source. */
const RATED_HOURS = 20;

/** The row of a chemistry's word as it is written ('agm', 'gel', 'flooded', 'lifepo4'), whatever its case. */
export function chemistryOf(word: string): BatteryChemistry | undefined {
  return BATTERY_CHEMISTRIES.find((each) => each.name.toLowerCase() === word.toLowerCase());
}

/** How many cells in series make `volts`. */
export function cellsOf(chemistry: BatteryChemistry, volts: number): number {
  return Math.max(1, Math.round(volts / chemistry.nominalVolts));
}

/**
 * A battery from its data: V (nominal), A·h, °C; the hour of its rating (s) and Peukert's exponent are assumed where they
 * are not given, and say so.
 */
export function batteryOf(given: {
  readonly name: string;
  readonly chemistry: BatteryChemistry;
  readonly volts: number;
  readonly ampereHours: Ranged;
  readonly celsius: Ranged;
  readonly ratedSeconds?: Ranged;
  readonly exponent?: Ranged;
}): Battery {
  const { name, chemistry, volts, ampereHours, celsius } = given;
  const hours = `capacity of ${name} taken as stated over ${RATED_HOURS} h (common practice, no source)`;
  const exponent = `Peukert's exponent of ${name} taken as ${chemistry.exponent} (${chemistry.name})`;
  return {
    name,
    chemistry,
    ampereHours,
    celsius,
    ratedSeconds: given.ratedSeconds ?? fixed(`${name} rated time`, 's', RATED_HOURS * HOUR, hours),
    exponent: given.exponent ?? fixed(`${name} exponent`, 'number', chemistry.exponent, exponent),
    cells: cellsOf(chemistry, volts),
  };
}

/** The ageing that is assumed: demand × 1.25, so that a battery worn down to 80 % still carries it. */
export function assumedAgeing(): Ranged {
  return fixed('ageing', 'ratio', BATTERY_AGEING, `ageing taken as ${BATTERY_AGEING * 100} % (IEEE 485, from memory)`);
}
