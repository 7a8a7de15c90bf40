/** Values of several quantities: tolerances, ranges, least..usual..most and half-open ones. */
import type { Dimension } from './dimensions.ts';
import { isQuantityError, parseQuantity, type Quantity, type QuantityError, wantDimension } from './parse.ts';
import { plainSigns } from './signs.ts';
import {
  type HalfOpen,
  halfOpenAbove,
  halfOpenBelow,
  type SingleMeaning,
  type Spread,
  spreadOfRange,
  spreadOfSingle,
  type Tolerance,
  withTolerance,
} from './spread.ts';

/** `suggestion` replaces the quantity concerned, not all of the text. */
export interface SpreadError {
  readonly code: QuantityError['code'] | 'range-reversed' | 'range-mixed' | 'tolerance-mixed';
  readonly message: string;
  readonly suggestion?: string;
}

/** A written value with its spread, in the dimension's own unit. */
export interface WrittenValue extends Spread {
  readonly dimension: Dimension;
  /** `range`: two ends, whose middle was taken as usual; the caller shows that as an assumption. */
  readonly form: 'single' | 'tolerance' | 'range' | 'three';
  readonly tolerance?: Tolerance;
}

/** A written `below X` or `above X`. */
export interface WrittenHalfOpen extends HalfOpen {
  readonly dimension: Dimension;
  readonly form: 'half-open';
}

export type WrittenResult = WrittenValue | WrittenHalfOpen | { readonly error: SpreadError };

/**
 * The tolerance that stands behind a nominal value: percentages, or quantities of its own dimension. `minus` and `plus`
 * are sizes; their signs are ignored. A percentage behind a percentage counts in points: `75% +-5%` is 70 % to 80 %.
 */
export function toleranceOf(
  nominal: Quantity,
  minus: Quantity,
  plus: Quantity,
): Tolerance | { readonly error: SpreadError } {
  const relative = minus.dimension === 'ratio' && nominal.dimension !== 'ratio';
  const wanted = relative ? 'ratio' : nominal.dimension;
  for (const each of [minus, plus]) {
    if (each.dimension === wanted) continue;
    const misfit = wantDimension(each, relative ? ['ratio'] : ['ratio', nominal.dimension]) as QuantityError;
    return { error: { ...misfit, code: 'tolerance-mixed', message: `a tolerance ${misfit.message}` } };
  }
  if (relative && nominal.dimension === 'degC') {
    const message = 'a temperature has no percentage: write its tolerance in degC';
    return { error: { code: 'tolerance-mixed', message } };
  }
  return { below: Math.abs(minus.value), above: Math.abs(plus.value), relative };
}

/** Two or three quantities parted by `..`, in rising order and of one dimension. */
export function rangeOf(parts: readonly Quantity[]): WrittenValue | { readonly error: SpreadError } {
  const [first, second, third] = parts;
  if (first === undefined || second === undefined || parts.length > 3) {
    return { error: { code: 'not-a-value', message: 'a range has two ends, or least, usual and most' } };
  }
  const { dimension } = first;
  const odd = parts.find((part) => part.dimension !== dimension);
  if (odd !== undefined) {
    const unitless = parts.find((part) => part.dimension === 'number');
    const misfit =
      unitless === undefined
        ? wantDimension(odd, [dimension])
        : wantDimension(unitless, [unitless === first ? odd.dimension : dimension]);
    return {
      error: {
        code: unitless === undefined ? 'range-mixed' : 'unit-missing',
        message: `this end of the range ${misfit?.message}`,
      },
    };
  }
  const values = parts.map((part) => part.value);
  if (values.some((value, i) => i > 0 && value < (values[i - 1] as number))) {
    return { error: { code: 'range-reversed', message: 'a range is written from least to most' } };
  }
  if (third === undefined) return { ...spreadOfRange(first.value, second.value), dimension, form: 'range' };
  return { least: first.value, usual: second.value, most: third.value, dimension, form: 'three' };
}

/**
 * Reads a value with its spread from text: `12 V`, `2k2 +-1%`, `12 V -15% +20%`, `9 V .. 15 V`,
 * `11.4 V .. 12.8 V .. 14.1 V`, `below 1k1`, `above 10k`. `meaning` says what a value means that stands alone.
 */
export function parseSpread(
  text: string,
  meaning: SingleMeaning = 'exact',
  expected: readonly Dimension[] = [],
): WrittenResult {
  const plain = plainSigns(text).trim();
  const half = /^(below|above)\s+(.+)$/.exec(plain);
  if (half !== null) {
    const edge = parseQuantity(half[2] as string, expected);
    if (isQuantityError(edge)) return edge;
    const open = half[1] === 'below' ? halfOpenBelow(edge.value) : halfOpenAbove(edge.value);
    return { ...open, dimension: edge.dimension, form: 'half-open' };
  }
  if (plain.includes('..')) {
    const parts: Quantity[] = [];
    for (const each of plain.split('..')) {
      const part = parseQuantity(each, expected);
      if (isQuantityError(part)) return part;
      parts.push(part);
    }
    return rangeOf(parts);
  }
  const [, nominalText = plain, signs, firstText, secondText] =
    /^(.*?\S)\s*(\+-|[+-](?=\s*\d))\s*(\d.*?)(?:\s+([+-]\s*\d.*))?$/.exec(plain) ?? [];
  const nominal = parseQuantity(nominalText, expected);
  if (isQuantityError(nominal)) return nominal;
  if (signs === undefined || firstText === undefined) {
    return { ...spreadOfSingle(nominal.value, meaning), dimension: nominal.dimension, form: 'single' };
  }
  return toleranced(nominal, signs, firstText, secondText);
}

function toleranced(
  nominal: Quantity,
  signs: string,
  firstText: string,
  secondText: string | undefined,
): WrittenResult {
  const first = parseQuantity(firstText, ['ratio', nominal.dimension]);
  if (isQuantityError(first)) return first;
  const nothing = { ...first, value: 0 };
  const second =
    secondText === undefined ? nothing : parseQuantity(secondText.replace(/\s/, ''), ['ratio', nominal.dimension]);
  if (isQuantityError(second)) return second;
  const both = signs === '+-';
  if (secondText !== undefined && (both || secondText.startsWith(signs))) {
    return { error: { code: 'tolerance-mixed', message: 'a tolerance is written +-1%, or as -15% +20%' } };
  }
  const [minus, plus] = both ? [first, first] : signs === '-' ? [first, second] : [second, first];
  const tolerance = toleranceOf(nominal, minus, plus);
  if ('error' in tolerance) return tolerance;
  return { ...withTolerance(nominal.value, tolerance), dimension: nominal.dimension, form: 'tolerance', tolerance };
}
