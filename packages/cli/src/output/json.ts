/**
 * Findings as data. Lines and columns count from 1, columns in UTF-16 units; numbers are SI; `null` as an end of a
 * spread means without limit. Keys only ever get more: `format` changes when one changes its meaning.
 */
import type { Figure, NamedFigure, ProjectFinding, SupplyRow } from '@couplet/project';
import { countFindings, type Report } from './report.ts';

export const JSON_FORMAT = 1;

export function jsonReport(report: Report): string {
  const { show } = report;
  return written({
    format: JSON_FORMAT,
    version: report.version,
    today: report.today,
    summary: countFindings(report.findings),
    rules: report.rules,
    sites: report.sites.map((site) => ({
      title: site.title,
      file: show(site.root),
      checkedAlone: site.fragment,
      files: site.files.map(show),
      heldBack: site.heldBack,
      ...(site.figures === undefined ? {} : { cases: site.figures.map(caseJson) }),
    })),
    findings: report.findings.map((finding) => findingJson(finding, show)),
  });
}

/** JSON of a value with a line end, the same for every verb. */
export function written(value: unknown): string {
  return `${JSON.stringify(value, null, 2)}\n`;
}

function findingJson(finding: ProjectFinding, show: (uri: string) => string) {
  const { accepted } = finding;
  return {
    code: finding.code,
    severity: finding.severity,
    message: finding.message,
    ...placeJson(finding.place, show),
    related: finding.related.map((each) => ({ message: each.message, ...placeJson(each.place, show) })),
    figures: finding.figures.map(namedJson),
    ...(finding.caseName === undefined ? {} : { case: finding.caseName }),
    sites: finding.roots.map(show),
    ...(accepted === undefined
      ? {}
      : {
          accepted: {
            because: accepted.because,
            ...(accepted.until === undefined ? {} : { until: accepted.until }),
            ...placeJson(accepted.place, show),
          },
        }),
  };
}

function placeJson(place: ProjectFinding['place'], show: (uri: string) => string) {
  const { uri, start, end } = place;
  return {
    file: show(uri),
    line: start.line + 1,
    column: start.character + 1,
    endLine: end.line + 1,
    endColumn: end.character + 1,
  };
}

function namedJson({ label, figure }: NamedFigure) {
  return { label, ...figureJson(figure) };
}

export function figureJson(figure: Figure) {
  switch (figure.sort) {
    case 'no-connection':
      return { state: 'no connection' };
    case 'not-evaluated':
      return {
        state: 'not evaluated',
        ...(figure.reason === undefined ? {} : { reason: figure.reason }),
        needs: figure.needs.map((need) => need.property),
      };
    case 'value':
      return {
        unit: figure.unit,
        least: finite(figure.least),
        usual: finite(figure.usual),
        most: finite(figure.most),
        leastCorner: figure.leastCorner.map(cornerJson),
        mostCorner: figure.mostCorner.map(cornerJson),
        proven: figure.proven,
        assumptions: figure.assumptions,
      };
  }
}

function cornerJson({ what, value, unit }: { what: string; value: number; unit: string }) {
  return { what, value: finite(value), unit };
}

function finite(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}

export function caseJson(each: NonNullable<Report['sites'][number]['figures']>[number]) {
  return {
    name: each.name,
    ...(each.description === undefined ? {} : { description: each.description }),
    moments: each.moments.map((moment) => ({
      seconds: finite(moment.time),
      label: moment.label,
      othersAsAtRest: !moment.complete,
      parts: moment.rows.map((row) => ({
        name: row.name,
        kind: row.kind,
        states: row.states,
        figures: row.figures.map((each) => ({
          quantity: each.quantity,
          ...(each.between === undefined ? {} : { between: each.between }),
          ...figureJson(each.figure),
        })),
      })),
    })),
  };
}

export function supplyJson(row: SupplyRow) {
  const { curve, figures, kind, name, says } = row;
  return {
    name,
    kind,
    says,
    figures: figures.map(namedJson),
    ...(curve === undefined
      ? {}
      : {
          runtimes: curve.map(({ amps, least, most, usual }) => ({
            amps,
            seconds: { least: finite(least), usual: finite(usual), most: finite(most) },
          })),
        }),
  };
}
