/**
 * How long a coil's current takes to rise to where the relay operates: i(t) = V/R (1 − e^(−t R/L)).
 * Source: Kuphaldt, Lessons In Electric Circuits, vol I ch 16; OpenStax University Physics vol 2, 14.4.
 */
import type { Value } from '../analysis/contract.ts';
import { copperFactor } from '../tables/copper.ts';
import { extremesOf, type Ranged } from './extremes.ts';
import { firstOrderSeconds } from './first-order.ts';

/**
 * Seconds until the current of a coil of `ohms` and `henries` at `volts` has risen from nothing to `amps`. Infinity where
 * it never does.
 */
export function riseSeconds(
  coil: { readonly ohms: number; readonly henries: number; readonly volts: number },
  amps: number,
): number {
  if (!(amps > 0)) return 0;
  if (!(coil.ohms > 0))
    return coil.volts > 0 ? (Math.max(0, coil.henries) * amps) / coil.volts : Number.POSITIVE_INFINITY;
  const tau = Math.max(0, coil.henries) / coil.ohms;
  return firstOrderSeconds({ from: 0, towards: coil.volts / coil.ohms, tau }, amps);
}

/** A coil that is switched on; see `SwitchedCoil` for the units. */
export interface OperatedCoil {
  readonly name: string;
  readonly ohms: Ranged;
  readonly celsius: Ranged;
  readonly henries: Ranged;
  /** V across the coil once its current has settled. */
  readonly volts: Ranged;
  /** V at 20 °C at which every specimen operates. */
  readonly operates: Ranged;
}

const ASSUMPTIONS = [
  'inductance of the coil taken as constant: the movement of the armature is neglected',
  'resistance of the driving side neglected while the current of the coil rises',
];

interface Instance {
  readonly ohms: number;
  readonly henries: number;
  readonly volts: number;
  readonly amps: number;
  readonly cold: number;
}

function instance(values: readonly number[]): Instance {
  const [ohms = 0, celsius = 20, henries = 0, volts = 0, operates = 0] = values;
  const cold = Math.max(0, ohms);
  const hot = cold * Math.max(0, copperFactor(celsius));
  return { ohms: hot, henries: Math.max(0, henries), volts, amps: operates <= 0 ? 0 : operates / cold, cold };
}

/*
 * t = (L / R20 c) ln(1 / (1 − c Vop / V)), c the copper's factor: with x = c Vop / V its derivative by c has the sign of
 * x / (1 − x) − ln(1 / (1 − x)), which is never negative.
 */
function variablesOf(coil: OperatedCoil) {
  return [
    { of: coil.ohms, direction: 'falls' },
    { of: coil.celsius, direction: 'rises' },
    { of: coil.henries, direction: 'rises' },
    { of: coil.volts, direction: 'falls' },
    { of: coil.operates, direction: 'rises' },
  ] as const;
}

/** Seconds until the current has risen to where every specimen operates; Infinity where it never does. */
export function operateRise(coil: OperatedCoil): Value {
  return extremesOf({
    unit: 's',
    variables: variablesOf(coil),
    at: (values) => {
      const { amps, ...rest } = instance(values);
      return riseSeconds(rest, amps);
    },
    assumptions: ASSUMPTIONS,
  });
}

/**
 * Seconds from the closing of the switch until a relay's contacts have moved: its own operate time, which holds at
 * `ratedVolts` and 20 °C, longer by as much as the current rises more slowly than it would there. It is never shortened.
 */
export function operateSeconds(coil: OperatedCoil, ratedVolts: number, operateTime: Ranged): Value {
  return extremesOf({
    unit: 's',
    variables: [{ of: operateTime, direction: 'rises' }, ...variablesOf(coil)],
    at: ([own, ...values]) => {
      const { amps, cold, ...here } = instance(values);
      const rise = riseSeconds(here, amps);
      if (rise === Number.POSITIVE_INFINITY) return rise;
      return own! + Math.max(0, rise - riseSeconds({ ...here, ohms: cold, volts: ratedVolts }, amps));
    },
    assumptions: [...ASSUMPTIONS, 'operate time taken to hold at rated volts and 20 °C'],
  });
}
