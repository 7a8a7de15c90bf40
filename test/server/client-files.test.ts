/**
 * Files that no disk of the server holds: the client reads them. So it is for a server in a browser's worker, and for the
 * process where a workspace is virtual; both run here as they are shipped.
 */

import { readFileSync } from 'node:fs';
import { isBuiltin } from 'node:module';
import { afterEach, describe, expect, test } from 'vitest';
import {
  CancellationTokenSource,
  DidChangeWatchedFilesNotification,
  FileChangeType,
  HoverRequest,
  LSPErrorCodes,
  type PublishDiagnosticsParams,
} from 'vscode-languageserver/node';
import { browserWorker, WORKER_BUNDLE } from './browser-worker.ts';
import { BUNDLE, Client, marked, processOf, type Transport } from './client.ts';

const FOLDER = 'shelf://cupboard/site';

const TYPES = `type Controller : unit {
  rail V12 { volts: 11.4 V .. 12.8 V .. 14.1 V  limit: 1.6 A  return: GND }
  common GND { earthed: no }
  output Q1 { style: sink  return: GND  rated: 100 mA  drop: 0.5 V }
}
`;
const SITE = `site "Yard"
use "types/controller.couplet"
use "library/loads.couplet"
unit ctl : Controller
load P1 : Sounder12 = 250 mA @ 12 V
wire ctl.V12 -- P1 -- ctl.Q1
case lit { turn ctl.Q1 on  expect P1 on }
`;

type Files = Record<string, string | Error>;

/** Answers as an editor with these files would; a file that cannot be read is an error. `asked` notes every question. */
function answer({ connection }: Transport, files: Files, asked: string[]): void {
  const nameOf = (uri: string) => decodeURIComponent(uri.slice(FOLDER.length + 1));
  const inside = (folder: string) =>
    Object.keys(files).filter((name) => folder === '' || name.startsWith(`${folder}/`));
  const note = (what: string, uri: string) => {
    const name = nameOf(uri);
    asked.push(`${what} ${name}`);
    return name;
  };
  connection.onRequest('couplet/files/read', ({ uri, atMost }: { uri: string; atMost: number }) => {
    const file = files[note('read', uri)];
    if (file instanceof Error) throw file;
    return file === undefined ? null : Buffer.from(file).subarray(0, atMost).toString('base64');
  });
  connection.onRequest('couplet/files/stat', ({ uri }: { uri: string }) => {
    const name = note('stat', uri);
    if (name in files) return { file: true, folder: false };
    return inside(name).length > 0 ? { file: false, folder: true } : null;
  });
  connection.onRequest('couplet/files/list', ({ uri }: { uri: string }) => {
    const folder = note('list', uri);
    const names = inside(folder).map((name) => (folder === '' ? name : name.slice(folder.length + 1)).split('/'));
    const folders = new Map(names.map(([name, ...below]) => [name, below.length > 0]));
    return [...folders].map(([name, isFolder]) => ({ name, file: !isFolder, folder: isFolder }));
  });
}

const codes = ({ diagnostics }: PublishDiagnosticsParams) => diagnostics.map(({ code }) => code);

describe.each([
  ['a worker', browserWorker],
  ['a process', () => processOf(BUNDLE)],
])('%s', (_, make) => {
  let client: Client | undefined;
  afterEach(async () => {
    await client?.stop();
  }, 60_000);

  async function serving(files: Files, options: object = { readsFiles: true }) {
    const asked: string[] = [];
    const transport = make();
    answer(transport, files, asked);
    client = await Client.over(transport, FOLDER, options);
    return { client, asked, at: (name: string) => `${FOLDER}/${name}` };
  }

  test('the sites of the workspace are found and checked with what they use, also those that nobody opens', async () => {
    const { asked, at, client } = await serving({
      'site.couplet': SITE,
      'types/controller.couplet': TYPES,
      'node_modules/other.couplet': 'site "Not ours"\n',
      'notes.txt': 'not ours either',
      'locked.couplet': new Error('it is locked'),
    });
    await client.open(at('another.couplet'), 'site "Another"\n');
    const said = await client.diagnostics(at('site.couplet'), (params) => codes(params).includes('output-overloaded'));
    const finding = said.diagnostics.find(({ code }) => code === 'output-overloaded');
    expect(finding?.message).toMatch(/ctl\.Q1 .*250 mA.*100 mA/);
    expect(finding?.range.start.line).toBe(5);
    expect(asked).toContain('read types/controller.couplet');
    expect(asked.filter((each) => /other|notes/.test(each))).toEqual([]);
    expect(client.errors).toEqual([]);
  });

  test('the hover of an open file shows the current that is computed with the used one', async () => {
    const { at, client } = await serving({ 'site.couplet': SITE, 'types/controller.couplet': TYPES });
    const { text, position } = marked(SITE.replace('-- P1', '-- P<|>1'));
    await client.open(at('site.couplet'), text);
    await client.diagnostics(at('site.couplet'), ({ version }) => version === 1);
    const params = { textDocument: { uri: at('site.couplet') }, position };
    const hover = await client.connection.sendRequest(HoverRequest.type, params);
    expect(JSON.stringify(hover?.contents)).toMatch(/\*\*P1\*\* load.*250 mA/);
    expect(client.errors).toEqual([]);
  });

  test('a used file that is changed, taken away or cannot be read shows at the file that uses it', async () => {
    const files: Files = { 'site.couplet': SITE, 'types/controller.couplet': TYPES };
    const { at, client } = await serving(files);
    const site = at('site.couplet');
    const uri = at('types/controller.couplet');
    const tell = (type: FileChangeType) =>
      client.connection.sendNotification(DidChangeWatchedFilesNotification.type, { changes: [{ uri, type }] });
    await client.open(site, SITE);
    await client.diagnostics(site, (params) => codes(params).includes('output-overloaded'));

    files['types/controller.couplet'] = TYPES.replace('100 mA', '1 A');
    await tell(FileChangeType.Changed);
    await client.diagnostics(site, (params) => !codes(params).includes('output-overloaded'));

    delete files['types/controller.couplet'];
    await tell(FileChangeType.Deleted);
    await client.diagnostics(site, (params) => codes(params).includes('use-missing'));

    files['types/controller.couplet'] = new Error('it is locked');
    await client.change(site, `${SITE}\n`, 2);
    const said = ({ diagnostics }: PublishDiagnosticsParams) => diagnostics.map(({ message }) => message).join('\n');
    await client.diagnostics(site, (params) => params.version === 2 && said(params).includes('it is locked'));
  }, 120_000);

  test('a client that does not read files is not asked for any', async () => {
    const { asked, at, client } = await serving({ 'site.couplet': SITE }, {});
    await client.open(at('site.couplet'), SITE);
    await client.diagnostics(at('site.couplet'), (params) => codes(params).includes('use-missing'));
    expect(asked).toEqual([]);
    expect(client.errors).toEqual([]);
  });

  test('a cancelled hover is answered as cancelled, and the next one is answered', async () => {
    const relays = (n: number) => Array.from({ length: n }, (_, i) => `relay K${i} { }`).join('\n');
    const { at, client } = await serving({});
    const uri = at('relays.couplet');
    await client.open(uri, relays(10));
    await client.diagnostics(uri);
    const source = new CancellationTokenSource();
    await client.change(uri, relays(4000), 2);
    const hover = { textDocument: { uri }, position: { line: 1, character: 7 } };
    const cancelled = client.connection.sendRequest(HoverRequest.type, hover, source.token);
    source.cancel();
    await expect(cancelled).rejects.toMatchObject({ code: LSPErrorCodes.RequestCancelled });
    await client.connection.sendRequest(HoverRequest.type, hover);
  }, 120_000);
});

test('the bundle for browsers asks for nothing of Node', () => {
  const { inputs, outputs } = JSON.parse(readFileSync(WORKER_BUNDLE.replace(/js$/, 'meta.json'), 'utf8')) as {
    inputs: Record<string, { imports: { path: string; external?: boolean }[] }>;
    outputs: Record<string, { imports: { path: string; external?: boolean }[] }>;
  };
  const wanted = Object.values(outputs).flatMap(({ imports }) =>
    imports.filter(({ external, path }) => external === true || isBuiltin(path)).map(({ path }) => path),
  );
  expect(wanted).toEqual([]);
  expect(Object.keys(inputs)).toContain('packages/server/src/worker.ts');
});
