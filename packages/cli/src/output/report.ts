/** What a check hands to whatever writes it down: one shape for every format. */
import type { CaseFigures, ProjectFinding, Severity } from '@couplet/project';

export interface ReportedSite {
  readonly root: string;
  readonly title: string;
  /** A file without `site`, checked alone. */
  readonly fragment: boolean;
  readonly files: readonly string[];
  /** Findings that may follow from errors of syntax, names and values, and are not told before these are mended. */
  readonly heldBack: number;
  /** Present where figures were asked for. */
  readonly figures?: readonly CaseFigures[];
}

export interface Report {
  readonly sites: readonly ReportedSite[];
  /** In listing order; accepted ones among them. */
  readonly findings: readonly ProjectFinding[];
  /** Rules of the registry that this version computes, and all of them. */
  readonly rules: { readonly computed: number; readonly all: number };
  /** ISO date that acceptances were judged by. */
  readonly today: string;
  readonly version: string;
  /** How an address is shown. */
  show(uri: string): string;
}

/** Findings that nobody accepted, by severity, and accepted ones. */
export function countFindings(findings: readonly ProjectFinding[]): Record<Severity | 'accepted', number> {
  const counts = { error: 0, warning: 0, information: 0, accepted: 0 };
  for (const finding of findings) counts[finding.accepted === undefined ? finding.severity : 'accepted'] += 1;
  return counts;
}

/** '1 error', '2 errors', 'no errors'. */
export function counted(count: number, one: string, many = `${one}s`): string {
  return `${count === 0 ? 'no' : count} ${count === 1 ? one : many}`;
}

/** Lines and columns as people count them, from 1. */
export function position(place: ProjectFinding['place'], show: (uri: string) => string): string {
  return `${show(place.uri)}:${place.start.line + 1}:${place.start.character + 1}`;
}
