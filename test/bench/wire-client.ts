/** A client for measurements: it knows when a check has ended, and looks into the server's process by Node's inspector. */
import { type ChildProcess, spawn } from 'node:child_process';
import {
  createProtocolConnection,
  DidChangeTextDocumentNotification,
  DidOpenTextDocumentNotification,
  InitializedNotification,
  InitializeRequest,
  type Position,
  type ProtocolConnection,
  PublishDiagnosticsNotification,
  type PublishDiagnosticsParams,
  type Range,
  RegistrationRequest,
  ShutdownRequest,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver/node';

export class WireClient {
  readonly connection: ProtocolConnection;
  /** Progress that the server reported, as it came. */
  readonly progress: string[] = [];
  private readonly process: ChildProcess;
  private readonly published = new Map<string, PublishDiagnosticsParams>();
  private waiting: (() => void)[] = [];
  private version = 1;
  private inspector: Inspector | undefined;
  /** Complete checks so far. */
  passes = 0;

  private constructor(process: ChildProcess) {
    this.process = process;
    this.connection = createProtocolConnection(
      new StreamMessageReader(process.stdout!),
      new StreamMessageWriter(process.stdin!),
    );
    this.connection.onNotification(PublishDiagnosticsNotification.type, (params) => {
      this.published.set(params.uri, params);
      this.wake();
    });
    this.connection.onNotification('$/couplet/checked', () => {
      this.passes += 1;
      this.wake();
    });
    this.connection.onNotification('$/progress', ({ value }: { value: { message?: string; title?: string } }) => {
      this.progress.push(value.message ?? value.title ?? '');
      this.wake();
    });
    this.connection.onRequest('window/workDoneProgress/create', () => null);
    this.connection.onRequest('workspace/configuration', ({ items }: { items: unknown[] }) => items.map(() => null));
    this.connection.onRequest(RegistrationRequest.type, () => undefined);
    this.connection.listen();
  }

  static async start(entry: string, folder: string): Promise<WireClient> {
    const process = spawn(globalThis.process.execPath, ['--inspect=127.0.0.1:0', entry, '--stdio'], {
      stdio: ['pipe', 'pipe', 'pipe'],
    });
    const address = inspectorAddress(process);
    const client = new WireClient(process);
    client.inspector = await Inspector.open(await address);
    await client.connection.sendRequest(InitializeRequest.type, {
      processId: globalThis.process.pid,
      rootUri: null,
      capabilities: {
        window: { workDoneProgress: true },
        workspace: { configuration: true, didChangeWatchedFiles: { dynamicRegistration: true } },
      },
      workspaceFolders: [{ uri: folder, name: 'sites' }],
    });
    await client.connection.sendNotification(InitializedNotification.type, {});
    return client;
  }

  async open(uri: string, text: string): Promise<void> {
    const textDocument = { uri, languageId: 'couplet', version: this.version, text };
    await this.connection.sendNotification(DidOpenTextDocumentNotification.type, { textDocument });
  }

  /** One edit as an editor sends it; says the version it makes. */
  async edit(uri: string, range: Range, text: string): Promise<number> {
    this.version += 1;
    const params = { textDocument: { uri, version: this.version }, contentChanges: [{ range, text }] };
    await this.connection.sendNotification(DidChangeTextDocumentNotification.type, params);
    return this.version;
  }

  async type(uri: string, position: Position, text: string): Promise<number> {
    return this.edit(uri, { start: position, end: position }, text);
  }

  /** Waits until something holds of what was published; looks again whenever the server says something. */
  async until(holds: (published: (uri: string) => PublishDiagnosticsParams | undefined) => boolean): Promise<void> {
    while (!holds((uri) => this.published.get(uri))) await new Promise<void>((wake) => this.waiting.push(wake));
  }

  /** Processor milliseconds of the server's process so far. */
  async processor(): Promise<number> {
    const { user, system } = await this.evaluate<{ user: number; system: number }>('process.cpuUsage()');
    return (user + system) / 1000;
  }

  /** Bytes of heap in use and of the whole process, after everything that nobody holds is collected. */
  async memory(): Promise<{ readonly heap: number; readonly resident: number }> {
    await this.inspector!.send('HeapProfiler.enable');
    for (let i = 0; i < 3; i += 1) await this.inspector!.send('HeapProfiler.collectGarbage');
    const { heapUsed, rss } = await this.evaluate<{ heapUsed: number; rss: number }>('process.memoryUsage()');
    return { heap: heapUsed, resident: rss };
  }

  async startProfile(): Promise<void> {
    await this.inspector!.send('Profiler.enable');
    await this.inspector!.send('Profiler.setSamplingInterval', { interval: 500 });
    await this.inspector!.send('Profiler.start');
  }

  async stopProfile(): Promise<Profile> {
    return ((await this.inspector!.send('Profiler.stop')) as { profile: Profile }).profile;
  }

  async stop(): Promise<void> {
    await this.connection.sendRequest(ShutdownRequest.type);
    this.connection.dispose();
    this.inspector?.close();
    this.process.kill();
  }

  private async evaluate<T>(expression: string): Promise<T> {
    const answer = await this.inspector!.send('Runtime.evaluate', { expression, returnByValue: true });
    return (answer as { result: { value: T } }).result.value;
  }

  private wake(): void {
    for (const wake of this.waiting.splice(0)) wake();
  }
}

export interface Profile {
  readonly nodes: readonly {
    readonly id: number;
    readonly callFrame: { readonly functionName: string; readonly url: string; readonly lineNumber: number };
    readonly children?: readonly number[];
  }[];
  readonly samples: readonly number[];
  readonly timeDeltas: readonly number[];
}

function inspectorAddress(process: ChildProcess): Promise<string> {
  return new Promise((resolve, reject) => {
    let said = '';
    process.stderr!.on('data', (chunk: Buffer) => {
      said += chunk.toString();
      const address = /ws:\/\/\S+/.exec(said)?.[0];
      if (address !== undefined) resolve(address);
    });
    process.once('exit', () => reject(new Error(`the server did not start: ${said}`)));
  });
}

class Inspector {
  private readonly socket: WebSocket;
  private readonly answers = new Map<number, (result: unknown) => void>();
  private last = 0;

  private constructor(socket: WebSocket) {
    this.socket = socket;
    socket.addEventListener('message', ({ data }) => {
      const { id, result } = JSON.parse(String(data)) as { id?: number; result?: unknown };
      if (id === undefined) return;
      this.answers.get(id)?.(result);
      this.answers.delete(id);
    });
  }

  static open(address: string): Promise<Inspector> {
    const socket = new WebSocket(address);
    return new Promise((resolve, reject) => {
      socket.addEventListener('open', () => resolve(new Inspector(socket)));
      socket.addEventListener('error', () => reject(new Error(`no inspector at ${address}`)));
    });
  }

  send(method: string, params: object = {}): Promise<unknown> {
    this.last += 1;
    const id = this.last;
    return new Promise((resolve) => {
      this.answers.set(id, resolve);
      this.socket.send(JSON.stringify({ id, method, params }));
    });
  }

  close(): void {
    this.socket.close();
  }
}
