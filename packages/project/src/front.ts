/**
 * The language at work without an editor: heads of files, and whole sites linked and lowered one at a time, so that the
 * trees of a site are gone before those of the next one are made.
 */
import { addLibrary, type CoupletFile, createCoupletCoreServices } from '@couplet/language';
import { isOperationCancelled, type Cancellation as LangiumCancellation, type LangiumDocument, URI } from 'langium';
import { headOf } from './head.ts';
import { type LoweredSite, lowerLinked } from './linked.ts';
import { type Cancellation, Cancelled } from './pace.ts';
import type { SiteFiles } from './sites.ts';
import type { FileHead, Source, Sources } from './sources.ts';

/** Characters of text whose trees are kept between reading heads and lowering; further files are parsed again. */
const KEPT_CHARACTERS = 4_000_000;

/** Address of an empty text. */
const NOTHING = 'memory:///nothing.couplet';

export class Front {
  private readonly services = createCoupletCoreServices();
  private readonly kept = new Map<string, LangiumDocument<CoupletFile>>();
  private keptCharacters = 0;

  constructor() {
    addLibrary(this.services.shared);
  }

  /** What a file says of itself. Its tree is kept for the first site that the file belongs to, while there is room. */
  head(uri: string, text: string): FileHead {
    const document = this.parse(uri, text);
    if (this.keptCharacters + text.length <= KEPT_CHARACTERS) {
      this.kept.set(uri, document);
      this.keptCharacters += text.length;
    }
    return headOf(uri, document.parseResult.value);
  }

  /** Links, checks and lowers a site. Its trees are gone when this is done. */
  async site(site: SiteFiles, sources: Sources, cancellation?: Cancellation): Promise<LoweredSite> {
    const { shared, Couplet } = this.services;
    const { DocumentBuilder, LangiumDocuments } = shared.workspace;
    const documents = site.files.flatMap((uri) => this.take(sources.files.get(uri)) ?? []);
    for (const { from, path, target } of sources.links) Couplet.references.SiteScopes.link(from, path, target);
    for (const document of documents) LangiumDocuments.addDocument(document);
    try {
      await DocumentBuilder.build(documents, { validation: true }, tokenOf(cancellation));
      const read = site.files.flatMap((uri) => sources.files.get(uri)?.findings ?? []);
      return lowerLinked(documents, site.root, Couplet.references.SiteScopes.parsed, read);
    } catch (error) {
      throw isOperationCancelled(error) ? new Cancelled() : error;
    } finally {
      await DocumentBuilder.update(
        [],
        documents.map((document) => document.uri),
      );
      // The parser holds what it read last until it reads something else.
      this.parse(NOTHING, '');
    }
  }

  private take(source: Source | undefined): LangiumDocument<CoupletFile> | undefined {
    if (source?.text === undefined) return undefined;
    const known = this.kept.get(source.uri);
    if (known === undefined) return this.parse(source.uri, source.text);
    this.kept.delete(source.uri);
    this.keptCharacters -= source.text.length;
    return known;
  }

  private parse(uri: string, text: string): LangiumDocument<CoupletFile> {
    return this.services.shared.workspace.LangiumDocumentFactory.fromString<CoupletFile>(text, URI.parse(uri));
  }
}

/** Langium asks the token from time to time, and gives way when it does. */
function tokenOf(
  cancellation: Cancellation = { isCancellationRequested: false },
): LangiumCancellation.CancellationToken {
  return {
    get isCancellationRequested() {
      return cancellation.isCancellationRequested;
    },
    onCancellationRequested: () => ({ dispose: () => undefined }),
  };
}
