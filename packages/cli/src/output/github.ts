/** Findings as workflow commands, which a build server shows beside the lines they concern. Accepted ones are left out. */
import type { Severity } from '@couplet/project';
import type { Report } from './report.ts';

const COMMANDS: Readonly<Record<Severity, string>> = { error: 'error', warning: 'warning', information: 'notice' };

export function githubReport(report: Report): string {
  return report.findings
    .filter((finding) => finding.accepted === undefined)
    .map(({ code, message, place, severity }) => {
      const properties = {
        file: report.show(place.uri),
        line: place.start.line + 1,
        col: place.start.character + 1,
        endLine: place.end.line + 1,
        endColumn: place.end.character + 1,
        title: code,
      };
      const written = Object.entries(properties).map(([key, value]) => `${key}=${property(String(value))}`);
      return `::${COMMANDS[severity]} ${written.join(',')}::${data(message)}\n`;
    })
    .join('');
}

function data(text: string): string {
  return text.replaceAll('%', '%25').replaceAll('\r', '%0D').replaceAll('\n', '%0A');
}

function property(text: string): string {
  return data(text).replaceAll(':', '%3A').replaceAll(',', '%2C');
}
