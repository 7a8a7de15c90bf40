/** Least, usual and most of a value, and how tolerances, ranges and single values become them. */

export interface Spread {
  readonly least: number;
  readonly usual: number;
  readonly most: number;
}

/** A value without spread. */
export function singleSpread(value: number): Spread {
  return { least: value, usual: value, most: value };
}

/** What a value says that stands alone in a property. */
export type SingleMeaning = 'exact' | 'at most' | 'at least';

/**
 * Spread of a value written alone. `at most`: 0 up to the value, which is also the usual one. `at least`: the promised
 * value throughout, since nothing is known above it.
 */
export function spreadOfSingle(value: number, meaning: SingleMeaning): Spread {
  return meaning === 'at most'
    ? { least: Math.min(0, value), usual: value, most: Math.max(0, value) }
    : singleSpread(value);
}

/** A range of two: its middle is the usual value, which is an assumption for the caller to show. */
export function spreadOfRange(least: number, most: number): Spread {
  return { least, usual: (least + most) / 2, most };
}

/** A range of ambient temperature in °C: 20 °C is usual where the range holds it, else its middle. */
export function spreadOfAmbient(least: number, most: number): Spread {
  return least <= 20 && 20 <= most ? { least, usual: 20, most } : spreadOfRange(least, most);
}

/** Deviation below and above a nominal value, both as positive numbers: a fraction of it, or in its own unit. */
export interface Tolerance {
  readonly below: number;
  readonly above: number;
  readonly relative: boolean;
}

/** A nominal value with its tolerance. A fraction counts from the size of the nominal value, whatever its sign. */
export function withTolerance(nominal: number, tolerance: Tolerance): Spread {
  const unit = tolerance.relative ? Math.abs(nominal) : 1;
  return { least: nominal - tolerance.below * unit, usual: nominal, most: nominal + tolerance.above * unit };
}

/**
 * The tolerance of a spread as fractions of its usual value, or undefined where that is zero.
 * A symmetrical one has `below` equal to `above`.
 */
export function relativeTolerance(spread: Spread): Tolerance | undefined {
  const size = Math.abs(spread.usual);
  if (size === 0) return undefined;
  return { below: (spread.usual - spread.least) / size, above: (spread.most - spread.usual) / size, relative: true };
}

/** `below X` and `above X`: everything to one side. A band holds its lower edge and not its upper. */
export interface HalfOpen {
  readonly from: number;
  readonly to: number;
}

export function halfOpenBelow(value: number): HalfOpen {
  return { from: Number.NEGATIVE_INFINITY, to: value };
}

export function halfOpenAbove(value: number): HalfOpen {
  return { from: value, to: Number.POSITIVE_INFINITY };
}

/** Whether a band of a scheme or a threshold holds a reading: from its lower edge up to, not including, its upper. */
export function bandHolds(band: HalfOpen, reading: number): boolean {
  return reading >= band.from && reading < band.to;
}
