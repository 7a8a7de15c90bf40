/**
 * Files that come with the language: generic types, found by `use "library/…"` wherever a file lies and in every host.
 * They stand under addresses of their own, which no file system has. Pure look-ups.
 */
import { LIBRARY_FILES } from '../generated/library-files.ts';

/** The scheme of their addresses, and of the language's own built-in names. */
export const BUNDLED_SCHEME = 'builtin';

/** In the form that documents' addresses are written in. */
const BASE = `${BUNDLED_SCHEME}:/`;

/** What stands behind `use`, sorted: `library/relays.couplet`. */
export const BUNDLED_PATHS: readonly string[] = [...LIBRARY_FILES.keys()].sort();

/** The address of a bundled file; undefined where none has this path. `./library/…` always means a file of one's own. */
export function bundledUri(path: string): string | undefined {
  return LIBRARY_FILES.has(path) ? `${BASE}${path}` : undefined;
}

/** The text of a bundled file; undefined for every other address. */
export function bundledText(uri: string): string | undefined {
  return isBundledUri(uri) ? LIBRARY_FILES.get(uri.slice(BASE.length)) : undefined;
}

/** Whether an address is that of a text that comes with the language: no finding stands there, nothing there is renamed. */
export function isBundledUri(uri: string): boolean {
  return uri.startsWith(BASE);
}
