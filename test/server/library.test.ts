/** The types that come with the language, over the wire: used from anywhere, found by definition, read where they stand. */
import { afterEach, beforeEach, expect, test } from 'vitest';
import {
  CompletionRequest,
  DefinitionRequest,
  DidCloseTextDocumentNotification,
  type LocationLink,
  RenameRequest,
  TextDocumentContentRequest,
} from 'vscode-languageserver/node';
import { Client, marked } from './client.ts';

const URI = 'file:///somewhere/site.couplet';
const SITE = `site "Mill"
use "library/relays.couplet"
place mill
relay K1 : RelaySignal<|>12 in mill
relay K2 : RelaySignal13 in mill
spare K1, K2
`;

let client: Client;
beforeEach(async () => {
  client = await Client.start();
}, 30_000);
afterEach(async () => {
  await client.stop();
  expect(client.errors).toEqual([]);
});

test('a type of the library is known, leads to its text, stays as it is and is there after its text was closed', async () => {
  const { text, position } = marked(SITE);
  await client.open(URI, text);
  const { diagnostics } = await client.diagnostics(URI, (params) => params.diagnostics.length > 0);
  expect(diagnostics.map(({ code, message }) => `${code}: ${message}`)).toEqual([
    "name-unknown: There is no type 'RelaySignal13' in this site. Is 'RelaySignal12' meant?",
  ]);

  const at = { textDocument: { uri: URI }, position };
  const found = (await client.connection.sendRequest(DefinitionRequest.type, at)) as LocationLink[];
  const [place] = found;
  expect(place?.targetUri).toBe('builtin:/library/relays.couplet');
  const content = await client.connection.sendRequest(TextDocumentContentRequest.type, {
    uri: place?.targetUri as string,
  });
  expect(content?.text.split('\n')[place?.targetSelectionRange.start.line as number]).toMatch(
    /^type RelaySignal12 : relay/,
  );

  expect(await client.connection.sendRequest(RenameRequest.type, { ...at, newName: 'Other' })).toBeNull();

  // An editor opens the text that it was shown, and closes it again.
  const shown = place?.targetUri as string;
  await client.open(shown, content?.text as string);
  await client.connection.sendNotification(DidCloseTextDocumentNotification.type, { textDocument: { uri: shown } });
  await client.change(URI, `${text}\n`, 2);
  const after = await client.diagnostics(URI, (params) => params.version === 2);
  expect(after.diagnostics.flatMap(({ code, message }) => (code === 'name-unknown' ? message : []))).toEqual([
    expect.stringContaining("'RelaySignal13'"),
  ]);
});

test('completion offers the bundled files behind use, and their types once they are used', async () => {
  const labels = async (withCursor: string, uri: string) => {
    const { text, position } = marked(withCursor);
    await client.open(uri, text);
    const answer = await client.connection.sendRequest(CompletionRequest.type, { textDocument: { uri }, position });
    return (Array.isArray(answer) ? answer : (answer?.items ?? [])).map(({ label }) => label);
  };
  expect(await labels('use "library/ca<|>', 'file:///a.couplet')).toEqual([
    'library/cables.couplet',
    'library/contacts.couplet',
  ]);
  expect(await labels('use "library/loads.couplet"\nload P1 : Sound<|>\n', 'file:///b.couplet')).toEqual([
    'Sounder12',
    'Sounder24',
  ]);
});
