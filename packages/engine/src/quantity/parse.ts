/** One written value: a number with its unit, or a resistance in the IEC 60062 form. */
import { AWG_LEAST, AWG_MOST, awgArea } from '../tables/awg.ts';
import { scaled, unscaled } from './decimal.ts';
import { type Dimension, dimensionRow } from './dimensions.ts';
import { parseIec60062, TOLERANCE_LETTERS } from './iec60062.ts';
import { plainSigns } from './signs.ts';
import { baseUnit, nearestUnit, UNIT_SPELLINGS, type UnitRow, unitOf } from './units.ts';

export interface Quantity {
  /** In the dimension's own unit (see `Dimension`). */
  readonly value: number;
  readonly dimension: Dimension;
  /** The unit it was written in, by its plain symbol; empty for a plain number. */
  readonly unit: string;
  /** How it was written. */
  readonly form: 'plain' | 'iec60062' | 'gauge';
}

export type QuantityErrorCode =
  | 'not-a-value'
  | 'decimal-comma'
  | 'exponent'
  | 'decimal-point'
  | 'blanks'
  | 'tolerance-letter'
  | 'unit-unknown'
  | 'unit-missing'
  | 'gauge-unknown'
  | 'dimension-wrong';

export interface QuantityError {
  readonly code: QuantityErrorCode;
  readonly message: string;
  /** What to write instead of the whole value, where that is known. */
  readonly suggestion?: string;
}

export type QuantityResult = Quantity | { readonly error: QuantityError };

export function isQuantityError(result: QuantityResult): result is { readonly error: QuantityError } {
  return 'error' in result;
}

const NUMBER = /^[+-]?\d+(?:\.\d+)?/;

/**
 * Reads one value: `12 V`, `0.22mm2`, `-5 °C`, `75%`, `24 AWG`, `2k2`, `24 V ac`, or a number alone (dimension `number`,
 * for the caller to judge; see `wantDimension`). `expected` only steers which unit is suggested.
 * Source of the letter form: IEC 60062.
 */
export function parseQuantity(text: string, expected: readonly Dimension[] = []): QuantityResult {
  const plain = plainSigns(text).trim();
  const badNumber = numberError(plain);
  if (badNumber !== undefined) return badNumber;

  const number = NUMBER.exec(plain)?.[0];
  if (number === undefined) return error('not-a-value', `'${text}' is not a value: a value begins with a digit`);
  const rest = plain.slice(number.length);
  const digits = number.replace(/^\+/, '');
  if (rest === '') return { value: scaled(digits, 1, 0), dimension: 'number', unit: '', form: 'plain' };

  const spelling = rest.trimStart();
  if (rest.length - spelling.length > 1) {
    return error(
      'blanks',
      `'${text}': at most one blank stands between a number and its unit`,
      `${number} ${spelling}`,
    );
  }
  const unit = unitOf(spelling);
  if (unit?.gauge === true) return gauge(digits, unit);
  if (unit !== undefined) {
    const value = scaled(digits, unit.times, unit.power);
    return { value, dimension: unit.dimension, unit: unit.symbol, form: 'plain' };
  }
  const coded = spelling === rest ? letterForm(number, plain) : undefined;
  return coded ?? unknownUnit(number, spelling, plain, expected);
}

/**
 * What is wrong with a value where one of `wanted` is needed, or undefined where it fits.
 * A number without a unit is `unit-missing`; any other misfit is `dimension-wrong`.
 */
export function wantDimension(quantity: Quantity, wanted: readonly Dimension[]): QuantityError | undefined {
  if (wanted.includes(quantity.dimension)) return undefined;
  const words = either(wanted.map((dimension) => dimensionRow(dimension).words));
  const example = either(wanted.map((dimension) => dimensionRow(dimension).example));
  if (quantity.dimension === 'number') {
    const unit = wanted[0] === undefined ? undefined : baseUnit(wanted[0]);
    const suggestion = unit === undefined ? undefined : quantityText(unscaled(quantity.value, 0), unit.symbol);
    return error('unit-missing', `needs ${words} with its unit, such as ${example}`, suggestion).error;
  }
  return error(
    'dimension-wrong',
    `needs ${words}, such as ${example}; this is ${dimensionRow(quantity.dimension).words}`,
  ).error;
}

/** 'a current, such as 200 mA, or a power, such as 6 W'. */
function wantedWords(wanted: readonly Dimension[]): string {
  const rows = [...new Set(wanted)].map((dimension) => dimensionRow(dimension));
  return rows.map(({ words, example }) => `${words}, such as ${example}`).join(', or ');
}

/** 'a', 'a or b', 'a, b or c'. */
function either(words: readonly string[]): string {
  return words.length < 2 ? (words[0] ?? '') : `${words.slice(0, -1).join(', ')} or ${words.at(-1)}`;
}

/** Number and unit as they stand together in a site file. */
export function quantityText(digits: string, symbol: string): string {
  return symbol === '%' ? `${digits}%` : `${digits} ${symbol}`;
}

function numberError(plain: string): QuantityResult | undefined {
  const comma = /^([+-]?\d+)((?:,\d+)+)(.*)$/.exec(plain);
  if (comma !== null) {
    const [, whole = '', decimals = '', rest = ''] = comma;
    const groups = decimals.slice(1).split(',');
    const thousands = !/^[+-]?0/.test(whole) && groups.every((group) => group.length === 3);
    const joined = `${whole}${groups.join('')}`;
    if (groups.length > 1) {
      return error('decimal-comma', `a number is written without commas: write ${joined}`, joined + rest);
    }
    const point = `${whole}.${groups[0]}`;
    const advice = thousands ? `write ${point}, or ${joined} if thousands are meant` : `write ${point}`;
    return error('decimal-comma', `decimals follow a point, not a comma: ${advice}`, point + rest);
  }
  const exponent = /^([+-]?\d+(?:\.\d+)?)[eE]([+-]?\d+)(.*)$/.exec(plain);
  if (exponent !== null) {
    const [, mantissa = '', power = '', rest = ''] = exponent;
    const value = Number(`${mantissa}e${power}`);
    const written = Math.abs(Number(power)) <= 15 && Number.isFinite(value) ? unscaled(value, 0) : undefined;
    const advice = written === undefined ? 'use a unit with a prefix' : `write ${written}`;
    return error('exponent', `exponents are not read: ${advice}`, written === undefined ? undefined : written + rest);
  }
  if (/^[+-]?\.\d/.test(plain)) {
    const written = plain.replace('.', '0.');
    return error('decimal-point', `a value begins with a digit: write ${written}`, written);
  }
  if (/^[+-]?\d+\.(?!\d)/.test(plain)) {
    const written = plain.replace('.', '');
    return error('decimal-point', `a digit follows the decimal point: write ${written}`, written);
  }
  if (/^[+-]?\d+\.\d+\.\d/.test(plain)) return error('decimal-point', `'${plain}' has more than one decimal point`);
  return undefined;
}

function isGauge(number: number): boolean {
  return Number.isInteger(number) && number >= AWG_LEAST && number <= AWG_MOST;
}

function gauge(digits: string, unit: UnitRow): QuantityResult {
  const number = Number(digits);
  if (!isGauge(number)) {
    return error('gauge-unknown', `wire gauges go from ${AWG_LEAST} to ${AWG_MOST} AWG in whole numbers`);
  }
  return { value: awgArea(number), dimension: unit.dimension, unit: unit.symbol, form: 'gauge' };
}

/** `2k2`, `4R7`, `1M0`, with the mistakes that are made in this form. */
function letterForm(number: string, plain: string): QuantityResult | undefined {
  if (number.includes('.')) return undefined;
  const sign = plain.startsWith('-') ? -1 : 1;
  const body = plain.replace(/^[+-]/, '');
  const coded = parseIec60062(body);
  if (coded?.dimension === 'ohm' && coded.tolerance === undefined) {
    return { value: sign * coded.value, dimension: 'ohm', unit: 'ohm', form: 'iec60062' };
  }
  if (coded?.toleranceLetter !== undefined && coded.dimension === 'ohm') {
    const percent = unscaled(TOLERANCE_LETTERS[coded.toleranceLetter] as number, -2);
    const suggestion = `${coded.code} +-${percent}%`;
    const meaning = `the last letter ${coded.toleranceLetter} is an IEC 60062 tolerance letter (${percent} %)`;
    return error('tolerance-letter', `${meaning}, which is not read here: write ${suggestion}`, suggestion);
  }
  if (/^\d+m\d+$/.test(body)) {
    const suggestion = plain.replace('m', 'M');
    return error('unit-unknown', `m is milli and M is mega: write ${suggestion} for megohms`, suggestion);
  }
  // A zener written `5V1`, a capacitor written `4n7`: clear to a reader, but read for resistances only.
  const infix = /^(\d+)([VvAnpuF])(\d+)$/.exec(body);
  if (infix === null) return undefined;
  const [, whole = '', letter = '', decimals = ''] = infix;
  const symbol = 'npu'.includes(letter) ? `${letter}F` : letter.toUpperCase();
  const suggestion = quantityText(`${whole}.${decimals}`, symbol);
  return error(
    'unit-unknown',
    `only resistances are read with the letter in place of the point: write ${suggestion}`,
    suggestion,
  );
}

function unknownUnit(number: string, spelling: string, plain: string, expected: readonly Dimension[]): QuantityResult {
  if (!/^[A-Za-z%/~^]/.test(spelling)) return error('not-a-value', `'${plain}' is not a value`);
  const nearest = nearestUnit(spelling, expected);
  // A number that is no gauge would only be refused again.
  if (nearest === undefined || (nearest.gauge === true && !isGauge(Number(number)))) {
    const advice = expected.length === 0 ? '' : `: what fits is ${wantedWords(expected)}`;
    return error('unit-unknown', `unknown unit '${spelling}'${advice}`);
  }
  const suggestion = quantityText(number, nearest.symbol);
  return error('unit-unknown', `unknown unit '${spelling}': is ${suggestion} meant?`, suggestion);
}

function error(code: QuantityErrorCode, message: string, suggestion?: string): { readonly error: QuantityError } {
  return { error: suggestion === undefined ? { code, message } : { code, message, suggestion } };
}

/** Spellings as a pattern in which typed signs stand beside the plain ones. */
const UNIT_PATTERN = UNIT_SPELLINGS.map((spelling) =>
  spelling
    .replace('/', '\\/')
    .replace('ohm', '(?:ohm|[\\u03a9\\u2126])')
    .replace(/^u/, '[u\\u00b5\\u03bc]')
    .replace('degC', '(?:degC|\\u00b0C|\\u2103)')
    .replace('mm2', 'mm[2\\u00b2]'),
).join('|');

const BLANK = '[ \\u00a0\\u2009\\u202f]';
const LETTER = 'A-Za-z_\\u00b0\\u00b2\\u00b5\\u03bc\\u03a9\\u2126';

/**
 * Pattern of one value as a lexer sees it, to be used without regard to case and without a sign before it: a number, then
 * a known unit with at most one blank before it, or whatever letters touch the number, so that a misspelt unit stays one
 * token with one message. `4 size` is the number 4 and a word; `11-14` is a number, a sign and a number.
 */
export const QUANTITY_PATTERN = [
  '\\d+(?:[.,]\\d+)*',
  `(?:${BLANK}?(?:%|(?:${UNIT_PATTERN})(?![${LETTER}0-9]))`,
  `|e[+-]?\\d+(?:${BLANK}?(?:${UNIT_PATTERN})(?![${LETTER}0-9]))?`,
  `|[${LETTER}][${LETTER}0-9]*)?`,
].join('');

const SCAN = new RegExp(QUANTITY_PATTERN, 'iy');

/** The value that starts at `offset` of a text, as written, or undefined where none starts there. */
export function scanQuantity(text: string, offset = 0): string | undefined {
  SCAN.lastIndex = offset;
  return SCAN.exec(text)?.[0];
}
