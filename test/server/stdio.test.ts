/** The server over standard input and output, from source and as the bundle that the extension ships. */

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import {
  CancellationTokenSource,
  CompletionRequest,
  DocumentSymbolRequest,
  HoverRequest,
  LSPErrorCodes,
  type PublishDiagnosticsParams,
} from 'vscode-languageserver/node';
import { BUNDLE, Client, root, SOURCE } from './client.ts';

const uri = 'file:///site/mill.couplet';

function has(params: PublishDiagnosticsParams, code: string): boolean {
  return params.diagnostics.some((each) => each.code === code);
}

describe.each([
  ['source', SOURCE],
  ['bundle', BUNDLE],
])('%s', (_, entry) => {
  let client: Client;
  beforeEach(async () => {
    client = await Client.start(entry);
  }, 30_000);
  afterEach(async () => {
    await client.stop();
    expect(client.errors).toEqual([]);
  });

  test('says who it is and what it can do', async () => {
    const { capabilities, serverInfo } = await client.initialized;
    expect(serverInfo?.name).toBe('couplet');
    expect(capabilities).toMatchObject({
      hoverProvider: true,
      definitionProvider: true,
      referencesProvider: true,
      documentSymbolProvider: true,
      renameProvider: { prepareProvider: true },
    });
    expect(capabilities.completionProvider).toBeDefined();
  });

  test('a syntax error is published with a code at its characters, and goes when it is mended', async () => {
    await client.open(uri, 'site "Mill"\nrelay K1 {{ }\n');
    const { diagnostics, version } = await client.diagnostics(uri);
    expect(version).toBe(1);
    expect(diagnostics).toHaveLength(1);
    expect(diagnostics[0]).toMatchObject({
      source: 'couplet',
      code: expect.stringMatching(/^[a-z-]+$/),
      severity: 1,
      range: { start: { line: 1, character: 10 }, end: { line: 1, character: 11 } },
    });
    await client.change(uri, 'site "Mill"\nrelay K1 { }\n', 2);
    const mended = await client.diagnostics(uri, (params) => params.version === 2);
    expect(mended.diagnostics.filter(({ severity }) => severity === 1)).toEqual([]);
  });

  test('completion answers', async () => {
    await client.open(uri, 'site "Mill"\nre');
    const answer = await client.connection.sendRequest(CompletionRequest.type, {
      textDocument: { uri },
      position: { line: 1, character: 2 },
    });
    const items = Array.isArray(answer) ? answer : (answer?.items ?? []);
    expect(items.map(({ label }) => label)).toContain('relay');
  });

  test('completion right behind a key sees the newest text and the names that stood before it', async () => {
    await client.open(uri, 'site "Mill"\nrelay K1 { }\n');
    await client.diagnostics(uri);
    await client.change(uri, 'site "Mill"\nrelay K1 { }\nwire K', 2);
    const answer = await client.connection.sendRequest(CompletionRequest.type, {
      textDocument: { uri },
      position: { line: 2, character: 6 },
    });
    const items = Array.isArray(answer) ? answer : (answer?.items ?? []);
    expect(items.map(({ label }) => label)).toContain('K1');
    expect(items.map(({ label }) => label)).not.toContain('relay');
  });

  test('the worked example: findings, the computed current on hover, resistor values in their order', async () => {
    const folder = pathToFileURL(join(root, 'examples')).href;
    const there = await Client.start(entry, folder);
    try {
      const site = `${folder}/tidewater-mill/site.couplet`;
      const textDocument = { uri: site };
      const text = readFileSync(join(root, 'examples/tidewater-mill/site.couplet'), 'utf8');
      const overloaded = text.replace('load P1 = 6 W', 'load P1 = 60 W');
      await there.open(site, overloaded);
      const { diagnostics } = await there.diagnostics(site, (params) => has(params, 'output-overloaded'));
      const finding = diagnostics.find(({ code }) => code === 'output-overloaded');
      expect(finding?.message).toMatch(/level\.Q2 .*\d A/);
      expect(finding?.relatedInformation?.length).toBeGreaterThan(0);
      const line = overloaded.split('\n').findIndex((each) => each.startsWith('wire level.V12 -- P1'));
      const hover = await there.connection.sendRequest(HoverRequest.type, {
        textDocument,
        position: { line, character: overloaded.split('\n')[line]!.indexOf('P1') + 1 },
      });
      // The load asks for 5.2 A; the rail gives no more than its limit.
      expect(JSON.stringify(hover?.contents)).toMatch(/on \| .* \| 1\.60 A/);

      const halfTyped = text.replace('2k2 +-1%', '');
      await there.change(site, halfTyped, 2);
      await there.diagnostics(site, (params) => params.version === 2 && !has(params, 'output-overloaded'));
      const row = halfTyped.split('\n').findIndex((each) => each.startsWith('resistor RE'));
      const list = await there.connection.sendRequest(CompletionRequest.type, {
        textDocument,
        position: { line: row, character: halfTyped.split('\n')[row]!.length },
      });
      const items = Array.isArray(list) ? list : (list?.items ?? []);
      expect(['2k0', '2k2']).toContain(items[0]?.label);
      expect(there.errors).toEqual([]);
    } finally {
      await there.stop();
    }
  });

  test('a cancelled hover is answered as cancelled, and the next one is answered', async () => {
    // Long enough for the building of the changed text to give way to the message that cancels.
    const relays = (n: number) => Array.from({ length: n }, (_, i) => `relay K${i} { }`).join('\n');
    await client.open(uri, relays(10));
    await client.diagnostics(uri);
    const position = { line: 1, character: 7 };
    const source = new CancellationTokenSource();
    await client.change(uri, relays(4000), 2);
    const hover = { textDocument: { uri }, position };
    const cancelled = client.connection.sendRequest(HoverRequest.type, hover, source.token);
    source.cancel();
    await expect(cancelled).rejects.toMatchObject({ code: LSPErrorCodes.RequestCancelled });
    expect(LSPErrorCodes.RequestCancelled).toBe(-32800);
    await client.connection.sendRequest(HoverRequest.type, hover);
  });

  test('the outline lists what a file declares', async () => {
    await client.open(uri, 'site "Mill"\nplace pit "Pit"\nrelay K1 { }\n');
    const symbols = await client.connection.sendRequest(DocumentSymbolRequest.type, { textDocument: { uri } });
    expect(symbols?.map(({ name }) => name)).toEqual(expect.arrayContaining(['pit', 'K1']));
  });
});
