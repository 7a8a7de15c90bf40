/** A large workspace: the site of the open file is loaded first, whole, and the rest follows while the server serves. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { describe, expect, onTestFinished, test } from 'vitest';
import { WorkspaceSymbolRequest } from 'vscode-languageserver/node';
import { WaitingFiles } from '../../packages/server/src/sites/waiting-files.ts';
import { Client, SOURCE } from './client.ts';

describe('files that wait', () => {
  const at = (name: string) => `file:///site/${name}`;
  const texts = (files: Record<string, string>) =>
    new Map(Object.entries(files).map(([name, text]) => [at(name), text] as const));

  function waiting(files: Record<string, string>): WaitingFiles {
    const all = new WaitingFiles();
    all.add(texts(files));
    return all;
  }

  const SITES = {
    'north.couplet': 'site "North"\nuse "types.couplet"\nuse "pumps.couplet" as P\n',
    'pumps.couplet': 'relay K1 { }\n',
    'south.couplet': 'site "South"\n  use "types.couplet"\n',
    'types.couplet': 'type T : relay { }\n',
    'yard.couplet': 'site "Yard"\n// use "pumps.couplet"\n',
  };

  test('a part brings what uses it and everything that that uses', () => {
    const all = waiting(SITES);
    expect(all.take(at('pumps.couplet')).sort()).toEqual(
      ['north', 'pumps', 'types'].map((name) => at(`${name}.couplet`)),
    );
    expect([all.left, all.total]).toEqual([2, 5]);
  });

  test('a shared file brings all its sites', () => {
    expect(waiting(SITES).take(at('types.couplet'))).toHaveLength(4);
  });

  test('a file that nobody knows brings nothing', () => {
    expect(waiting(SITES).take(at('elsewhere.couplet'))).toEqual([]);
  });

  test('a turn is whole sites, and the turns are everything once', () => {
    const long = ' '.repeat(70_000);
    const all = waiting({ ...SITES, 'pumps.couplet': long, 'yard.couplet': long });
    const turns: string[][] = [];
    while (all.left > 0) turns.push(all.takeTurn());
    expect(turns.flat().sort()).toEqual([...texts(SITES).keys()].sort());
    expect(turns[0]).toEqual(expect.arrayContaining([at('north.couplet'), at('types.couplet')]));
    expect(turns.length).toBeGreaterThan(1);
  });

  test('a folder that goes takes its files along', () => {
    const all = waiting({ 'a/x.couplet': '', 'a/y.couplet': '', 'ab.couplet': '' });
    all.forget(at('a'));
    expect(all.left).toBe(1);
  });
});

test('over the wire: the open site has its findings, the others follow with progress, and all can be found', async () => {
  const path = mkdtempSync(join(tmpdir(), 'couplet-loading-'));
  const folder = pathToFileURL(path).href;
  const sites = 12;
  for (let n = 0; n < sites; n += 1) {
    writeFileSync(
      join(path, `site${n}.couplet`),
      `site "Site ${n}"\nuse "part${n}.couplet"\nload P${n} = ${n} W @ 12 V\n`,
    );
    writeFileSync(join(path, `part${n}.couplet`), `wire P${n}.plus -- PX${n}.plus\n`);
  }
  const client = await Client.start(SOURCE, folder);
  onTestFinished(async () => {
    await client.stop();
    rmSync(path, { recursive: true, force: true });
    expect(client.errors).toEqual([]);
  });
  const codes = async (name: string) =>
    (await client.diagnostics(`${folder}/${name}`, ({ diagnostics }) => diagnostics.length > 0)).diagnostics
      .map(({ code }) => code)
      .sort();
  await client.open(`${folder}/part3.couplet`, 'wire P3.plus -- PX3.plus\n');
  // P3 is declared in the file that uses this one: only the name that nobody declares is unknown.
  const { diagnostics } = await client.diagnostics(
    `${folder}/part3.couplet`,
    (params) => params.diagnostics.length > 0,
  );
  expect(diagnostics.filter(({ code }) => code === 'name-unknown').map(({ message }) => message)).toEqual([
    expect.stringContaining("'PX3'"),
  ]);
  for (let n = 0; n < sites; n += 1) expect(await codes(`part${n}.couplet`)).toContain('name-unknown');
  await client.until(() => client.progress.at(-1)?.kind === 'end');
  expect(client.progress[0]).toMatchObject({ kind: 'begin', title: 'Couplet: checking sites' });
  expect(client.progress.some(({ message }) => /^\d+ of 24 files$/.test(message ?? ''))).toBe(true);
  const found = await client.connection.sendRequest(WorkspaceSymbolRequest.type, { query: 'P11' });
  expect(found?.map(({ name }) => name)).toContain('P11');
}, 60_000);
