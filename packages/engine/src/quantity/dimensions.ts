/**
 * What kinds of quantity there are. A dimension is named by the unit that its numbers are held in.
 * These are SI units, but for four that the trade and its standards always count in: mm², Ah, Ω/km and °C.
 */

export type Dimension =
  | 'number'
  | 'ratio'
  | 'V'
  | 'V ac'
  | 'A'
  | 'ohm'
  | 'W'
  | 'VA'
  | 's'
  | 'm'
  | 'mm2'
  | 'Ah'
  | 'F'
  | 'H'
  | 'degC'
  | 'Hz'
  | 'ohm/km';

export interface DimensionRow {
  readonly dimension: Dimension;
  /** With its article, as it stands in a message: 'a voltage'. */
  readonly words: string;
  /** A value as one would write it in a site file. */
  readonly example: string;
}

export const DIMENSIONS: readonly DimensionRow[] = [
  { dimension: 'number', words: 'a plain number', example: '12' },
  { dimension: 'ratio', words: 'a percentage', example: '75%' },
  { dimension: 'V', words: 'a voltage', example: '12 V' },
  { dimension: 'V ac', words: 'an alternating voltage', example: '24 V ac' },
  { dimension: 'A', words: 'a current', example: '200 mA' },
  { dimension: 'ohm', words: 'a resistance', example: '2k2' },
  { dimension: 'W', words: 'a power', example: '6 W' },
  { dimension: 'VA', words: 'an apparent power', example: '50 VA' },
  { dimension: 's', words: 'a time', example: '400 ms' },
  { dimension: 'm', words: 'a length', example: '140 m' },
  { dimension: 'mm2', words: 'a cross-section', example: '0.22 mm2' },
  { dimension: 'Ah', words: 'a battery capacity', example: '17 Ah' },
  { dimension: 'F', words: 'a capacitance', example: '2200 uF' },
  { dimension: 'H', words: 'an inductance', example: '0.6 H' },
  { dimension: 'degC', words: 'a temperature', example: '40 degC' },
  { dimension: 'Hz', words: 'a frequency', example: '50 Hz' },
  { dimension: 'ohm/km', words: 'a resistance per length', example: '95 ohm/km' },
];

const BY_NAME = new Map(DIMENSIONS.map((row) => [row.dimension, row]));

/** The row of a dimension. */
export function dimensionRow(dimension: Dimension): DimensionRow {
  return BY_NAME.get(dimension) as DimensionRow;
}
