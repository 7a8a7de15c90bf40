/**
 * Completion as a request. What can be written is told from the text, which is always the newest; what it can name, from
 * the last tree that is linked. So nobody waits for the tree of a text that is still being written.
 */
import { DocumentState, URI } from 'langium';
import { createRequestHandler } from 'langium/lsp';
import type { CompletionParams, Connection } from 'vscode-languageserver';
import type { ServerServices } from '../services.ts';
import { CoupletCompletion } from './provider.ts';

export function addCompletionHandlers(connection: Connection, { couplet, shared }: ServerServices): void {
  const provider = couplet.lsp.CompletionProvider;
  const whenLinked = createRequestHandler(
    (_services, document, params: CompletionParams, token) => provider?.getCompletion(document, params, token),
    shared,
    DocumentState.IndexedReferences,
  );
  connection.onCompletion(async (params, token) => {
    const document = shared.workspace.LangiumDocuments.getDocument(URI.parse(params.textDocument.uri));
    if (document === undefined || document.state < DocumentState.Linked)
      return (await whenLinked(params, token)) as never;
    return provider?.getCompletion(document, params, token);
  });
  connection.onCompletionResolve((item) => (provider instanceof CoupletCompletion ? provider.resolve(item) : item));
}
