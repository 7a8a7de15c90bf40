/**
 * The loaded files as the project reads files: what is wrong with a file itself (not UTF-8, empty, too large), where its
 * `use` statements lead, and which of the files they lead to are there and not loaded yet, as when a single file is
 * opened without its folder.
 */
import { type CoupletFile, isBundledUri } from '@couplet/language';
import {
  type Content,
  decode,
  type FileHead,
  headOf,
  type ProjectFinding,
  type Reader,
  Sources,
  type Workspace,
} from '@couplet/project';
import { type LangiumDocument, URI } from 'langium';
import type { LangiumSharedServices } from 'langium/lsp';
import type { Pause } from './seam.ts';

type Document = LangiumDocument<CoupletFile>;

export class UsedFiles {
  /** Files that are used, are there and are not loaded. */
  missing: readonly URI[] = [];
  private readonly shared: LangiumSharedServices;
  private findings = new Map<string, readonly ProjectFinding[]>();
  /** Bytes of files that no editor has open, as long as their document is the same. */
  private readonly contents = new WeakMap<object, Content>();
  private readonly heads = new WeakMap<CoupletFile, FileHead>();

  constructor(shared: LangiumSharedServices) {
    this.shared = shared;
  }

  /** What is to be said of a file and of its `use` statements. */
  findingsOf(uri: string): readonly ProjectFinding[] {
    return this.findings.get(uri) ?? [];
  }

  /** Reads what is loaded anew; later asked for with `findingsOf` and `missing`. */
  async look(pause: Pause): Promise<void> {
    const findings = new Map<string, readonly ProjectFinding[]>();
    const missing: URI[] = [];
    for (const [folder, uris] of this.byFolder()) {
      const sources = new Sources({ reader: this.reader(), folder, head: (uri) => this.head(uri) });
      for (const uri of uris) {
        await sources.add(uri);
        await pause();
      }
      for (const source of sources.files.values()) {
        findings.set(source.uri, source.findings);
        if (source.text !== undefined && this.document(source.uri) === undefined) missing.push(URI.parse(source.uri));
      }
    }
    this.findings = findings;
    this.missing = missing;
  }

  workspaceOf(uri: string): Workspace {
    return { reader: this.reader(), folder: this.folderOf(uri) };
  }

  /** The workspace folder that a file lies in; without one, `use` may lead anywhere on the same disk. */
  private folderOf(uri: string): string {
    const folders = (this.shared.workspace.WorkspaceManager.workspaceFolders ?? []).map((folder) =>
      URI.parse(folder.uri).toString(),
    );
    return folders.find((each) => uri.startsWith(`${each}/`)) ?? `${URI.parse(uri).scheme}://`;
  }

  /** Loaded files by the folder that they may use files of. */
  private byFolder(): Map<string, string[]> {
    const groups = new Map<string, string[]>();
    for (const { uri } of this.shared.workspace.LangiumDocuments.all) {
      const text = uri.toString();
      if (isBundledUri(text)) continue;
      const folder = this.folderOf(text);
      groups.set(folder, [...(groups.get(folder) ?? []), text]);
    }
    return groups;
  }

  private reader(): Reader {
    return {
      read: async (uri) => {
        const document = this.document(uri);
        if (document === undefined) return this.fromDisk(URI.parse(uri));
        const open = this.shared.workspace.TextDocuments.get(document.uri) !== undefined;
        if (open) return { sort: 'text', text: document.textDocument.getText() };
        const known = this.contents.get(document.parseResult);
        if (known !== undefined) return known;
        const content = sound(uri, await this.fromDisk(document.uri));
        this.contents.set(document.parseResult, content);
        return content;
      },
      list: async () => [],
      realPath: async (uri) => uri,
    };
  }

  private async fromDisk(uri: URI): Promise<Content> {
    const files = this.shared.workspace.FileSystemProvider;
    if (!(await files.exists(uri))) return { sort: 'missing' };
    try {
      return { sort: 'bytes', bytes: await files.readBinary(uri) };
    } catch (error) {
      return { sort: 'unreadable', reason: error instanceof Error ? error.message : String(error) };
    }
  }

  private head(uri: string): FileHead {
    const file = this.document(uri)?.parseResult.value;
    if (file === undefined) return { site: false, uses: [] };
    const known = this.heads.get(file);
    if (known !== undefined) return known;
    const head = headOf(uri, file);
    this.heads.set(file, head);
    return head;
  }

  private document(uri: string): Document | undefined {
    return this.shared.workspace.LangiumDocuments.getDocument(URI.parse(uri)) as Document | undefined;
  }
}

/** Bytes that nothing is wrong with as their text, so that they are not decoded again at every check. */
function sound(uri: string, content: Content): Content {
  const { finding, text } = decode(uri, content);
  return text === undefined || finding !== undefined ? content : { sort: 'text', text };
}
