/** Colour bands of resistors: what a value looks like in the hand, and what bands mean. */
import type { Provenance } from './provenance.ts';

export const COLOUR_BAND_PROVENANCE: Provenance = {
  source: 'IEC 60062, colour code',
  status: 'partly confirmed',
};

export interface BandColour {
  readonly colour: string;
  readonly digit?: number;
  /** Power of ten that the band multiplies by. */
  readonly power?: number;
  /** Symmetrical tolerance as a fraction. */
  readonly tolerance?: number;
}

/**
 * One row a colour. Confirmed on secondary pages but for the multiplier of pink and the tolerances of orange, yellow and
 * grey, which are from memory (grey meant 0.05 % before the 2016 edition).
 */
export const BAND_COLOURS: readonly BandColour[] = [
  { colour: 'black', digit: 0, power: 0 },
  { colour: 'brown', digit: 1, power: 1, tolerance: 0.01 },
  { colour: 'red', digit: 2, power: 2, tolerance: 0.02 },
  { colour: 'orange', digit: 3, power: 3, tolerance: 0.0005 },
  { colour: 'yellow', digit: 4, power: 4, tolerance: 0.0002 },
  { colour: 'green', digit: 5, power: 5, tolerance: 0.005 },
  { colour: 'blue', digit: 6, power: 6, tolerance: 0.0025 },
  { colour: 'violet', digit: 7, power: 7, tolerance: 0.001 },
  { colour: 'grey', digit: 8, power: 8, tolerance: 0.0001 },
  { colour: 'white', digit: 9, power: 9 },
  { colour: 'gold', power: -1, tolerance: 0.05 },
  { colour: 'silver', power: -2, tolerance: 0.1 },
  { colour: 'pink', power: -3 },
];

/** The tolerance of a resistor without a fourth band. */
export const NO_BAND_TOLERANCE = 0.2;

/**
 * The bands of a resistor in reading order. Parts of 2 % and tighter, and values of three figures, have five bands, the
 * others four; 20 % has no tolerance band, and neither has one whose tolerance is not given. Zero ohms is one black band.
 * Undefined where the value has more figures, or no band stands for its tolerance or its power of ten.
 */
export function colourBands(ohms: number, tolerance?: number): readonly string[] | undefined {
  if (ohms === 0) return ['black'];
  if (!(ohms > 0) || !Number.isFinite(ohms)) return undefined;
  const [mantissa = '', exponent = ''] = ohms.toExponential(5).split('e');
  const figures = mantissa.replace('.', '').replace(/0+$/, '');
  const digits = figures.length > 2 || (tolerance !== undefined && tolerance <= 0.02) ? 3 : 2;
  if (figures.length > digits) return undefined;
  const bands = [...figures.padEnd(digits, '0')].map((figure) =>
    BAND_COLOURS.find((row) => row.digit === Number(figure)),
  );
  bands.push(BAND_COLOURS.find((row) => row.power === Number(exponent) - (digits - 1)));
  if (tolerance !== undefined && tolerance !== NO_BAND_TOLERANCE) {
    bands.push(BAND_COLOURS.find((row) => row.tolerance !== undefined && Math.abs(row.tolerance - tolerance) < 1e-9));
  }
  const words: string[] = [];
  for (const band of bands) {
    if (band === undefined) return undefined;
    words.push(band.colour);
  }
  return words;
}

/**
 * Ohms and tolerance (a fraction) of three, four or five bands in reading order, or undefined where they mean nothing.
 */
export function readColourBands(
  bands: readonly string[],
): { readonly ohms: number; readonly tolerance: number } | undefined {
  if (bands.length < 3 || bands.length > 5) return undefined;
  const rows = bands.map((colour) => BAND_COLOURS.find((row) => row.colour === colour));
  const digits = bands.length === 5 ? 3 : 2;
  const figures = rows.slice(0, digits).map((row) => row?.digit);
  const power = rows[digits]?.power;
  const tolerance = bands.length === 3 ? NO_BAND_TOLERANCE : rows[digits + 1]?.tolerance;
  if (figures.includes(undefined) || power === undefined || tolerance === undefined) return undefined;
  return { ohms: Number(`${figures.join('')}e${power}`), tolerance };
}
