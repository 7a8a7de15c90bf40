/** Every unit a value may be written in: one row a unit. Parsing, suggestions, completion and the writer read this table. */
import type { Dimension } from './dimensions.ts';

export interface UnitRow {
  /** The spelling that the writer and the formatter of site files use. */
  readonly symbol: string;
  readonly dimension: Dimension;
  /** A number in this unit × `times` × 10^`power` is a number in the dimension's own unit. */
  readonly power: number;
  readonly times: number;
  /** As figures show it, with typed signs; the symbol where absent. */
  readonly sign?: string;
  /** Other spellings that are read. Typed signs have become plain ones before this is asked. */
  readonly also?: readonly string[];
  /** Spellings that are not read and make this unit the one that is suggested. */
  readonly hints?: readonly string[];
  /** Written against its number, without a blank. */
  readonly tight?: boolean;
  /** Wire gauge: the number is not multiplied but looked up. */
  readonly gauge?: boolean;
}

function unit(dimension: Dimension, symbol: string, power: number, more: Partial<UnitRow> = {}): UnitRow {
  return { symbol, dimension, power, times: 1, ...more };
}

export const UNITS: readonly UnitRow[] = [
  unit('ratio', '%', -2, { tight: true, hints: ['percent', 'pct', 'pc'] }),

  unit('V', 'V', 0, { also: ['V dc', 'Vdc'], hints: ['volt', 'volts'] }),
  unit('V', 'mV', -3, { hints: ['millivolt', 'millivolts'] }),
  unit('V', 'uV', -6, { sign: 'µV' }),
  unit('V ac', 'V ac', 0, { also: ['Vac'], hints: ['V~', 'Vrms', 'V rms'] }),

  unit('A', 'A', 0, { hints: ['amp', 'amps', 'ampere', 'amperes'] }),
  unit('A', 'mA', -3, { hints: ['milliamp', 'milliamps'] }),
  unit('A', 'uA', -6, { sign: 'µA', hints: ['microamp', 'microamps'] }),
  unit('A', 'nA', -9),

  unit('ohm', 'ohm', 0, { sign: 'Ω', also: ['R'], hints: ['ohms', 'E'] }),
  unit('ohm', 'mohm', -3, { sign: 'mΩ' }),
  unit('ohm', 'kohm', 3, { sign: 'kΩ', also: ['k'], hints: ['kR', 'kohms'] }),
  unit('ohm', 'Mohm', 6, { sign: 'MΩ', also: ['M'], hints: ['megohm', 'meg', 'MR'] }),

  unit('W', 'W', 0, { hints: ['watt', 'watts'] }),
  unit('W', 'mW', -3),
  unit('VA', 'VA', 0),

  unit('s', 's', 0, { hints: ['sec', 'secs', 'second', 'seconds'] }),
  unit('s', 'ms', -3, { hints: ['msec', 'millisecond', 'milliseconds'] }),
  unit('s', 'us', -6, { sign: 'µs', hints: ['usec', 'microseconds'] }),
  unit('s', 'min', 0, { times: 60, hints: ['mins', 'minute', 'minutes', 'mn'] }),
  unit('s', 'h', 0, { times: 3600, hints: ['hr', 'hrs', 'hour', 'hours'] }),
  unit('s', 'd', 0, { times: 86400, hints: ['day', 'days'] }),

  unit('m', 'm', 0, { hints: ['metre', 'metres', 'meter', 'meters', 'mtr'] }),
  unit('m', 'km', 3),
  unit('m', 'cm', -2),
  unit('m', 'mm', -3),

  unit('mm2', 'mm2', 0, { sign: 'mm²', hints: ['mm^2', 'sqmm', 'mmq', 'qmm'] }),
  unit('mm2', 'AWG', 0, { gauge: true, hints: ['ga', 'gauge'] }),

  unit('Ah', 'Ah', 0, { hints: ['amp-hours', 'amphours'] }),
  unit('Ah', 'mAh', -3),

  unit('F', 'F', 0, { hints: ['farad', 'farads'] }),
  unit('F', 'mF', -3),
  unit('F', 'uF', -6, { sign: 'µF', hints: ['mfd', 'MF'] }),
  unit('F', 'nF', -9),
  unit('F', 'pF', -12),

  unit('H', 'H', 0, { hints: ['henry', 'henries'] }),
  unit('H', 'mH', -3),
  unit('H', 'uH', -6, { sign: 'µH' }),

  unit('degC', 'degC', 0, { sign: '°C', hints: ['C', 'deg', 'celsius'] }),

  unit('Hz', 'Hz', 0),
  unit('Hz', 'kHz', 3),

  unit('ohm/km', 'ohm/km', 0, { sign: 'Ω/km', also: ['R/km'], hints: ['ohms/km', 'ohm/kilometre'] }),
  unit('ohm/km', 'ohm/m', 3, { sign: 'Ω/m', hints: ['ohms/m', 'ohm/metre'] }),
];

/**
 * Letters that mean something else in the other case: m/M (metre, milli / mega) and h/H (hour / henry).
 * Everywhere else case is ignored, so that `12 v`, `470 r` and `2.2 K` read as they are meant.
 */
function fold(spelling: string): string {
  const kept = /^[mM]/.test(spelling) || spelling === 'h' || spelling === 'H' ? spelling.slice(0, 1) : '';
  return kept + spelling.slice(kept.length).toLowerCase();
}

const BY_SPELLING = new Map<string, UnitRow>();
for (const row of UNITS) {
  for (const spelling of [row.symbol, ...(row.also ?? [])]) BY_SPELLING.set(fold(spelling), row);
}

/** The unit of a spelling with plain signs (`ohm`, `uA`, `mm2`), or undefined. */
export function unitOf(spelling: string): UnitRow | undefined {
  return BY_SPELLING.get(fold(spelling));
}

/** Every spelling that is read, longest first, for lexers and completion. */
export const UNIT_SPELLINGS: readonly string[] = UNITS.flatMap((row) => [row.symbol, ...(row.also ?? [])]).sort(
  (a, b) => b.length - a.length || (a < b ? -1 : 1),
);

/** The units of a dimension in the order of the table, for completion after a number. */
export function unitsOf(dimension: Dimension): readonly UnitRow[] {
  return UNITS.filter((row) => row.dimension === dimension);
}

/** The unit whose numbers are the dimension's own; per cent for ratios. Undefined for plain numbers. */
export function baseUnit(dimension: Dimension): UnitRow | undefined {
  const units = unitsOf(dimension);
  return units.find((row) => row.power === 0 && row.times === 1) ?? units[0];
}

/**
 * The unit that somebody who wrote `spelling` most likely meant, or undefined where nothing is near.
 * A unit of an expected dimension is preferred to one that is merely spelt alike.
 */
export function nearestUnit(spelling: string, expected: readonly Dimension[] = []): UnitRow | undefined {
  let best: UnitRow | undefined;
  let bestScore = Number.POSITIVE_INFINITY;
  for (const row of UNITS) {
    const fits = expected.length === 0 || expected.includes(row.dimension);
    const score = distanceTo(row, spelling) + (fits ? 0 : 0.5);
    if (score < bestScore) {
      best = row;
      bestScore = score;
    }
  }
  return bestScore <= (spelling.length <= 3 ? 1 : 2) ? best : undefined;
}

function distanceTo(row: UnitRow, spelling: string): number {
  const hints = row.hints ?? [];
  if (hints.includes(spelling)) return 0;
  if (hints.some((hint) => hint.toLowerCase() === spelling.toLowerCase())) return 0.1;
  const spellings = [row.symbol, ...(row.also ?? [])];
  if (spellings.some((each) => each.toLowerCase() === spelling.toLowerCase())) return 0.2;
  return Math.min(...[...spellings, ...hints].map((each) => editDistance(each.toLowerCase(), spelling.toLowerCase())));
}

/** Letters to insert, drop or change to make one word the other (Levenshtein). */
function editDistance(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const change = (row[j - 1] as number) + (a[i - 1] === b[j - 1] ? 0 : 1);
      next.push(Math.min(change, (row[j] as number) + 1, (next[j - 1] as number) + 1));
    }
    row = next;
  }
  return row[b.length] as number;
}
