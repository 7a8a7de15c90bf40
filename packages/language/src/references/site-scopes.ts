/**
 * What a file sees beyond itself: the names of its site, by category and prefix. Which files make up which site, and the
 * tables of a site's names, are kept as long as they hold: a text with the same `use` statements and the same names in it
 * only puts its new tree into the place of its old one.
 */
import {
  type AstNode,
  DocumentState,
  type LangiumDocument,
  type LangiumSharedCoreServices,
  URI,
  WorkspaceCache,
} from 'langium';
import { isBundledUri } from '../files/bundled.ts';
import { joinPrefix, type ParsedFiles, rootsOf, type SiteFiles, siteFiles } from '../files/site-files.ts';
import { isSiteFile, usesOf } from '../files/use.ts';
import { type CoupletFile, isCoupletFile, type Named } from '../generated/ast.ts';
import { Names, type TopNames, topNames } from './names.ts';

export type Category = keyof TopNames;

const CATEGORIES: readonly Category[] = ['things', 'types', 'cases', 'settings'];

/** The names under one prefix of a site. */
type Tables = Record<Category, Names>;

/** How the loaded files hang together. */
interface Graph {
  readonly files: ReadonlyMap<string, CoupletFile | undefined>;
  readonly roots: readonly string[];
  readonly sites: ReadonlyMap<string, SiteFiles>;
  /** The roots whose sites hold a file; the file itself first where it is one. */
  readonly byFile: ReadonlyMap<string, readonly string[]>;
}

interface View {
  readonly site: SiteFiles;
  readonly byPrefix: ReadonlyMap<string, Tables>;
  /** Types have no prefix. */
  readonly types: Names;
  /** The trees that the tables were made of. */
  readonly files: Map<string, CoupletFile>;
}

export class SiteScopes {
  private readonly shared: LangiumSharedCoreServices;
  /** Dropped at every change of any document. */
  private readonly cache: WorkspaceCache<string, unknown>;
  private kept: Graph | undefined;
  private readonly views = new Map<string, View>();
  /** Where `use` paths lead when links on the disk take them elsewhere; set by whoever reads the files. */
  private readonly links = new Map<string, string>();

  constructor(shared: LangiumSharedCoreServices) {
    this.shared = shared;
    this.cache = new WorkspaceCache(shared);
    // Whoever asks between a change and the end of parsing is answered from trees that are old or not there yet.
    shared.workspace.DocumentBuilder.onBuildPhase(DocumentState.Parsed, () => this.cache.clear());
    // What is kept from change to change holds trees, and must not keep those of files that went.
    shared.workspace.DocumentBuilder.onUpdate((_changed, deleted) => {
      if (deleted.length === 0) return;
      this.kept = undefined;
      this.views.clear();
    });
  }

  /** Says that a path, used in a file, leads to another address than the one that it spells. */
  link(from: string, path: string, target: string): void {
    this.links.set(`${from}\n${path}`, target);
    this.kept = undefined;
    this.cache.clear();
  }

  /** All files that are loaded. */
  get parsed(): ParsedFiles {
    return {
      get: (uri) => this.file(uri),
      follow: (from, path) => this.links.get(`${from}\n${path}`),
    };
  }

  /** Roots of the loaded files. */
  roots(): readonly string[] {
    return this.graph().roots;
  }

  /** The files of the site that begins with a root. */
  siteOf(root: string): SiteFiles {
    return this.graph().sites.get(root) ?? siteFiles(root, this.parsed);
  }

  /** The roots whose sites hold a file; the file itself first where it is one. */
  rootsWith(uri: string): readonly string[] {
    return this.graph().byFile.get(uri) ?? [];
  }

  /** What may be kept beside a node until any document changes. */
  memo<T>(name: string): WeakMap<AstNode, T> {
    return this.cache.get(`memo ${name}`, () => new WeakMap<AstNode, T>()) as WeakMap<AstNode, T>;
  }

  /** The first thing of a name that a file sees in its site: under its own prefix, then under those around it. */
  find(uri: string, category: Category, name: string): Named | undefined {
    for (const names of this.around(uri, category)) {
      const found = names.first(name);
      if (found !== undefined) return found;
    }
    return undefined;
  }

  /** The tables that `find` asks, nearest first. */
  around(uri: string, category: Category): readonly Names[] {
    const [root] = this.rootsWith(uri);
    if (root === undefined) return [];
    const view = this.view(root);
    if (category === 'types') return [view.types];
    const own = view.site.files.get(uri)?.prefix ?? '';
    return outwards(own).flatMap((prefix) => view.byPrefix.get(prefix)?.[category] ?? []);
  }

  /** `use … as` statements of a site that name a file which already counts under another prefix. */
  again(uri: string): SiteFiles['again'] {
    const [root] = this.rootsWith(uri);
    return root === undefined ? [] : this.siteOf(root).again;
  }

  /** What stands under a prefix that a `use … as` in a file gives. */
  under(uri: string, name: string): Tables | undefined {
    const [root] = this.rootsWith(uri);
    if (root === undefined) return undefined;
    const view = this.view(root);
    return view.byPrefix.get(joinPrefix(view.site.files.get(uri)?.prefix ?? '', name));
  }

  private graph(): Graph {
    return this.cache.get('graph', () => this.freshGraph()) as Graph;
  }

  private freshGraph(): Graph {
    const files = new Map<string, CoupletFile | undefined>();
    for (const { uri } of this.shared.workspace.LangiumDocuments.all) {
      const address = uri.toString();
      if (!isBundledUri(address)) files.set(address, this.file(address));
    }
    if (this.kept !== undefined && areJoinedAlike(this.kept.files, files)) {
      this.kept = { ...this.kept, files };
      return this.kept;
    }
    this.kept = this.makeGraph(files);
    const { sites } = this.kept;
    for (const root of this.views.keys()) if (!sites.has(root)) this.views.delete(root);
    return this.kept;
  }

  private makeGraph(files: ReadonlyMap<string, CoupletFile | undefined>): Graph {
    const roots = rootsOf(files.keys(), this.parsed);
    const sites = new Map<string, SiteFiles>();
    const byFile = new Map<string, string[]>();
    for (const root of roots) {
      const site = siteFiles(root, this.parsed);
      sites.set(root, site);
      for (const each of site.files.keys()) {
        const known = byFile.get(each);
        if (known === undefined) byFile.set(each, [root]);
        else if (each === root) known.unshift(root);
        else known.push(root);
      }
    }
    return { files, roots, sites, byFile };
  }

  private view(root: string): View {
    return this.cache.get(`site ${root}`, () => this.freshView(root)) as View;
  }

  private freshView(root: string): View {
    const site = this.siteOf(root);
    const known = this.views.get(root);
    if (known !== undefined && known.site === site && this.takeOver(known)) return known;
    const view = this.makeView(site);
    this.views.set(root, view);
    return view;
  }

  /** Puts trees that have changed into their places; false where one of them has other names now. */
  private takeOver({ byPrefix, files, site, types }: View): boolean {
    for (const [uri, before] of files) {
      const now = this.file(uri);
      if (now === before) continue;
      if (now === undefined) return false;
      const old = topNames(before);
      const top = topNames(now);
      if (!CATEGORIES.every((category) => top[category].isLike(old[category]))) return false;
      const tables = byPrefix.get(site.files.get(uri)?.prefix ?? '');
      if (tables === undefined) return false;
      for (const category of CATEGORIES) {
        (category === 'types' ? types : tables[category]).exchange(old[category], top[category]);
      }
      files.set(uri, now);
    }
    return true;
  }

  private makeView(site: SiteFiles): View {
    const byPrefix = new Map<string, Tables>();
    const types = new Names();
    const files = new Map<string, CoupletFile>();
    for (const { uri, prefix } of site.files.values()) {
      const file = this.file(uri);
      if (file === undefined) continue;
      files.set(uri, file);
      const top = topNames(file);
      let tables = byPrefix.get(prefix);
      if (tables === undefined) {
        tables = { things: new Names(), types, cases: new Names(), settings: new Names() };
        byPrefix.set(prefix, tables);
      }
      for (const category of CATEGORIES) {
        for (const [name, nodes] of top[category].entries()) {
          for (const node of nodes) tables[category].add(name, node);
        }
      }
    }
    return { site, byPrefix, types, files };
  }

  private file(uri: string): CoupletFile | undefined {
    const document: LangiumDocument | undefined = this.shared.workspace.LangiumDocuments.getDocument(URI.parse(uri));
    const value = document?.parseResult.value;
    return isCoupletFile(value) ? value : undefined;
  }
}

/** Whether the same files are there, and each that is another tree now neither uses files nor is a site, as before. */
function areJoinedAlike(
  before: ReadonlyMap<string, CoupletFile | undefined>,
  now: ReadonlyMap<string, CoupletFile | undefined>,
): boolean {
  if (before.size !== now.size) return false;
  for (const [uri, file] of now) {
    if (!before.has(uri)) return false;
    const old = before.get(uri);
    if (old !== file && !(isPlain(old) && isPlain(file))) return false;
  }
  return true;
}

function isPlain(file: CoupletFile | undefined): boolean {
  return file !== undefined && !isSiteFile(file) && usesOf(file).length === 0;
}

/** 'a.b' → 'a.b', 'a', ''. */
function outwards(prefix: string): string[] {
  const all = [prefix];
  for (let rest = prefix; rest !== ''; ) {
    rest = rest.includes('.') ? rest.slice(0, rest.lastIndexOf('.')) : '';
    all.push(rest);
  }
  return all;
}
