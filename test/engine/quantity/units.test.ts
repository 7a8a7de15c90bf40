/** The table of units, stated once more from outside: what each unit is worth, and what people write who mean it. */
import {
  baseUnit,
  type Dimension,
  isQuantityError,
  parseQuantity,
  UNIT_SPELLINGS,
  unitsOf,
  writeQuantity,
} from '@couplet/engine';
import { expect, test } from 'vitest';

function worth(text: string): number {
  const read = parseQuantity(text);
  if (isQuantityError(read)) throw new Error(read.error.message);
  return read.value;
}

function suggested(text: string, expected: readonly Dimension[] = []): string | undefined {
  const read = parseQuantity(text, expected);
  return isQuantityError(read) ? read.error.suggestion : 'read';
}

test.each([
  ['%', 0.01, 'ratio'],
  ['V', 1, 'V'],
  ['V dc', 1, 'V'],
  ['Vdc', 1, 'V'],
  ['mV', 1e-3, 'V'],
  ['uV', 1e-6, 'V'],
  ['µV', 1e-6, 'V'],
  ['V ac', 1, 'V ac'],
  ['V\u00a0ac', 1, 'V ac'],
  ['Vac', 1, 'V ac'],
  ['A', 1, 'A'],
  ['mA', 1e-3, 'A'],
  ['uA', 1e-6, 'A'],
  ['nA', 1e-9, 'A'],
  ['ohm', 1, 'ohm'],
  ['R', 1, 'ohm'],
  ['mohm', 1e-3, 'ohm'],
  ['kohm', 1e3, 'ohm'],
  ['k', 1e3, 'ohm'],
  ['Mohm', 1e6, 'ohm'],
  ['M', 1e6, 'ohm'],
  ['W', 1, 'W'],
  ['mW', 1e-3, 'W'],
  ['VA', 1, 'VA'],
  ['s', 1, 's'],
  ['ms', 1e-3, 's'],
  ['us', 1e-6, 's'],
  ['min', 60, 's'],
  ['h', 3600, 's'],
  ['d', 86_400, 's'],
  ['m', 1, 'm'],
  ['km', 1e3, 'm'],
  ['cm', 1e-2, 'm'],
  ['mm', 1e-3, 'm'],
  ['mm2', 1, 'mm2'],
  ['Ah', 1, 'Ah'],
  ['mAh', 1e-3, 'Ah'],
  ['F', 1, 'F'],
  ['mF', 1e-3, 'F'],
  ['uF', 1e-6, 'F'],
  ['nF', 1e-9, 'F'],
  ['pF', 1e-12, 'F'],
  ['H', 1, 'H'],
  ['mH', 1e-3, 'H'],
  ['uH', 1e-6, 'H'],
  ['µH', 1e-6, 'H'],
  ['degC', 1, 'degC'],
  ['Hz', 1, 'Hz'],
  ['kHz', 1e3, 'Hz'],
  ['ohm/km', 1, 'ohm/km'],
  ['R/km', 1, 'ohm/km'],
  ['ohm/m', 1e3, 'ohm/km'],
  ['Ω/m', 1e3, 'ohm/km'],
])('1 %s is %d in its dimension', (unit, value, dimension) => {
  expect(parseQuantity(`1 ${unit}`)).toMatchObject({ value, dimension });
});

test.each([
  ['%', ['percent', 'pct', 'pc', 'Percent']],
  ['V', ['volt', 'volts', 'VOLTS']],
  ['mV', ['millivolt', 'millivolts', 'mllivlt']],
  ['V ac', ['V~', 'Vrms', 'V rms']],
  ['A', ['amp', 'amps', 'ampere', 'amperes', 'Amps']],
  ['mA', ['milliamp', 'milliamps']],
  ['uA', ['microamp', 'microamps']],
  ['ohm', ['ohms', 'E']],
  ['kohm', ['kR', 'kohms']],
  ['Mohm', ['megohm', 'meg', 'MR']],
  ['W', ['watt', 'watts']],
  ['s', ['sec', 'secs', 'second', 'seconds']],
  ['ms', ['msec', 'millisecond', 'milliseconds']],
  ['us', ['usec', 'microseconds']],
  ['min', ['mins', 'minute', 'minutes', 'mn']],
  ['h', ['hr', 'hrs', 'hour', 'hours']],
  ['d', ['day', 'days']],
  ['m', ['metre', 'metres', 'meter', 'meters', 'mtr']],
  ['mm2', ['mm^2', 'sqmm', 'mmq', 'qmm']],
  ['AWG', ['ga', 'gauge']],
  ['Ah', ['amp-hours', 'amphours']],
  ['F', ['farad', 'farads']],
  ['uF', ['mfd', 'MF']],
  ['H', ['henry', 'henries']],
  ['degC', ['C', 'deg', 'celsius']],
  ['ohm/km', ['ohms/km', 'ohm/kilometre']],
  ['ohm/m', ['ohms/m', 'ohm/metre']],
])('%s is suggested to whoever writes %j', (unit, spellings) => {
  for (const spelling of spellings) expect(suggested(`5 ${spelling}`)).toBe(unit === '%' ? '5%' : `5 ${unit}`);
});

test('a unit that only looks alike gives way to one that fits', () => {
  expect(suggested('5 Mins', ['V'])).toBe('5 min');
  expect(suggested('5 sex', ['s'])).toBe('5 s');
  expect(suggested('50 ga')).toBeUndefined();
  expect(suggested('24 ga')).toBe('24 AWG');
  expect(suggested('2.5 volts')).toBe('2.5 V');
});

test('spellings stand longest first, those of one length in alphabetical order', () => {
  const inOrder = [...UNIT_SPELLINGS].sort((a, b) => b.length - a.length || (a < b ? -1 : 1));
  expect(UNIT_SPELLINGS).toEqual(inOrder);
  expect(UNIT_SPELLINGS[0]).toBe('ohm/km');
  expect(UNIT_SPELLINGS.filter((each) => each.length === 1)).toEqual([
    ...['%', 'A', 'F', 'H', 'M', 'R', 'V', 'W', 'd', 'h', 'k', 'm', 's'],
  ]);
  expect(UNIT_SPELLINGS.every((each) => !isQuantityError(parseQuantity(`10 ${each}`)))).toBe(true);
});

test('a dimension counts in its base unit', () => {
  expect(unitsOf('s').map(({ symbol }) => symbol)).toEqual(['s', 'ms', 'us', 'min', 'h', 'd']);
  expect(baseUnit('s')?.symbol).toBe('s');
  expect(baseUnit('mm2')?.symbol).toBe('mm2');
  expect(baseUnit('ratio')?.symbol).toBe('%');
  expect(baseUnit('number')).toBeUndefined();
});

test('minus zero stays minus zero, and nothing else becomes it', () => {
  expect(worth('-0 min')).toBe(-0);
  expect(worth('0 min')).toBe(0);
  expect(worth('-5 min')).toBe(-300);
  expect(worth('1.5 h')).toBe(5400);
});

test.each([
  [0, 'ratio', '0%'],
  [1.25, 'A', '1.25 A'],
  [0.001234567, 'A', '1234567 nA'],
  [0.01, 'ohm', '0R01'],
  [0.005, 'ohm', '5 mohm'],
  [1234, 'ohm', '1k234'],
  [99e6, 'ohm', '99M'],
  [1e8, 'ohm', '100 Mohm'],
  [-2200, 'ohm', '-2200 ohm'],
] as const)('%d in %s is written %s', (value, dimension, text) => {
  expect(writeQuantity(value, dimension)).toBe(text);
});
