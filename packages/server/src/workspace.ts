/** Which files the server loads by itself: what comes with the language, and the language's files in the workspace folders. */
import { addLibrary, BUNDLED_PATHS, bundledText, bundledUri, LIBRARY_URI } from '@couplet/language';
import { DefaultWorkspaceManager, type FileSystemNode, type LangiumDocument, URI, UriUtils } from 'langium';
import type { LangiumSharedServices } from 'langium/lsp';
import type { WorkspaceFolder } from 'vscode-languageserver';

/** Folders of what tools make; sites do not lie in them. */
const MADE_FOLDERS: ReadonlySet<string> = new Set(['node_modules', 'out', 'dist', 'build', 'coverage', 'target']);

export class WorkspaceLoader extends DefaultWorkspaceManager {
  private readonly shared: LangiumSharedServices;

  constructor(shared: LangiumSharedServices) {
    super(shared);
    this.shared = shared;
  }

  protected override async loadAdditionalDocuments(
    _folders: WorkspaceFolder[],
    collect: (document: LangiumDocument) => void,
  ): Promise<void> {
    addLibrary(this.shared);
    const library = this.shared.workspace.LangiumDocuments.getDocument(URI.parse(LIBRARY_URI));
    if (library !== undefined) collect(library);
    for (const path of BUNDLED_PATHS) {
      const uri = bundledUri(path);
      const text = uri === undefined ? undefined : bundledText(uri);
      if (uri === undefined || text === undefined) continue;
      collect(this.shared.workspace.LangiumDocumentFactory.fromString(text, URI.parse(uri)));
    }
  }

  override shouldIncludeEntry(entry: FileSystemNode): boolean {
    if (entry.isDirectory && MADE_FOLDERS.has(UriUtils.basename(entry.uri))) return false;
    return super.shouldIncludeEntry(entry);
  }
}
