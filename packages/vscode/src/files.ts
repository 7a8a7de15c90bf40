/** Reads files for the server where it has no disk: in a browser, and in virtual workspaces (packages/server/src/files). */
import { type Disposable, FileType, Uri, workspace } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';

interface Asked {
  readonly uri: string;
  /** Bytes. */
  readonly atMost?: number;
}

/** Answers what the server asks; to be called before the client is started. */
export function answerFiles(client: BaseLanguageClient): Disposable[] {
  return [
    client.onRequest('couplet/files/read', async ({ atMost, uri }: Asked) => {
      const bytes = await there(workspace.fs.readFile(Uri.parse(uri)));
      return bytes === undefined ? null : base64(bytes.subarray(0, atMost));
    }),
    client.onRequest('couplet/files/stat', async ({ uri }: Asked) => {
      const stat = await there(workspace.fs.stat(Uri.parse(uri)));
      return stat === undefined ? null : kindOf(stat.type);
    }),
    client.onRequest('couplet/files/list', async ({ uri }: Asked) => {
      const entries = (await there(workspace.fs.readDirectory(Uri.parse(uri)))) ?? [];
      return entries.map(([name, type]) => ({ name, ...kindOf(type) }));
    }),
  ];
}

/** Nothing where nothing is; every other failure is the server's to tell. */
async function there<T>(asked: Thenable<T>): Promise<T | undefined> {
  try {
    return await asked;
  } catch (error) {
    if (error instanceof Error && /FileNotFound|EntryNotFound/.test(`${error.name} ${Reflect.get(error, 'code')}`))
      return;
    throw error;
  }
}

/** A link counts as what it leads to, except that no folder is walked through a link: such walks may never end. */
function kindOf(type: FileType): { file: boolean; folder: boolean } {
  return { file: (type & FileType.File) !== 0, folder: type === FileType.Directory };
}

/** Piece by piece: a call takes only so many arguments. */
function base64(bytes: Uint8Array): string {
  const pieces: string[] = [];
  for (let at = 0; at < bytes.length; at += 8192) pieces.push(String.fromCharCode(...bytes.subarray(at, at + 8192)));
  return btoa(pieces.join(''));
}
