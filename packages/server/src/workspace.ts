/**
 * Which files the server loads by itself, and when: what comes with the language, then the sites of the files that are
 * open, then the rest of the workspace folders, a few sites at a time.
 */
import { addLibrary, BUNDLED_PATHS, bundledText, bundledUri, LIBRARY_URI } from '@couplet/language';
import {
  Cancellation,
  DefaultWorkspaceManager,
  type FileSystemNode,
  type LangiumDocument,
  type Stream,
  URI,
  UriUtils,
} from 'langium';
import type { LangiumSharedServices } from 'langium/lsp';
import type { WorkspaceFolder } from 'vscode-languageserver';
import { WaitingFiles } from './sites/waiting-files.ts';

/** Folders of what tools make; sites do not lie in them. */
const MADE_FOLDERS: ReadonlySet<string> = new Set(['node_modules', 'out', 'dist', 'build', 'coverage', 'target']);

export class WorkspaceLoader extends DefaultWorkspaceManager {
  /** What is not loaded yet. */
  readonly waiting = new WaitingFiles();
  /** Loads files under the workspace's lock and has their sites checked; set by whoever checks them. */
  load: ((files: URI[]) => Promise<void>) | undefined;
  /** Told after each turn of loading how many files of how many are loaded. */
  onProgress: ((loaded: number, total: number) => void) | undefined;
  private readonly shared: LangiumSharedServices;
  private loaded = false;

  constructor(shared: LangiumSharedServices) {
    super(shared);
    this.shared = shared;
  }

  /** Whether the folders are not looked through yet, or files of them are not loaded and checked. */
  get isLoading(): boolean {
    return !this.loaded;
  }

  /** What comes with the language and the sites of open files; everything else follows while the server serves. */
  override async initializeWorkspace(
    folders: WorkspaceFolder[],
    token = Cancellation.CancellationToken.None,
  ): Promise<void> {
    try {
      await super.initializeWorkspace(folders, token);
    } finally {
      void this.loadRest();
    }
  }

  protected override async loadWorkspaceDocuments(
    uris: Stream<URI>,
    collect: (document: LangiumDocument) => void,
  ): Promise<void> {
    const texts = new Map<string, string>();
    await Promise.all(
      uris.map(async (uri) => {
        const open = this.shared.workspace.TextDocuments.get(uri);
        // A file that cannot be read is left out; whoever uses it is told where it is used.
        const text = open?.getText() ?? (await this.fileSystemProvider.readFile(uri).catch(() => undefined));
        if (text !== undefined) texts.set(uri.toString(), text);
      }),
    );
    this.waiting.add(new Map([...texts].sort(([one], [other]) => (one < other ? -1 : 1))));
    const open = this.shared.workspace.TextDocuments.keys();
    const first = open.flatMap((uri) => this.waiting.take(URI.parse(uri).toString()));
    const now = this.load === undefined ? [...texts.keys()] : first;
    for (const uri of now) collect(await this.langiumDocuments.getOrCreateDocument(URI.parse(uri)));
    if (this.load === undefined) for (const uri of texts.keys()) this.waiting.forget(uri);
    this.onProgress?.(texts.size - this.waiting.left, texts.size);
  }

  private async loadRest(): Promise<void> {
    const { load, waiting } = this;
    while (load !== undefined && waiting.left > 0) {
      const files = waiting.takeTurn().map((uri) => URI.parse(uri));
      await load(files.filter((uri) => !this.langiumDocuments.hasDocument(uri)));
      this.onProgress?.(waiting.total - waiting.left, waiting.total);
    }
    // A turn that was called off midway leaves files that were linked before what they use was there.
    const unlinked = this.langiumDocuments.all.filter(({ references }) =>
      references.some(({ error }) => error !== undefined),
    );
    const again = unlinked.map(({ uri }) => uri).toArray();
    if (load !== undefined && again.length > 0) await load(again);
    this.loaded = true;
    this.onProgress?.(waiting.total, waiting.total);
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
