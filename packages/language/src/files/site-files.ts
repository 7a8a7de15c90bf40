/** Which files make up a site, and under which prefix each counts. Pure functions over parsed files. */
import type { CoupletFile, Use } from '../generated/ast.ts';
import { isSiteFile, usedUri, usesOf } from './use.ts';

export interface SiteFile {
  readonly uri: string;
  /** '' or the names of `use … as` on the way to it, joined by dots. */
  readonly prefix: string;
  /** The statement that brought it in; absent for the root. */
  readonly use?: Use;
}

export interface SiteFiles {
  readonly root: string;
  /** By address, the root first, then in the order in which `use` statements reach them. Every file once. */
  readonly files: ReadonlyMap<string, SiteFile>;
  /** `use … as` of a file that already counts under another prefix. */
  readonly again: readonly { readonly use: Use; readonly uri: string; readonly prefix: string }[];
}

export interface ParsedFiles {
  /** The parsed file at an address, or undefined where there is none. */
  get(uri: string): CoupletFile | undefined;
  /** Where a `use` leads when that is not simply its path (links on a disk). */
  follow?(from: string, path: string): string | undefined;
}

/** The root and everything it uses, directly or through others. Circles are fine; missing files are left out. */
export function siteFiles(root: string, parsed: ParsedFiles): SiteFiles {
  const files = new Map<string, SiteFile>([[root, { uri: root, prefix: '' }]]);
  const again: { use: Use; uri: string; prefix: string }[] = [];
  for (const { uri, prefix } of files.values()) {
    const file = parsed.get(uri);
    if (file === undefined) continue;
    for (const use of usesOf(file)) {
      const target = parsed.follow?.(uri, use.path) ?? usedUri(uri, use.path);
      if (target === undefined || parsed.get(target) === undefined) continue;
      const below = use.name === undefined ? prefix : joinPrefix(prefix, use.name);
      const known = files.get(target);
      if (known === undefined) files.set(target, { uri: target, prefix: below, use });
      else if (use.name !== undefined && known.prefix !== below) again.push({ use, uri: target, prefix: known.prefix });
    }
  }
  return { root, files, again };
}

/** Roots among some files: those with `site`, and those that are in no site and that no other file uses. Sorted. */
export function rootsOf(uris: Iterable<string>, parsed: ParsedFiles): string[] {
  const all = [...uris].sort();
  const roots = new Set(all.filter((uri) => holdsSite(parsed.get(uri))));
  const covered = new Set<string>();
  const cover = (root: string) => {
    for (const uri of siteFiles(root, parsed).files.keys()) covered.add(uri);
  };
  for (const root of roots) cover(root);
  const used = new Set<string>();
  for (const uri of all) {
    const file = parsed.get(uri);
    if (file === undefined || covered.has(uri)) continue;
    for (const use of usesOf(file)) {
      const target = parsed.follow?.(uri, use.path) ?? usedUri(uri, use.path);
      if (target !== undefined && target !== uri) used.add(target);
    }
  }
  // Files that only use each other in a circle have no first one: the first by name stands for them.
  for (const round of [all.filter((uri) => !used.has(uri)), all]) {
    for (const uri of round) {
      if (covered.has(uri)) continue;
      roots.add(uri);
      cover(uri);
    }
  }
  return [...roots].sort();
}

export function joinPrefix(prefix: string, name: string): string {
  return prefix === '' ? name : `${prefix}.${name}`;
}

function holdsSite(file: CoupletFile | undefined): boolean {
  return file !== undefined && isSiteFile(file);
}
