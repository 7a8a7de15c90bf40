/** How long a battery gives a current: hours against amperes, and until its volts fall below what is needed. */
import type { Value } from '../analysis/contract.ts';
import { extremesOf, fixed, type NotEvaluated, type Ranged, ranged } from '../decay/extremes.ts';
import { BATTERY_AGEING, peukertFactor } from '../tables/batteries.ts';
import { type Battery, HOUR } from './battery.ts';
import { shareAt, temperatureClause, tooCold } from './sizing.ts';
import { type ChargeCurve, chargeAtVolts } from './state-of-charge.ts';

/** From a battery as new (usual) to one that is worn down to 1/1.25 of its capacity. */
export function wear(battery: Battery): Ranged {
  const assumption = `${battery.name} from new to worn down to ${100 / BATTERY_AGEING} % of its capacity (IEEE 485, from memory)`;
  return ranged(`${battery.name} wear`, 'ratio', { least: 1, usual: 1, most: BATTERY_AGEING, assumption });
}

/**
 * Seconds that a battery of `ampereHours` (rated over `ratedSeconds`) gives `amps`, to its own end of discharge:
 * C f / (ageing I max(1, I / I at the rated hour)^(k − 1)). Infinity where nothing is drawn.
 */
export function runtimeSeconds(given: {
  readonly ampereHours: number;
  readonly ratedSeconds: number;
  readonly exponent: number;
  readonly celsius: number;
  readonly ageing: number;
  readonly amps: number;
}): number {
  const { ampereHours, ratedSeconds, exponent, celsius, ageing, amps } = given;
  if (!(amps > 0)) return Number.POSITIVE_INFINITY;
  if (!(ampereHours > 0)) return 0;
  const charge = ampereHours * HOUR;
  return (charge * shareAt(celsius)) / (ageing * amps * peukertFactor(amps, charge / ratedSeconds, exponent));
}

function variablesOf(battery: Battery, amps: Ranged, ageing: Ranged) {
  return [
    { of: battery.ampereHours, direction: 'rises' },
    { of: battery.ratedSeconds, direction: 'falls' },
    { of: battery.exponent, direction: 'falls' },
    { of: battery.celsius, direction: 'rises' },
    { of: ageing, direction: 'falls' },
    { of: amps, direction: 'falls' },
  ] as const;
}

function secondsAt(values: readonly number[]): number {
  const [ampereHours = 0, ratedSeconds = 0, exponent = 1, celsius = 25, ageing = 1, amps = 0] = values;
  return runtimeSeconds({ ampereHours, ratedSeconds, exponent, celsius, ageing, amps });
}

/** Seconds that the battery gives `amps`, to its own end of discharge. Not evaluated below −10 °C. */
export function runtime(battery: Battery, amps: Ranged, ageing: Ranged = wear(battery)): Value | NotEvaluated {
  return (
    tooCold(battery) ??
    extremesOf({
      unit: 's',
      variables: variablesOf(battery, amps, ageing),
      at: secondsAt,
      assumptions: [temperatureClause(battery)],
    })
  );
}

/**
 * Seconds until the battery's terminals, at `amps` through its `ohms` inside, fall to `volts`, which what it feeds needs;
 * its own end of discharge ends it at the latest. Not evaluated below −10 °C.
 */
export function runtimeToVolts(
  battery: Battery,
  given: {
    readonly curve: ChargeCurve;
    readonly amps: Ranged;
    readonly ohms: Ranged;
    readonly volts: Ranged;
    readonly ageing?: Ranged;
  },
): Value | NotEvaluated {
  const { curve, amps, ohms, volts, ageing = wear(battery) } = given;
  return (
    tooCold(battery) ??
    extremesOf({
      unit: 's',
      variables: [
        ...variablesOf(battery, amps, ageing),
        { of: ohms, direction: 'falls' },
        { of: volts, direction: 'falls' },
      ],
      at: (values) => {
        const [current = 0, inside = 0, needed = 0] = values.slice(5);
        const left = chargeAtVolts(curve, needed + current * Math.max(0, inside));
        return left >= 1 ? 0 : (1 - left) * secondsAt(values);
      },
      assumptions: [temperatureClause(battery), curve.assumption],
    })
  );
}

export interface RuntimePoint {
  /** A, constant. */
  readonly amps: number;
  readonly seconds: Value;
}

/**
 * Hours against amperes: `count` currents in equal ratios from `leastAmps` to `mostAmps`, both included. Empty where the
 * ends are not positive and rising, or below −10 °C.
 */
export function runtimeCurve(
  battery: Battery,
  leastAmps: number,
  mostAmps: number,
  count = 25,
): readonly RuntimePoint[] {
  if (!(leastAmps > 0) || !(mostAmps > leastAmps) || !Number.isFinite(mostAmps) || !(count >= 2)) return [];
  const points: RuntimePoint[] = [];
  for (let k = 0; k < count; k++) {
    const amps = k === count - 1 ? mostAmps : leastAmps * (mostAmps / leastAmps) ** (k / (count - 1));
    const seconds = runtime(battery, fixed('current', 'A', amps));
    if (seconds.sort !== 'value') return [];
    points.push({ amps, seconds });
  }
  return points;
}
