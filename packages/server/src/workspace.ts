/** Which files the server loads by itself: the language's own library, and the language's files in the workspace folders. */
import { addLibrary, LIBRARY_URI } from '@couplet/language';
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
  }

  override shouldIncludeEntry(entry: FileSystemNode): boolean {
    if (entry.isDirectory && MADE_FOLDERS.has(UriUtils.basename(entry.uri))) return false;
    return super.shouldIncludeEntry(entry);
  }
}
