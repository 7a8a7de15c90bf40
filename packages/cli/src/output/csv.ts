/** Figures as comma-separated values (RFC 4180): one line a figure, SI numbers, an empty cell where there is no number. */
import type { CaseFigures, Figure, FigureRow, MomentFigures, QuantityFigure, SupplyRow } from '@couplet/project';
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
  sites: readonly {
    readonly title: string;
    readonly cases: readonly CaseFigures[];
    readonly supplies: readonly SupplyRow[];
  }[],
): string {
  const lines: (readonly (string | number)[])[] = [HEAD];
  for (const { title, cases, supplies } of sites) {
    for (const each of cases) {
      for (const moment of each.moments) {
        for (const row of moment.rows) {
          for (const figure of row.figures) lines.push([title, each.name, ...cells(moment, row, figure)]);
        }
      }
    }
    for (const row of supplies) {
      for (const { figure, label, needs } of row.figures) {
        const head = ['', '', SUPPLIES[row.kind], row.kind, row.name, row.says, label, ''];
        lines.push([title, ...head, ...numbers(figure, needs)]);
      }
    }
  }
  return lines.map((line) => `${line.map(cell).join(',')}\r\n`).join('');
}

/** What stands for the moment of figures that belong to none. */
const SUPPLIES: Readonly<Record<SupplyRow['kind'], string>> = {
  battery: 'standby',
  fuse: 'short at the far end',
};

function cells(moment: MomentFigures, row: FigureRow, each: QuantityFigure): (string | number)[] {
  const head = [
    moment.time,
    moment.label,
    row.kind,
    row.name,
    row.states.join(' or '),
    each.quantity,
    each.between ?? '',
  ];
  return [...head, ...numbers(each.figure, each.needs)];
}

/** Unit, least, usual, most, the corners of both ends, and what there is to say. */
function numbers(figure: Figure, needs: readonly string[] | undefined): (string | number)[] {
  const none = ['', '', '', '', '', ''];
  if (figure.sort === 'no-connection') return [...none, 'no connection'];
  if (figure.sort === 'not-evaluated') {
    const why = figure.reason ?? (needs === undefined || needs.length === 0 ? '' : `needs ${needs.join('; ')}`);
    return [...none, `not evaluated${why === '' ? '' : `: ${why}`}`];
  }
  const { unit, least, usual, most, leastCorner, mostCorner, proven } = figure;
  const ends = [leastCorner, mostCorner].map((corner) => cornerText(corner, Number.POSITIVE_INFINITY));
  return [unit, least, usual, most, ...ends, proven ? '' : 'ends searched, not proven'];
}

/** Quoted where needed; a text that a spreadsheet would take for a formula is led by an apostrophe. */
export function cell(value: string | number): string {
  if (typeof value === 'number') return Number.isFinite(value) ? String(value) : value > 0 ? 'infinite' : '-infinite';
  const safe = /^[=+@\t\r-]/.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
