/** The hover of a part: what it is, and what it does in every case, with the corners and assumptions behind it. */
import {
  type Analysis,
  type Component,
  type Dimension,
  type Figure,
  formatFigure,
  type Moment,
  type Value,
} from '@couplet/engine';
import { type Column, type Told, toldOf } from './columns.ts';
import { cornerWords, figureWords, plain } from './words.ts';

/** Part of the largest value of a quantity above which a row's corners are told. */
const WORTH_TELLING = 0.02;

const MOST_CORNERS = 8;

/** Rows of a table before it says how many more there are. */
const MOST_ROWS = 12;

interface Row {
  readonly label: string;
  readonly moment: Moment;
}

/** Markdown; only the heading where nothing is computed for such a part. */
export function partHover(part: Component, analysis: Analysis): string {
  const told = toldOf(part);
  const blocks = [heading(part)];
  if (told !== undefined) {
    const rows = rowsOf(analysis);
    blocks.push(table(part, told, rows, analysis), ...sums(part, told, rows), ...corners(told, rows));
    const assumptions = assumptionsOf(told, rows);
    if (assumptions.length > 0) blocks.push(`Assumed: ${assumptions.map(plain).join('; ')}.`);
  }
  return blocks.join('\n\n');
}

function heading({ kind, name, description }: Component): string {
  return `**${plain(name)}** ${kind}${description === undefined ? '' : ` · ${plain(description)}`}`;
}

function rowsOf(analysis: Analysis): Row[] {
  return analysis.cases.flatMap(({ name, moments }) =>
    moments.map((moment) => ({ label: moments.length === 1 ? name : `${name}, ${moment.label}`, moment })),
  );
}

function table(part: Component, told: Told, rows: readonly Row[], analysis: Analysis): string {
  const head = ['case', ...(told.states ? ['state'] : []), ...told.columns.map(({ title }) => title)];
  const body = rows
    .slice(0, MOST_ROWS)
    .map(({ label, moment }) => [
      plain(label),
      ...(told.states ? [plain(statesOf(part, moment))] : []),
      ...told.columns.map((column) => plain(figureWords(column.figure(moment), analysis.design))),
    ]);
  const lines = [head, head.map(() => '---'), ...body].map((cells) => `| ${cells.join(' | ')} |`);
  if (rows.length > MOST_ROWS) lines.push('', `and ${rows.length - MOST_ROWS} more`);
  return lines.join('\n');
}

function statesOf(part: Component, moment: Moment): string {
  if (part.kind !== 'zone') return moment.states(part.id).join(' or ');
  return moment
    .reading(part.id)
    .possible.map((each) => each ?? 'outside every band')
    .join(' or ');
}

/** The greatest demand on a port against what it is rated or limited to. */
function sums(part: Component, { against }: Told, rows: readonly Row[]): string[] {
  if (against === undefined) return [];
  const demands = rows.map(({ label, moment }) => ({ label, figure: moment.demand(part.id) }));
  const most = greatest(demands, (value) => value.most);
  if (most === undefined) return [];
  const of = `${formatFigure(against.amps, 'A')} ${against.word}`;
  const share = formatFigure(most.value.most / against.amps, 'ratio');
  return [`At most ${formatFigure(most.value.most, 'A')} of ${of} (${share}), in ${plain(most.label)}.`];
}

/**
 * Which parameters set the least and the most of each quantity, case by case. Rows in which next to nothing flows or
 * stands are left out: their extremes are leakage.
 */
function corners({ columns }: Told, rows: readonly Row[]): string[] {
  const lines = columns.flatMap((column) => {
    if (column.title === 'watts') return [];
    const values = rows.flatMap(({ label, moment }) => {
      const figure = column.figure(moment);
      return figure.sort === 'value' && figure.least !== figure.most ? [{ label, value: figure }] : [];
    });
    const worth = Math.max(0, ...values.map(({ value }) => sizeOf(value))) * WORTH_TELLING;
    return values
      .filter(({ value }) => sizeOf(value) > worth)
      .map(({ label, value }) => cornerLine(label, column, value));
  });
  return lines.length === 0 ? [] : [lines.slice(0, MOST_CORNERS).join('\n')];
}

function cornerLine(label: string, column: Column, value: Value): string {
  const ends = [['least', value.least, value.leastCorner] as const, ['most', value.most, value.mostCorner] as const]
    .filter(([, , corner]) => corner.length > 0)
    .map(
      ([word, amount, corner]) =>
        `${word} ${formatFigure(amount, value.unit as Dimension)} with ${cornerWords(corner)}`,
    );
  const proven = value.proven ? '' : ' (searched, not proven)';
  return `- ${plain(`${label}, ${column.title}: ${ends.join('; ')}${proven}`)}`;
}

function sizeOf({ least, most }: Value): number {
  const size = Math.max(Math.abs(least), Math.abs(most));
  return Number.isFinite(size) ? size : 0;
}

function greatest(
  figures: readonly { readonly label: string; readonly figure: Figure }[],
  measure: (value: Value) => number,
): { label: string; value: Value } | undefined {
  let best: { label: string; value: Value } | undefined;
  for (const { label, figure } of figures) {
    if (figure.sort !== 'value' || !Number.isFinite(measure(figure))) continue;
    if (best === undefined || measure(figure) > measure(best.value)) best = { label, value: figure };
  }
  return best;
}

function assumptionsOf({ columns }: Told, rows: readonly Row[]): string[] {
  const clauses = columns.flatMap((column) =>
    rows.flatMap(({ moment }) => {
      const figure = column.figure(moment);
      return figure.sort === 'value' ? figure.assumptions : [];
    }),
  );
  return [...new Set(clauses)].sort();
}
