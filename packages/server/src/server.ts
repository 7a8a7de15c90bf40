/** A language server on a connection: the protocol's requests bound to the services, and one publisher of diagnostics. */

import { BUNDLED_SCHEME } from '@couplet/language';
import { URI } from 'langium';
import {
  addCallHierarchyHandler,
  addConfigurationChangeHandler,
  addDocumentHighlightHandler,
  addDocumentLinkHandler,
  addDocumentSymbolHandler,
  addDocumentUpdateHandler,
  addExecuteCommandHandler,
  addFileOperationHandler,
  addFindReferencesHandler,
  addFoldingRangeHandler,
  addFormattingHandler,
  addGotoDefinitionHandler,
  addRenameHandler,
  addSemanticTokenHandler,
  addSignatureHelpHandler,
  addWorkspaceSymbolHandler,
  type DefaultSharedModuleContext,
  type LangiumSharedServices,
} from 'langium/lsp';
import type { CancellationToken, Connection, InitializeParams } from 'vscode-languageserver';
import { addCompletionHandlers } from './completion/handlers.ts';
import { Publisher } from './diagnostics/publisher.ts';
import { addFigureHandlers, refresherFor } from './figure-handlers.ts';
import type { ClientFiles } from './files/client-files.ts';
import { LoadingProgress } from './progress.ts';
import { createServerServices, type ServerServices } from './services.ts';
import type { Sites } from './sites/seam.ts';
import { UpdateHandler } from './update-handler.ts';
import { WorkspaceLoader } from './workspace.ts';

/**
 * Langium's own list but for its diagnostics, which leave through the publisher only, for what shows computed figures,
 * which waits for the computation (`figure-handlers.ts`), and for completion, which does not wait for the newest tree.
 */
const HANDLERS: readonly ((connection: Connection, services: LangiumSharedServices) => void)[] = [
  addDocumentUpdateHandler,
  addFileOperationHandler,
  addConfigurationChangeHandler,
  addFindReferencesHandler,
  addDocumentSymbolHandler,
  addGotoDefinitionHandler,
  addDocumentHighlightHandler,
  addFoldingRangeHandler,
  addFormattingHandler,
  addRenameHandler,
  addSemanticTokenHandler,
  addExecuteCommandHandler,
  addSignatureHelpHandler,
  addCallHierarchyHandler,
  addDocumentLinkHandler,
  addWorkspaceSymbolHandler,
];

export interface ServerOptions {
  readonly connection: Connection;
  readonly fileSystemProvider: DefaultSharedModuleContext['fileSystemProvider'];
  /** The part of the file system that the client reads, where it does. */
  readonly clientFiles?: ClientFiles;
  /** Makes what checks whole sites on the services' documents; without it only syntax and names are checked. */
  readonly makeSites?: (services: ServerServices) => Sites;
  readonly version: string;
}

/** Starts serving; returns at once. */
export function startServer({
  clientFiles,
  connection,
  fileSystemProvider,
  makeSites,
  version,
}: ServerOptions): ServerServices {
  const services = createServerServices({ connection, fileSystemProvider });
  const { shared } = services;
  services.sites.current = makeSites?.(services);
  const publisher = new Publisher(shared, connection, services.sites.current);
  const updates = shared.lsp.DocumentUpdateHandler;
  const progress = new LoadingProgress(connection);
  const loader = shared.workspace.WorkspaceManager;
  if (updates instanceof UpdateHandler && loader instanceof WorkspaceLoader) {
    updates.afterUpdate = (token) => settle(shared, publisher, services.sites.current, token);
    publisher.isLoading = () => loader.isLoading;
    loader.load = (files) => updates.load(files);
    loader.onProgress = (loaded, total) => {
      progress.report(loaded, total);
      if (publisher.isUpToDate) progress.end();
    };
  }

  for (const addHandler of HANDLERS) addHandler(connection, shared);
  addCompletionHandlers(connection, services);
  const ownCapabilities = addFigureHandlers(connection, services, publisher);
  connection.onInitialize(async (params) => {
    publisher.rulePages = rulePagesOf(params);
    if (clientFiles !== undefined) clientFiles.offered = params.initializationOptions?.readsFiles === true;
    const refresh = refresherFor(connection, params.capabilities);
    publisher.afterPass = () => {
      refresh();
      if (publisher.isUpToDate) progress.end();
    };
    const { capabilities, ...result } = await shared.lsp.LanguageServer.initialize(params);
    const completionProvider = { ...capabilities.completionProvider, resolveProvider: true };
    const workspace = { ...capabilities.workspace, textDocumentContent: { schemes: [BUNDLED_SCHEME] } };
    return {
      ...result,
      capabilities: { ...capabilities, ...ownCapabilities, completionProvider, workspace },
      serverInfo: { name: 'couplet', version },
    };
  });
  connection.workspace.textDocumentContent.on(({ uri }) => {
    const document = shared.workspace.LangiumDocuments.getDocument(URI.parse(uri));
    return document === undefined ? null : { text: document.textDocument.getText() };
  });
  connection.onInitialized((params) => shared.lsp.LanguageServer.initialized(params));
  shared.workspace.TextDocuments.listen(connection);
  connection.listen();
  return services;
}

/**
 * `initializationOptions: { rulePages: URI }` names the folder that holds the pages of the rules, so that an editor can
 * open the page of a finding; the server itself does not know where it was installed.
 */
function rulePagesOf({ initializationOptions, capabilities }: InitializeParams): string | undefined {
  if (capabilities.textDocument?.publishDiagnostics?.codeDescriptionSupport !== true) return undefined;
  const pages: unknown = initializationOptions?.rulePages;
  return typeof pages === 'string' && URL.canParse(pages) ? pages : undefined;
}

/** Checks the sites; files that they use and that are not loaded yet are loaded, until nothing new turns up. */
async function settle(
  shared: LangiumSharedServices,
  publisher: Publisher,
  sites: Sites | undefined,
  token: CancellationToken,
): Promise<void> {
  const tried = new Set<string>();
  for (;;) {
    await publisher.checkSites(token);
    const fresh = (sites?.unloaded() ?? []).filter((uri) => !tried.has(uri.toString()));
    if (fresh.length === 0) return;
    for (const uri of fresh) tried.add(uri.toString());
    await shared.workspace.DocumentBuilder.update(fresh, [], token);
  }
}
