/** The browser head: the language server is a worker beside the extension host, which is a worker itself. */
import { type ExtensionContext, Uri, workspace } from 'vscode';
import { LanguageClient } from 'vscode-languageclient/browser';
import { activateWith } from './client.ts';

/** The part of a browser's worker that is used here; the extension's sources are checked without a browser's names. */
interface BrowserWorker {
  terminate(): void;
}
declare const Worker: new (address: string, options: { name: string }) => BrowserWorker;

export function activate(context: ExtensionContext): void {
  const server = new ServerWorker(Uri.joinPath(context.extensionUri, 'dist', 'server.worker.js'));
  context.subscriptions.push({ dispose: () => server.end() });
  activateWith(context, {
    makeClient: (options) => new LanguageClient('couplet', 'Couplet', () => server.begin() as never, options),
    startsPrograms: false,
  });
}

class ServerWorker {
  private readonly script: Uri;
  private current: BrowserWorker | undefined;

  constructor(script: Uri) {
    this.script = script;
  }

  /**
   * A fresh worker in place of the former one. The script is read first: an editor that is served with its extensions by
   * a remote machine lets no worker begin at an address there.
   */
  async begin(): Promise<BrowserWorker> {
    this.end();
    const bytes = await workspace.fs.readFile(this.script);
    const address = URL.createObjectURL(new Blob([new Uint8Array(bytes)], { type: 'text/javascript' }));
    this.current = new Worker(address, { name: 'Couplet language server' });
    return this.current;
  }

  end(): void {
    this.current?.terminate();
    this.current = undefined;
  }
}
