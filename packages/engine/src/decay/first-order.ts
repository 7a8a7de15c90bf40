/**
 * What settles exponentially: x(t) = towards + (from − towards) e^(−t/τ).
 * Source: Kuphaldt, Lessons In Electric Circuits, vol I ch 16 (RC and L/R time constants).
 */

/** `from` and `towards` in any one unit, `tau` in seconds. */
export interface FirstOrder {
  readonly from: number;
  readonly towards: number;
  readonly tau: number;
}

/** The value `seconds` after the start, in the unit of `from`. */
export function firstOrderValue({ from, towards, tau }: FirstOrder, seconds: number): number {
  if (seconds <= 0) return from;
  if (!(tau > 0)) return towards;
  return from - (towards - from) * Math.expm1(-seconds / tau);
}

/**
 * Seconds until the value is at `level`: τ ln((towards − from) / (towards − level)). 0 where it starts there, Infinity
 * where it never comes there (`level` behind the start, or at or beyond what it settles towards).
 */
export function firstOrderSeconds({ from, towards, tau }: FirstOrder, level: number): number {
  if (level === from) return 0;
  const gone = level - from;
  const left = towards - level;
  if (Math.sign(gone) !== Math.sign(towards - from)) return Number.POSITIVE_INFINITY;
  if (!(tau > 0)) return left === 0 || Math.sign(left) === Math.sign(gone) ? 0 : Number.POSITIVE_INFINITY;
  if (left === 0 || Math.sign(left) !== Math.sign(gone)) return Number.POSITIVE_INFINITY;
  return tau * Math.log1p(gone / left);
}
