/** Which of the files are sites, and which are checked alone. */
import { compareText } from './finding.ts';

/** A site with its files, or a file without `site` that no site uses, checked alone. */
export interface SiteFiles {
  readonly root: string;
  /** The root first, then in the order of `use`. */
  readonly files: readonly string[];
  /** No file of it says `site`: open ends are not findings. */
  readonly fragment: boolean;
}

/** What has to be known of files to find sites among them. */
export interface FileGraph {
  /** It holds a `site` statement. */
  isSite(uri: string): boolean;
  /** The files that its `use` statements lead to, in their order. */
  targets(uri: string): Iterable<string>;
}

/** A file and everything it uses, directly or through others: itself first, then in the order of `use`. */
export function closureOf(graph: FileGraph, root: string): string[] {
  const seen = new Set([root]);
  for (const uri of seen) {
    for (const target of graph.targets(uri)) seen.add(target);
  }
  return [...seen];
}

/**
 * Sites and fragments that `asked` files belong to, sorted by root. Every file with `site` is a site. A file that no
 * site uses is checked alone, together with what it uses; in a circle of such files the first by name leads.
 */
export function findSites(graph: FileGraph, asked: Iterable<string>): SiteFiles[] {
  const uris = [...new Set(asked)].sort(compareText);
  const covered = new Set<string>();
  const sites: SiteFiles[] = [];
  const take = (root: string, fragment: boolean) => {
    const files = closureOf(graph, root);
    for (const file of files) covered.add(file);
    sites.push({ root, files, fragment });
  };

  for (const uri of uris) {
    if (graph.isSite(uri)) take(uri, false);
  }
  const left = uris.filter((uri) => !covered.has(uri));
  const used = new Set(left.flatMap((uri) => closureOf(graph, uri).slice(1)));
  for (const uri of left) {
    if (!used.has(uri)) take(uri, true);
  }
  for (const uri of left) {
    if (!covered.has(uri)) take(uri, true);
  }
  return sites.sort((a, b) => compareText(a.root, b.root));
}
