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

/** Milliseconds between a key and the work on it; editors ask for completions some ten milliseconds behind a key. */
const MOMENT = 12;

export class UpdateHandler extends DefaultDocumentUpdateHandler {
  /** Runs after every update, under the same lock; set by whoever checks the sites. */
  afterUpdate: ((token: CancellationToken) => Promise<void>) | undefined;
  private readonly files: FileSystemProvider;
  /** Documents whose newest text is worked in when the timer ends. */
  private readonly changed = new Map<string, URI>();
  private timer: ReturnType<typeof setTimeout> | undefined;
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

  /**
   * What is under way on an older text is called off at once. The newest one is worked in a moment later: a completion
   * that comes right behind the key is answered before that, from the newest text and the names of the last tree.
   */
  override didChangeContent(change: TextDocumentChangeEvent<TextDocument>): void {
    const uri = URI.parse(change.document.uri);
    const builder = this.documentBuilder;
    if (builder instanceof FreshDocumentBuilder) builder.markOutdated(uri.toString());
    this.lock.cancelWrite();
    this.changed.set(uri.toString(), uri);
    this.timer ??= setTimeout(() => {
      this.timer = undefined;
      const changed = [...this.changed.values()];
      this.changed.clear();
      this.fireDocumentUpdate(changed, []);
    }, MOMENT);
  }

  /** Text that was not saved is gone with its editor: what counts again is the file, if there is one. */
  async didCloseDocument({ document }: TextDocumentChangeEvent<TextDocument>): Promise<void> {
    const uri = URI.parse(document.uri);
    this.changed.delete(uri.toString());
    const builder = this.documentBuilder;
    if (builder instanceof FreshDocumentBuilder) builder.forget(uri.toString());
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
