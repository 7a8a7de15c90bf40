/** Two preferred resistors in series or in parallel that make a wanted value. */
import { preferredBetween, type SeriesName } from './series.ts';

export interface PreferredPair {
  readonly arrangement: 'series' | 'parallel';
  /** The greater of the two, ohms. */
  readonly a: number;
  /** The smaller, or equal, ohms. */
  readonly b: number;
  /** What they make together, ohms. */
  readonly ohms: number;
  /** (made − wanted) / wanted. */
  readonly error: number;
}

/** How far, as a ratio, the parts of a pair may lie from the wanted value: beyond it the second part is mere trimming. */
const REACH = 1000;

/**
 * Pairs of preferred values that make `wanted` ohms, nearest first, at most `count` of them; of equally good ones those
 * whose parts are more alike come first. Empty where `wanted` is not a positive number.
 */
export function preferredPairs(wanted: number, series: readonly SeriesName[], count = 10): readonly PreferredPair[] {
  if (!(wanted > 0) || !Number.isFinite(wanted)) return [];
  const pairs = [
    ...candidates('series', wanted, preferredBetween(wanted / REACH, wanted, series)),
    ...candidates('parallel', wanted, preferredBetween(wanted, wanted * REACH, series)),
  ];
  return pairs
    .sort((p, q) => rank(p.error) - rank(q.error) || p.a / p.b - q.a / q.b || order(p) - order(q))
    .slice(0, count);
}

/** Errors that differ only by rounding are equal. */
function rank(error: number): number {
  return Math.round(Math.abs(error) * 1e9);
}

function order(pair: PreferredPair): number {
  return pair.arrangement === 'series' ? 0 : 1;
}

/** For every greater part the two smaller ones on either side of what would make the wanted value exactly. */
function candidates(
  arrangement: PreferredPair['arrangement'],
  wanted: number,
  values: readonly number[],
): readonly PreferredPair[] {
  const made = arrangement === 'series' ? (a: number, b: number) => a + b : (a: number, b: number) => (a * b) / (a + b);
  const pairs: PreferredPair[] = [];
  for (const a of values) {
    const ideal =
      arrangement === 'series' ? wanted - a : a === wanted ? Number.POSITIVE_INFINITY : (wanted * a) / (a - wanted);
    const next = values.findIndex((each) => each >= ideal);
    const around = next === -1 ? [values.length - 1] : [next - 1, next];
    for (const index of around) {
      const b = values[index];
      if (b === undefined || b > a) continue;
      const ohms = made(a, b);
      pairs.push({ arrangement, a, b, ohms, error: (ohms - wanted) / wanted });
    }
  }
  return pairs;
}
