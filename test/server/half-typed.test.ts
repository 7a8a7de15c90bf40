/** Every text is half typed most of the time: no feature throws on one that ends anywhere, and no finding outlives its text. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { CheckedSites } from '@couplet/server';
import { expect, onTestFinished, test, vi } from 'vitest';
import { type Diagnostic, LSPErrorCodes, type PublishDiagnosticsParams, ResponseError } from 'vscode-languageserver';
import { findSpot } from '../../packages/server/src/completion/spot.ts';
import { Publisher } from '../../packages/server/src/diagnostics/publisher.ts';
import { selectionRanges } from '../../packages/server/src/features/selection.ts';
import { root } from './client.ts';
import { Desk, FOLDER } from './desk.ts';

const EXAMPLES = join(root, 'examples');
const NAMES = readdirSync(EXAMPLES, { recursive: true, encoding: 'utf8' })
  .filter((name) => name.endsWith('.couplet') && !name.startsWith('mistakes'))
  .sort();
const textOf = (name: string) => readFileSync(join(EXAMPLES, name), 'utf8');

/** Characters between two ends; a prime, so that every kind of token is cut somewhere. */
const STEP = 53;

/** Logged errors are failures: what throws inside a check or a handler is caught there and logged. */
function expectNoErrors(): void {
  const logged = vi.spyOn(console, 'error').mockImplementation(() => {});
  onTestFinished(() => {
    expect(logged.mock.calls).toEqual([]);
    logged.mockRestore();
  });
}

/** A name that stays as it is is refused with a sentence for the person; any other error is one. */
async function refusable<T>(ask: () => Promise<T>): Promise<T | string> {
  try {
    return await ask();
  } catch (error) {
    if (error instanceof ResponseError && error.code === LSPErrorCodes.RequestFailed) return error.message;
    throw error;
  }
}

/** Everything that an editor may ask while the cursor stands at the end of the text. */
async function askEverything(desk: Desk, name: string): Promise<number> {
  const { couplet, shared } = desk.services;
  const document = desk.document(name);
  const end = document.textDocument.getText().length;
  const textDocument = { uri: document.uri.toString() };
  const position = document.textDocument.positionAt(end);
  const at = { textDocument, position };
  const options = { tabSize: 2, insertSpaces: true };
  const lsp = couplet.lsp;
  const answers = [
    await lsp.CompletionProvider?.getCompletion(document, at),
    await lsp.HoverProvider?.getHoverContent(document, at),
    await lsp.SignatureHelp?.provideSignatureHelp(document, { ...at, context: { isRetrigger: false, triggerKind: 1 } }),
    await lsp.DefinitionProvider?.getDefinition(document, at),
    await lsp.ReferencesProvider?.findReferences(document, { ...at, context: { includeDeclaration: true } }),
    await refusable(async () => lsp.RenameProvider?.prepareRename(document, at)),
    await lsp.DocumentHighlightProvider?.getDocumentHighlight(document, at),
    await lsp.DocumentSymbolProvider?.getSymbols(document, { textDocument }),
    await lsp.DocumentLinkProvider?.getDocumentLinks(document, { textDocument }),
    await lsp.FoldingRangeProvider?.getFoldingRanges(document, { textDocument }),
    await lsp.SemanticTokenProvider?.semanticHighlight(document, { textDocument }),
    await lsp.Formatter?.formatDocument(document, { textDocument, options }),
    await lsp.Formatter?.formatDocumentOnType(document, { ...at, ch: '}', options }),
    await lsp.Formatter?.formatDocumentOnType(document, { ...at, ch: '\n', options }),
    await shared.lsp.WorkspaceSymbolProvider?.getSymbols({ query: 'a' }),
    selectionRanges(document, [position]),
  ];
  return answers.filter((answer) => answer !== undefined).length;
}

test.each(NAMES)(
  '%s: every feature answers at every end',
  async (name) => {
    expectNoErrors();
    const text = textOf(name);
    const desk = await Desk.with(Object.fromEntries(NAMES.map((each) => [each, textOf(each)])));
    for (let end = 0; end <= text.length; end += STEP) {
      await desk.write({ [name]: text.slice(0, end) });
      // Hover, definition and the like may have nothing to say; what tells of the whole file always has.
      expect(await askEverything(desk, name), text.slice(Math.max(0, end - 40), end)).toBeGreaterThanOrEqual(8);
    }
  },
  300_000,
);

test('what can be written is told at every character of every example', () => {
  for (const name of NAMES) {
    const text = textOf(name);
    for (let end = 0; end <= text.length; end += 1) {
      const { start } = findSpot(text, end);
      expect(start).toBeLessThanOrEqual(end);
    }
  }
}, 120_000);

/** A desk whose sites are checked, with what is shown of each file. */
async function checking(files: Record<string, string>) {
  const desk = new Desk();
  const shown = new Map<string, readonly Diagnostic[]>();
  desk.services.sites.current = new CheckedSites(desk.services);
  const sendDiagnostics = async (params: PublishDiagnosticsParams) => void shown.set(params.uri, params.diagnostics);
  new Publisher(desk.services.shared, { sendDiagnostics }, desk.services.sites.current);
  await desk.write(files);
  const said = () =>
    [...shown].flatMap(([uri, all]) =>
      all.map(({ code, message, range }) => `${uri} ${JSON.stringify(range)} ${code} ${message}`),
    );
  return { desk, said: () => said().sort() };
}

test('typed a character at a time, what is shown is what a fresh check finds', async () => {
  expectNoErrors();
  const site = 'tidewater-mill/site.couplet';
  const types = ['pit-controller', 'panel-eight-zones', 'signal-relay'].map((name) => `types/${name}.couplet`);
  const others = Object.fromEntries(types.map((name) => [name, textOf(name)]));
  const text = textOf(site);
  const from = text.indexOf('load P1');
  const to = from + 120;
  const { desk, said } = await checking({ ...others, [site]: text.slice(0, from) });
  let compared = 0;
  for (let end = from; end <= to; end += 1) {
    await desk.write({ [site]: text.slice(0, end) });
    if ((end - from) % 17 !== 0) continue;
    const fresh = await checking({ ...others, [site]: text.slice(0, end) });
    expect(said(), text.slice(from, end)).toEqual(fresh.said());
    compared += 1;
  }
  await desk.write({ [site]: text });
  const whole = await checking({ ...others, [site]: text });
  expect(said()).toEqual(whole.said());
  expect(said().filter((line) => line.includes(FOLDER + site)).length).toBeGreaterThan(0);
  expect(compared).toBeGreaterThan(5);
}, 300_000);
