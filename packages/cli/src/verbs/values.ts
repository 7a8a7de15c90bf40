/** Preferred values near a resistance, and pairs of them that make it. */
import {
  formatFigure,
  formatRange,
  isQuantityError,
  parseQuantity,
  preferredNear,
  preferredPairs,
  type Quantity,
  SERIES_NAMES,
  type SeriesName,
  seriesForTolerance,
  wantDimension,
  writeQuantity,
} from '@couplet/engine';
import { type Invocation, optionValue, UsageError } from '../options.ts';
import type { Terminal } from '../terminal.ts';
import { EXIT, type Verb } from '../verb.ts';

const NEAR = 4;
const PAIRS = 6;
/** Four digits tell neighbours of the finest series apart. */
const DIGITS = { digits: 4 };

export const values: Verb = {
  name: 'values',
  takes: 'WANTED',
  says: 'preferred resistor values near a value, and pairs that make it',
  options: [
    { name: 'series', takes: 'SERIES', choices: SERIES_NAMES, repeats: true, says: 'take values of these series only' },
    {
      name: 'tolerance',
      takes: 'PERCENT',
      says: 'tolerance of the resistors; chooses the series too (1% unless given)',
    },
  ],
  more: ["Values are written as in a site file: 2k35, '2.35 kohm', 470R.", 'Series of preferred values: IEC 60063.'],

  async run(invocation, terminal) {
    const wanted = resistance(invocation);
    const tolerance = toleranceOf(invocation);
    const given = (invocation.options.get('series') ?? []) as SeriesName[];
    const series = given.length > 0 ? given : seriesForTolerance(tolerance);
    const lines = table(wanted, tolerance, series);
    write(lines, terminal);
    return EXIT.fine;
  },
};

function resistance({ words }: Invocation): number {
  if (words.length === 0) throw new UsageError('values needs a resistance, such as 2k35');
  // `couplet values 2.35 kohm` without quotes is clear enough.
  const text = words.join(' ');
  const ohms = quantity(text, 'ohm');
  if (!(ohms > 0)) throw new UsageError(`'${text}': a resistor has more than 0 ohm`);
  return ohms;
}

/** As a fraction. */
function toleranceOf(invocation: Invocation): number {
  const text = (optionValue(invocation, 'tolerance') ?? '1%').replace(/^(\+-|±)/, '');
  const tolerance = quantity(/%$/.test(text) ? text : `${text}%`, 'ratio');
  if (!(tolerance >= 0 && tolerance < 1)) throw new UsageError(`'${text}' is no tolerance of a resistor`);
  return tolerance;
}

function quantity(text: string, dimension: Quantity['dimension']): number {
  const read = parseQuantity(text, [dimension]);
  if (isQuantityError(read)) throw new UsageError(read.error.message);
  // A plain number of ohms is what people type first.
  if (read.dimension === 'number' && dimension === 'ohm') return read.value;
  const misfit = wantDimension(read, [dimension]);
  if (misfit !== undefined) throw new UsageError(`'${text}' ${misfit.message}`);
  return read.value;
}

type Row = readonly [parts: string, made: string, error: string, spread: string];

function table(wanted: number, tolerance: number, series: readonly SeriesName[]): (string | Row)[] {
  const spread = (ohms: number) => formatRange(ohms * (1 - tolerance), ohms * (1 + tolerance), 'ohm', DIGITS);
  const row = (parts: string, ohms: number): Row => [
    parts,
    formatFigure(ohms, 'ohm', DIGITS),
    signed((ohms - wanted) / wanted),
    tolerance > 0 ? spread(ohms) : '',
  ];
  const shown = (ohms: number) => writeQuantity(ohms, 'ohm');
  const percent = formatFigure(tolerance, 'ratio', { plain: true }).replace(/\.?0+%$/, '%');
  const pairs = preferredPairs(wanted, series, PAIRS);
  return [
    `${formatFigure(wanted, 'ohm', DIGITS)} from ${series.join(' and ')}, resistors of +-${percent}`,
    '',
    'one resistor',
    ...preferredNear(wanted, series, NEAR).map((ohms) => row(shown(ohms), ohms)),
    '',
    'two resistors',
    ...pairs.map(({ a, arrangement, b, ohms }) =>
      row(`${shown(a)} ${arrangement === 'series' ? '+' : '||'} ${shown(b)}`, ohms),
    ),
    ...(pairs.length === 0 ? ['  none within the reach of the series'] : ['', '+ in series, || in parallel']),
  ];
}

function signed(error: number): string {
  if (Math.abs(error) < 1e-9) return 'exact';
  const percent = (Math.abs(error) * 100).toPrecision(2);
  return `${error > 0 ? '+' : '-'}${Number(percent)} %`;
}

function write(lines: readonly (string | Row)[], terminal: Terminal): void {
  const rows = lines.filter((line): line is Row => typeof line !== 'string');
  const widths = [0, 1, 2].map((column) => Math.max(...rows.map((row) => (row[column] as string).length)));
  for (const line of lines) {
    const text =
      typeof line === 'string'
        ? line
        : `  ${line
            .map((cell, column) => cell.padEnd(widths[column] ?? 0))
            .join('   ')
            .trimEnd()}`;
    terminal.out(`${text}\n`);
  }
}
