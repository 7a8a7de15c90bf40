/** Files that lie in memory, for tests of the project: text, or bytes where the bytes matter. */
import { type Content, normalUri, type Reader } from '@couplet/project';

export const FOLDER = 'file:///site';

export function uri(path: string): string {
  return normalUri(`${FOLDER}/${path.split('/').map(encodeURIComponent).join('/')}`);
}

/** `links` leads from one path to another, as a symbolic link does. Every read is noted in `reads`. */
export class MemoryReader implements Reader {
  readonly reads: string[] = [];
  private readonly files: Map<string, Content>;
  private readonly links: Map<string, string>;

  constructor(
    files: Readonly<Record<string, string | Uint8Array | Content>>,
    links: Readonly<Record<string, string>> = {},
  ) {
    this.files = new Map(Object.entries(files).map(([path, content]) => [uri(path), asContent(content)]));
    this.links = new Map(
      Object.entries(links).map(([from, to]) => [uri(from), normalUri(new URL(to, `${FOLDER}/`).href)]),
    );
  }

  async read(address: string): Promise<Content> {
    this.reads.push(address);
    return this.files.get(address) ?? { sort: 'missing' };
  }

  async list(folder: string) {
    const names = new Map<string, boolean>();
    for (const address of this.files.keys()) {
      if (!address.startsWith(`${folder}/`)) continue;
      const [name, ...below] = address.slice(folder.length + 1).split('/');
      names.set(`${folder}/${name}`, below.length > 0);
    }
    return [...names].map(([address, isFolder]) => ({ uri: address, folder: isFolder }));
  }

  async realPath(address: string): Promise<string> {
    return this.links.get(address) ?? address;
  }
}

function asContent(content: string | Uint8Array | Content): Content {
  if (typeof content === 'string') return { sort: 'bytes', bytes: new TextEncoder().encode(content) };
  return content instanceof Uint8Array ? { sort: 'bytes', bytes: content } : content;
}
