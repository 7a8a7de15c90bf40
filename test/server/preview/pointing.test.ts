/** What of a drawing stands where the cursor is, over the wire. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Pointed } from '../../../packages/server/src/preview/protocol.ts';
import { Client, root, SOURCE } from '../client.ts';
import { askUntil } from './asking.ts';

const folder = pathToFileURL(join(root, 'examples')).href;
const uri = `${folder}/tidewater-mill/site.couplet`;
const text = readFileSync(new URL(uri), 'utf8');

let client: Client;

beforeAll(async () => {
  client = await Client.start(SOURCE, folder);
  await client.open(uri, text);
  await askUntil(client, 'drawing', { uri }, ({ sort }) => sort === 'shown');
}, 120_000);

afterAll(async () => {
  expect(client.errors).toEqual([]);
  await client.stop();
});

/** At the `|` in words of the text. */
function pointed(words: string): Promise<Pointed> {
  const at = text.indexOf(words.replace('|', '')) + words.indexOf('|');
  const lines = text.slice(0, at).split('\n');
  const position = { line: lines.length - 1, character: lines.at(-1)!.length };
  return client.connection.sendRequest('couplet/pointed', { uri, position });
}

test.each([
  ['load P|1 =', ['P1']],
  ['level.V12 -- P|1 -- level.Q2', ['P1']],
  ['level.V12 -- P1| -- level.Q2', ['P1']],
  ['turn level.Q|1 off', ['level.Q1', 'level']],
  ['expect panel.Z|4 alarm', ['panel.Z4', 'panel']],
  ['expect K|1 operated', ['K1']],
  ['wire panel.Z4 -- W1.G|N', ['W1.GN', 'W1']],
  ['unit lev|el :', ['level']],
])('%s', async (words, names) => {
  expect(await pointed(words)).toEqual({ coupling: 'panel.Z4', names });
});

test('between two parts it is their wire, in the coupling that shows it', async () => {
  expect(await pointed('K1.A1-A2 -|- level.Q1')).toEqual({ coupling: 'panel.Z4', names: [] });
});

test('where nothing is drawn of what stands there, there is neither a coupling nor a name', async () => {
  expect(await pointed('site "Tide|water')).toEqual({ names: [] });
  expect(await pointed('// An inv|ented')).toEqual({ names: [] });
  for (const params of [null, {}, { uri }, { uri: 'file:///gone', position: { line: 0, character: 0 } }]) {
    expect(await client.connection.sendRequest('couplet/pointed', params)).toEqual({ names: [] });
  }
});
