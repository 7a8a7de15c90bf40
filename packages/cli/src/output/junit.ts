/**
 * Findings as a JUnit report: a suite a file, a failed test for each finding that fails the check.
 * Source: the Ant JUnit schema in common use; there is no standard. Times are zero so that equal sites give equal reports.
 */
import type { ProjectFinding } from '@couplet/project';
import { position, type Report } from './report.ts';

/** `fails` says which findings make the exit status 1. */
export function junitReport(report: Report, fails: (finding: ProjectFinding) => boolean): string {
  const files = [
    ...new Set([...report.sites.flatMap((site) => site.files), ...report.findings.map((each) => each.place.uri)]),
  ];
  const suites = files.map(report.show).sort();
  const byFile = Map.groupBy(report.findings, (finding) => report.show(finding.place.uri));
  const failed = report.findings.filter(fails).length;
  const bodies = suites.map((file, id) => suite(file, id, byFile.get(file) ?? [], report, fails));
  const tests = bodies.reduce((sum, each) => sum + each.tests, 0);
  const open = `<testsuites name="couplet" tests="${tests}" failures="${failed}" errors="0" time="0">`;
  return ['<?xml version="1.0" encoding="UTF-8"?>', open, ...bodies.map((each) => each.xml), '</testsuites>', ''].join(
    '\n',
  );
}

function suite(
  file: string,
  id: number,
  findings: readonly ProjectFinding[],
  report: Report,
  fails: (finding: ProjectFinding) => boolean,
): { tests: number; xml: string } {
  const failing = findings.filter(fails);
  const others = findings.filter((finding) => !fails(finding));
  const tests = Math.max(1, failing.length);
  const counts = `tests="${tests}" failures="${failing.length}" errors="0" time="0"`;
  const lines = [
    `  <testsuite name="${escaped(file)}" package="couplet" id="${id}" ${counts} timestamp="${report.today}T00:00:00" hostname="localhost">`,
    '    <properties/>',
  ];
  for (const finding of failing) {
    const where = position(finding.place, report.show);
    const name = `${finding.code} at ${finding.place.start.line + 1}:${finding.place.start.character + 1}`;
    lines.push(
      `    <testcase name="${escaped(name)}" classname="${escaped(file)}" time="0">`,
      `      <failure type="${escaped(finding.code)}" message="${escaped(finding.message)}">${escaped(`${where}: ${finding.message}`)}</failure>`,
      '    </testcase>',
    );
  }
  if (failing.length === 0) lines.push(`    <testcase name="check" classname="${escaped(file)}" time="0"/>`);
  const said = others.map((each) => {
    const word = each.accepted === undefined ? each.severity : `accepted ${each.severity}`;
    return `${position(each.place, report.show)}: ${word} ${each.code}: ${each.message}`;
  });
  lines.push(`    <system-out>${escaped(said.join('\n'))}</system-out>`, '    <system-err/>', '  </testsuite>');
  return { tests, xml: lines.join('\n') };
}

const ENTITIES: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' };

/** Text for XML 1.0: what no XML text may hold becomes the replacement character. */
function escaped(text: string): string {
  return text
    .toWellFormed()
    .replace(/[^\P{Cc}\t\n\r]|[\ufffe\uffff]/gu, '\ufffd')
    .replace(/[&<>"]/g, (sign) => ENTITIES[sign] as string);
}
