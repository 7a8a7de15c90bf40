/** Typed signs and the plain ones that they stand for. */

const PLAIN: readonly (readonly [RegExp, string])[] = [
  // Greek omega and the ohm sign; micro sign and Greek mu.
  [/[\u03a9\u2126]/g, 'ohm'],
  [/[\u00b5\u03bc]/g, 'u'],
  [/\u00b0C|\u2103/g, 'degC'],
  [/\u00b2/g, '2'],
  [/\u00b1/g, '+-'],
  // En dash and minus sign.
  [/[\u2013\u2212]/g, '-'],
  // Blanks that do not break, as copied from data sheets.
  [/[\u00a0\u2009\u202f]/g, ' '],
];

/** The same text with plain signs: `±` becomes `+-`, `Ω` becomes `ohm`, `µ` becomes `u`. Lengths may change. */
export function plainSigns(text: string): string {
  let plain = text;
  for (const [typed, sign] of PLAIN) plain = plain.replace(typed, sign);
  return plain;
}
