/** A language server on a connection: the protocol's requests bound to the services, and one publisher of diagnostics. */
import {
  addCallHierarchyHandler,
  addCodeActionHandler,
  addCodeLensHandler,
  addCompletionHandler,
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
  addHoverHandler,
  addInlayHintHandler,
  addRenameHandler,
  addSemanticTokenHandler,
  addSignatureHelpHandler,
  addWorkspaceSymbolHandler,
  type DefaultSharedModuleContext,
  type LangiumSharedServices,
} from 'langium/lsp';
import type { Connection } from 'vscode-languageserver';
import { Publisher } from './diagnostics/publisher.ts';
import { createServerServices, type ServerServices } from './services.ts';
import type { Sites } from './sites.ts';
import { UpdateHandler } from './update-handler.ts';

/** Langium's own list but for its diagnostics: those leave through the publisher only. */
const HANDLERS: readonly ((connection: Connection, services: LangiumSharedServices) => void)[] = [
  addDocumentUpdateHandler,
  addFileOperationHandler,
  addConfigurationChangeHandler,
  addCompletionHandler,
  addFindReferencesHandler,
  addDocumentSymbolHandler,
  addGotoDefinitionHandler,
  addDocumentHighlightHandler,
  addFoldingRangeHandler,
  addFormattingHandler,
  addCodeActionHandler,
  addRenameHandler,
  addHoverHandler,
  addInlayHintHandler,
  addSemanticTokenHandler,
  addExecuteCommandHandler,
  addSignatureHelpHandler,
  addCallHierarchyHandler,
  addCodeLensHandler,
  addDocumentLinkHandler,
  addWorkspaceSymbolHandler,
];

export interface ServerOptions {
  readonly connection: Connection;
  readonly fileSystemProvider: DefaultSharedModuleContext['fileSystemProvider'];
  /** Makes what checks whole sites on the services' documents; without it only syntax and names are checked. */
  readonly makeSites?: (services: ServerServices) => Sites;
  readonly version: string;
}

/** Starts serving; returns at once. */
export function startServer({ connection, fileSystemProvider, makeSites, version }: ServerOptions): ServerServices {
  const services = createServerServices({ connection, fileSystemProvider });
  const { shared } = services;
  services.sites.current = makeSites?.(services);
  const publisher = new Publisher(shared, connection, services.sites.current);
  const updates = shared.lsp.DocumentUpdateHandler;
  if (updates instanceof UpdateHandler) updates.afterUpdate = (token) => publisher.checkSites(token);

  for (const addHandler of HANDLERS) addHandler(connection, shared);
  connection.onInitialize(async (params) => ({
    ...(await shared.lsp.LanguageServer.initialize(params)),
    serverInfo: { name: 'couplet', version },
  }));
  connection.onInitialized((params) => shared.lsp.LanguageServer.initialized(params));
  shared.workspace.TextDocuments.listen(connection);
  connection.listen();
  return services;
}
