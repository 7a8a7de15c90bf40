/** Which files there are: what was asked for and everything it uses, each read once and never outside the workspace folder. */
import {
  BUNDLED_PATHS,
  bundledText,
  isBundledUri,
  isInFolder,
  nearest,
  type TextPlace,
  usedUri,
} from '@couplet/language';
import { decode, MOST_BYTES } from './decode.ts';
import type { ProjectFinding } from './finding.ts';
import { type Content, nameOf, normalUri, type Reader } from './reader.ts';
import type { FileGraph } from './sites.ts';

/** A `use` statement: the path as it is written, and its place. */
export interface UseStatement {
  readonly path: string;
  readonly place: TextPlace;
}

/** What a file says of itself before any site is known. */
export interface FileHead {
  /** It holds a `site` statement. */
  readonly site: boolean;
  readonly uses: readonly UseStatement[];
}

/** One file as it was read. */
export interface Source {
  readonly uri: string;
  /** Absent where the file could not be read further; it then has a finding that says why. */
  readonly text?: string;
  readonly head: FileHead;
  /** Files that its `use` statements lead to, in their order, without repeats. */
  readonly targets: readonly string[];
  /** The file's own trouble, and that of its `use` statements. */
  readonly findings: readonly ProjectFinding[];
}

export interface SourceOptions {
  readonly reader: Reader;
  /** URI of the folder that `use` never leaves. */
  readonly folder: string;
  head(uri: string, text: string): FileHead;
  readonly mostBytes?: number;
}

const NO_HEAD: FileHead = { site: false, uses: [] };

/** Reads files and follows their `use` statements. Addresses are those of the files themselves, links resolved. */
export class Sources implements FileGraph {
  readonly files = new Map<string, Source>();
  /** `use` paths that a link on the way leads elsewhere than they spell. */
  readonly links: { readonly from: string; readonly path: string; readonly target: string }[] = [];
  private readonly options: SourceOptions;
  private readonly resolved = new Map<string, string>();

  constructor(options: SourceOptions) {
    this.options = options;
  }

  /** Reads a file and everything it leads to; says under which address it is kept. */
  async add(uri: string): Promise<string> {
    const first = await this.real(uri);
    const waiting = [first];
    for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
      if (this.files.has(next)) continue;
      const source = await this.load(next);
      this.files.set(next, source);
      waiting.push(...source.targets);
    }
    return first;
  }

  isSite(uri: string): boolean {
    return this.files.get(uri)?.head.site ?? false;
  }

  targets(uri: string): readonly string[] {
    return this.files.get(uri)?.targets ?? [];
  }

  private async load(uri: string): Promise<Source> {
    const mostBytes = this.options.mostBytes ?? MOST_BYTES;
    const bundled = bundledText(uri);
    const content = bundled === undefined ? await this.options.reader.read(uri, mostBytes) : asText(bundled);
    const { text, finding } = decode(uri, content, mostBytes);
    const own = finding === undefined ? [] : [finding];
    if (text === undefined) return { uri, head: NO_HEAD, targets: [], findings: own };
    const head = this.options.head(uri, text);
    const targets = new Set<string>();
    for (const use of head.uses) {
      const outcome = await this.follow(uri, use);
      if (typeof outcome === 'string') targets.add(outcome);
      else own.push(outcome);
    }
    return { uri, text, head, targets: [...targets], findings: own };
  }

  /** The file that a `use` leads to, or what is wrong with it. */
  private async follow(from: string, use: UseStatement): Promise<string | ProjectFinding> {
    const { folder, reader } = this.options;
    if (use.path.trim() === '') return finding('use-path-wrong', use, "'use' needs the path of a file.");
    if (use.path.includes('\\')) {
      const likely = `"${use.path.replaceAll('\\', '/')}"`;
      return { ...finding('use-path-wrong', use, `Write the path with '/': ${likely}.`), likely };
    }
    const target = usedUri(from, use.path);
    if (target === undefined) {
      const message = `'${use.path}' is not a relative path: 'use' names a file from the folder of the file it stands in.`;
      return finding('use-path-wrong', use, message);
    }
    if (isBundledUri(target)) return target;
    const real = isInFolder(target, folder) ? await this.real(target) : target;
    if (!isInFolder(real, folder)) {
      const message = `'${use.path}' lies outside the workspace folder '${nameOf(folder)}'; only files inside it can be used.`;
      return finding('use-outside-folder', use, message);
    }
    if (real !== target) this.links.push({ from, path: use.path, target: real });
    if (this.files.has(real)) return real;
    const content = await reader.read(real, 0);
    if (content.sort === 'missing') {
      const near = use.path.startsWith('library/') ? nearest(use.path, BUNDLED_PATHS) : undefined;
      const advice = near === undefined ? '' : ` Is '${near}' of the library meant?`;
      return finding(
        'use-missing',
        use,
        `There is no file '${use.path}' (looked for from this file's folder).${advice}`,
      );
    }
    if (content.sort === 'unreadable') {
      return finding('use-unreadable', use, `'${use.path}' cannot be read: ${content.reason}.`);
    }
    return real;
  }

  private async real(uri: string): Promise<string> {
    if (isBundledUri(uri)) return uri;
    const known = this.resolved.get(uri);
    if (known !== undefined) return known;
    const real = normalUri(await this.options.reader.realPath(normalUri(uri)));
    this.resolved.set(uri, real);
    return real;
  }
}

function asText(text: string): Content {
  return { sort: 'text', text };
}

function finding(code: string, use: UseStatement, message: string): ProjectFinding {
  return { code, severity: 'error', message, place: use.place, related: [], figures: [], roots: [] };
}
