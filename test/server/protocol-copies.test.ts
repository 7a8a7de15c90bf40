/** One copy of the protocol family: with two, a cancelled request is answered as if it had succeeded. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { root } from './client.ts';

const FAMILY = ['vscode-jsonrpc', 'vscode-languageserver-protocol', 'vscode-languageserver-types'];

test.each(FAMILY)('%s is in the tree once', (name) => {
  const lock = JSON.parse(readFileSync(join(root, 'node_modules/.package-lock.json'), 'utf8')) as {
    packages: Record<string, unknown>;
  };
  const copies = Object.keys(lock.packages).filter((path) => path.endsWith(`node_modules/${name}`));
  expect(copies).toEqual([`node_modules/${name}`]);
});

test('everything that speaks the protocol resolves to the same copy', () => {
  const copies = ['langium', 'vscode-languageserver', 'vscode-languageclient', 'vscode-languageserver-protocol'].map(
    (user) => createRequire(join(root, 'node_modules', user, 'package.json')).resolve('vscode-jsonrpc'),
  );
  expect(new Set(copies).size).toBe(1);
});

test.each(['server', 'server.worker', 'extension', 'web'])(
  'the %s bundle holds one copy of vscode-jsonrpc',
  (bundle) => {
    const meta = JSON.parse(readFileSync(join(root, `packages/vscode/dist/${bundle}.meta.json`), 'utf8')) as {
      inputs: Record<string, unknown>;
    };
    const folders = Object.keys(meta.inputs).flatMap(
      (file) => /^.*node_modules\/vscode-jsonrpc(?=\/)/.exec(file) ?? [],
    );
    expect([...new Set(folders)]).toEqual(['node_modules/vscode-jsonrpc']);
  },
);
