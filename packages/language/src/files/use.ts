/** Where a `use` statement leads, and what a file says of itself before any site is known. Pure functions. */
import { URI, UriUtils } from 'langium';
import { type CoupletFile, isSite, isUse, type Use } from '../generated/ast.ts';
import { bundledUri } from './bundled.ts';

/**
 * The address that a path leads to from the file it stands in, or undefined where it is not a relative path. Paths of
 * files that come with the language lead to these from everywhere.
 */
export function usedUri(from: string, path: string): string | undefined {
  const bundled = bundledUri(path);
  if (bundled !== undefined) return bundled;
  if (path.trim() === '' || path.includes('\\') || /^(\/|[A-Za-z][A-Za-z0-9+.-]*:)/.test(path)) return undefined;
  return UriUtils.joinPath(UriUtils.dirname(URI.parse(from)), path).toString();
}

/** Whether an address lies in a folder or below it. */
export function isInFolder(uri: string, folder: string): boolean {
  const base = folder.endsWith('/') ? folder : `${folder}/`;
  return uri.startsWith(base);
}

/** What is told of a file again and again while nothing in it changes; another text is another tree. */
const heads = new WeakMap<CoupletFile, { readonly uses: readonly Use[]; readonly site: boolean }>();

function headOf(file: CoupletFile): { readonly uses: readonly Use[]; readonly site: boolean } {
  const known = heads.get(file);
  if (known !== undefined) return known;
  const uses = file.statements.filter(isUse).filter((use) => use.path !== undefined);
  const head = { uses, site: file.statements.some(isSite) };
  heads.set(file, head);
  return head;
}

export function usesOf(file: CoupletFile): readonly Use[] {
  return headOf(file).uses;
}

export function isSiteFile(file: CoupletFile): boolean {
  return headOf(file).site;
}
