/** The packed extension: what is in it, and how large it is. */
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { ROOT } from '../cli/command.ts';

let vsix: Buffer;
let names: string[];

beforeAll(() => {
  const printed = execFileSync(process.execPath, ['scripts/build.mjs', '--package'], { cwd: ROOT, encoding: 'utf8' });
  vsix = readFileSync(join(ROOT, printed.trim().split('\n').pop() ?? ''));
  names = namesOf(vsix);
}, 600_000);

/** Names from the directory at the end of a zip file (PKWARE's application note, 4.3.12). */
function namesOf(zip: Buffer): string[] {
  const found: string[] = [];
  const end = zip.lastIndexOf(Buffer.from('PK\x05\x06', 'latin1'));
  for (let at = zip.readUInt32LE(end + 16); zip.readUInt32LE(at) === 0x02014b50; ) {
    const length = zip.readUInt16LE(at + 28);
    found.push(zip.toString('utf8', at + 46, at + 46 + length));
    at += 46 + length + zip.readUInt16LE(at + 30) + zip.readUInt16LE(at + 32);
  }
  return found;
}

test('it has at most three megabytes', () => {
  expect(vsix.length).toBeLessThanOrEqual(3_000_000);
});

test('both heads, both servers, the page of the preview and everything the manifest names are in it', () => {
  const manifest = readFileSync(join(ROOT, 'packages/vscode/package.json'), 'utf8');
  const named = (manifest.match(/dist\/[\w./-]+/g) ?? []).map((file) => `extension/${file}`);
  const bundles = ['extension.cjs', 'server.cjs', 'web.js', 'server.worker.js', 'preview/preview.js'];
  expect(names).toEqual(expect.arrayContaining([...named, ...bundles.map((file) => `extension/dist/${file}`)]));
  expect(names.map((name) => name.toLowerCase())).toEqual(
    expect.arrayContaining(['extension/readme.md', 'extension/license.txt', 'extension/changelog.md']),
  );
});

test('no source, no description of a bundle and nothing installed is in it', () => {
  expect(names.filter((name) => /\.ts$|\.map$|\.meta\.json$|node_modules|\/src\//.test(name))).toEqual([]);
});
