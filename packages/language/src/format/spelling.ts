/** How one token is written: plain signs for typed ones, a blank between number and unit, quotes around odd names. */
import { isQuantityError, parseQuantity, plainSigns, unitOf } from '@couplet/engine';
import { nameAsWritten } from '../references/linker.ts';
import type { Element } from './elements.ts';

/** Tokens that are one sign, in every spelling that is read. */
const SIGNS: Readonly<Record<string, string>> = { '--': '--', '>=': '>=', '<=': '<=' };

/** `isName`: a number that stands where a terminal is named. */
export function spelling({ text, type }: Element, isName: boolean): string {
  switch (type) {
    case 'NUMBER':
      return isName ? name(text) : quantity(text);
    case 'SIGNED':
      return plainSigns(text.charAt(0)) + quantity(text.slice(1));
    case 'TOLERANCE':
      return `+-${quantity(text.replace(/^(?:\+-|\+\/-|\u00b1)\s*/, ''))}`;
    case 'NOTE':
      return text.trimEnd();
    default:
      return SIGNS[type] ?? text;
  }
}

/** Numbers of terminals stand as they are. */
function name(text: string): string {
  return /^\d+$/.test(text) ? text : nameAsWritten(text, false);
}

/** What is no value is left alone: it is told where it stands, as it was written. */
function quantity(text: string): string {
  const plain = plainSigns(text);
  const read = parseQuantity(plain);
  if (isQuantityError(read) || read.form === 'iec60062') return isQuantityError(read) ? text : plain;
  const [, digits = plain, unit = ''] = /^(\d+(?:\.\d+)?) ?(.*)$/.exec(plain) ?? [];
  return unit === '' || isTight(unit) ? digits + unit : `${digits} ${unit}`;
}

/** Per cent, and the letters of IEC 60062: `75%`, `470R`, `10k`. */
function isTight(unit: string): boolean {
  const row = unitOf(unit);
  return row?.tight === true || (row?.dimension === 'ohm' && unit.length === 1);
}
