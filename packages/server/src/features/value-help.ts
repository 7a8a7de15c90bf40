/** What may stand behind a property while its value is written: its forms, its meaning, what it is taken as otherwise. */
import { formWords, type PropertyRow, propertyRow, type Subject } from '@couplet/language';
import type { LangiumDocument } from 'langium';
import type { SignatureHelpProvider } from 'langium/lsp';
import type { SignatureHelp, SignatureHelpOptions, SignatureHelpParams } from 'vscode-languageserver';
import { findSpot, type Spot } from '../completion/spot.ts';

export class ValueHelp implements SignatureHelpProvider {
  get signatureHelpOptions(): SignatureHelpOptions {
    return { triggerCharacters: [':', '='], retriggerCharacters: [','] };
  }

  provideSignatureHelp(
    { textDocument }: LangiumDocument,
    { position }: SignatureHelpParams,
  ): SignatureHelp | undefined {
    const { spot } = findSpot(textDocument.getText(), textDocument.offsetAt(position));
    const row = rowAt(spot.at === 'unit' ? spot.of : spot);
    if (row === undefined) return undefined;
    const otherwise =
      row.default === undefined ? '' : ` Taken as ${row.default.text} where it is not given (${row.default.origin}).`;
    const label = `${row.name === '=' ? '=' : `${row.name}:`} ${formWords(row)}`;
    const documentation = `${row.says}${otherwise}`;
    return { signatures: [{ label, documentation, parameters: [] }], activeSignature: 0, activeParameter: null };
  }
}

function rowAt(spot: Spot): PropertyRow | undefined {
  if (spot.at === 'rating') return propertyRow(spot.subject, '=');
  if (spot.at !== 'value' || spot.owner.length > 0 || spot.subject === 'case' || spot.subject === 'measured')
    return undefined;
  return propertyRow(spot.subject as Subject, spot.property);
}
