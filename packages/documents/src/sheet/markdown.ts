import type { Sheet, Table } from './model.ts';

export function markdownSheet(sheet: Sheet): string {
  const lines = [`# ${sheet.title}`, '', ...tableLines({ columns: ['', ''], rows: sheet.about })];
  for (const { heading, notes, table } of sheet.sections) {
    lines.push('', `## ${heading}`);
    const list = table === undefined && notes.length > 1;
    if (list) lines.push('', ...notes.map((note) => `- ${note}`));
    else for (const note of notes) lines.push('', note);
    if (table !== undefined) lines.push('', ...tableLines(table));
  }
  return `${lines.join('\n')}\n`;
}

function tableLines({ columns, rows }: Table): string[] {
  const line = (cells: readonly string[]) => `| ${cells.map((cell) => cell.replaceAll('|', '\\|')).join(' | ')} |`;
  return [line(columns), `|${columns.map(() => ' --- |').join('')}`, ...rows.map(line)];
}
