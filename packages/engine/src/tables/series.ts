/** Preferred values of resistors: the E series, and which of their values lie near a wanted one. */
import type { Provenance } from './provenance.ts';

export const SERIES_PROVENANCE: Provenance = {
  source: 'IEC 60063, preferred number series for resistors and capacitors',
  status: 'confirmed',
};

export const SERIES_NAMES = ['E3', 'E6', 'E12', 'E24', 'E48', 'E96', 'E192'] as const;

export type SeriesName = (typeof SERIES_NAMES)[number];

/** E24 is a list: eight of its values are not the nearest to 10^(i/24). */
const E24 = [
  1.0, 1.1, 1.2, 1.3, 1.5, 1.6, 1.8, 2.0, 2.2, 2.4, 2.7, 3.0, 3.3, 3.6, 3.9, 4.3, 4.7, 5.1, 5.6, 6.2, 6.8, 7.5, 8.2,
  9.1,
];

/** 10^(i/192) to three figures, but for the 185th, which the standard lists as 9.20 where the formula gives 9.19. */
const E192 = Array.from({ length: 192 }, (_, i) => (i === 185 ? 9.2 : Number((10 ** (i / 192)).toFixed(2))));

function every(step: number, values: readonly number[]): readonly number[] {
  return values.filter((_, i) => i % step === 0);
}

/** The values of one decade, from 1 to below 10, rising. */
export const SERIES: Readonly<Record<SeriesName, readonly number[]>> = {
  E3: every(8, E24),
  E6: every(4, E24),
  E12: every(2, E24),
  E24,
  E48: every(4, E192),
  E96: every(2, E192),
  E192,
};

/**
 * The series whose values are made with a tolerance (a fraction), coarsest first. Parts of 2 % and tighter are made in
 * the E24 values as well, thirteen of which the finer series do not contain.
 * Source: IEC 60063; that E24 goes with the finer ones is common practice.
 */
export function seriesForTolerance(tolerance: number): readonly SeriesName[] {
  return (TOLERANCE_SERIES.find((row) => tolerance <= row.upTo * (1 + 1e-9)) ?? COARSEST).series;
}

const TOLERANCE_SERIES: readonly { readonly upTo: number; readonly series: readonly SeriesName[] }[] = [
  { upTo: 0.005, series: ['E24', 'E192'] },
  { upTo: 0.01, series: ['E24', 'E96'] },
  { upTo: 0.02, series: ['E24', 'E48'] },
  { upTo: 0.05, series: ['E24'] },
  { upTo: 0.1, series: ['E12'] },
  { upTo: 0.2, series: ['E6'] },
];

const COARSEST: { readonly series: readonly SeriesName[] } = { series: ['E3'] };

/** Whether a value is in one of the series, in any decade. Values are compared by six figures. */
export function isPreferred(value: number, series: readonly SeriesName[]): boolean {
  if (!(value > 0) || !Number.isFinite(value)) return false;
  const mantissa = Number(value.toExponential(5).split('e')[0]);
  return series.some((name) => SERIES[name].includes(mantissa));
}

/** All values of the series from `least` to `most`, both included, rising and without repeats. */
export function preferredBetween(least: number, most: number, series: readonly SeriesName[]): readonly number[] {
  if (!(least > 0) || !Number.isFinite(most)) return [];
  const decade = [...new Set(series.flatMap((name) => SERIES[name]))].sort((a, b) => a - b);
  const values: number[] = [];
  for (let power = decadeOf(least) - 1; power <= decadeOf(most) + 1; power++) {
    for (const mantissa of decade) {
      const value = Number(`${mantissa}e${power}`);
      if (value >= least && value <= most) values.push(value);
    }
  }
  return values;
}

function decadeOf(value: number): number {
  return Math.floor(Math.log10(value));
}

/** The preferred values on either side of a value: the greatest that is not above it and the least that is not below it. */
export function preferredNeighbours(
  value: number,
  series: readonly SeriesName[],
): { readonly lower: number; readonly upper: number } | undefined {
  if (!(value > 0) || !Number.isFinite(value)) return undefined;
  // Six figures, so that a computed 4700.0000001 is its own neighbour.
  const wanted = Number(value.toPrecision(6));
  const near = preferredBetween(wanted / 10, wanted * 10, series);
  const lower = near.findLast((each) => each <= wanted);
  const upper = near.find((each) => each >= wanted);
  return lower === undefined || upper === undefined ? undefined : { lower, upper };
}

/** The preferred value nearest by ratio, which is what matters to a divider; undefined for nothing and less. */
export function nearestPreferred(value: number, series: readonly SeriesName[]): number | undefined {
  const neighbours = preferredNeighbours(value, series);
  if (neighbours === undefined) return undefined;
  return value / neighbours.lower <= neighbours.upper / value ? neighbours.lower : neighbours.upper;
}

/** The `count` preferred values nearest by ratio, nearest first. */
export function preferredNear(value: number, series: readonly SeriesName[], count: number): readonly number[] {
  if (!(value > 0) || !Number.isFinite(value)) return [];
  const reach = 10 ** Math.max(1, count / 3);
  return preferredBetween(value / reach, value * reach, series)
    .map((each) => ({ each, away: Math.abs(Math.log(each / value)) }))
    .sort((a, b) => a.away - b.away || a.each - b.each)
    .slice(0, count)
    .map(({ each }) => each);
}
