/** Files in, a linked and checked workspace out; and texts in which a stretch is marked between ⟦ and ⟧. */
import {
  BUNDLED_PATHS,
  bundledText,
  bundledUri,
  type CoupletFile,
  type CoupletServices,
  createCoupletCoreServices,
  type Named,
} from '@couplet/language';
import {
  AstUtils,
  CstUtils,
  EmptyFileSystemProvider,
  type FileSystemProvider,
  type LangiumDocument,
  type LangiumSharedCoreServices,
  URI,
} from 'langium';

export interface Finding {
  readonly code: string | undefined;
  readonly text: string;
  readonly message: string;
  readonly severity: number | undefined;
  readonly start: number;
  readonly end: number;
}

export interface Stretch {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

/** The text without its marks, and the stretches between them in order. */
export function unmark(marked: string): { text: string; marks: Stretch[] } {
  let text = '';
  const open: number[] = [];
  const marks: Stretch[] = [];
  for (const letter of marked) {
    if (letter === '⟦') open.push(text.length);
    else if (letter === '⟧') {
      const start = open.pop() as number;
      marks.push({ start, end: text.length, text: text.slice(start) });
    } else text += letter;
  }
  return { text, marks: marks.sort((a, b) => a.start - b.start || b.end - a.end) };
}

export class Workspace {
  readonly services: CoupletServices;
  readonly shared: LangiumSharedCoreServices;
  readonly marks = new Map<string, Stretch[]>();
  private readonly disk = new MemoryDisk();

  private constructor() {
    const { Couplet, shared } = createCoupletCoreServices({ fileSystemProvider: () => this.disk });
    this.services = Couplet;
    this.shared = shared;
  }

  /** Builds files by their paths; a single text is `main.couplet`. */
  static async of(files: string | Record<string, string>): Promise<Workspace> {
    const workspace = new Workspace();
    const named = typeof files === 'string' ? { 'main.couplet': files } : files;
    const used = Object.values(named).some((text) => text.includes('"library/'));
    const bundled = used ? workspace.addBundled() : [];
    const documents = Object.entries(named).map(([path, marked]) => {
      const { text, marks } = unmark(marked);
      workspace.marks.set(path, marks);
      const { LangiumDocumentFactory, LangiumDocuments } = workspace.shared.workspace;
      const document = LangiumDocumentFactory.fromString<CoupletFile>(text, uriOf(path));
      LangiumDocuments.addDocument(document);
      return document;
    });
    await workspace.shared.workspace.DocumentBuilder.build([...bundled, ...documents], { validation: true });
    return workspace;
  }

  /** The files of types that come with the language, as an editor's server loads them. */
  private addBundled(): LangiumDocument[] {
    const { LangiumDocumentFactory, LangiumDocuments } = this.shared.workspace;
    return BUNDLED_PATHS.map((path) => {
      const uri = bundledUri(path) as string;
      const document = LangiumDocumentFactory.fromString(bundledText(uri) as string, URI.parse(uri));
      LangiumDocuments.addDocument(document);
      return document;
    });
  }

  /** Changes files, or adds them, and builds what that calls for. */
  async change(files: Record<string, string>): Promise<void> {
    const { LangiumDocumentFactory, LangiumDocuments, DocumentBuilder } = this.shared.workspace;
    for (const [path, text] of Object.entries(files)) {
      this.disk.texts.set(uriOf(path).toString(), text);
      if (LangiumDocuments.hasDocument(uriOf(path))) continue;
      LangiumDocuments.addDocument(LangiumDocumentFactory.fromString(text, uriOf(path)));
    }
    const uris = Object.keys(files).map((path) => uriOf(path));
    await DocumentBuilder.update(uris, []);
  }

  async remove(path: string): Promise<void> {
    await this.shared.workspace.DocumentBuilder.update([], [uriOf(path)]);
  }

  document(path = 'main.couplet'): LangiumDocument<CoupletFile> {
    return this.shared.workspace.LangiumDocuments.getDocument(uriOf(path)) as LangiumDocument<CoupletFile>;
  }

  file(path = 'main.couplet'): CoupletFile {
    return this.document(path).parseResult.value;
  }

  findings(path = 'main.couplet'): Finding[] {
    const document = this.document(path);
    const { textDocument } = document;
    return (document.diagnostics ?? [])
      .map(({ code, message, severity, range }) => {
        const start = textDocument.offsetAt(range.start);
        const end = textDocument.offsetAt(range.end);
        const text = textDocument.getText().slice(start, end);
        const words = typeof message === 'string' ? message : message.value;
        return { code: code === undefined ? undefined : String(code), text, message: words, severity, start, end };
      })
      .sort((a, b) => a.start - b.start || a.end - b.end);
  }

  /** Where the name that is marked leads: the text of the declaration's name, with its file where that is another. */
  definitionAt(path = 'main.couplet', mark = 0): string | undefined {
    const document = this.document(path);
    const stretch = this.marks.get(path)?.[mark] as Stretch;
    const root = document.parseResult.value.$cstNode;
    const leaf = root && CstUtils.findDeclarationNodeAtOffset(root, stretch.start, /[\p{L}\p{N}_"]/u);
    const [node] = leaf === undefined ? [] : this.services.references.References.findDeclarations(leaf);
    if (node === undefined) return undefined;
    return this.describe(node as Named, path);
  }

  describe(node: Named, from = 'main.couplet'): string {
    const name = this.services.references.NameProvider.getNameNode(node)?.text ?? node.$type;
    const position = this.services.references.NameProvider.getNameNode(node)?.range.start;
    const uri = AstUtils.getDocument(node).uri;
    const where = uri.toString() === uriOf(from).toString() ? '' : `${uri.path.slice(1)}:`;
    return `${where}${position === undefined ? '?' : position.line + 1}:${name}`;
  }

  /** Every stretch that a rename of the name at a mark would change, as `line:text`, sorted. */
  referencesAt(path = 'main.couplet', mark = 0): string[] {
    const document = this.document(path);
    const stretch = this.marks.get(path)?.[mark] as Stretch;
    const root = document.parseResult.value.$cstNode;
    const leaf = root && CstUtils.findDeclarationNodeAtOffset(root, stretch.start, /[\p{L}\p{N}_"]/u);
    const [node] = leaf === undefined ? [] : this.services.references.References.findDeclarations(leaf);
    if (node === undefined) return [];
    return this.services.references.References.findReferences(node, { includeDeclaration: true })
      .map((each) => {
        const text = this.shared.workspace.LangiumDocuments.getDocument(each.sourceUri)?.textDocument.getText() ?? '';
        const where = each.sourceUri.toString() === uriOf(path).toString() ? '' : `${each.sourceUri.path.slice(1)}:`;
        return `${where}${each.segment.range.start.line + 1}:${text.slice(each.segment.offset, each.segment.end)}`;
      })
      .toArray()
      .sort();
  }
}

class MemoryDisk extends EmptyFileSystemProvider implements FileSystemProvider {
  readonly texts = new Map<string, string>();

  override async readFile(uri?: URI): Promise<string> {
    return this.texts.get(String(uri)) ?? '';
  }
}

export function uriOf(path: string): URI {
  return URI.parse(`file:///${path}`);
}
