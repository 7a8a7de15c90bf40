/** Syntax and name findings with codes, one a statement and one a mistake; then the checks of the registry. */
import {
  Cancellation,
  DefaultDocumentValidator,
  interruptAndCheck,
  type LangiumDocument,
  type ParseResult,
  type ValidationCheck,
  type ValidationOptions,
} from 'langium';
import { isBundledUri } from '../files/bundled.ts';
import type { CoupletServices } from '../module.ts';
import type { CoupletLinkingError } from '../references/linker.ts';
import { NODES_A_TURN, nodesOf } from '../references/walk.ts';
import { withoutConsequences } from './consequences.ts';
import { wrongName } from './names.ts';
import type { FindingData } from './report.ts';
import { syntaxFindings } from './syntax.ts';

type Diagnostics = Parameters<DefaultDocumentValidator['processLinkingErrors']>[1];

/** Beyond so many wrong names in a file the nearest ones are not looked for any more. */
const MOST_SUGGESTED = 100;

export class CoupletDocumentValidator extends DefaultDocumentValidator {
  private readonly services: CoupletServices;

  constructor(services: CoupletServices) {
    super(services);
    this.services = services;
  }

  override async validateDocument(...[document, ...rest]: Parameters<DefaultDocumentValidator['validateDocument']>) {
    if (isBundledUri(document.uri.toString())) return [];
    const diagnostics = await super.validateDocument(document, ...rest);
    return withoutConsequences(document, diagnostics);
  }

  /** As the library does it, without a stream of checks for every node; categories are not used here. */
  protected override async validateAstNodes(
    ...[root, , accept, token]: Parameters<DefaultDocumentValidator['validateAstNodes']>
  ): Promise<void> {
    const byType = new Map<string, readonly ValidationCheck[]>();
    let turn = 0;
    for (const node of nodesOf(root)) {
      if (turn++ % NODES_A_TURN === 0) await interruptAndCheck(token ?? Cancellation.CancellationToken.None);
      let checks = byType.get(node.$type);
      if (checks === undefined) {
        checks = this.validationRegistry.getChecks(node.$type).toArray();
        byType.set(node.$type, checks);
      }
      for (const check of checks) await check(node, accept, token ?? Cancellation.CancellationToken.None);
    }
  }

  protected override processLexingErrors(): void {
    // Told with the parser's: at most one syntax finding a statement.
  }

  protected override processParsingErrors(parsed: ParseResult, diagnostics: Diagnostics, _: ValidationOptions): void {
    const document = parsed.value.$document;
    if (document === undefined) return;
    const { textDocument } = document;
    for (const { message, start, end } of syntaxFindings(textDocument.getText(), parsed, this.services.parser.Lexer)) {
      diagnostics.push({
        severity: 1,
        range: { start: textDocument.positionAt(start), end: textDocument.positionAt(end) },
        message,
        code: 'syntax-error',
        data: { code: 'syntax-error' } satisfies FindingData,
        source: this.getSource(),
      });
    }
  }

  protected override processLinkingErrors(
    document: LangiumDocument,
    diagnostics: Diagnostics,
    _: ValidationOptions,
  ): void {
    const told = new Set<string>();
    for (const reference of document.references) {
      const error = reference.error as CoupletLinkingError | undefined;
      const range = reference.$refNode?.range;
      if (error === undefined || error.silent === true || range === undefined) continue;
      const { message, suggestion } = wrongName(error, this.services.references.Resolver, told.size < MOST_SUGGESTED);
      // The parts of one name with hyphens give one finding.
      const key = `${range.start.line} ${message}`;
      if (told.has(key)) continue;
      told.add(key);
      const data = { code: 'name-unknown', suggestion } satisfies FindingData;
      diagnostics.push({ severity: 1, range, message, code: data.code, data, source: this.getSource() });
    }
  }
}
