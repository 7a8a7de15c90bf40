/**
 * The letter-and-digit code for values of resistors and capacitors: `2k2`, `4R7`, `470R`, `R47`, `4n7`.
 * Source: IEC 60062, letter and digit code; letters L R K M G and p n µ confirmed on secondary pages, T, m and F from memory.
 */
import { scaled } from './decimal.ts';
import type { Dimension } from './dimensions.ts';
import { plainSigns } from './signs.ts';

export interface CodeLetter {
  readonly letter: string;
  readonly dimension: Dimension;
  readonly power: number;
}

/** Multiplier letters; `k` and `r` are read as `K` and `R`, all others keep their case. */
export const CODE_LETTERS: readonly CodeLetter[] = [
  { letter: 'L', dimension: 'ohm', power: -3 },
  { letter: 'R', dimension: 'ohm', power: 0 },
  { letter: 'K', dimension: 'ohm', power: 3 },
  { letter: 'M', dimension: 'ohm', power: 6 },
  { letter: 'G', dimension: 'ohm', power: 9 },
  { letter: 'T', dimension: 'ohm', power: 12 },
  { letter: 'p', dimension: 'F', power: -12 },
  { letter: 'n', dimension: 'F', power: -9 },
  { letter: 'u', dimension: 'F', power: -6 },
  { letter: 'm', dimension: 'F', power: -3 },
  { letter: 'F', dimension: 'F', power: 0 },
];

/**
 * Tolerance letters with their symmetrical tolerance as a fraction.
 * Source: IEC 60062, tolerance letters; B C D F G J K M confirmed on a secondary page, the others from memory.
 * (That page prints A for 0.05 %, where the standard has W.)
 */
export const TOLERANCE_LETTERS: Readonly<Record<string, number>> = {
  E: 0.00005,
  L: 0.0001,
  P: 0.0002,
  W: 0.0005,
  B: 0.001,
  C: 0.0025,
  D: 0.005,
  F: 0.01,
  G: 0.02,
  H: 0.03,
  J: 0.05,
  K: 0.1,
  M: 0.2,
  N: 0.3,
};

export interface CodedValue {
  /** Ohms or farads. */
  readonly value: number;
  readonly dimension: Dimension;
  /** As a fraction, where a tolerance letter follows. */
  readonly tolerance?: number;
  readonly toleranceLetter?: string;
  /** The code without its tolerance letter. */
  readonly code: string;
}

const FORM = /^(?:(\d+)([LRrKkMGTpnumF])(\d*)|([LRrKkMGTpnumF])(\d+))([A-Z]?)$/;

/**
 * Reads a value code, leading-letter forms (`R47`) and tolerance letters (`2R2K` is 2.2 Ω, 10 %) included.
 * A last letter after another letter is always the tolerance. Undefined where the text is not such a code.
 */
export function parseIec60062(text: string): CodedValue | undefined {
  const match = FORM.exec(plainSigns(text));
  if (match === null) return undefined;
  const [, whole = '0', inner, decimals = '', leading, fraction = '', toleranceLetter = ''] = match;
  const written = (inner ?? leading) as string;
  const letter = CODE_LETTERS.find((row) => row.letter === written.replace('k', 'K').replace('r', 'R'));
  if (letter === undefined) return undefined;
  const tail = leading === undefined ? decimals : fraction;
  const value = scaled(tail === '' ? whole : `${whole}.${tail}`, 1, letter.power);
  const coded = {
    value,
    dimension: letter.dimension,
    code: leading === undefined ? `${whole}${written}${tail}` : `${leading}${tail}`,
  };
  if (toleranceLetter === '') return coded;
  const tolerance = TOLERANCE_LETTERS[toleranceLetter];
  return tolerance === undefined ? undefined : { ...coded, tolerance, toleranceLetter };
}
