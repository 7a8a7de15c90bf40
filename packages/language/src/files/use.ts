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

export function usesOf(file: CoupletFile): readonly Use[] {
  return file.statements.filter(isUse).filter((use) => use.path !== undefined);
}

export function isSiteFile(file: CoupletFile): boolean {
  return file.statements.some(isSite);
}
