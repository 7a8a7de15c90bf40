/** What the language's own services say of a document, in the shape of all findings. */
import type { LangiumDocument } from 'langium';
import type { ProjectFinding, RelatedPlace, Severity } from './finding.ts';

type Diagnostic = NonNullable<LangiumDocument['diagnostics']>[number];

/** By the number of the language-server protocol: 1 error, 2 warning, 3 information, 4 hint. */
const SEVERITIES: readonly (Severity | undefined)[] = [undefined, 'error', 'warning', 'information', 'information'];

export function findingsOf(document: LangiumDocument): ProjectFinding[] {
  const uri = document.uri.toString();
  return (document.diagnostics ?? []).map((diagnostic) => fromDiagnostic(uri, diagnostic));
}

function fromDiagnostic(uri: string, diagnostic: Diagnostic): ProjectFinding {
  const { message, range, relatedInformation, severity } = diagnostic;
  const likely = (diagnostic.data as { suggestion?: string } | undefined)?.suggestion;
  const related = (relatedInformation ?? []).map((each): RelatedPlace => {
    const { location } = each;
    return {
      message: each.message,
      place: { uri: location.uri, start: location.range.start, end: location.range.end },
    };
  });
  return {
    code: codeOf(diagnostic),
    severity: SEVERITIES[severity ?? 1] ?? 'error',
    message: typeof message === 'string' ? message : message.value,
    place: { uri, start: range.start, end: range.end },
    related,
    figures: [],
    roots: [],
    ...(likely === undefined ? {} : { likely }),
  };
}

/** Lexer, parser and linker keep their code in `data`. */
function codeOf({ code, data }: Diagnostic): string {
  return String(code ?? (data as { code?: unknown } | undefined)?.code ?? 'language');
}
