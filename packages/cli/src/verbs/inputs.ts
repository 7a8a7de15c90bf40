/** From the paths of a command line to the files that are checked, grouped by the workspace folder they lie in. */
import { realpath } from 'node:fs/promises';
import { resolve } from 'node:path';
import { findFiles, isInside } from '@couplet/project';
import { diskReader, isFolder, uriOf, workspaceOf } from '../disk.ts';
import { UsageError } from '../options.ts';

export interface Inputs {
  /** URI of the folder that `use` never leaves. */
  readonly folder: string;
  /** URIs of files, as they were asked for or found. */
  readonly files: readonly string[];
  /** Files were named themselves: sites around that these are parts of are looked for, in what this does not refuse. */
  readonly around?: (uri: string) => boolean;
}

export interface InputOptions {
  readonly paths: readonly string[];
  /** Folders and files that are left out where a folder is gone through; not where they are named themselves. */
  readonly skip: readonly string[];
  /** The workspace folder, where it is given. */
  readonly workspace?: string;
  /** The folder the command was started in. */
  readonly from: string;
}

export async function readInputs({ paths, skip, workspace, from }: InputOptions): Promise<Inputs[]> {
  if (workspace !== undefined && !(await isFolder(resolve(from, workspace)))) {
    throw new UsageError(`'${workspace}' is no folder`);
  }
  const left = await Promise.all(skip.map((path) => realUri(resolve(from, path))));
  const groups = new Map<string, { files: Set<string>; named: boolean }>();
  for (const path of paths) {
    const absolute = resolve(from, path);
    const given = workspace === undefined ? await workspaceOf(absolute, from) : resolve(from, workspace);
    const folder = await realUri(given);
    const group = groups.get(folder) ?? { files: new Set(), named: false };
    const named = !(await isFolder(absolute));
    for (const file of named ? [uriOf(absolute)] : await filesBelow(absolute, path, left)) group.files.add(file);
    groups.set(folder, { ...group, named: group.named || named });
  }
  const around = (uri: string) => !left.some((each) => isInside(uri, each));
  return [...groups].map(([folder, { files, named }]) => ({ folder, files: [...files], ...(named ? { around } : {}) }));
}

async function filesBelow(absolute: string, path: string, skip: readonly string[]): Promise<string[]> {
  const folder = await realUri(absolute);
  const skipped = skip.filter((each) => !isInside(folder, each));
  const files = await findFiles(diskReader, folder, (uri) => !skipped.some((each) => isInside(uri, each)));
  if (files.length === 0) throw new UsageError(`there is no .couplet file in '${path}'`);
  return files;
}

async function realUri(path: string): Promise<string> {
  return uriOf(await realpath(path).catch(() => path));
}
