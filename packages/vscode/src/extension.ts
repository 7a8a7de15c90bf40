/** The desktop head: the language server is a Node process of its own beside the extension host. */
import type { ExtensionContext } from 'vscode';
import { LanguageClient, type NodeModule, TransportKind } from 'vscode-languageclient/node';
import { activateWith } from './client.ts';

export function activate(context: ExtensionContext): void {
  const run: NodeModule = { module: context.asAbsolutePath('dist/server.cjs'), transport: TransportKind.ipc };
  const debug: NodeModule = { ...run, options: { execArgv: ['--nolazy', '--inspect=6009'] } };
  activateWith(context, {
    makeClient: (options) => new LanguageClient('couplet', 'Couplet', { run, debug }, options),
    endsItsConnection: true,
    startsPrograms: true,
  });
}
