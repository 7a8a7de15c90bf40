/** A client of the language server as any editor is one: a process, its standard input and output, the protocol. */
import { spawn } from 'node:child_process';
import { join } from 'node:path';
import {
  createProtocolConnection,
  DidChangeTextDocumentNotification,
  DidOpenTextDocumentNotification,
  InitializedNotification,
  InitializeRequest,
  type InitializeResult,
  LogMessageNotification,
  type Position,
  type ProtocolConnection,
  PublishDiagnosticsNotification,
  type PublishDiagnosticsParams,
  RegistrationRequest,
  ShutdownRequest,
  StreamMessageReader,
  StreamMessageWriter,
  WorkDoneProgressCreateRequest,
} from 'vscode-languageserver/node';

export const root = join(import.meta.dirname, '../..');
export const SOURCE = join(root, 'packages/server/src/node.ts');
export const BUNDLE = join(root, 'packages/vscode/dist/server.cjs');

/** Text with `<|>` at the cursor: the text without it, and where it was. */
export function marked(text: string): { text: string; position: Position } {
  const at = text.indexOf('<|>');
  if (at < 0) throw new Error('the text has no cursor <|>');
  const lines = text.slice(0, at).split('\n');
  return {
    text: text.replace('<|>', ''),
    position: { line: lines.length - 1, character: lines[lines.length - 1]!.length },
  };
}

/** How a server is reached, and how it is ended. */
export interface Transport {
  readonly connection: ProtocolConnection;
  end(): void;
}

export class Client {
  readonly connection: ProtocolConnection;
  readonly initialized: Promise<InitializeResult>;
  /** What the server logged as an error; empty when all is well. */
  readonly errors: string[] = [];
  /** Progress as the server told it, in order. */
  readonly progress: { readonly kind: string; readonly title?: string; readonly message?: string }[] = [];
  private readonly transport: Transport;
  private readonly published = new Map<string, PublishDiagnosticsParams>();
  private waiting: (() => void)[] = [];

  private constructor(transport: Transport, folder: string | undefined, initializationOptions: object) {
    this.transport = transport;
    this.connection = transport.connection;
    this.connection.onNotification(PublishDiagnosticsNotification.type, (params) => {
      this.published.set(params.uri, params);
      for (const wake of this.waiting.splice(0)) wake();
    });
    this.connection.onNotification(LogMessageNotification.type, ({ type, message }) => {
      if (type === 1) this.errors.push(message);
    });
    this.connection.onRequest(RegistrationRequest.type, () => undefined);
    this.connection.onRequest(WorkDoneProgressCreateRequest.type, () => undefined);
    this.connection.onNotification('$/progress', ({ value }: { value: Client['progress'][number] }) => {
      this.progress.push(value);
      for (const wake of this.waiting.splice(0)) wake();
    });
    this.connection.listen();
    this.initialized = this.connection.sendRequest(InitializeRequest.type, {
      processId: process.pid,
      rootUri: null,
      initializationOptions,
      capabilities: {
        window: { workDoneProgress: true },
        workspace: { didChangeWatchedFiles: { dynamicRegistration: true } },
      },
      workspaceFolders: folder === undefined ? null : [{ uri: folder, name: 'site' }],
    });
  }

  /** Starts a server and shakes hands; `folder` is the URI of the one workspace folder. */
  static start(entry: string = SOURCE, folder?: string): Promise<Client> {
    return Client.over(processOf(entry), folder);
  }

  /** The same over any transport; `options` are the client's own words to this server. */
  static async over(transport: Transport, folder?: string, options: object = {}): Promise<Client> {
    const client = new Client(transport, folder, options);
    await client.initialized;
    await client.connection.sendNotification(InitializedNotification.type, {});
    return client;
  }

  async open(uri: string, text: string, version = 1): Promise<void> {
    const textDocument = { uri, languageId: 'couplet', version, text };
    await this.connection.sendNotification(DidOpenTextDocumentNotification.type, { textDocument });
  }

  async change(uri: string, text: string, version: number): Promise<void> {
    const params = { textDocument: { uri, version }, contentChanges: [{ text }] };
    await this.connection.sendNotification(DidChangeTextDocumentNotification.type, params);
  }

  /** The diagnostics of a file, once `enough` holds for them. */
  async diagnostics(
    uri: string,
    enough: (params: PublishDiagnosticsParams) => boolean = () => true,
  ): Promise<PublishDiagnosticsParams> {
    for (;;) {
      const params = this.published.get(uri);
      if (params !== undefined && enough(params)) return params;
      await new Promise<void>((wake) => this.waiting.push(wake));
    }
  }

  /** Waits until something holds, looking again whenever the server publishes or tells progress. */
  async until(holds: () => boolean): Promise<void> {
    while (!holds()) await new Promise<void>((wake) => this.waiting.push(wake));
  }

  async stop(): Promise<void> {
    await this.connection.sendRequest(ShutdownRequest.type);
    this.connection.dispose();
    this.transport.end();
  }
}

/** A server as a process of its own. */
export function processOf(entry: string): Transport {
  const child = spawn('node', [entry, '--stdio'], { stdio: ['pipe', 'pipe', 'inherit'] });
  const reader = new StreamMessageReader(child.stdout);
  const writer = new StreamMessageWriter(child.stdin);
  return { connection: createProtocolConnection(reader, writer), end: () => child.kill() };
}
