/** From cells to rows: the class of a row, which rows are electrically one, which read as if nothing were wrong. */
import { isWorse } from './answers.ts';
import type { Column } from './columns.ts';
import type { FaultCell, FaultClass, FaultRow, FaultSpread } from './contract.ts';

/** A row's class is its worst over the columns, unless rest already gives the fault away. */
export function classOf(
  rest: FaultCell,
  cells: readonly FaultCell[],
  columns: readonly Pick<Column, 'name'>[],
): Pick<FaultRow, 'class' | 'caseName' | 'reason'> {
  if (rest.answer === 'announced') return { class: 'announced' };
  if (rest.answer === 'not-evaluated') return { class: 'not-evaluated', ...(rest.reason && { reason: rest.reason }) };
  let worst: { readonly class: FaultClass; readonly caseName?: string } = { class: 'quiet' };
  let unknown: string | undefined;
  cells.forEach(({ answer, reason }, column) => {
    if (answer === 'not-evaluated') unknown ??= reason ?? 'a datum is missing';
    else if (isWorse(answer, worst.class)) worst = { class: answer, caseName: columns[column]!.name };
  });
  if (cells.length === 0) return { class: 'not-evaluated', reason: 'no case says what should arrive' };
  if (unknown !== undefined && worst.class !== 'blind') return { class: 'not-evaluated', reason: unknown };
  return worst;
}

export function isWorseRow(one: FaultRow, other: FaultRow): boolean {
  if (one.class === 'not-evaluated' || other.class === 'not-evaluated') {
    return (
      one.class === 'blind' || (one.class === 'not-evaluated' && other.class !== 'blind' && other.class !== one.class)
    );
  }
  if (one.class !== other.class) return isWorse(one.class, other.class);
  return one.class === 'quiet' && other.unchanged && !one.unchanged;
}

/** Relative difference within which two readings are one. */
const SAME = 1e-9;

export function sameReads(one: readonly FaultCell[], other: readonly FaultCell[]): boolean {
  return one.every((cell, i) => {
    const there = other[i]!;
    return cell.usual === there.usual && same(cell.ohms, there.ohms) && same(cell.volts, there.volts);
  });
}

function same(one: FaultSpread | undefined, other: FaultSpread | undefined): boolean {
  if (one === undefined || other === undefined) return one === other;
  return (['least', 'usual', 'most'] as const).every((end) => {
    const [a, b] = [one[end], other[end]];
    return a === b || Math.abs(a - b) <= SAME * Math.max(Math.abs(a), Math.abs(b));
  });
}

/** Gives rows that read alike in every column one number, in the order of their first. */
export function grouped(rows: readonly FaultRow[]): readonly FaultRow[] {
  const firsts = new Map<string, { readonly cells: readonly FaultCell[]; readonly group: number }[]>();
  let count = 0;
  return rows.map((row) => {
    const cells = [row.rest, ...row.cells];
    const key = cells.map(({ possible }) => possible.join()).join(';');
    const alike = firsts.get(key) ?? [];
    const known = alike.find((first) => sameReads(cells, first.cells));
    if (known !== undefined) return { ...row, group: known.group };
    const group = count++;
    firsts.set(key, [...alike, { cells, group }]);
    return { ...row, group };
  });
}
