/** How batteries lose capacity to cold, age and haste. */
import type { Provenance } from './provenance.ts';

export interface BatteryChemistry {
  readonly name: string;
  /** Peukert's exponent that is assumed, and the range printed for the kind. */
  readonly exponent: number;
  readonly exponentRange: readonly [number, number];
  /** Volts a cell: fully charged and resting on its charger, and at the end of discharge. */
  readonly fullVolts: number;
  readonly endVolts: number;
  /** Volts a cell by which batteries are named: 2 V, 3.2 V. */
  readonly nominalVolts: number;
  readonly provenance: Provenance;
}

const LEAD = { fullVolts: 2.275, endVolts: 1.75, nominalVolts: 2 };
const LEAD_SOURCE: Provenance = {
  source: 'float 2.25 V to 2.30 V at 25 °C, end 1.75 V a cell; exponents as printed for the kind',
  status: 'confirmed',
};

export const BATTERY_CHEMISTRIES: readonly BatteryChemistry[] = [
  { name: 'AGM', exponent: 1.1, exponentRange: [1.05, 1.15], ...LEAD, provenance: LEAD_SOURCE },
  { name: 'gel', exponent: 1.2, exponentRange: [1.1, 1.25], ...LEAD, provenance: LEAD_SOURCE },
  { name: 'flooded', exponent: 1.2, exponentRange: [1.2, 1.6], ...LEAD, provenance: LEAD_SOURCE },
  {
    name: 'LiFePO4',
    exponent: 1.05,
    exponentRange: [1.05, 1.05],
    fullVolts: 3.65,
    endVolts: 2.8,
    nominalVolts: 3.2,
    provenance: { source: 'full 3.60 V to 3.65 V, cut-off 2.5 V to 2.8 V a cell', status: 'confirmed' },
  },
];

/** Demand is multiplied by it, so that a battery worn down to 80 % still carries it. */
export const BATTERY_AGEING = 1.25;

export const BATTERY_AGEING_PROVENANCE: Provenance = { source: 'IEEE 485, IEEE 450', status: 'from memory' };

/** °C and share of the capacity at 25 °C, by rising temperature. */
export const BATTERY_TEMPERATURE: readonly (readonly [celsius: number, share: number])[] = [
  [-10, 0.6],
  [0, 0.75],
  [10, 0.85],
  [20, 0.95],
  [25, 1],
];

export const BATTERY_TEMPERATURE_PROVENANCE: Provenance = {
  source: 'IEEE 485, as used for lead-acid batteries',
  status: 'from memory',
};

/**
 * Share of the capacity at 25 °C that is left at `celsius`: straight lines between the points, 1 above 25 °C. Undefined
 * below −10 °C, where the table ends.
 */
export function batteryTemperatureFactor(celsius: number): number | undefined {
  const above = BATTERY_TEMPERATURE.findIndex(([point]) => point >= celsius);
  if (above === -1) return Number.isNaN(celsius) ? undefined : 1;
  const [upper, upperShare] = BATTERY_TEMPERATURE[above] as readonly [number, number];
  if (upper === celsius) return upperShare;
  const below = BATTERY_TEMPERATURE[above - 1];
  if (below === undefined) return undefined;
  const [lower, lowerShare] = below;
  return lowerShare + ((upperShare - lowerShare) * (celsius - lower)) / (upper - lower);
}

/**
 * Hours that a battery of `ampereHours`, rated over `ratedHours`, gives `amps`: t = H (C / (I H))^k.
 * Source: Peukert's law in the form that starts from the rated hour.
 */
export function peukertHours(ampereHours: number, ratedHours: number, amps: number, exponent: number): number {
  return ratedHours * (ampereHours / (amps * ratedHours)) ** exponent;
}

/** Factor by which a draw counts more than its ampere-hours: (I / I at the rated hour)^(k − 1), never below 1. */
export function peukertFactor(amps: number, ratedAmps: number, exponent: number): number {
  return Math.max(1, amps / ratedAmps) ** (exponent - 1);
}
