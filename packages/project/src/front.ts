/**
 * The language at work without an editor: heads of files, and whole sites linked and lowered one at a time, so that the
 * trees of a site are gone before those of the next one are made.
 */
import {
  addLibrary,
  type CoupletFile,
  createCoupletCoreServices,
  isSiteFile,
  type Lowered,
  lower,
  usesOf,
} from '@couplet/language';
import { GrammarUtils, type LangiumDocument, URI } from 'langium';
import { type Broken, brokenParts, withoutConsequences } from './broken.ts';
import { findingsOf } from './diagnostics.ts';
import type { ProjectFinding } from './finding.ts';
import { fromLanguage } from './judge.ts';
import type { SiteFiles } from './sites.ts';
import type { FileHead, Source, Sources, UseStatement } from './sources.ts';

/** Characters of text whose trees are kept between reading heads and lowering; further files are parsed again. */
const KEPT_CHARACTERS = 4_000_000;

export interface LoweredSite {
  readonly lowered: Lowered;
  /** What lexer, parser, linker, checks and lowering say of the files. */
  readonly findings: readonly ProjectFinding[];
  /** What these, and what could not be read, leave half said. */
  readonly broken: Broken;
}

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
    const file = document.parseResult.value;
    const uses = usesOf(file).map((use): UseStatement => {
      const range = GrammarUtils.findNodeForProperty(use.$cstNode, 'path')?.range ?? use.$cstNode?.range;
      const start = range?.start ?? { line: 0, character: 0 };
      return { path: use.path, place: { uri, start, end: range?.end ?? start } };
    });
    return { site: isSiteFile(file), uses };
  }

  /** Links, checks and lowers a site. Its trees are gone when this is done. */
  async site(site: SiteFiles, sources: Sources): Promise<LoweredSite> {
    const { shared, Couplet } = this.services;
    const { DocumentBuilder, LangiumDocuments } = shared.workspace;
    const documents = site.files.flatMap((uri) => this.take(sources.files.get(uri)) ?? []);
    const { parsed } = Couplet.references.SiteScopes;
    for (const { from, path, target } of sources.links) Couplet.references.SiteScopes.link(from, path, target);
    for (const document of documents) LangiumDocuments.addDocument(document);
    try {
      await DocumentBuilder.build(documents, { validation: true });
      const lowered = lower(documents, site.root, parsed);
      const read = site.files.flatMap((uri) => sources.files.get(uri)?.findings ?? []);
      const own = documents.flatMap(findingsOf);
      const lowering = lowered.findings.map(fromLanguage);
      return {
        lowered,
        findings: withoutConsequences(documents, read, own, lowering),
        broken: brokenParts(documents, [...read, ...own, ...lowering]),
      };
    } finally {
      await DocumentBuilder.update(
        [],
        documents.map((document) => document.uri),
      );
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
