/** What all files declare, found by a part of its name. */
import { isBundledUri } from '@couplet/language';
import type { LangiumSharedServices, WorkspaceSymbolProvider } from 'langium/lsp';
import type { DocumentSymbol, WorkspaceSymbol, WorkspaceSymbolParams } from 'vscode-languageserver';
import { Outline } from './outline.ts';

/** More than anybody reads through. */
const MOST_SYMBOLS = 500;

export class AllSymbols implements WorkspaceSymbolProvider {
  private readonly services: LangiumSharedServices;
  private readonly outline = new Outline();

  constructor(services: LangiumSharedServices) {
    this.services = services;
  }

  getSymbols({ query }: WorkspaceSymbolParams): WorkspaceSymbol[] {
    const found: WorkspaceSymbol[] = [];
    for (const document of this.services.workspace.LangiumDocuments.all) {
      const uri = document.uri.toString();
      if (isBundledUri(uri)) continue;
      this.collect(this.outline.getSymbols(document), query, uri, undefined, found);
      if (found.length >= MOST_SYMBOLS) break;
    }
    return found;
  }

  private collect(
    symbols: readonly DocumentSymbol[],
    query: string,
    uri: string,
    containerName: string | undefined,
    found: WorkspaceSymbol[],
  ): void {
    for (const { children = [], kind, name, selectionRange } of symbols) {
      if (found.length >= MOST_SYMBOLS) return;
      if (this.services.lsp.FuzzyMatcher.match(query, name)) {
        found.push({ name, kind, containerName, location: { uri, range: selectionRange } });
      }
      this.collect(children, query, uri, name, found);
    }
  }
}
