/**
 * Requests whose answers are computed figures: they wait for the pass that computes them. They wait outside the workspace's
 * lock, which that pass needs, and no longer than a person would.
 */
import { DocumentState, isOperationCancelled } from 'langium';
import { createRequestHandler, createServerRequestHandler } from 'langium/lsp';
import {
  type CancellationToken,
  type ClientCapabilities,
  CodeLensRefreshRequest,
  type Connection,
  InlayHintRefreshRequest,
  LSPErrorCodes,
  type Position,
  ResponseError,
  type ServerCapabilities,
} from 'vscode-languageserver';
import type { TextDocument } from 'vscode-languageserver-textdocument';
import { type Publisher, pauseFor } from './diagnostics/publisher.ts';
import { caseOutcomes, caseTests, type RunCasesParams } from './features/cases.ts';
import { type FaultsParams, siteFaults } from './features/faults.ts';
import { figureHints } from './features/figure-hints.ts';
import { FIX_KINDS, FixActions, isCalledOff } from './features/fixes.ts';
import { selectionRanges } from './features/selection.ts';
import { ZoneLenses } from './features/zone-lenses.ts';
import { addPreviewHandlers } from './preview/handlers.ts';
import type { ServerServices } from './services.ts';
import { Settings } from './settings.ts';

/**
 * Milliseconds that a hover waits for the first figures, and for those of a newer text when there are some already;
 * without any it says what the file alone says.
 */
const FIRST_HOVER_WAITS = 5000;
const HOVER_WAITS = 500;

/** Milliseconds that figures beside the text and fixes wait; without a pass there are none. */
const FIGURES_WAIT = 10_000;

/** Milliseconds that a run of cases waits: somebody asked for it, and sees that it runs. */
const CASES_WAIT = 120_000;

/** Binds them, and says what the server can do by them. */
export function addFigureHandlers(
  connection: Connection,
  { shared, sites }: ServerServices,
  publisher: Publisher,
): ServerCapabilities {
  const settings = new Settings(shared);
  const fixes = new FixActions(() => sites.current);
  const lenses = new ZoneLenses();

  const hover = createRequestHandler(
    (services, document, params: Parameters<Parameters<Connection['onHover']>[0]>[0], token) =>
      services.lsp?.HoverProvider?.getHoverContent(document, params, token),
    shared,
    DocumentState.IndexedReferences,
  );
  connection.onHover(async (params, token) => {
    const atMost = sites.current?.sitesOf(params.textDocument.uri).length === 0 ? FIRST_HOVER_WAITS : HOVER_WAITS;
    await publisher.upToDate(atMost, token, params.textDocument.uri);
    return hover(params, token) as never;
  });

  connection.onCodeAction(async (params, token) => {
    if (!(await publisher.upToDate(FIGURES_WAIT, token, params.textDocument.uri))) return [];
    try {
      return await fixes.actions(params, token);
    } catch (error) {
      if (isCalledOff(error)) return calledOff();
      throw error;
    }
  });

  connection.onCodeLens(async ({ textDocument }, token) => {
    if (!settings.zoneReadings || !(await publisher.upToDate(FIGURES_WAIT, token, textDocument.uri))) return [];
    return lenses.inFile(sites.current, textDocument.uri);
  });
  connection.onCodeLensResolve(async (lens, token) => {
    await publisher.upToDate(HOVER_WAITS, token, (lens.data as { uri?: string } | undefined)?.uri);
    return lenses.told(sites.current, lens);
  });

  connection.languages.inlayHint.on(async ({ range, textDocument }, token) => {
    if (!settings.inlayFigures || !(await publisher.upToDate(FIGURES_WAIT, token, textDocument.uri))) return [];
    const text = shared.workspace.TextDocuments.get(textDocument.uri);
    if (text === undefined) return [];
    return figureHints(sites.current, textDocument.uri, range, (start, name) => endOfName(text, start, name));
  });

  const selection = createServerRequestHandler(
    (_services, document, params: { textDocument: { uri: string }; positions: Position[] }) =>
      selectionRanges(document, params.positions),
    shared,
    DocumentState.Parsed,
  );
  connection.onSelectionRanges((params, token) => selection(params, token) as never);

  const computed = async (token: CancellationToken) => publisher.upToDate(FIGURES_WAIT, token);
  connection.onRequest('couplet/cases', async (token: CancellationToken) => {
    await computed(token);
    return caseTests(sites.current);
  });
  connection.onRequest('couplet/runCases', async (params: RunCasesParams, token: CancellationToken) => {
    await publisher.upToDate(CASES_WAIT, token);
    return caseOutcomes(sites.current, params ?? {});
  });
  connection.onRequest('couplet/faults', async (params: FaultsParams | null, token: CancellationToken) => {
    await computed(token);
    try {
      return await siteFaults(sites.current, params ?? {}, pauseFor(token));
    } catch (error) {
      if (isOperationCancelled(error)) return calledOff();
      throw error;
    }
  });
  addPreviewHandlers(connection, { shared, sites }, publisher);

  return {
    hoverProvider: true,
    codeActionProvider: { codeActionKinds: [...FIX_KINDS] },
    codeLensProvider: { resolveProvider: true },
    inlayHintProvider: {},
    selectionRangeProvider: true,
  };
}

function calledOff(): ResponseError<void> {
  return new ResponseError(LSPErrorCodes.RequestCancelled, 'The request was cancelled.');
}

/** After a pass, figures beside the text may be others, also in files that nobody touched. */
export function refresherFor(connection: Connection, { workspace }: ClientCapabilities): () => void {
  const requests = [
    ...(workspace?.codeLens?.refreshSupport ? [CodeLensRefreshRequest.method] : []),
    ...(workspace?.inlayHint?.refreshSupport ? [InlayHintRefreshRequest.method] : []),
  ];
  return () => {
    for (const method of requests) connection.sendRequest(method).catch(() => undefined);
    void connection.sendNotification('$/couplet/checked').catch(() => undefined);
  };
}

/** Where a name ends in the statement that begins at a place; a name with a prefix stands there without it. */
function endOfName(text: TextDocument, start: Position, name: string): Position | undefined {
  const line = text.getText({ start, end: { line: start.line + 1, character: 0 } });
  const last = name.slice(name.lastIndexOf('.') + 1);
  const at = new RegExp(`(?<![\\w.-])${last.replaceAll(/[^\w]/g, '\\$&')}(?![\\w-])`).exec(line)?.index;
  return at === undefined ? undefined : { line: start.line, character: start.character + at + last.length };
}
