import type { Sheet, Table } from './model.ts';

/** Wide tables scroll on a phone and are whole on paper; contrast is AA in light and dark. */
const STYLE = `
:root { color-scheme: light dark; font: 16px/1.4 system-ui, sans-serif; }
body { margin: 0 auto; max-width: 75rem; padding: 1rem; }
h1 { font-size: 1.5rem; } h2 { font-size: 1.15rem; margin-top: 2rem; break-after: avoid; }
.scroll { overflow-x: auto; }
table { border-collapse: collapse; width: 100%; }
th, td { border: 1px solid currentColor; padding: 0.25rem 0.5rem; text-align: left; vertical-align: top; }
td:empty { min-width: 6rem; height: 1.5rem; }
tr { break-inside: avoid; }
@media print { body { font-size: 9pt; max-width: none; padding: 0; } .scroll { overflow: visible; } thead { display: table-header-group; } }
`;

export function htmlSheet(sheet: Sheet): string {
  const sections = sheet.sections.map(({ heading, notes, table }) => {
    const list = table === undefined && notes.length > 1;
    const words = list
      ? `<ul>${notes.map((note) => `<li>${escaped(note)}</li>`).join('')}</ul>`
      : notes.map((note) => `<p>${escaped(note)}</p>`).join('');
    return `<section><h2>${escaped(heading)}</h2>${words}${table === undefined ? '' : tableHtml(table)}</section>`;
  });
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escaped(sheet.title)}</title>
<style>${STYLE}</style>
</head>
<body>
<h1>${escaped(sheet.title)}</h1>
${tableHtml({ columns: [], rows: sheet.about })}
${sections.join('\n')}
</body>
</html>
`;
}

function tableHtml({ columns, rows }: Table): string {
  const head =
    columns.length === 0
      ? ''
      : `<thead><tr>${columns.map((column) => `<th scope="col">${escaped(column)}</th>`).join('')}</tr></thead>`;
  const body = rows.map((row) => `<tr>${row.map((cell) => `<td>${escaped(cell)}</td>`).join('')}</tr>`).join('\n');
  return `<div class="scroll"><table>${head}<tbody>\n${body}\n</tbody></table></div>`;
}

function escaped(text: string): string {
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;');
}
