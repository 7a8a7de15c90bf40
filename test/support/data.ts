/** Numbers with their spread, as short as a test wants to write them. All SI. */
import type { Choice, Datum, Origin } from '@couplet/engine';

/** A number is exact, a pair least and most with the middle as usual, a triple least, usual and most. */
export type Amount = number | readonly [number, number] | readonly [number, number, number] | Datum;

export function datum(amount: Amount, origin: Origin = -1): Datum {
  if (typeof amount === 'number') return { least: amount, usual: amount, most: amount, origin };
  if (!Array.isArray(amount)) return amount as Datum;
  if (amount.length === 2) {
    const [least, most] = amount as [number, number];
    return { least, usual: (least + most) / 2, most, origin };
  }
  const [least, usual, most] = amount as [number, number, number];
  return { least, usual, most, origin };
}

/** A nominal value with a relative tolerance. */
export function tolerance(nominal: number, relative: number): Datum {
  return datum([nominal * (1 - relative), nominal, nominal * (1 + relative)]);
}

/** What a single drop, leakage or time means: at most this, and usually this. */
export function atMost(value: number): Datum {
  return datum([0, value, value]);
}

/** Ambient in °C: 20 °C is usual where the range holds it. */
export function ambient(least: number, most: number): Datum {
  return datum([least, least <= 20 && 20 <= most ? 20 : (least + most) / 2, most]);
}

export function choice<W extends string>(word: W): Choice<W> {
  return { word, origin: -1 };
}
