/** What no well-behaved editor sends and every server meets: malformed messages, unknown files, odd texts, two at once. */
import { spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, renameSync, rmSync, unlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { describe, expect, onTestFinished, test } from 'vitest';
import {
  type CodeAction,
  CodeActionRequest,
  CodeLensRequest,
  CodeLensResolveRequest,
  CompletionRequest,
  createProtocolConnection,
  DefinitionRequest,
  type Diagnostic,
  DidChangeTextDocumentNotification,
  DidChangeWatchedFilesNotification,
  DidCloseTextDocumentNotification,
  DidRenameFilesNotification,
  DocumentFormattingRequest,
  DocumentHighlightRequest,
  DocumentLinkRequest,
  DocumentSymbolRequest,
  FoldingRangeRequest,
  HoverRequest,
  InlayHintRequest,
  PrepareRenameRequest,
  type Range,
  ReferencesRequest,
  RenameRequest,
  SelectionRangeRequest,
  SemanticTokensRequest,
  SignatureHelpRequest,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver/node';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { Client, SOURCE } from './client.ts';

const LONG = 120_000;

/** Files on the disk and a server on their folder; `more` are further servers on the same one. */
async function serving(files: Readonly<Record<string, string>>, more = 0) {
  const path = mkdtempSync(join(tmpdir(), 'couplet-bad-'));
  for (const [name, text] of Object.entries(files)) {
    mkdirSync(join(path, name, '..'), { recursive: true });
    writeFileSync(join(path, name), text);
  }
  const folder = pathToFileURL(path).href;
  const clients = await Promise.all(Array.from({ length: 1 + more }, () => Client.start(SOURCE, folder)));
  onTestFinished(async () => {
    for (const client of clients) await client.stop();
    rmSync(path, { recursive: true, force: true });
    for (const client of clients) expect(client.errors).toEqual([]);
  });
  const [client, ...others] = clients as [Client, ...Client[]];
  return { client, others, path, at: (name: string) => `${folder}/${name}` };
}

const has = (code: string) => (params: { diagnostics: readonly Diagnostic[] }) =>
  params.diagnostics.some((each) => each.code === code);
const hasNot = (code: string) => (params: { diagnostics: readonly Diagnostic[] }) => !has(code)(params);

test(
  'malformed messages are dropped or refused, and the next one is answered',
  async () => {
    const child = spawn('node', [SOURCE, '--stdio'], { stdio: ['pipe', 'pipe', 'ignore'] });
    const connection = createProtocolConnection(
      new StreamMessageReader(child.stdout),
      new StreamMessageWriter(child.stdin),
    );
    const transport = { connection, end: () => child.kill() };
    const client = await Client.over(transport);
    const uri = 'file:///bad/site.couplet';
    const text = 'site "Mill"\nrelay K1 "High water" { }\n';
    await client.open(uri, text);
    await client.diagnostics(uri);
    const frame = (body: string) => `Content-Length: ${Buffer.byteLength(body)}\r\n\r\n${body}`;
    for (const body of [
      '{oops',
      '[]',
      '{}',
      'null',
      '{"jsonrpc":"2.0"}',
      '{"jsonrpc":"2.0","method":7}',
      '{"jsonrpc":"2.0","method":"$/nobodyKnows","params":[1,2]}',
      '{"jsonrpc":"2.0","method":"textDocument/didChange","params":{"textDocument":{"uri":"file:///never/opened.couplet","version":3},"contentChanges":[{"text":"x"}]}}',
      '{"jsonrpc":"2.0","method":"textDocument/didClose","params":{"textDocument":{"uri":"file:///never/opened.couplet"}}}',
      '{"jsonrpc":"2.0","id":"nobody","result":null}',
      `{"jsonrpc":"2.0","method":"textDocument/didChange","params":{"textDocument":{"uri":"${uri}","version":2},"contentChanges":[]}}`,
    ]) {
      child.stdin.write(frame(body));
    }
    const ask = (method: string, params: unknown) => connection.sendRequest(method, params);
    await expect(ask('couplet/nobodyKnows', {})).rejects.toMatchObject({ code: -32601 });
    for (const params of [{}, null, { textDocument: {} }, { textDocument: { uri: 7 }, position: 'x' }]) {
      await expect(ask('textDocument/hover', params)).rejects.toMatchObject({ code: expect.any(Number) });
    }
    await ask('couplet/faults', { uri: 7 }).catch(() => undefined);
    for (const position of [
      { line: 1e6, character: 0 },
      { line: 1, character: 1e6 },
      { line: -1, character: -1 },
    ]) {
      await ask('textDocument/hover', { textDocument: { uri }, position }).catch(({ code }) =>
        expect(code).toBeLessThan(0),
      );
      await ask('textDocument/completion', { textDocument: { uri }, position }).catch(({ code }) =>
        expect(code).toBeLessThan(0),
      );
    }
    const hover = await connection.sendRequest(HoverRequest.type, {
      textDocument: { uri },
      position: { line: 1, character: 7 },
    });
    expect(JSON.stringify(hover?.contents)).toContain('K1');
    await client.stop();
  },
  LONG,
);

test(
  'a file that is not there is answered with nothing or refused, by every request',
  async () => {
    const { client } = await serving({ 'site.couplet': 'site "Mill"\n' });
    const { connection } = client;
    for (const uri of [
      'file:///no/such/file.couplet',
      'untitled:Untitled-1',
      'nonsense',
      '',
      'builtin:/library/none.couplet',
    ]) {
      const textDocument = { uri };
      const position = { line: 0, character: 0 };
      const at = { textDocument, position };
      const range: Range = { start: position, end: position };
      const answers = await Promise.allSettled([
        connection.sendRequest(HoverRequest.type, at),
        connection.sendRequest(CompletionRequest.type, at),
        connection.sendRequest(SignatureHelpRequest.type, at),
        connection.sendRequest(DefinitionRequest.type, at),
        connection.sendRequest(ReferencesRequest.type, { ...at, context: { includeDeclaration: true } }),
        connection.sendRequest(PrepareRenameRequest.type, at),
        connection.sendRequest(RenameRequest.type, { ...at, newName: 'X' }),
        connection.sendRequest(DocumentHighlightRequest.type, at),
        connection.sendRequest(DocumentSymbolRequest.type, { textDocument }),
        connection.sendRequest(DocumentLinkRequest.type, { textDocument }),
        connection.sendRequest(FoldingRangeRequest.type, { textDocument }),
        connection.sendRequest(SelectionRangeRequest.type, { textDocument, positions: [position] }),
        connection.sendRequest(SemanticTokensRequest.type, { textDocument }),
        connection.sendRequest(DocumentFormattingRequest.type, {
          textDocument,
          options: { tabSize: 2, insertSpaces: true },
        }),
        connection.sendRequest(CodeActionRequest.type, { textDocument, range, context: { diagnostics: [] } }),
        connection.sendRequest(CodeLensRequest.type, { textDocument }),
        connection.sendRequest(InlayHintRequest.type, { textDocument, range }),
        connection.sendRequest('couplet/faults', { uri }),
      ]);
      for (const answer of answers) {
        if (answer.status === 'rejected') expect(answer.reason).toMatchObject({ code: expect.any(Number) });
        else
          expect(
            [null, undefined, 0].includes(answer.value as never) ||
              Object.keys(answer.value as object).length === 0 ||
              'items' in (answer.value as object),
          ).toBe(true);
      }
    }
    const lens = { range: { start: { line: 0, character: 0 }, end: { line: 0, character: 1 } }, data: 'nonsense' };
    expect(await connection.sendRequest(CodeLensResolveRequest.type, lens)).toMatchObject({ command: { title: '' } });
  },
  LONG,
);

const PARTS = 'relay K1 { coil: 12 V, 720 ohm }\n';

describe('files that go and come', () => {
  test(
    'a deleted one is missed where it is used, and one that comes back is not',
    async () => {
      const { at, client, path } = await serving({
        'site.couplet': 'site "Mill"\nuse "parts.couplet"\nspare K1\n',
        'parts.couplet': PARTS,
      });
      const uri = at('site.couplet');
      await client.open(uri, 'site "Mill"\nuse "parts.couplet"\nspare K1\n');
      await client.diagnostics(uri, hasNot('use-missing'));
      const tell = (type: 1 | 2 | 3) =>
        client.connection.sendNotification(DidChangeWatchedFilesNotification.type, {
          changes: [{ uri: at('parts.couplet'), type }],
        });
      unlinkSync(join(path, 'parts.couplet'));
      await tell(3);
      const missed = await client.diagnostics(uri, has('use-missing'));
      expect(missed.diagnostics.map(({ code }) => code)).toContain('use-missing');
      writeFileSync(join(path, 'parts.couplet'), PARTS);
      await tell(1);
      const back = await client.diagnostics(uri, hasNot('use-missing'));
      expect(back.diagnostics.filter(({ severity }) => severity === 1)).toEqual([]);
    },
    LONG,
  );

  test(
    'a renamed folder takes its files and their findings along',
    async () => {
      const bad = 'relay K1 {{ }\n';
      const { at, client, path } = await serving({
        'old/parts.couplet': bad,
        'site.couplet': 'site "Mill"\nuse "new/parts.couplet"\n',
      });
      await client.open(at('site.couplet'), 'site "Mill"\nuse "new/parts.couplet"\n');
      await client.diagnostics(at('old/parts.couplet'), has('syntax-error'));
      await client.diagnostics(at('site.couplet'), has('use-missing'));
      renameSync(join(path, 'old'), join(path, 'new'));
      await client.connection.sendNotification(DidRenameFilesNotification.type, {
        files: [{ oldUri: at('old'), newUri: at('new') }],
      });
      await client.diagnostics(at('old/parts.couplet'), ({ diagnostics }) => diagnostics.length === 0);
      await client.diagnostics(at('new/parts.couplet'), has('syntax-error'));
      await client.diagnostics(at('site.couplet'), hasNot('use-missing'));
    },
    LONG,
  );
});

const ODD = [
  ['carriage returns', (text: string) => text.replaceAll('\n', '\r\n')],
  ['tabs', (text: string) => text.replaceAll('  ', '\t')],
  ['pictures before', (text: string) => text.replaceAll('Beacon', 'Bea🚨👩‍🔧con').replaceAll('// the', '// 🚨')],
] as const;

/** Everything that is looked at stands in one line behind a description. */
const COUPLING = `site "Yard"
type Controller : unit {
  rail V12 { volts: 11.4 V .. 12.8 V .. 14.1 V  limit: 1.6 A  return: GND }
  common GND { earthed: no }
  output Q1 { style: sink  return: GND  rated: 200 mA  drop: 0.5 V }
}
unit ctl : Controller  load P1 = 12 W @ 12 V "Beacon" { style: resistive }  wire ctl.V12 -- P1 -- ctl.Q1
case lit { turn ctl.Q1 on  expect P1 on }  // the lamp
unit odd : Controller  load P2 = 1 W @ 12 V "Beacon" { style: resistive }  wire odd.V12 -- P2 -- odd.q1
`;

test.each(ODD)(
  '%s: findings, hover, rename and fixes stand at their characters',
  async (_, odd) => {
    const text = odd(COUPLING);
    const { at, client } = await serving({});
    const uri = at('site.couplet');
    const document = TextDocument.create(uri, 'couplet', 1, text);
    await client.open(uri, text);
    const { diagnostics } = await client.diagnostics(uri, has('output-overloaded'));
    const marked = (code: string) =>
      diagnostics.filter((each) => each.code === code).map(({ range }) => document.getText(range));
    expect(marked('name-unknown')).toEqual(['q1']);
    expect(marked('output-overloaded').length).toBeGreaterThan(0);
    for (const words of marked('output-overloaded')) expect(words).toMatch(/^[\w.]+( -- [\w.]+)*$/);
    const name = text.indexOf(
      'P1',
      text.indexOf('Controller  load') >= 0 ? text.indexOf('Controller  load') : text.indexOf('Controller\tload'),
    );
    const position = document.positionAt(name + 1);
    const hover = await client.connection.sendRequest(HoverRequest.type, { textDocument: { uri }, position });
    expect(document.getText(hover?.range)).toBe('P1');
    expect(JSON.stringify(hover?.contents)).toMatch(/lit/);
    const rename = await client.connection.sendRequest(RenameRequest.type, {
      textDocument: { uri },
      position,
      newName: 'LAMP',
    });
    expect(TextDocument.applyEdits(document, rename?.changes?.[uri] ?? [])).toBe(text.replaceAll('P1', 'LAMP'));
    const [wrong] = diagnostics.filter(({ code }) => code === 'name-unknown');
    const actions = (await client.connection.sendRequest(CodeActionRequest.type, {
      textDocument: { uri },
      range: wrong?.range as Range,
      context: { diagnostics: [] },
    })) as CodeAction[];
    const fix = actions.find(({ title }) => title === "Write 'Q1'");
    expect(TextDocument.applyEdits(document, fix?.edit?.changes?.[uri] as never)).toBe(text.replace('q1', 'Q1'));
  },
  LONG,
);

test(
  'edits of parts of lines, with pictures in them, leave the server with the same text',
  async () => {
    const { at, client } = await serving({});
    const uri = at('site.couplet');
    const text = 'site "Y🚨rd"\r\nrelay K1 "🚨"\r\n';
    await client.open(uri, text);
    const before = TextDocument.create(uri, 'couplet', 1, text);
    const range = { start: before.positionAt(text.indexOf('rd"')), end: before.positionAt(text.indexOf('K1')) };
    const changes = [{ range, text: 'x🚨"\nrelay {{ ' }];
    const after = TextDocument.applyEdits(before, [{ range, newText: 'x🚨"\nrelay {{ ' }]);
    await client.connection.sendNotification(DidChangeTextDocumentNotification.type, {
      textDocument: { uri, version: 2 },
      contentChanges: changes,
    });
    const { diagnostics } = await client.diagnostics(
      uri,
      (params) => params.version === 2 && has('syntax-error')(params),
    );
    const document = TextDocument.create(uri, 'couplet', 2, after);
    const syntax = diagnostics.filter(({ code }) => code === 'syntax-error');
    expect(syntax.map(({ range: found }) => document.getText(found))[0]).toMatch(/^\{/);
  },
  LONG,
);

test(
  'a file that is opened, typed into and closed in one breath leaves nobody waiting',
  async () => {
    const { at, client } = await serving({ 'site.couplet': 'site "Mill"\n' });
    const uri = at('gone.couplet');
    await client.open(uri, 'relay K1 { }\n');
    await client.change(uri, 'relay K2 { }\n', 2);
    await client.connection.sendNotification(DidCloseTextDocumentNotification.type, { textDocument: { uri } });
    expect(await client.connection.sendRequest('couplet/cases')).toEqual([]);
    expect(await client.connection.sendRequest(CodeLensRequest.type, { textDocument: { uri } })).toEqual([]);
    await client.open(uri, 'relay {{ }\n', 3);
    await client.diagnostics(uri, has('syntax-error'));
  },
  LONG,
);

test(
  'two windows on one folder: each shows its own text, and what is saved reaches both',
  async () => {
    const sound = 'site "Mill"\nuse "parts.couplet"\nspare K1\n';
    const { at, client, others, path } = await serving({ 'site.couplet': sound, 'parts.couplet': PARTS }, 1);
    const [other] = others as [Client];
    const uri = at('site.couplet');
    await client.open(uri, sound);
    await other.open(uri, sound);
    await client.diagnostics(uri);
    await other.diagnostics(uri);
    await client.change(uri, sound.replace('spare K1', 'spare K7'), 2);
    await client.diagnostics(uri, has('name-unknown'));
    await other.change(uri, `${sound}\n`, 2);
    const theirs = await other.diagnostics(uri, ({ version }) => version === 2);
    expect(hasNot('name-unknown')(theirs)).toBe(true);
    // The first window saves a part that no window has open: both read it anew.
    writeFileSync(join(path, 'parts.couplet'), PARTS.replace('K1', 'K7'));
    for (const each of [client, other]) {
      await each.connection.sendNotification(DidChangeWatchedFilesNotification.type, {
        changes: [{ uri: at('parts.couplet'), type: 2 }],
      });
    }
    await client.diagnostics(uri, hasNot('name-unknown'));
    await other.diagnostics(uri, has('name-unknown'));
  },
  LONG,
);
