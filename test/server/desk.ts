/** The language's services with files in memory, without a connection: what an editor asks, asked directly. */
import { createServerServices, type ServerServices } from '@couplet/server';
import { EmptyFileSystem, type LangiumDocument, URI } from 'langium';
import type { CompletionItem, Location, Position } from 'vscode-languageserver';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { marked } from './client.ts';

export const FOLDER = 'file:///site/';

export class Desk {
  readonly services: ServerServices = createServerServices({ ...EmptyFileSystem });
  private version = 0;

  /** A desk with these files, by name. */
  static async with(files: Record<string, string>): Promise<Desk> {
    const desk = new Desk();
    await desk.write(files);
    return desk;
  }

  async write(files: Record<string, string>): Promise<void> {
    const { DocumentBuilder, TextDocuments } = this.services.shared.workspace;
    this.version += 1;
    for (const [name, text] of Object.entries(files)) {
      TextDocuments.set(TextDocument.create(FOLDER + name, 'couplet', this.version, text));
    }
    await DocumentBuilder.update(
      Object.keys(files).map((name) => URI.parse(FOLDER + name)),
      [],
    );
  }

  document(name: string): LangiumDocument {
    const document = this.services.shared.workspace.LangiumDocuments.getDocument(URI.parse(FOLDER + name));
    if (document === undefined) throw new Error(`no file ${name}`);
    return document;
  }

  /** Items at `<|>` of a file that takes the place of `name`. */
  async complete(textWithCursor: string, name = 'site.couplet'): Promise<CompletionItem[]> {
    const { text, position } = marked(textWithCursor);
    await this.write({ [name]: text });
    const provider = this.services.couplet.lsp.CompletionProvider;
    const textDocument = { uri: FOLDER + name };
    const list = await provider?.getCompletion(this.document(name), { textDocument, position });
    return list?.items ?? [];
  }

  /** The text after the first of the items labelled `label` is taken. */
  async take(label: string, textWithCursor: string): Promise<string> {
    const items = await this.complete(textWithCursor);
    const edit = items.find((item) => item.label === label)?.textEdit;
    if (edit === undefined || !('range' in edit))
      throw new Error(`no item ${label} among ${items.map((i) => i.label)}`);
    return TextDocument.applyEdits(this.document('site.couplet').textDocument, [edit]);
  }

  /** `file:line text` of places, lines from one, to be read in a test. */
  said(places: readonly Location[]): string[] {
    return places.map(({ uri, range }) => {
      const name = uri.slice(FOLDER.length);
      return `${name}:${range.start.line + 1} ${this.document(name).textDocument.getText(range)}`;
    });
  }

  at(name: string, position: Position) {
    return { textDocument: { uri: FOLDER + name }, position };
  }
}

export const TYPES = `type Panel : unit {
  rail AUX { volts: 10.5 V .. 13 V .. 13.8 V  limit: 750 mA  return: ZC }
  common ZC { earthed: yes }
  scheme double { short: below 1k1  normal: 1k1 .. 3k9  alarm: 3k9 .. 10k  open: above 10k }
  zone Z1 .. Z4 { feed: 5 V via 4k7  return: ZC  scheme: double }
}
type SmallRelay : relay { coil: 12 V, 720 ohm  contacts: changeover }
`;
