/** What every head of the extension does once it has a client for its server: start it, restart it, stop it. */
import { commands, type ExtensionContext, type LogOutputChannel, Uri, window } from 'vscode';
import type { BaseLanguageClient, LanguageClientOptions } from 'vscode-languageclient';
import { addCaseTests } from './case-tests.ts';
import { addCheckTask } from './check-task.ts';
import { addNewSite } from './new-site.ts';
import { addStatus } from './status.ts';

/** A head makes the client that suits where it runs: a process on the desktop, a worker in a browser. */
export type MakeClient = (options: LanguageClientOptions) => BaseLanguageClient;

/**
 * Starts the server and registers the extension's commands. A server that crashes is started again by the client, up
 * to five times in three minutes; after that the command starts it. Everything ends with the extension.
 */
export async function activateWith(context: ExtensionContext, makeClient: MakeClient): Promise<void> {
  const output = window.createOutputChannel('Couplet', { log: true });
  context.subscriptions.push(output);
  const client = makeClient(clientOptions(context, output));
  context.subscriptions.push(
    { dispose: () => client.dispose() },
    commands.registerCommand('couplet.showOutput', () => output.show()),
    commands.registerCommand('couplet.restartServer', () => restart(client)),
    addCaseTests(client),
    addStatus(client),
    addCheckTask(),
    addNewSite(),
  );
  await client.start();
}

/** Also starts a server that the client has given up on. */
async function restart(client: BaseLanguageClient): Promise<void> {
  if (client.needsStop()) await client.stop();
  await client.start();
}

function clientOptions(context: ExtensionContext, output: LogOutputChannel): LanguageClientOptions {
  return {
    // The pages of the rules come with the extension: the code of a finding leads to its page without any network.
    initializationOptions: { rulePages: Uri.joinPath(context.extensionUri, 'dist', 'rules').toString() },
    documentSelector: [{ language: 'couplet' }],
    outputChannel: output,
    connectionOptions: { maxRestartCount: 5 },
    // Messages may link to a rule's page; nothing a file says is ever run as a command.
    markdown: { isTrusted: false, supportHtml: false },
  };
}
