/** Findings and the documents' own diagnostics in the protocol's form. */
import type { ProjectFinding, Severity } from '@couplet/project';
import { type Diagnostic, DiagnosticSeverity } from 'vscode-languageserver';

const SOURCE = 'couplet';

const SEVERITIES: Record<Severity, DiagnosticSeverity> = {
  error: DiagnosticSeverity.Error,
  warning: DiagnosticSeverity.Warning,
  information: DiagnosticSeverity.Information,
};

/** A finding of a whole site. An accepted one stays visible as a hint that says why it is tolerated. */
export function fromFinding(finding: ProjectFinding): Diagnostic {
  const { code, severity, message, place, related, accepted, site } = finding;
  const relatedInformation = related.map((other) => ({
    location: { uri: other.place.uri, range: { start: other.place.start, end: other.place.end } },
    message: other.message,
  }));
  if (accepted !== undefined) {
    const until = accepted.until === undefined ? '' : ` until ${accepted.until}`;
    relatedInformation.push({
      location: { uri: accepted.place.uri, range: { start: accepted.place.start, end: accepted.place.end } },
      message: `accepted${until}: ${accepted.because}`,
    });
  }
  return {
    source: SOURCE,
    code,
    severity: accepted === undefined ? SEVERITIES[severity] : DiagnosticSeverity.Hint,
    message: site === undefined ? message : `${message} (in ${site})`,
    range: { start: place.start, end: place.end },
    relatedInformation,
  };
}

/** A diagnostic of lexer, parser, linker or a check of the language: the first three keep their code in `data` only. */
export function fromDocument(diagnostic: Diagnostic): Diagnostic {
  const code = diagnostic.code ?? (diagnostic.data as { code?: string } | undefined)?.code;
  return { ...diagnostic, source: SOURCE, ...(code === undefined ? {} : { code }) };
}
