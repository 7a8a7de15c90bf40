/** Words that every message is made of, so that all of them say the same thing in the same way. */
import {
  type Corner,
  type Dimension,
  formatFigure,
  formatRange,
  formatSpread,
  LOOP_DIGITS,
  type Value,
} from '@couplet/engine';
import type { Instant } from './instants.ts';

/** A number in SI with its unit: `24.1 mA`. */
export function show(value: number, unit: string): string {
  return formatFigure(value, unit as Dimension);
}

/** Ohms of a loop, which are shown with one digit more. */
export function showLoop(ohms: number): string {
  return formatFigure(ohms, 'ohm', { digits: LOOP_DIGITS });
}

/** A share or margin as a percentage: `117 %`, `20 %`. */
export function percent(ratio: number): string {
  return formatFigure(ratio, 'ratio').replace(/\.0+(?=\D)/, '');
}

/** Least and most of a value, or one number where they agree. */
export function span(value: Value): string {
  const digits = value.unit === 'ohm' ? LOOP_DIGITS : undefined;
  return formatRange(value.least, value.most, value.unit as Dimension, { digits });
}

/** Usual value with its spread behind it. */
export function spread(value: Value): string {
  const digits = value.unit === 'ohm' ? LOOP_DIGITS : undefined;
  return formatSpread(value, value.unit as Dimension, { digits });
}

/** `at rest`, or `in case high-water after 100 s`. */
export function when(at: Instant): string {
  if (at.isRest) return 'at rest';
  const label = at.moment.label;
  return label === '' || label === 'at rest' ? `in case ${at.of.name}` : `in case ${at.of.name}, ${label}`;
}

/** How many parts of a corner a message names, and the share of the movement below which one is not worth naming. */
const NAMED = 3;
const WORTH_NAMING = 0.01;

/** ` (level.V12 14.1 V, K1 coil -5 °C)`, or nothing where no parameter has a spread. */
export function corner(of: Corner): string {
  const named = of.filter((part, index) => index === 0 || part.share >= WORTH_NAMING).slice(0, NAMED);
  if (named.length === 0) return '';
  const parts = named.map((part) => `${part.what} ${formatFigure(part.value, part.unit as Dimension)}`);
  return ` (${parts.join(', ')})`;
}

/** `a, b and c`. */
export function list(items: readonly string[]): string {
  if (items.length < 2) return items.join('');
  return `${items.slice(0, -1).join(', ')} and ${items.at(-1)}`;
}

/** `and 3 more` after the first few of a long list. */
export function listSome(items: readonly string[], most = 6): string {
  if (items.length <= most) return list(items);
  return `${items.slice(0, most).join(', ')} and ${items.length - most} more`;
}
