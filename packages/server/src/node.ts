/** The server as a process: over standard input and output (`--stdio`) or the channel of the starting process (`--node-ipc`). */
import { NodeFileSystem } from 'langium/node';
import { createConnection, ProposedFeatures } from 'vscode-languageserver/node';
import { startServer } from './server.ts';
import { CheckedSites } from './sites/checked-sites.ts';

declare const COUPLET_VERSION: string | undefined;

const connection = createConnection(ProposedFeatures.all);
// Standard output belongs to the protocol; whatever is logged goes to the editor's output channel.
console.log = (...words: unknown[]) => connection.console.info(words.join(' '));
console.error = (...words: unknown[]) => connection.console.error(words.map(describe).join(' '));

startServer({
  connection,
  ...NodeFileSystem,
  makeSites: (services) => new CheckedSites(services),
  version: typeof COUPLET_VERSION === 'string' ? COUPLET_VERSION : 'source',
});

function describe(word: unknown): string {
  return word instanceof Error ? (word.stack ?? word.message) : String(word);
}
