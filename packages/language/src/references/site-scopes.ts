/**
 * What a file sees beyond itself: the names of its site, by category and prefix. Tables are made when first asked for
 * and dropped at every change of any document; within one build a name is one look-up, however many there are.
 */
import { type AstNode, type LangiumDocument, type LangiumSharedCoreServices, URI, WorkspaceCache } from 'langium';
import { isBundledUri } from '../files/bundled.ts';
import { joinPrefix, type ParsedFiles, rootsOf, type SiteFiles, siteFiles } from '../files/site-files.ts';
import { type CoupletFile, isCoupletFile, type Named } from '../generated/ast.ts';
import { Names, type TopNames, topNames } from './names.ts';

export type Category = keyof TopNames;

/** The names under one prefix of a site. */
type Tables = Record<Category, Names>;

interface View {
  readonly site: SiteFiles;
  readonly byPrefix: Map<string, Tables>;
  /** Types have no prefix. */
  readonly types: Names;
}

export class SiteScopes {
  private readonly shared: LangiumSharedCoreServices;
  private readonly cache: WorkspaceCache<string, unknown>;
  /** Where `use` paths lead when links on the disk take them elsewhere; set by whoever reads the files. */
  private readonly links = new Map<string, string>();

  constructor(shared: LangiumSharedCoreServices) {
    this.shared = shared;
    this.cache = new WorkspaceCache(shared);
  }

  /** Says that a path, used in a file, leads to another address than the one that it spells. */
  link(from: string, path: string, target: string): void {
    this.links.set(`${from}\n${path}`, target);
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
    return this.cache.get('roots', () => {
      const uris = this.shared.workspace.LangiumDocuments.all.map((document) => document.uri.toString()).toArray();
      return rootsOf(
        uris.filter((uri) => !isBundledUri(uri)),
        this.parsed,
      );
    }) as readonly string[];
  }

  /** The roots whose sites hold a file; the file itself first where it is one. */
  rootsWith(uri: string): readonly string[] {
    const index = this.cache.get('by-file', () => {
      const byFile = new Map<string, string[]>();
      for (const root of this.roots()) {
        for (const each of this.view(root).site.files.keys()) {
          const roots = byFile.get(each);
          if (roots === undefined) byFile.set(each, [root]);
          else if (each === root) roots.unshift(root);
          else roots.push(root);
        }
      }
      return byFile;
    }) as Map<string, string[]>;
    return index.get(uri) ?? [];
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
    return root === undefined ? [] : this.view(root).site.again;
  }

  /** What stands under a prefix that a `use … as` in a file gives. */
  under(uri: string, name: string): Tables | undefined {
    const [root] = this.rootsWith(uri);
    if (root === undefined) return undefined;
    const view = this.view(root);
    return view.byPrefix.get(joinPrefix(view.site.files.get(uri)?.prefix ?? '', name));
  }

  private view(root: string): View {
    return this.cache.get(`site ${root}`, () => this.makeView(root)) as View;
  }

  private makeView(root: string): View {
    const site = siteFiles(root, this.parsed);
    const byPrefix = new Map<string, Tables>();
    const types = new Names();
    for (const { uri, prefix } of site.files.values()) {
      const file = this.file(uri);
      if (file === undefined) continue;
      const top = topNames(file);
      let tables = byPrefix.get(prefix);
      if (tables === undefined) {
        tables = { things: new Names(), types, cases: new Names(), settings: new Names() };
        byPrefix.set(prefix, tables);
      }
      for (const category of ['things', 'types', 'cases', 'settings'] as const) {
        for (const [name, nodes] of top[category].entries()) {
          for (const node of nodes) tables[category].add(name, node);
        }
      }
    }
    return { site, byPrefix, types };
  }

  private file(uri: string): CoupletFile | undefined {
    const document: LangiumDocument | undefined = this.shared.workspace.LangiumDocuments.getDocument(URI.parse(uri));
    const value = document?.parseResult.value;
    return isCoupletFile(value) ? value : undefined;
  }
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
