/** Figures as comma-separated values (RFC 4180): one line a figure, SI numbers, an empty cell where there is no number. */
import type { CaseFigures, FigureRow, MomentFigures, QuantityFigure } from '@couplet/project';
import { cornerText } from './figures-text.ts';

const HEAD = [
  'site',
  'case',
  'seconds',
  'moment',
  'kind',
  'part',
  'states',
  'quantity',
  'between',
  'unit',
  'least',
  'usual',
  'most',
  'least at',
  'most at',
  'says',
] as const;

export function csvFigures(
  sites: readonly { readonly title: string; readonly cases: readonly CaseFigures[] }[],
): string {
  const lines: (readonly (string | number)[])[] = [HEAD];
  for (const { title, cases } of sites) {
    for (const each of cases) {
      for (const moment of each.moments) {
        for (const row of moment.rows) {
          for (const figure of row.figures) lines.push([title, each.name, ...cells(moment, row, figure)]);
        }
      }
    }
  }
  return lines.map((line) => `${line.map(cell).join(',')}\r\n`).join('');
}

function cells(moment: MomentFigures, row: FigureRow, each: QuantityFigure): (string | number)[] {
  const { figure } = each;
  const head = [
    moment.time,
    moment.label,
    row.kind,
    row.name,
    row.states.join(' or '),
    each.quantity,
    each.between ?? '',
  ];
  if (figure.sort === 'no-connection') return [...head, '', '', '', '', '', '', 'no connection'];
  if (figure.sort === 'not-evaluated') {
    const why = figure.reason ?? (each.needs === undefined ? '' : `needs ${each.needs.join('; ')}`);
    return [...head, '', '', '', '', '', '', `not evaluated${why === '' ? '' : `: ${why}`}`];
  }
  const { unit, least, usual, most, leastCorner, mostCorner, proven } = figure;
  const ends = [leastCorner, mostCorner].map((corner) => cornerText(corner, Number.POSITIVE_INFINITY));
  return [...head, unit, least, usual, most, ...ends, proven ? '' : 'ends searched, not proven'];
}

/** Quoted where needed; a text that a spreadsheet would take for a formula is led by an apostrophe. */
function cell(value: string | number): string {
  if (typeof value === 'number') return Number.isFinite(value) ? String(value) : value > 0 ? 'infinite' : '-infinite';
  const safe = /^[=+@\t\r-]/.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
