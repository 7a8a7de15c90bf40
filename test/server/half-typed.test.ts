/** No feature throws on a text that ends anywhere. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { selectionRanges } from '../../packages/server/src/features/selection.ts';
import { root } from './client.ts';
import { Desk, FOLDER } from './desk.ts';

const TEXT = readFileSync(join(root, 'examples/cold-store/site.couplet'), 'utf8');

/** Characters between two ends; a prime, so that every kind of token is cut somewhere. */
const STEP = 23;

test('colours, links, value help, outline, symbols and selections answer at every end', async () => {
  const desk = new Desk();
  const { couplet, shared } = desk.services;
  let asked = 0;
  for (let end = 0; end <= TEXT.length; end += STEP) {
    await desk.write({ 'site.couplet': TEXT.slice(0, end) });
    const document = desk.document('site.couplet');
    const textDocument = { uri: `${FOLDER}site.couplet` };
    const position = document.textDocument.positionAt(end);
    const context = { isRetrigger: false, triggerKind: 1 as const };
    const tokens = await couplet.lsp.SemanticTokenProvider?.semanticHighlight(document, { textDocument });
    expect((tokens?.data.length ?? 0) % 5).toBe(0);
    await couplet.lsp.DocumentLinkProvider?.getDocumentLinks(document, { textDocument });
    await couplet.lsp.SignatureHelp?.provideSignatureHelp(document, { textDocument, position, context });
    await couplet.lsp.FoldingRangeProvider?.getFoldingRanges(document, { textDocument });
    await couplet.lsp.DocumentHighlightProvider?.getDocumentHighlight(document, { textDocument, position });
    await shared.lsp.WorkspaceSymbolProvider?.getSymbols({ query: 'a' });
    const [chain] = selectionRanges(document, [position]);
    expect(chain).toBeDefined();
    asked += 1;
  }
  expect(asked).toBeGreaterThan(70);
}, 60_000);
