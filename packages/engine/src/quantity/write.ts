/** Values as text for a site file: what fixes, completion and generated text put there. Reading it back gives the same number. */
import { scaled, unscaled } from './decimal.ts';
import type { Dimension } from './dimensions.ts';
import { quantityText } from './parse.ts';
import { baseUnit, type UnitRow, unitsOf } from './units.ts';

/** Units that the writer does not choose, because the trade does not count in them. */
const NOT_WRITTEN = new Set(['d', 'cm', 'km', 'AWG', 'ohm/m', 'mF']);

/** Dimensions in which tenths are usual: 0.5 V rather than 500 mV, but 200 mA and 400 ms. */
const TENTHS_USUAL = new Set<Dimension>(['V', 'H', 'mm2']);

/**
 * A finite number in its dimension's own unit as a site file has it: `2k2`, `470R`, `0.22 mm2`, `90 s`, `24 h`, `75%`.
 * The unit is the one that needs the fewest digits; `parseQuantity` of the result gives exactly `value` again.
 */
export function writeQuantity(value: number, dimension: Dimension): string {
  if (!Number.isFinite(value)) throw new RangeError(`no text stands for ${value}`);
  if (dimension === 'number') return unscaled(value, 0);
  if (dimension === 'ohm' && value > 0) {
    const coded = writeIec60062(value);
    if (coded !== undefined) return coded;
  }
  const base = baseUnit(dimension) as UnitRow;
  let best = quantityText(unscaled(value, base.power), base.symbol);
  if (value === 0) return best;
  const pointCost = TENTHS_USUAL.has(dimension) ? 0 : 1;
  let bestLength = lengthOf(best, pointCost);
  for (const unit of unitsOf(dimension)) {
    if (NOT_WRITTEN.has(unit.symbol) || unit === base) continue;
    if (unit.power < base.power && Math.abs(value) >= 1) continue;
    const digits = inUnit(value, unit);
    if (digits === undefined) continue;
    const text = quantityText(digits, unit.symbol);
    const length = lengthOf(text, pointCost);
    if (length < bestLength) {
      best = text;
      bestLength = length;
    }
  }
  return best;
}

const CODE_STEPS = [
  { letter: 'R', power: 0, least: 0 },
  { letter: 'k', power: 3, least: 1e3 },
  { letter: 'M', power: 6, least: 1e6 },
] as const;

/**
 * Ohms in the letter form: `4R7`, `470R`, `2k2`, `47k`, `1M0`. Undefined where more than four digits would be needed, or
 * where the value lies outside 0.01 Ω .. 100 MΩ, as nothing is then gained over a plain number.
 * Source: IEC 60062, letter and digit code.
 */
export function writeIec60062(ohms: number): string | undefined {
  if (!(ohms >= 0.01 && ohms < 1e8)) return undefined;
  const step = CODE_STEPS.findLast(({ least }) => ohms >= least) ?? CODE_STEPS[0];
  const digits = unscaled(ohms, step.power);
  const [whole = '0', decimals = ''] = digits.split('.');
  if (whole.length + decimals.length > 4) return undefined;
  if (decimals !== '') return `${whole}${step.letter}${decimals}`;
  return whole.length === 1 ? `${whole}${step.letter}0` : `${whole}${step.letter}`;
}

/** Digits of a value in a unit, or undefined where no short decimal of it reads back as the same number. */
function inUnit(value: number, unit: UnitRow): string | undefined {
  if (unit.times === 1) return unscaled(value, unit.power);
  const digits = unscaled(Number((value / unit.times).toPrecision(6)), unit.power);
  return scaled(digits, unit.times, unit.power) === value ? digits : undefined;
}

/** Characters of the number, its point counted `pointCost` more. */
function lengthOf(text: string, pointCost: number): number {
  const number = text.split(/[ %]/)[0] as string;
  return number.length + (number.includes('.') ? pointCost : 0);
}
