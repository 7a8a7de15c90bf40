/** The browser head: the language server is a worker beside the extension host, which is a worker itself. */
import { type ExtensionContext, Uri, workspace } from 'vscode';
import {
  BrowserMessageReader,
  BrowserMessageWriter,
  LanguageClient,
  type MessageTransports,
} from 'vscode-languageclient/browser';
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
    makeClient: (options) => new LanguageClient('couplet', 'Couplet', () => server.begin(), options),
    endsItsConnection: false,
    startsPrograms: false,
  });
}

class ServerWorker {
  private readonly script: Uri;
  private current: { readonly worker: BrowserWorker; readonly address: string } | undefined;

  constructor(script: Uri) {
    this.script = script;
  }

  /**
   * The way to a fresh worker in place of the former one. The script is read first: an editor that is served with its
   * extensions by a remote machine lets no worker begin at an address there. The way is made here, because the editor puts
   * something of its own in a worker's place, which the client would not know for one.
   */
  async begin(): Promise<MessageTransports> {
    this.end();
    const bytes = await workspace.fs.readFile(this.script);
    const address = URL.createObjectURL(new Blob([new Uint8Array(bytes)], { type: 'text/javascript' }));
    const worker = new Worker(address, { name: 'Couplet language server' });
    this.current = { worker, address };
    const port = worker as never;
    return { reader: new BrowserMessageReader(port), writer: new BrowserMessageWriter(port) };
  }

  end(): void {
    if (this.current === undefined) return;
    this.current.worker.terminate();
    URL.revokeObjectURL(this.current.address);
    this.current = undefined;
  }
}
