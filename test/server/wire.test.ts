/** What only several messages in a row show: a rename through all files, and edits that come faster than checks end. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { expect, onTestFinished, test } from 'vitest';
import { type Range, RenameRequest } from 'vscode-languageserver/node';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { Client, marked, SOURCE } from './client.ts';

/** A folder with files on the disk, as a server that was started on it reads them. */
async function serving(files: Readonly<Record<string, string>>): Promise<{ client: Client; at(name: string): string }> {
  const path = mkdtempSync(join(tmpdir(), 'couplet-wire-'));
  for (const [name, text] of Object.entries(files)) writeFileSync(join(path, name), text);
  const folder = pathToFileURL(path).href;
  const client = await Client.start(SOURCE, folder);
  onTestFinished(async () => {
    await client.stop();
    rmSync(path, { recursive: true, force: true });
    expect(client.errors).toEqual([]);
  });
  return { client, at: (name) => `${folder}/${name}` };
}

const TYPES = `type Controller : unit {
  rail V12 { volts: 11.4 V .. 12.8 V .. 14.1 V  limit: 1.6 A  return: GND }
  common GND { earthed: no }
  output Q1 { style: sink  return: GND  rated: 1 A  drop: 0.5 V }
}
`;
const PARTS = 'load P1 = 100 mA @ 12 V { style: resistive }\nwire ctl.V12 -- P1 -- ctl.Q1\n';
const SITE = 'site "Yard"\nuse "types.couplet"\nuse "parts.couplet"\nunit ctl : Controller\n';

test('a terminal that a type declares is renamed in every file, open or not', async () => {
  const { text, position } = marked(TYPES.replace('output Q1', 'output Q<|>1'));
  const files: Record<string, string> = { 'types.couplet': text, 'parts.couplet': PARTS, 'site.couplet': SITE };
  files['site.couplet'] = `${SITE}case lit { turn ctl.Q1 on  expect P1 on }\n`;
  const { client, at } = await serving(files);
  await client.open(at('types.couplet'), text);
  await client.diagnostics(at('types.couplet'));
  const params = { textDocument: { uri: at('types.couplet') }, position, newName: 'LAMP' };
  const { changes = {} } = (await client.connection.sendRequest(RenameRequest.type, params)) ?? {};
  const renamed = Object.entries(files).map(([name, before]) => {
    const edits = changes[at(name)] ?? [];
    return TextDocument.applyEdits(TextDocument.create(at(name), 'couplet', 1, before), edits);
  });
  expect(renamed).toEqual(Object.values(files).map((before) => before.replaceAll('Q1', 'LAMP')));
});

test('a newer edit calls the older check off, and only the newest text is judged', async () => {
  // Long enough for a pass to be under way when the next edit comes.
  const couplings = Array.from(
    { length: 150 },
    (_, n) =>
      `unit c${n} : Controller\nload P${n} = 100 mA @ 12 V { style: resistive }\nwire c${n}.V12 -- P${n} -- c${n}.Q1\ncase lit${n} { turn c${n}.Q1 on  expect P${n} on }\n`,
  ).join('');
  const textFor = (amps: number) =>
    `site "Yard"\nuse "types.couplet"\nunit ctl : Controller\nload P = ${amps} A @ 12 V { style: resistive }\nwire ctl.V12 -- P -- ctl.Q1\ncase lit { turn ctl.Q1 on }\n${couplings}`;
  const { client, at } = await serving({ 'types.couplet': TYPES });
  let passes = 0;
  client.connection.onNotification('$/couplet/checked', () => {
    passes += 1;
  });
  const uri = at('site.couplet');
  await client.open(uri, textFor(0.1));
  const start = performance.now();
  await client.diagnostics(uri, ({ diagnostics, version }) => version === 1 && diagnostics.length > 0);
  const one = performance.now() - start;
  passes = 0;
  const edits = 8;
  for (let version = 2; version <= edits + 1; version += 1) {
    await client.change(uri, textFor(version), version);
    await new Promise((resolve) => setTimeout(resolve, Math.min(10, one / 16)));
  }
  const overloaded = ({ code, message }: { code?: unknown; message: unknown; range: Range }) =>
    code === 'output-overloaded' && String(message).includes('P ');
  const last = await client.diagnostics(
    uri,
    ({ diagnostics, version }) => version === edits + 1 && diagnostics.some(overloaded),
  );
  expect(last.diagnostics.filter(overloaded)).toHaveLength(1);
  expect(passes).toBeLessThan(edits / 2);
}, 60_000);
