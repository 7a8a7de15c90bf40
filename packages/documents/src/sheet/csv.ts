import type { Sheet } from './model.ts';

/** RFC 4180: one table after the other, each row led by its section's heading. */
export function csvSheet(sheet: Sheet): string {
  const rows: (readonly string[])[] = [['sheet', sheet.title], ...sheet.about.map((pair) => ['about', ...pair])];
  for (const { heading, notes, table } of sheet.sections) {
    for (const note of notes) rows.push([heading, note]);
    if (table === undefined) continue;
    rows.push([heading, ...table.columns], ...table.rows.map((row) => [heading, ...row]));
  }
  return rows.map((row) => `${row.map(cell).join(',')}\r\n`).join('');
}

function cell(text: string): string {
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
