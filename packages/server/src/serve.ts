/** What the process and the worker have in common: where logs go, and a server over the checked sites. */
import type { FileSystemProvider } from 'langium';
import type { Connection } from 'vscode-languageserver';
import type { ClientFiles } from './files/client-files.ts';
import { startServer } from './server.ts';
import { CheckedSites } from './sites/checked-sites.ts';

declare const COUPLET_VERSION: string | undefined;

/** Serves on a connection; `clientFiles` is what of `files` the client reads. */
export function serve(connection: Connection, files: FileSystemProvider, clientFiles: ClientFiles): void {
  // A process's standard output belongs to the protocol; whatever is logged goes to the editor's output channel.
  console.log = (...words: unknown[]) => connection.console.info(words.join(' '));
  console.error = (...words: unknown[]) => connection.console.error(words.map(describe).join(' '));
  startServer({
    connection,
    clientFiles,
    fileSystemProvider: () => files,
    makeSites: (services) => new CheckedSites(services),
    version: typeof COUPLET_VERSION === 'string' ? COUPLET_VERSION : 'source',
  });
}

function describe(word: unknown): string {
  return word instanceof Error ? (word.stack ?? word.message) : String(word);
}
