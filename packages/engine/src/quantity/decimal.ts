/** Decimal arithmetic on digits, so that `0.22` and its powers of ten keep the nearest number and not a neighbour of it. */

/**
 * The number nearest to `text` × `times` × 10^`power`. `text` is an optional minus sign, digits, and optional decimals;
 * `times` is a whole number.
 */
export function scaled(text: string, times: number, power: number): number {
  if (times === 1) return Number(`${text}e${power}`);
  const [whole = '', decimals = ''] = text.split('.');
  const product = BigInt(whole + decimals) * BigInt(times);
  const value = Number(`${product}e${power - decimals.length}`);
  // BigInt has no minus zero.
  return text.startsWith('-') && value === 0 ? -0 : value;
}

/** `value` × 10^-`power` as plain digits without an exponent, in the shortest form that reads back as `value`. */
export function unscaled(value: number, power: number): string {
  const sign = value < 0 || Object.is(value, -0) ? '-' : '';
  if (value === 0) return `${sign}0`;
  const [mantissa = '0', exponent = '0'] = Math.abs(value).toExponential().split('e');
  const digits = mantissa.replace('.', '');
  const point = Number(exponent) - power + 1;
  return sign + place(digits, point);
}

/** Digits with the decimal point after the first `point` of them, padded with zeros as needed. */
export function place(digits: string, point: number): string {
  if (point <= 0) return `0.${'0'.repeat(-point)}${digits}`;
  if (point >= digits.length) return digits + '0'.repeat(point - digits.length);
  return `${digits.slice(0, point)}.${digits.slice(point)}`;
}
