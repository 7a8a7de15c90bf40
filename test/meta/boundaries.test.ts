/** Which package may import which: the map of DEVELOPERS.md, held by a test. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { expect, test } from 'vitest';

const root = join(import.meta.dirname, '..', '..');

/** Imports that each package may make; a string is a module name or the beginning of one followed by '/'. */
const allowed: Record<
  string,
  { readonly packages: readonly string[]; readonly modules: readonly string[]; readonly node: boolean }
> = {
  engine: { packages: [], modules: [], node: false },
  rules: { packages: ['engine'], modules: [], node: false },
  language: { packages: ['engine', 'rules'], modules: ['langium'], node: false },
  project: { packages: ['engine', 'rules', 'language'], modules: ['langium'], node: false },
  server: {
    packages: ['engine', 'rules', 'language', 'project'],
    modules: ['langium', 'vscode-languageserver', 'vscode-languageserver-textdocument', 'vscode-uri'],
    node: true,
  },
  documents: { packages: ['engine', 'rules'], modules: ['elkjs'], node: false },
  cli: { packages: ['engine', 'rules', 'project', 'documents'], modules: [], node: true },
  vscode: { packages: ['documents'], modules: ['vscode', 'vscode-languageclient'], node: true },
};

/** What even an allowed module must not be used for: the language-server half of Langium stays in the server. */
const forbidden: Record<string, RegExp> = {
  language: /^langium\/(lsp|node)/,
  project: /^langium\/(lsp|node)/,
};

function sources(folder: string): string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && entry.name.endsWith('.ts'))
    .map((entry) => join(entry.parentPath, entry.name));
}

function imports(file: string): string[] {
  const text = readFileSync(file, 'utf8');
  return [...text.matchAll(/(?:from\s+|import\s+|import\()\s*['"]([^'"\n]+)['"]/g)].map((match) => match[1]!);
}

function fault(name: string, file: string, wanted: string): string | undefined {
  const rule = allowed[name]!;
  const where = `${relative(root, file)} imports ${wanted}`;
  if (wanted.startsWith('.')) {
    const target = relative(join(root, 'packages', name), join(file, '..', wanted));
    return target.startsWith('..') ? `${where}: reaches outside its package` : undefined;
  }
  if (wanted.startsWith('@couplet/')) {
    const other = wanted.slice('@couplet/'.length).split('/')[0]!;
    return rule.packages.includes(other) ? undefined : where;
  }
  if (forbidden[name]?.test(wanted)) return where;
  if (wanted.startsWith('node:')) return rule.node ? undefined : where;
  return rule.modules.some((module) => wanted === module || wanted.startsWith(`${module}/`)) ? undefined : where;
}

test.each(Object.keys(allowed))('package %s imports only what its layer may know', (name) => {
  const files = sources(join(root, 'packages', name, 'src'));
  expect(files.length).toBeGreaterThan(0);
  const faults = files.flatMap((file) => imports(file).map((wanted) => fault(name, file, wanted))).filter(Boolean);
  expect(faults).toEqual([]);
});

test('every package is on the map', () => {
  const packages = readdirSync(join(root, 'packages')).sort();
  expect(packages).toEqual(Object.keys(allowed).sort());
});

test('the check itself finds a forbidden import', () => {
  const file = join(root, 'packages', 'engine', 'src', 'index.ts');
  expect(fault('engine', file, 'node:fs')).toContain('imports node:fs');
  expect(fault('engine', file, '@couplet/rules')).toContain('imports @couplet/rules');
  expect(fault('engine', file, '../../rules/src/index.ts')).toContain('reaches outside');
  expect(fault('language', file, 'langium/lsp')).toContain('langium/lsp');
});
