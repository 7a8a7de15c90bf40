/** What every head of the extension does once it has a client for its server: start it, restart it, stop it. */
import { commands, type ExtensionContext, type LogOutputChannel, Uri, window } from 'vscode';
import type { BaseLanguageClient, LanguageClientOptions } from 'vscode-languageclient';
import { addCaseTests } from './case-tests.ts';
import { addCheckTask } from './check-task.ts';
import { restartingHandler } from './crashes.ts';
import { answerFiles } from './files.ts';
import { addNewCoupling } from './new-coupling.ts';
import { addNewSite } from './new-site.ts';
import { addPreview } from './preview/panel.ts';
import { addStatus } from './status.ts';

/** What differs between the heads: where the server runs, and what can be started there. */
export interface Head {
  /** A client for a server that runs as a process on the desktop, in a worker in a browser. */
  makeClient(options: LanguageClientOptions): BaseLanguageClient;
  /** Whether a server that ends closes its connection. */
  readonly endsItsConnection: boolean;
  /** Whether tasks can start programs. */
  readonly startsPrograms: boolean;
}

/**
 * Registers everything the extension brings and starts the server without waiting for it: an editor waits for nobody's
 * activation gladly. A server that crashes is started again (crashes.ts). Everything ends with the extension.
 */
export function activateWith(context: ExtensionContext, head: Head): void {
  const output = window.createOutputChannel('Couplet', { log: true });
  context.subscriptions.push(output);
  const client = head.makeClient(clientOptions(context, head, output));
  context.subscriptions.push(
    { dispose: () => client.dispose() },
    ...answerFiles(client),
    commands.registerCommand('couplet.showOutput', () => output.show()),
    commands.registerCommand('couplet.restartServer', () => restart(client)),
    addCaseTests(client),
    addStatus(client),
    addPreview(context, client),
    addNewSite(),
    addNewCoupling(),
    ...(head.startsPrograms ? [addCheckTask()] : []),
  );
  // The client itself shows why it did not start, with a button that leads to the output.
  client.start().catch((error) => output.error('The language server did not start:', error));
}

/** Also starts a server that the client has given up on. */
async function restart(client: BaseLanguageClient): Promise<void> {
  if (client.needsStop()) await client.stop();
  await client.start();
}

function clientOptions(context: ExtensionContext, head: Head, output: LogOutputChannel): LanguageClientOptions {
  return {
    initializationOptions: {
      // The pages of the rules come with the extension: the code of a finding leads to its page without any network.
      rulePages: Uri.joinPath(context.extensionUri, 'dist', 'rules').toString(),
      readsFiles: true,
    },
    documentSelector: [{ language: 'couplet' }],
    outputChannel: output,
    errorHandler: restartingHandler(head.endsItsConnection),
    // Messages may link to a rule's page; nothing a file says is ever run as a command.
    markdown: { isTrusted: false, supportHtml: false },
  };
}
