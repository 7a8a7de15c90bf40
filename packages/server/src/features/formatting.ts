/**
 * Layout on request and while typing. While typing only the statement is touched that has just been ended, by its last
 * brace or by a line end behind it: nothing may move under the cursor.
 */
import { type CoupletServices, type FormatEdit, format } from '@couplet/language';
import type { LangiumDocument } from 'langium';
import type { Formatter } from 'langium/lsp';
import {
  type DocumentFormattingParams,
  type DocumentOnTypeFormattingParams,
  type DocumentRangeFormattingParams,
  TextEdit,
} from 'vscode-languageserver';

export class CoupletFormatter implements Formatter {
  readonly formatOnTypeOptions = { firstTriggerCharacter: '}', moreTriggerCharacter: ['\n'] };
  private readonly services: CoupletServices;

  constructor(services: CoupletServices) {
    this.services = services;
  }

  formatDocument(document: LangiumDocument, _params: DocumentFormattingParams): TextEdit[] {
    return this.edits(document, () => true);
  }

  /** Statements that the range touches, and the blank lines inside it. */
  formatDocumentRange(document: LangiumDocument, { range }: DocumentRangeFormattingParams): TextEdit[] {
    const start = document.textDocument.offsetAt(range.start);
    const end = document.textDocument.offsetAt(range.end);
    return this.edits(document, ({ within }, isGap) =>
      isGap ? within.start >= start && within.end <= end : within.start < end && within.end > start,
    );
  }

  formatDocumentOnType(document: LangiumDocument, { ch, position }: DocumentOnTypeFormattingParams): TextEdit[] {
    const { textDocument } = document;
    const cursor = textDocument.offsetAt(position);
    if (ch === '}') return this.edits(document, ({ within }, isGap) => !isGap && within.end === cursor);
    const above = position.line - 1;
    return this.edits(
      document,
      ({ within }, isGap) => !isGap && within.end < cursor && textDocument.positionAt(within.end).line === above,
    );
  }

  private edits(document: LangiumDocument, wanted: (edit: FormatEdit, isGap: boolean) => boolean): TextEdit[] {
    const { textDocument } = document;
    const text = textDocument.getText();
    return format(text, this.services)
      .edits.filter((edit) => wanted(edit, text.slice(edit.within.start, edit.within.end).trim() === ''))
      .map(({ end, start, text: newText }) =>
        TextEdit.replace({ start: textDocument.positionAt(start), end: textDocument.positionAt(end) }, newText),
      );
  }
}
