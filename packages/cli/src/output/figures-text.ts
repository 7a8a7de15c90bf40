/** Figures for a person: a short table of what changes from case to case, and a full one with the corners. */
import { type Dimension, formatFigure, formatRange, LOOP_DIGITS } from '@couplet/engine';
import type { CaseFigures, Figure, FigureRow, MomentFigures, QuantityFigure, SupplyRow } from '@couplet/project';
import type { Paint } from '../terminal.ts';

type Value = Extract<Figure, { sort: 'value' }>;
type CornerPart = Value['leastCorner'][number];

/** What a reader of the short table asks of each kind first. */
const SHORT: Readonly<Record<string, readonly QuantityFigure['quantity'][]>> = {
  source: ['volts', 'amps'],
  feed: ['volts', 'amps'],
  fuse: ['amps'],
  output: ['amps'],
  relay: ['volts'],
  load: ['volts', 'amps'],
  input: ['amps'],
  zone: ['ohms', 'volts'],
};

/** Rest in full, then in each case what it changes. */
export function shortFigures(cases: readonly CaseFigures[], paint: Paint): string[] {
  const lines: string[] = [];
  const rest = new Map(cases[0]?.moments[0]?.rows.map((row) => [row.component, shortRow(row)]));
  const told: (string | readonly string[])[] = [];
  for (const each of cases) {
    let before = each === cases[0] ? new Map<number, string[]>() : rest;
    for (const [at, moment] of each.moments.entries()) {
      const now = new Map(moment.complete ? [] : rest);
      for (const row of moment.rows) now.set(row.component, shortRow(row));
      const changed = [...now].filter(([part, row]) => row.join() !== before.get(part)?.join());
      told.push(paint('bold', momentTitle(each, moment)), ...changed.map(([, row]) => row));
      if (changed.length === 0) told.push([at === 0 ? 'as at rest' : 'as before']);
      before = now;
    }
  }
  const rows = told.filter((line) => typeof line !== 'string');
  const widths = [0, 1, 2].map((column) =>
    Math.max(0, ...rows.map((row) => (row.length > 1 ? (row[column] as string).length : 0))),
  );
  for (const line of told) {
    if (typeof line === 'string') lines.push(`  ${line}`);
    else
      lines.push(
        `    ${line
          .map((cell, column) => cell.padEnd(widths[column] ?? 0))
          .join('  ')
          .trimEnd()}`,
      );
  }
  return lines;
}

function shortRow(row: FigureRow): string[] {
  const wanted = SHORT[row.kind] ?? [];
  const figures = row.figures.filter((each) => wanted.includes(each.quantity));
  // 'no connection' and 'not evaluated: …' are said once, however many figures they hold for.
  const texts = new Set(figures.map((each) => spreadText(each, digitsFor(row, each))));
  return [row.kind, row.name, row.states.join(' or '), [...texts].join(', ')];
}

function momentTitle(each: CaseFigures, moment: MomentFigures): string {
  return moment.label === 'at rest' && each.name === 'rest' ? 'rest' : `${each.name}, ${moment.label}`;
}

/** Every part with usual, least and most, and the corner that sets each end. */
export function fullFigures(cases: readonly CaseFigures[], paint: Paint): string[] {
  const lines: string[] = [];
  for (const each of cases) {
    for (const moment of each.moments) {
      lines.push('', paint('bold', momentTitle(each, moment)));
      for (const row of moment.rows) lines.push(...fullRow(row, paint));
      if (!moment.complete) lines.push(paint('dim', '  everything else as at rest'));
    }
  }
  return lines;
}

function fullRow(row: FigureRow, paint: Paint): string[] {
  const states = row.states.length === 0 ? '' : `: ${row.states.join(' or ')}`;
  const lines = [`  ${row.kind} ${paint('bold', row.name)}${states}`];
  for (const each of row.figures) {
    const label = each.between === undefined ? each.quantity : `${each.quantity} ${each.between}`;
    lines.push(`    ${label.padEnd(6)} ${spreadText(each, digitsFor(row, each))}`, ...cornerLines(each.figure, paint));
  }
  return lines;
}

/** Batteries and fuses, with the corner that sets each end of a figure. */
export function supplyLines(rows: readonly SupplyRow[], paint: Paint): string[] {
  if (rows.length === 0) return [];
  const lines = ['', paint('bold', 'batteries and fuses')];
  for (const { figures, kind, name, says } of rows) {
    lines.push(`  ${kind} ${paint('bold', name)}: ${says}`);
    const width = Math.max(...figures.map(({ label }) => label.length));
    for (const each of figures) {
      lines.push(`    ${each.label.padEnd(width)} ${spreadText(each)}`, ...cornerLines(each.figure, paint));
    }
  }
  return lines;
}

function cornerLines(figure: Figure, paint: Paint): string[] {
  if (figure.sort !== 'value' || !isSpread(figure)) return [];
  const ends = [
    ['least', figure.leastCorner],
    ['most', figure.mostCorner],
  ] as const;
  const lines = ends.flatMap(([end, corner]) => (corner.length > 0 ? [`${end} at ${cornerText(corner)}`] : []));
  if (!figure.proven) lines.push('ends searched, not proven');
  return lines.map((line) => paint('dim', `           ${line}`));
}

function isSpread(value: Value): boolean {
  const { least, most, unit } = value;
  return formatFigure(least, unit as Dimension) !== formatFigure(most, unit as Dimension);
}

/** Readings of loops lie close together: ohms and volts of a zone are shown with a digit more. */
function digitsFor(row: FigureRow, each: QuantityFigure): number | undefined {
  return row.kind === 'zone' || each.quantity === 'ohms' ? LOOP_DIGITS : undefined;
}

/** '12.3 V (10.9 V .. 14.1 V)', 'open', 'no connection', 'not evaluated: needs …'. */
export function spreadText({ figure, needs }: Pick<QuantityFigure, 'figure' | 'needs'>, digits?: number): string {
  switch (figure.sort) {
    case 'no-connection':
      return 'no connection';
    case 'not-evaluated': {
      const lacks = needs === undefined || needs.length === 0 ? undefined : `needs ${needs.join(', ')}`;
      return ['not evaluated', figure.reason ?? lacks].filter(Boolean).join(': ');
    }
    case 'value': {
      const options = digits === undefined ? {} : { digits };
      const unit = figure.unit as Dimension;
      const usual = formatFigure(figure.usual, unit, options);
      const range = formatRange(figure.least, figure.most, unit, options);
      return range === usual ? usual : `${usual} (${range})`;
    }
  }
}

/** Parts of a corner that are shown; they come sorted by how much they move the figure. */
const SHOWN_PARTS = 4;

export function cornerText(corner: readonly CornerPart[], shown: number = SHOWN_PARTS): string {
  const parts = corner
    .slice(0, shown)
    .map((part) => `${part.what} ${formatFigure(part.value, part.unit as Dimension)}`);
  const left = corner.length - parts.length;
  return left > 0 ? `${parts.join(', ')} and ${left} more` : parts.join(', ');
}
