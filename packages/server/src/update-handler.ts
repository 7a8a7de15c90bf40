/** When documents are built again, and what is checked after that. */
import { isBundledUri } from '@couplet/language';
import { type FileSystemProvider, URI } from 'langium';
import { DefaultDocumentUpdateHandler, type LangiumSharedServices } from 'langium/lsp';
import type {
  CancellationToken,
  DeleteFilesParams,
  FileOperationRegistrationOptions,
  RenameFilesParams,
  TextDocumentChangeEvent,
} from 'vscode-languageserver';
import type { TextDocument } from 'vscode-languageserver-textdocument';
import { FreshDocumentBuilder } from './fresh-builder.ts';
import { WorkspaceLoader } from './workspace.ts';

export class UpdateHandler extends DefaultDocumentUpdateHandler {
  /** Runs after every update, under the same lock; set by whoever checks the sites. */
  afterUpdate: ((token: CancellationToken) => Promise<void>) | undefined;
  private readonly files: FileSystemProvider;
  private readonly lock: LangiumSharedServices['workspace']['WorkspaceLock'];

  constructor(services: LangiumSharedServices) {
    super(services);
    this.files = services.workspace.FileSystemProvider;
    this.lock = services.workspace.WorkspaceLock;
  }

  /** Only the language's own files: watching everything costs a large workspace dearly. Folders come by file operations. */
  protected override getWatchers() {
    return [{ globPattern: '**/*.couplet' }];
  }

  /**
   * An update that only takes files away builds no document, so the check that follows the building of documents would
   * not run; it is asked for here and does nothing where it has been done.
   */
  protected override fireDocumentUpdate(changed: URI[], deleted: URI[]): void {
    this.workspaceManager.ready
      .then(() => {
        const loader = this.workspaceManager;
        if (!(loader instanceof WorkspaceLoader)) return this.update(changed, deleted);
        for (const uri of deleted) loader.waiting.forget(uri.toString());
        // A file is never judged without the rest of its sites.
        const along = changed.flatMap((uri) => loader.waiting.take(uri.toString())).map((uri) => URI.parse(uri));
        const known = new Set(changed.map((uri) => uri.toString()));
        return this.update([...changed, ...along.filter((uri) => !known.has(uri.toString()))], deleted);
      })
      .catch((error) => console.error('A change could not be worked in:', error));
  }

  /** Loads files that no editor has asked for: behind everything that waits, and called off by whatever comes. */
  async load(files: URI[]): Promise<void> {
    await this.lock.read(() => undefined);
    await this.update(files, []).catch((error) => console.error('Files could not be loaded:', error));
  }

  private update(changed: URI[], deleted: URI[]): Promise<void> {
    return this.lock.write(async (token) => {
      await this.documentBuilder.update(changed, deleted, token);
      await this.afterUpdate?.(token);
    });
  }

  override didChangeContent(change: TextDocumentChangeEvent<TextDocument>): void {
    const builder = this.documentBuilder;
    if (builder instanceof FreshDocumentBuilder) builder.markOutdated(URI.parse(change.document.uri).toString());
    super.didChangeContent(change);
  }

  /** Text that was not saved is gone with its editor: what counts again is the file, if there is one. */
  async didCloseDocument({ document }: TextDocumentChangeEvent<TextDocument>): Promise<void> {
    const uri = URI.parse(document.uri);
    if (isBundledUri(uri.toString())) return;
    if (await this.files.exists(uri)) this.fireDocumentUpdate([uri], []);
    else this.fireDocumentUpdate([], [uri]);
  }

  didDeleteFiles(params: DeleteFilesParams): void {
    this.fireDocumentUpdate(
      [],
      params.files.map((file) => URI.parse(file.uri)),
    );
  }

  didRenameFiles(params: RenameFilesParams): void {
    this.fireDocumentUpdate(
      params.files.map((file) => URI.parse(file.newUri)),
      params.files.map((file) => URI.parse(file.oldUri)),
    );
  }
}

/** Folders that are renamed or deleted in the editor; single files come from the watcher. */
export const FOLDERS: FileOperationRegistrationOptions = {
  filters: [{ pattern: { glob: '**/*', matches: 'folder' } }],
};
