/**
 * The one formatter of figures: editor, command line, sheets and comparisons all show what it returns.
 * Three significant digits (loop ohms four), engineering prefixes, the unit, and least .. most where they differ.
 */
import { place } from './decimal.ts';
import type { Dimension } from './dimensions.ts';
import type { Spread } from './spread.ts';
import { UNITS } from './units.ts';

export interface FigureOptions {
  /** Significant digits; 3 unless given. */
  readonly digits?: number;
  /** Plain signs (`kohm`, `uA`, `degC`), which site files read back. */
  readonly plain?: boolean;
}

/** Significant digits of loop ohms, whose neighbours lie close together. */
export const LOOP_DIGITS = 4;

/** Steps that a dimension is shown in: `times` × 10^`power` of its own unit, used from `from` upwards. */
interface Step {
  readonly from: number;
  readonly power: number;
  readonly times: number;
  readonly sign: string;
  readonly symbol: string;
}

interface Style {
  readonly steps: readonly Step[];
  /** Zeros after the decimal point say nothing where values are declared rather than computed. */
  readonly trim: boolean;
  /** No digits beyond this many decimals. */
  readonly decimals?: number;
}

function style(steps: readonly (readonly [from: number, symbol: string])[], trim = false, decimals?: number): Style {
  const made = steps.map(([from, symbol]) => {
    const row = UNITS.find((unit) => unit.symbol === symbol);
    if (row !== undefined) return { from, power: row.power, times: row.times, sign: row.sign ?? symbol, symbol };
    return SHOWN_ONLY[symbol] === undefined ? bare(from) : { ...SHOWN_ONLY[symbol], from };
  });
  return decimals === undefined ? { steps: made, trim } : { steps: made, trim, decimals };
}

function bare(from: number): Step {
  return { from, power: 0, times: 1, sign: '', symbol: '' };
}

/** Units that results may reach and that nobody writes. */
const SHOWN_ONLY: Readonly<Record<string, Step>> = {
  kV: { from: 0, power: 3, times: 1, sign: 'kV', symbol: 'kV' },
  kA: { from: 0, power: 3, times: 1, sign: 'kA', symbol: 'kA' },
  kW: { from: 0, power: 3, times: 1, sign: 'kW', symbol: 'kW' },
  uW: { from: 0, power: -6, times: 1, sign: 'µW', symbol: 'uW' },
  Gohm: { from: 0, power: 9, times: 1, sign: 'GΩ', symbol: 'Gohm' },
};

/** One row a dimension: the units it is shown in and where each begins. */
const STYLES: Readonly<Record<Dimension, Style>> = {
  number: style([[0, '']], true),
  ratio: style([[0, '%']]),
  V: style([
    [0, 'uV'],
    [1e-3, 'mV'],
    [1, 'V'],
    [1e3, 'kV'],
  ]),
  'V ac': style([[0, 'V ac']]),
  A: style([
    [0, 'nA'],
    [1e-6, 'uA'],
    [1e-3, 'mA'],
    [1, 'A'],
    [1e3, 'kA'],
  ]),
  ohm: style([
    [0, 'mohm'],
    [1, 'ohm'],
    [1e3, 'kohm'],
    [1e6, 'Mohm'],
    [1e9, 'Gohm'],
  ]),
  W: style([
    [0, 'uW'],
    [1e-3, 'mW'],
    [1, 'W'],
    [1e3, 'kW'],
  ]),
  VA: style([[0, 'VA']]),
  s: style(
    [
      [0, 'us'],
      [1e-3, 'ms'],
      [1, 's'],
      [120, 'min'],
      [7200, 'h'],
    ],
    true,
  ),
  m: style(
    [
      [0, 'mm'],
      [1, 'm'],
      [1e4, 'km'],
    ],
    true,
  ),
  mm2: style([[0, 'mm2']], true),
  Ah: style([
    [0, 'mAh'],
    [1, 'Ah'],
  ]),
  F: style(
    [
      [0, 'pF'],
      [1e-9, 'nF'],
      [1e-6, 'uF'],
      [1e-2, 'mF'],
      [1, 'F'],
    ],
    true,
  ),
  H: style(
    [
      [0, 'uH'],
      [1e-3, 'mH'],
      [1, 'H'],
    ],
    true,
  ),
  degC: style([[0, 'degC']], true, 1),
  Hz: style(
    [
      [0, 'Hz'],
      [1e3, 'kHz'],
    ],
    true,
  ),
  'ohm/km': style([[0, 'ohm/km']]),
};

/** What is left of a difference of equal numbers; shown as 0. */
const NOTHING = 1e-15;

/**
 * A number in its dimension's own unit (see `Dimension`) as it is shown: `24.1 mA`, `2.227 kΩ`, `-5 °C`,
 * `117 %`, `90 s`. Infinite ohms are `open`; other infinities are `unlimited`, and what is not a number is
 * `not evaluated`.
 */
export function formatFigure(value: number, dimension: Dimension, options: FigureOptions = {}): string {
  if (Number.isNaN(value)) return 'not evaluated';
  if (!Number.isFinite(value)) return dimension === 'ohm' ? 'open' : 'unlimited';
  const { steps, trim, decimals } = STYLES[dimension];
  const size = Math.abs(value);
  if (size < NOTHING) return joined('0', zeroStep(steps), options);
  // The step is chosen by the rounded number, so that 999.96 mA is 1.00 A.
  let index = steps.findLastIndex((step) => size >= step.from);
  for (;;) {
    const step = steps[index] as Step;
    const next = steps[index + 1];
    const shown = rounded(size, step, options.digits ?? 3, decimals);
    if (next !== undefined && Number(shown) * 10 ** step.power * step.times >= next.from * (1 - 1e-12)) {
      index += 1;
      continue;
    }
    const digits = trim && shown.includes('.') ? shown.replace(/\.?0+$/, '') : shown;
    return joined(value < 0 && Number(digits) !== 0 ? `-${digits}` : digits, step, options);
  }
}

/** Least and most as `10.9 V .. 14.1 V`, or once where both are shown alike. */
export function formatRange(least: number, most: number, dimension: Dimension, options: FigureOptions = {}): string {
  const low = formatFigure(least, dimension, options);
  const high = formatFigure(most, dimension, options);
  if (low === high) return low;
  if (least === Number.NEGATIVE_INFINITY) return `below ${high}`;
  if (most === Number.POSITIVE_INFINITY && dimension !== 'ohm') return `above ${low}`;
  return `${low} .. ${high}`;
}

/** Usual figure, with least .. most behind it in brackets where they are shown differently: `2.227 kΩ (2.202 kΩ .. 2.251 kΩ)`. */
export function formatSpread(spread: Spread, dimension: Dimension, options: FigureOptions = {}): string {
  const usual = formatFigure(spread.usual, dimension, options);
  const range = formatRange(spread.least, spread.most, dimension, options);
  return range === usual ? usual : `${usual} (${range})`;
}

/** Zero is shown in the unit itself, without a prefix. */
function zeroStep(steps: readonly Step[]): Step {
  return steps.find((step) => step.power === 0 && step.times === 1) ?? (steps[0] as Step);
}

/** Lifts what is half a step but for the last bits of binary arithmetic, so that a computed 0.5875 A is 588 mA. */
const HALF_UP = 1 + 1e-12;

function rounded(size: number, step: Step, digits: number, decimals: number | undefined): string {
  const number = (step.times === 1 ? size : size / step.times) * HALF_UP;
  const [mantissa = '0', exponent = '0'] = number.toExponential(digits - 1).split('e');
  const shown = place(mantissa.replace('.', ''), Number(exponent) - step.power + 1);
  if (decimals === undefined || (shown.split('.')[1]?.length ?? 0) <= decimals) return shown;
  return (number / 10 ** step.power).toFixed(decimals);
}

function joined(digits: string, step: Step, options: FigureOptions): string {
  const unit = options.plain === true ? step.symbol : step.sign;
  if (unit === '') return digits;
  return options.plain === true && unit === '%' ? `${digits}%` : `${digits} ${unit}`;
}
