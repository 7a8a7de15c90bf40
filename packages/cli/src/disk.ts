/** Files of this machine for the project's reader, and how their addresses are shown. */
import { lstat, open, readdir, realpath, stat } from 'node:fs/promises';
import { dirname, join, relative, resolve, sep } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { type Content, normalUri, type Reader } from '@couplet/project';
import { UsageError } from './options.ts';

export function uriOf(path: string): string {
  return normalUri(pathToFileURL(path).href);
}

/** A path as a person would write it from `folder`, with '/' on every system. */
export function shownPath(uri: string, folder: string): string {
  if (!uri.startsWith('file:')) return uri;
  const path = fileURLToPath(uri);
  const short = relative(folder, path);
  return (short === '' ? '.' : short).split(sep).join('/');
}

/** Reads at most one byte more than `atMost`, so that a large file costs no more than a small one. */
async function readSome(path: string, atMost: number): Promise<Content> {
  let handle: Awaited<ReturnType<typeof open>> | undefined;
  try {
    const about = await stat(path);
    if (about.isDirectory()) return { sort: 'unreadable', reason: 'it is a folder' };
    if (!about.isFile()) return { sort: 'unreadable', reason: 'it is no ordinary file' };
    handle = await open(path);
    const bytes = new Uint8Array(Math.min(about.size, atMost) + 1);
    let filled = 0;
    while (filled < bytes.length) {
      const { bytesRead } = await handle.read(bytes, filled, bytes.length - filled);
      if (bytesRead === 0) break;
      filled += bytesRead;
    }
    return { sort: 'bytes', bytes: bytes.subarray(0, filled) };
  } catch (error) {
    return unreadable(error);
  } finally {
    await handle?.close();
  }
}

const REASONS: Readonly<Record<string, string>> = {
  EACCES: 'no permission',
  EPERM: 'no permission',
  EISDIR: 'it is a folder',
  ELOOP: 'its links go round in a circle',
  ENAMETOOLONG: 'its name is too long',
};

function unreadable(error: unknown): Extract<Content, { sort: 'missing' | 'unreadable' }> {
  const code = (error as NodeJS.ErrnoException).code ?? '';
  if (code === 'ENOENT' || code === 'ENOTDIR') return { sort: 'missing' };
  return { sort: 'unreadable', reason: REASONS[code] ?? `the system says ${code || String(error)}` };
}

export const diskReader: Reader = {
  read: (uri, atMost) => readSome(fileURLToPath(uri), atMost),

  async list(folder) {
    try {
      const entries = await readdir(fileURLToPath(folder), { withFileTypes: true });
      return entries
        .filter((entry) => entry.isDirectory() || entry.isFile() || entry.isSymbolicLink())
        .map((entry) => ({ uri: uriOf(join(entry.parentPath, entry.name)), folder: entry.isDirectory() }));
    } catch (error) {
      const content = unreadable(error);
      if (content.sort === 'missing') return [];
      // A folder that cannot be looked into may hold anything: nothing is passed over in silence.
      throw new UsageError(`the folder '${fileURLToPath(folder)}' cannot be read: ${content.reason}`);
    }
  },

  async realPath(uri) {
    try {
      return uriOf(await realpath(fileURLToPath(uri)));
    } catch {
      return uri;
    }
  },
};

/**
 * The folder that `use` never leaves: the repository that holds `path`; else the folder the command was started in,
 * if it holds `path`; else the folder of `path`.
 */
export async function workspaceOf(path: string, folder: string): Promise<string> {
  const real = await realpath(path).catch(() => resolve(path));
  const start = (await isFolder(real)) ? real : dirname(real);
  for (let each = start; ; each = dirname(each)) {
    if (await exists(join(each, '.git'))) return each;
    if (each === dirname(each)) break;
  }
  const here = await realpath(folder).catch(() => folder);
  const inside = relative(here, start);
  return inside === '' || (!inside.startsWith('..') && resolve(here, inside) === start) ? here : start;
}

export async function isFolder(path: string): Promise<boolean> {
  return (await stat(path).catch(() => undefined))?.isDirectory() ?? false;
}

async function exists(path: string): Promise<boolean> {
  return (await lstat(path).catch(() => undefined)) !== undefined;
}
