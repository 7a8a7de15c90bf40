/**
 * Which documents are linked again after a change. Langium would link every document that has a wrong name again at
 * every edit of any file; here that happens only when a changed file gained or lost a name that the document misses, or
 * when a `use` now leads elsewhere.
 */
import {
  type AstNode,
  type BuildOptions,
  type Cancellation,
  DefaultDocumentBuilder,
  DocumentState,
  type LangiumDocument,
  type MaybePromise,
  URI,
} from 'langium';
import { isBundledUri } from '../files/bundled.ts';
import { isSiteFile, usedUri, usesOf } from '../files/use.ts';
import { type CoupletFile, isBody, isComponent, isCoupletFile, isStep, isTypeDeclaration } from '../generated/ast.ts';
import type { CoupletServices } from '../module.ts';
import { contactForms, ownProperty, poleTerminalNames } from './contacts.ts';
import { bodyNames, topNames } from './names.ts';

interface Known {
  readonly names: ReadonlySet<string>;
  /** What its `use` statements reach, and whether it is a site. */
  readonly reach: string;
}

export class CoupletDocumentBuilder extends DefaultDocumentBuilder {
  private readonly known = new Map<string, Known>();
  private options: BuildOptions = {};
  /** A document went since names were last compared. */
  private deleted = false;

  protected override shouldRelink(document: LangiumDocument, changedUris: Set<string>): boolean {
    return this.indexManager.isAffected(document, changedUris);
  }

  protected override buildDocuments(
    documents: LangiumDocument[],
    options: BuildOptions,
    token: Cancellation.CancellationToken,
  ): Promise<void> {
    this.options = options;
    return super.buildDocuments(documents, options, token);
  }

  /** Names are known once the changed files are parsed; what misses one of them joins the build before linking. */
  protected override async runCancelable(
    documents: LangiumDocument[],
    state: DocumentState,
    token: Cancellation.CancellationToken,
    callback: (document: LangiumDocument) => MaybePromise<unknown>,
  ): Promise<void> {
    await super.runCancelable(documents, state, token, callback);
    if (state !== DocumentState.IndexedContent) return;
    const joining = this.missing(documents);
    for (const document of joining) this.resetToState(document, DocumentState.ComputedScopes);
    this.prepareBuild(joining, this.options);
    documents.push(...joining);
  }

  protected override cleanUpDeleted<T extends AstNode>(document: LangiumDocument<T>): void {
    this.deleted ||= this.known.delete(document.uri.toString());
    super.cleanUpDeleted(document);
  }

  private missing(documents: readonly LangiumDocument[]): LangiumDocument[] {
    const { changed, moved } = this.changes(documents);
    if (changed.size === 0 && !moved) return [];
    const building = new Set(documents);
    const others = this.langiumDocuments.all.filter(
      (document) => !building.has(document) && document.state >= DocumentState.Linked,
    );
    if (moved) return others.toArray();
    const roots = new Set(documents.flatMap((document) => this.rootsWith(document)));
    return others
      .filter((document) => this.rootsWith(document).some((root) => roots.has(root)))
      .filter((document) => misses(document, changed) || declares(document, changed))
      .toArray();
  }

  /** Only files of one site see each other's names. */
  private rootsWith(document: LangiumDocument): readonly string[] {
    const { SiteScopes } = (this.serviceRegistry.getServices(document.uri) as CoupletServices).references;
    return SiteScopes.rootsWith(document.uri.toString());
  }

  private changes(documents: readonly LangiumDocument[]): { changed: Set<string>; moved: boolean } {
    const changed = new Set<string>();
    let moved = this.deleted;
    this.deleted = false;
    for (const document of documents) {
      const file = document.parseResult.value;
      if (document.state !== DocumentState.IndexedContent || !isCoupletFile(file)) continue;
      const uri = document.uri.toString();
      if (isBundledUri(uri)) continue;
      const before = this.known.get(uri);
      const now = { names: declaredNames(file), reach: this.reach(uri, file) };
      this.known.set(uri, now);
      moved ||= before?.reach !== now.reach;
      for (const name of now.names) if (before?.names.has(name) !== true) changed.add(name);
      for (const name of before?.names ?? []) if (!now.names.has(name)) changed.add(name);
    }
    return { changed, moved };
  }

  private reach(uri: string, file: CoupletFile): string {
    const uses = usesOf(file).map((use) => {
      const target = usedUri(uri, use.path);
      const there = target !== undefined && this.langiumDocuments.hasDocument(URI.parse(target));
      return there ? `${target} ${use.name ?? ''}` : '';
    });
    return [isSiteFile(file) ? 'site' : '', ...uses].join('\n');
  }
}

/** Every name that other places can mean: of the file's statements and of what stands in bodies. */
function declaredNames(file: CoupletFile): ReadonlySet<string> {
  const names = new Set<string>();
  const { things, types, cases, settings } = topNames(file);
  for (const table of [things, types, cases, settings]) {
    for (const [name] of table.entries()) names.add(name.slice(name.indexOf('\n') + 1));
  }
  for (const statement of file.statements) {
    if (!isComponent(statement) && !isTypeDeclaration(statement)) continue;
    if (statement.body !== undefined && !isBody(statement.body)) {
      const inner = topNames(statement.body);
      for (const table of [inner.things, inner.cases]) for (const [name] of table.entries()) names.add(name);
    } else if (statement.body !== undefined) {
      for (const [name] of bodyNames(statement.body).entries()) names.add(name);
      const forms = contactForms(ownProperty(statement.body, 'contacts')?.values ?? []);
      for (const name of poleTerminalNames(forms ?? [])) names.add(name);
    }
  }
  return names;
}

/** A name that two files give is told in one of them: when it comes or goes in the other, that one is judged again. */
function declares(document: LangiumDocument, changed: ReadonlySet<string>): boolean {
  const file = document.parseResult.value;
  if (!isCoupletFile(file)) return false;
  const { things, types, cases } = topNames(file);
  for (const name of changed) if (things.has(name) || types.has(name) || cases.has(name)) return true;
  return false;
}

function misses(document: LangiumDocument, changed: ReadonlySet<string>): boolean {
  for (const reference of document.references) {
    if (reference.error === undefined) continue;
    if (changed.has(reference.$refText)) return true;
    const { container } = reference.error.info;
    if (isStep(container) && changed.has(container.parts.map((part) => part.$refText).join('-'))) return true;
  }
  return false;
}
