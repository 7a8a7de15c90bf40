/** Findings as SARIF. Source: OASIS SARIF 2.1.0, errata 01: result, physicalLocation, region, suppression. */
import type { ProjectFinding, Severity } from '@couplet/project';
import { written } from './json.ts';
import type { Report } from './report.ts';

const SCHEMA = 'https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json';

const LEVELS: Readonly<Record<Severity, string>> = { error: 'error', warning: 'warning', information: 'note' };

/** `summaries` gives one line for codes that are rules. */
export function sarifReport(report: Report, summaries: ReadonlyMap<string, string>): string {
  const codes = [...new Set(report.findings.map((finding) => finding.code))].sort();
  return written({
    $schema: SCHEMA,
    version: '2.1.0',
    runs: [
      {
        tool: {
          driver: {
            name: 'couplet',
            version: report.version,
            rules: codes.map((id) => {
              const text = summaries.get(id);
              return text === undefined ? { id } : { id, shortDescription: { text } };
            }),
          },
        },
        invocations: [{ executionSuccessful: true }],
        columnKind: 'utf16CodeUnits',
        results: report.findings.map((finding) => result(finding, codes.indexOf(finding.code), report)),
      },
    ],
  });
}

function result(finding: ProjectFinding, ruleIndex: number, report: Report) {
  const { accepted, related } = finding;
  return {
    ruleId: finding.code,
    ruleIndex,
    level: LEVELS[finding.severity],
    message: { text: finding.message },
    locations: [location(finding.place, report)],
    ...(related.length === 0
      ? {}
      : {
          relatedLocations: related.map((each, id) => ({
            id,
            ...location(each.place, report),
            message: { text: each.message },
          })),
        }),
    ...(accepted === undefined
      ? {}
      : {
          suppressions: [
            { kind: 'inSource', justification: accepted.because, location: location(accepted.place, report) },
          ],
        }),
  };
}

function location({ uri, start, end }: ProjectFinding['place'], report: Report) {
  // A place between two characters has no characters of its own: its region ends where it starts.
  return {
    physicalLocation: {
      artifactLocation: { uri: report.show(uri).split('/').map(encodeURIComponent).join('/') },
      region: {
        startLine: start.line + 1,
        startColumn: start.character + 1,
        endLine: end.line + 1,
        endColumn: end.character + 1,
      },
    },
  };
}
