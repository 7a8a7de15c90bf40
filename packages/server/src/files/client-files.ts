/**
 * Files that the client reads for the server. In a browser a server has no disk, and a virtual workspace lies on none: there
 * the editor reads, and the server asks it.
 *
 * A client that reads says so in its `initializationOptions`: `{ readsFiles: true }`. It then answers
 *   couplet/files/read { uri, atMost }   the bytes in base64, cut off after `atMost`; null where there is no file
 *   couplet/files/stat { uri }           { file, folder }; null where there is nothing
 *   couplet/files/list { uri }           [{ name, file, folder }] of a folder
 */
import { MOST_BYTES } from '@couplet/project';
import { type FileSystemNode, type FileSystemProvider, type URI, UriUtils } from 'langium';
import type { Connection } from 'vscode-languageserver';

interface Kind {
  readonly file: boolean;
  readonly folder: boolean;
}

export class ClientFiles implements FileSystemProvider {
  /** Whether the client reads files; until it says so there are none. */
  offered = false;
  private readonly connection: Pick<Connection, 'sendRequest'>;

  constructor(connection: Pick<Connection, 'sendRequest'>) {
    this.connection = connection;
  }

  async stat(uri: URI): Promise<FileSystemNode> {
    const kind = await this.kindOf(uri);
    if (kind === null) throw nothingAt(uri);
    return { isFile: kind.file, isDirectory: kind.folder, uri };
  }

  async exists(uri: URI): Promise<boolean> {
    return (await this.kindOf(uri).catch(() => null)) !== null;
  }

  async readBinary(uri: URI): Promise<Uint8Array> {
    const bytes = this.offered ? await this.ask<string | null>('read', uri, { atMost: MOST_BYTES + 1 }) : null;
    if (bytes === null) throw nothingAt(uri);
    return Uint8Array.from(atob(bytes), (each) => each.charCodeAt(0));
  }

  async readFile(uri: URI): Promise<string> {
    return new TextDecoder().decode(await this.readBinary(uri));
  }

  async readDirectory(uri: URI): Promise<FileSystemNode[]> {
    const entries = this.offered ? await this.ask<(Kind & { readonly name: string })[]>('list', uri) : [];
    return entries.map(({ file, folder, name }) => ({
      isFile: file,
      isDirectory: folder,
      uri: UriUtils.joinPath(uri, name),
    }));
  }

  statSync(uri: URI): FileSystemNode {
    throw onlyLater(uri);
  }

  existsSync(): boolean {
    return false;
  }

  readBinarySync(uri: URI): Uint8Array {
    throw onlyLater(uri);
  }

  readFileSync(uri: URI): string {
    throw onlyLater(uri);
  }

  readDirectorySync(): FileSystemNode[] {
    return [];
  }

  private kindOf(uri: URI): Promise<Kind | null> {
    return this.offered ? this.ask<Kind | null>('stat', uri) : Promise.resolve(null);
  }

  private ask<T>(what: string, uri: URI, more: object = {}): Promise<T> {
    return this.connection.sendRequest<T>(`couplet/files/${what}`, { uri: uri.toString(), ...more });
  }
}

/** What lies on the server's own disk is read there, everything else by the client. */
export class DiskAndClientFiles implements FileSystemProvider {
  private readonly disk: FileSystemProvider;
  private readonly client: FileSystemProvider;

  constructor(disk: FileSystemProvider, client: FileSystemProvider) {
    this.disk = disk;
    this.client = client;
  }

  stat(uri: URI): Promise<FileSystemNode> {
    return this.of(uri).stat(uri);
  }

  statSync(uri: URI): FileSystemNode {
    return this.of(uri).statSync(uri);
  }

  exists(uri: URI): Promise<boolean> {
    return this.of(uri).exists(uri);
  }

  existsSync(uri: URI): boolean {
    return this.of(uri).existsSync(uri);
  }

  readBinary(uri: URI): Promise<Uint8Array> {
    return this.of(uri).readBinary(uri);
  }

  readBinarySync(uri: URI): Uint8Array {
    return this.of(uri).readBinarySync(uri);
  }

  readFile(uri: URI): Promise<string> {
    return this.of(uri).readFile(uri);
  }

  readFileSync(uri: URI): string {
    return this.of(uri).readFileSync(uri);
  }

  readDirectory(uri: URI): Promise<FileSystemNode[]> {
    return this.of(uri).readDirectory(uri);
  }

  readDirectorySync(uri: URI): FileSystemNode[] {
    return this.of(uri).readDirectorySync(uri);
  }

  private of({ scheme }: URI): FileSystemProvider {
    return scheme === 'file' ? this.disk : this.client;
  }
}

function nothingAt(uri: URI): Error {
  return new Error(`There is nothing at ${uri.toString(true)}.`);
}

function onlyLater(uri: URI): Error {
  return new Error(`The client reads ${uri.toString(true)}, and answers later.`);
}
