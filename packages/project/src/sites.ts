/** Which of the files are sites, and which are checked alone. */
import { compareText } from './finding.ts';
import type { Sources } from './sources.ts';

/** A site with its files, or a file without `site` that no site uses, checked alone. */
export interface SiteFiles {
  readonly root: string;
  /** The root first, then in the order of `use`. */
  readonly files: readonly string[];
  /** No file of it says `site`: open ends are not findings. */
  readonly fragment: boolean;
}

/**
 * Sites and fragments that `asked` files belong to, sorted by root. Every file with `site` is a site. A file that no
 * site uses is checked alone, together with what it uses; in a circle of such files the first by name leads.
 */
export function findSites(sources: Sources, asked: Iterable<string>): SiteFiles[] {
  const uris = [...new Set(asked)].sort(compareText);
  const covered = new Set<string>();
  const sites: SiteFiles[] = [];
  const take = (root: string, fragment: boolean) => {
    const files = sources.closure(root);
    for (const file of files) covered.add(file);
    sites.push({ root, files, fragment });
  };

  for (const uri of uris) {
    if (sources.files.get(uri)?.head.site) take(uri, false);
  }
  const left = uris.filter((uri) => !covered.has(uri));
  const used = new Set(left.flatMap((uri) => sources.closure(uri).slice(1)));
  for (const uri of left) {
    if (!used.has(uri)) take(uri, true);
  }
  for (const uri of left) {
    if (!covered.has(uri)) take(uri, true);
  }
  return sites.sort((a, b) => compareText(a.root, b.root));
}
