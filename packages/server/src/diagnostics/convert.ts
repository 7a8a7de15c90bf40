/** Findings and the documents' own diagnostics in the protocol's form. */
import type { ProjectFinding, Severity } from '@couplet/project';
import { isComputed, isRuleName } from '@couplet/rules';
import { type Diagnostic, DiagnosticSeverity } from 'vscode-languageserver';

const SOURCE = 'couplet';

const SEVERITIES: Record<Severity, DiagnosticSeverity> = {
  error: DiagnosticSeverity.Error,
  warning: DiagnosticSeverity.Warning,
  information: DiagnosticSeverity.Information,
};

/**
 * A finding of a whole site. An accepted one stays visible as a hint that says why it is tolerated.
 * @param rulePages URI of the folder that holds the pages of the rules; without it codes lead nowhere.
 */
export function fromFinding(finding: ProjectFinding, rulePages?: string): Diagnostic {
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
    ...pageOf(code, rulePages),
    severity: accepted === undefined ? SEVERITIES[severity] : DiagnosticSeverity.Hint,
    message: site === undefined ? message : `${message} (in ${site})`,
    range: { start: place.start, end: place.end },
    relatedInformation,
  };
}

/** Codes of the language have no page. */
function pageOf(code: string, rulePages: string | undefined): Pick<Diagnostic, 'codeDescription'> {
  if (rulePages === undefined || !isRuleName(code) || !isComputed(code)) return {};
  return { codeDescription: { href: `${rulePages.replace(/\/$/, '')}/${code}.md` } };
}

/** A diagnostic of lexer, parser, linker or a check of the language: the first three keep their code in `data` only. */
export function fromDocument(diagnostic: Diagnostic): Diagnostic {
  const code = diagnostic.code ?? (diagnostic.data as { code?: string } | undefined)?.code;
  return { ...diagnostic, source: SOURCE, ...(code === undefined ? {} : { code }) };
}
