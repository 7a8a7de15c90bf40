/** Volts of a battery by what is left in it, and at the ends that checks are made at. */
import { fixed, type Ranged, ranged } from '../decay/extremes.ts';
import type { BatteryChemistry } from '../tables/batteries.ts';
import { cellsOf } from './battery.ts';

/** Straight lines between points of charge (0 end of discharge .. 1 full) and volts, both rising. */
export interface ChargeCurve {
  readonly points: readonly (readonly [charge: number, volts: number])[];
  readonly assumption: string;
}

/** Volts a cell at half charge where a straight line would be wrong. Source: lifepo4batteryhq.com, 13.08 V of four cells (confirmed). */
const HALF_VOLTS: Readonly<Record<string, number>> = { LiFePO4: 13.08 / 4 };

/** The curve of `cells` in series. */
export function chargeCurve(chemistry: BatteryChemistry, cells: number): ChargeCurve {
  const { name, fullVolts, endVolts } = chemistry;
  const half = HALF_VOLTS[name];
  const perCell: (readonly [number, number])[] = [
    [0, endVolts],
    ...(half === undefined ? [] : [[0.5, half] as const]),
    [1, fullVolts],
  ];
  const over = half === undefined ? '' : ` over ${half} V at half charge`;
  return {
    points: perCell.map(([charge, volts]) => [charge, volts * cells]),
    assumption: `volts a cell taken on straight lines from ${endVolts} V at the end of discharge${over} to ${fullVolts} V when full (${name})`,
  };
}

/** The curve of a battery whose volts are declared: a straight line from end of discharge to full. */
export function chargeCurveBetween(endVolts: number, fullVolts: number): ChargeCurve {
  return {
    points: [
      [0, endVolts],
      [1, fullVolts],
    ],
    assumption: 'volts of the battery taken on a straight line from end of discharge to full',
  };
}

/** Volts without current at `charge`, held at the ends beyond them. */
export function voltsAtCharge({ points }: ChargeCurve, charge: number): number {
  const next = points.findIndex(([at]) => at >= charge);
  if (next === 0) return points[0]![1];
  if (next === -1) return points.at(-1)![1];
  const [[from, low], [to, high]] = [points[next - 1]!, points[next]!];
  return low + ((high - low) * (charge - from)) / (to - from);
}

/** What is left at `volts` without current: 0 at or below the end of discharge, 1 at or above full. */
export function chargeAtVolts({ points }: ChargeCurve, volts: number): number {
  const next = points.findIndex(([, at]) => at >= volts);
  if (next === 0) return 0;
  if (next === -1) return 1;
  const [[from, low], [to, high]] = [points[next - 1]!, points[next]!];
  return from + ((to - from) * (volts - low)) / (high - low);
}

/**
 * Volts of a battery that is named by `nominal` V, where nothing more is said: from the end of discharge to full, usual at
 * its name. `end` is where its discharge ends, when that is given.
 */
export function batteryVolts(given: {
  readonly name: string;
  readonly chemistry: BatteryChemistry;
  readonly nominal: number;
  readonly end?: number;
}): Ranged {
  const { name, chemistry, nominal } = given;
  const cells = cellsOf(chemistry, nominal);
  const end = given.end ?? plain(chemistry.endVolts * cells);
  const full = Math.max(plain(chemistry.fullVolts * cells), nominal, end);
  const span = `${end} V .. ${nominal} V .. ${full} V`;
  const ends =
    given.end === undefined
      ? `${cells} cells of ${chemistry.endVolts} V .. ${chemistry.fullVolts} V`
      : `full at ${cells} cells of ${chemistry.fullVolts} V`;
  return ranged(name, 'V', {
    least: Math.min(end, nominal),
    usual: nominal,
    most: full,
    assumption: `volts of ${name} taken as ${span}: ${ends} (${chemistry.name})`,
  });
}

/** Without the last bits of binary arithmetic. */
function plain(volts: number): number {
  return Number(volts.toPrecision(6));
}

/** The volts at which every check is made: at the end of discharge, on float charge, on boost charge. V. */
export interface BatteryEnds {
  readonly end: Ranged;
  readonly float: Ranged;
  /** Only where it is given: nothing is assumed of a charger that boosts. */
  readonly boost?: Ranged;
}

/** End of discharge and float from the chemistry where they are not given. */
export function batteryEnds(given: {
  readonly name: string;
  readonly chemistry: BatteryChemistry;
  readonly cells: number;
  readonly end?: Ranged;
  readonly float?: Ranged;
  readonly boost?: Ranged;
}): BatteryEnds {
  const { name, chemistry, cells } = given;
  const assumed = (what: string, perCell: number): Ranged => {
    const volts = plain(perCell * cells);
    const clause = `${what} of ${name} taken as ${volts} V: ${cells} cells of ${perCell} V (${chemistry.name})`;
    return fixed(`${name} at ${what}`, 'V', volts, clause);
  };
  return {
    end: given.end ?? assumed('end of discharge', chemistry.endVolts),
    float: given.float ?? assumed('float', chemistry.fullVolts),
    ...(given.boost === undefined ? {} : { boost: given.boost }),
  };
}

/** V a cell and kelvin by which lead-acid float volts fall as it warms. From memory; printed from −2 mV to −5 mV. */
export const FLOAT_COEFFICIENT = -0.003;

/**
 * Float volts at `celsius` of a charger that follows the temperature, from those at 25 °C, over a range of temperatures:
 * V + cells × coefficient × (T − 25).
 */
export function compensatedFloat(
  volts25: number,
  cells: number,
  celsius: Ranged,
  coefficient: number = FLOAT_COEFFICIENT,
): Ranged {
  const at = (temperature: number) => volts25 + cells * coefficient * (temperature - 25);
  const ends = [at(celsius.least), at(celsius.most)];
  return ranged('float, temperature followed', 'V', {
    least: Math.min(...ends),
    usual: at(celsius.usual),
    most: Math.max(...ends),
  });
}
