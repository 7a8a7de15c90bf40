/** How files come in: the project itself knows no file system. All addresses are URIs in the form of `normalUri`. */
import { URI } from 'langium';

/** What stands at an address. */
export type Content =
  | { readonly sort: 'text'; readonly text: string }
  /** The file as it lies on the disk; a reader may stop one byte after the number it was asked for. */
  | { readonly sort: 'bytes'; readonly bytes: Uint8Array }
  | { readonly sort: 'missing' }
  /** It is there, and cannot be read: a folder, no permission. `reason` completes 'cannot be read: …'. */
  | { readonly sort: 'unreadable'; readonly reason: string };

export interface Entry {
  readonly uri: string;
  readonly folder: boolean;
}

export interface Reader {
  /** Never throws for what lies on a disk. `atMost` is in bytes. */
  read(uri: string, atMost: number): Promise<Content>;
  /** What is directly in a folder, in any order; empty where it cannot be listed. Links to folders are left out. */
  list(folder: string): Promise<readonly Entry[]>;
  /** The same file with every link on the way resolved; the address itself where nothing is there. */
  realPath(uri: string): Promise<string>;
}

/** One spelling for one address, the one that the language's documents use. */
export function normalUri(uri: string): string {
  return URI.parse(uri).toString();
}

/** Whether `uri` lies in `folder` or below it, or is the folder. */
export function isInside(uri: string, folder: string): boolean {
  const base = folder.endsWith('/') ? folder.slice(0, -1) : folder;
  return uri === base || uri.startsWith(`${base}/`);
}

/** The last part of an address, as a person reads it. */
export function nameOf(uri: string): string {
  return decodeURIComponent(uri.slice(uri.lastIndexOf('/') + 1));
}

/** Folders that hold nothing a person wrote. */
const PASSED_OVER = /^(\.|node_modules$)/;

/** Every `.couplet` file in a folder and below it, sorted. `wanted` may leave out a file or a folder. */
export async function findFiles(
  reader: Reader,
  folder: string,
  wanted: (uri: string) => boolean = () => true,
): Promise<string[]> {
  const found: string[] = [];
  const waiting = [folder];
  for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
    for (const entry of await reader.list(next)) {
      if (PASSED_OVER.test(nameOf(entry.uri)) || !wanted(entry.uri)) continue;
      if (entry.folder) waiting.push(entry.uri);
      else if (entry.uri.endsWith('.couplet')) found.push(entry.uri);
    }
  }
  return found.sort();
}
