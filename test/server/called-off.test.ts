/** Loading in turns that is called off by edits and asked of in the middle: in the end every name is linked. */
import { createServerServices } from '@couplet/server';
import { DocumentState, type FileSystemNode, type FileSystemProvider, URI } from 'langium';
import { describe, expect, test } from 'vitest';
import { TextDocument } from 'vscode-languageserver-textdocument';
import type { UpdateHandler } from '../../packages/server/src/update-handler.ts';
import type { WorkspaceLoader } from '../../packages/server/src/workspace.ts';
import { FOLDER } from './desk.ts';

/** Files in memory, as a disk has them. */
class Disk implements FileSystemProvider {
  private readonly files: ReadonlyMap<string, string>;

  constructor(files: Readonly<Record<string, string>>) {
    this.files = new Map(Object.entries(files).map(([name, text]) => [FOLDER + name, text]));
  }

  async exists(uri: URI): Promise<boolean> {
    return this.files.has(uri.toString());
  }

  async readFile(uri: URI): Promise<string> {
    const text = this.files.get(uri.toString());
    if (text === undefined) throw new Error(`no file ${uri}`);
    return text;
  }

  existsSync(): boolean {
    throw new Error('nobody waits for a disk');
  }

  readBinary(): Promise<Uint8Array> {
    throw new Error('sites are texts');
  }

  readBinarySync(): Uint8Array {
    throw new Error('sites are texts');
  }

  readFileSync(): string {
    throw new Error('nobody waits for a disk');
  }

  readDirectorySync(): FileSystemNode[] {
    throw new Error('nobody waits for a disk');
  }

  statSync(): FileSystemNode {
    throw new Error('nobody waits for a disk');
  }

  async stat(uri: URI): Promise<FileSystemNode> {
    const isFile = this.files.has(uri.toString());
    return { uri, isFile, isDirectory: !isFile };
  }

  async readDirectory(): Promise<FileSystemNode[]> {
    return [...this.files.keys()].map((uri) => ({ uri: URI.parse(uri), isFile: true, isDirectory: false }));
  }
}

/** So long that every site is a turn of its own. */
const LONG = `// ${'-'.repeat(60_000)}\n`;
const OPEN = 'open.couplet';

function files(): Record<string, string> {
  const all: Record<string, string> = { [OPEN]: 'site "Open"\nrelay K1 { }\n' };
  for (const n of [1, 2, 3]) {
    all[`a${n}.couplet`] = `wire G${n}.plus -- P${n} -- G${n}.minus\n`;
    all[`site${n}.couplet`] =
      `site "Site ${n}"\nuse "a${n}.couplet"\nuse "z${n}.couplet"\nload P${n} = 5 W @ 12 V\n${LONG}`;
    all[`z${n}.couplet`] = `supply G${n} { volts: 12 V }\n`;
  }
  return all;
}

/** What the steps of building are called; a call-off comes when one of them has been reached so often. */
const STEPS = {
  'a change is taken up': undefined,
  'files are parsed': DocumentState.Parsed,
  'names are known': DocumentState.IndexedContent,
  'files are linked': DocumentState.Linked,
} as const;

async function load(step: keyof typeof STEPS, count: number): Promise<{ unlinked: string[]; loaded: number }> {
  const disk = new Disk(files());
  const { couplet, shared } = createServerServices({ fileSystemProvider: () => disk });
  const { DocumentBuilder, LangiumDocuments, TextDocuments, WorkspaceManager } = shared.workspace;
  const updates = shared.lsp.DocumentUpdateHandler as UpdateHandler;
  const loader = WorkspaceManager as WorkspaceLoader;
  loader.load = (uris) => updates.load(uris);
  const open = (version: number) => {
    const text = `${files()[OPEN]}// ${version}\n`;
    const document = TextDocument.create(FOLDER + OPEN, 'couplet', version, text);
    TextDocuments.set(document);
    return document;
  };
  open(1);
  let left = count;
  const reached = () => {
    // Whoever shows something of a site asks for its names, whatever is being built.
    for (const root of couplet.references.SiteScopes.roots()) couplet.references.SiteScopes.siteOf(root);
    couplet.references.SiteScopes.find(`${FOLDER}a1.couplet`, 'things', 'P1');
    left -= 1;
    if (left === 0) updates.didChangeContent({ document: open(2) });
  };
  const state = STEPS[step];
  if (state === undefined) DocumentBuilder.onUpdate(reached);
  else DocumentBuilder.onDocumentPhase(state, reached);
  const done = new Promise<void>((resolve) => {
    loader.onProgress = () => {
      if (!loader.isLoading) resolve();
    };
  });
  WorkspaceManager.initialize({
    capabilities: {},
    processId: null,
    rootUri: null,
    workspaceFolders: [{ name: 'site', uri: FOLDER }],
  });
  await WorkspaceManager.initialized({});
  await done;
  // The edit may still wait for its moment.
  await new Promise((resolve) => setTimeout(resolve, 30));
  await DocumentBuilder.waitUntil(DocumentState.Validated);
  const documents = LangiumDocuments.all.filter(({ uri }) => uri.toString().startsWith(FOLDER)).toArray();
  const unlinked = documents.flatMap(({ references }) =>
    references.filter(({ error }) => error !== undefined).map(({ $refText }) => $refText),
  );
  return { unlinked, loaded: documents.length };
}

describe.each(Object.keys(STEPS) as (keyof typeof STEPS)[])('called off when %s', (step) => {
  test.each([1, 2, 3, 5, 8, 11])(
    'the time numbered %i',
    async (count) => {
      expect(await load(step, count)).toEqual({ unlinked: [], loaded: 10 });
    },
    30_000,
  );
});
