/** Findings for a person: one line each, what belongs to it indented below, a summary last. */
import type { ProjectFinding, Severity } from '@couplet/project';
import type { Paint, Shade } from '../terminal.ts';
import { shortFigures } from './figures-text.ts';
import { counted, countFindings, position, type Report } from './report.ts';

const UNCOMPUTED = 'not-computed-yet';

const SHADES: Readonly<Record<Severity, Shade>> = { error: 'red', warning: 'yellow', information: 'blue' };

export function textReport(report: Report, paint: Paint): string {
  const lines: string[] = [];
  const open = report.findings.filter((finding) => finding.accepted === undefined);
  for (const finding of open) {
    if (finding.code !== UNCOMPUTED) lines.push(...findingLines(finding, report, paint));
  }
  lines.push(...uncomputedLines(open, report, paint));
  const accepted = report.findings.filter((finding) => finding.accepted !== undefined);
  if (accepted.length > 0) {
    if (lines.length > 0) lines.push('');
    for (const finding of accepted) lines.push(...findingLines(finding, report, paint));
  }
  const tables = report.sites.filter((site) =>
    site.figures?.some((each) => each.moments.some(({ rows }) => rows.length > 0)),
  );
  if (tables.length > 0) {
    if (lines.length > 0) lines.push('');
    lines.push(paint('dim', 'Figures: usual (least .. most), over the ends of supplies, tolerances and temperatures.'));
  }
  for (const site of tables) {
    lines.push('');
    lines.push(paint('bold', `${site.title} (${report.show(site.root)})`), ...shortFigures(site.figures ?? [], paint));
  }
  if (lines.length > 0) lines.push('');
  const heldBack = report.sites.reduce((sum, site) => sum + site.heldBack, 0);
  if (heldBack > 0) {
    lines.push(`${counted(heldBack, 'finding')} on parts that these errors touch held back until they are mended`);
  }
  lines.push(summary(report, paint));
  return `${lines.join('\n')}\n`;
}

/** What this program cannot do is the same in every file: said once, at its first place. */
function uncomputedLines(open: readonly ProjectFinding[], report: Report, paint: Paint): string[] {
  const byMessage = Map.groupBy(
    open.filter((finding) => finding.code === UNCOMPUTED),
    (finding) => finding.message,
  );
  return [...byMessage.values()].flatMap(([first, ...more]) => {
    if (first === undefined) return [];
    const files = new Set(more.map((finding) => finding.place.uri));
    files.delete(first.place.uri);
    const lines = findingLines(first, report, paint);
    return files.size === 0 ? lines : [...lines, `    and in ${counted(files.size, 'more file', 'more files')}`];
  });
}

function findingLines(finding: ProjectFinding, report: Report, paint: Paint): string[] {
  const { accepted, code, message, severity, related, site } = finding;
  const word = accepted === undefined ? paint(SHADES[severity], severity) : paint('green', `accepted ${severity}`);
  const where = paint('bold', position(finding.place, report.show));
  const [first, ...rest] = message.split('\n');
  const lines = [`${where}: ${word} ${code}: ${first}`, ...rest.map((line) => `    ${line}`)];
  for (const each of related) {
    lines.push(`    ${paint('dim', `${position(each.place, report.show)}:`)} ${each.message}`);
  }
  if (site !== undefined && code !== UNCOMPUTED) lines.push(`    only in site ${site}`);
  if (accepted !== undefined) {
    const until = accepted.until === undefined ? '' : ` until ${accepted.until}`;
    lines.push(
      `    ${paint('dim', `${position(accepted.place, report.show)}:`)} because "${accepted.because}"${until}`,
    );
  }
  return lines;
}

function summary(report: Report, paint: Paint): string {
  const counts = countFindings(report.findings);
  const files = new Set(report.sites.flatMap((site) => site.files)).size;
  const sites = report.sites.filter((site) => !site.fragment).length;
  const alone = report.sites.length - sites;
  const checked = [
    ...(sites > 0 ? [counted(sites, 'site')] : []),
    ...(alone > 0 ? [counted(alone, 'file checked alone', 'files checked alone')] : []),
    `${counted(files, 'file')} read`,
  ];
  const found = [
    paint(counts.error > 0 ? 'red' : 'green', counted(counts.error, 'error')),
    paint(counts.warning > 0 ? 'yellow' : 'green', counted(counts.warning, 'warning')),
    `${counts.information} information`,
    `${counts.accepted} accepted`,
  ];
  return `${found.join(', ')} (${checked.join(', ')})`;
}
