/** What is accepted, what is open, and what the figures rest on. */
import type { Section, SheetFinding, SheetInput } from './model.ts';

export function acceptedFindings({ findings }: SheetInput): Section | undefined {
  const rows = findings.flatMap((finding) =>
    finding.accepted === undefined
      ? []
      : [[finding.code, finding.message, finding.accepted.because, finding.accepted.until ?? 'no date', '']],
  );
  if (rows.length === 0) return undefined;
  return {
    heading: 'Accepted findings',
    notes: [],
    table: { columns: ['rule', 'finding', 'because', 'until', 'signed'], rows },
  };
}

/** Errors and warnings that nobody accepted. */
export function openFindings({ findings }: SheetInput): Section | undefined {
  const open = (finding: SheetFinding) => finding.accepted === undefined && finding.severity !== 'information';
  const rows = findings.filter(open).map((finding) => [finding.severity, finding.code, finding.message]);
  if (rows.length === 0) return { heading: 'Open findings', notes: ['None: no error and no warning is open.'] };
  return { heading: 'Open findings', notes: [], table: { columns: ['severity', 'rule', 'finding'], rows } };
}
