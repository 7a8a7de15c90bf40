/**
 * Makes what is shipped out of the sources.
 *   build.mjs             the bundles: command, language server, extension
 *   build.mjs --package   the bundles and couplet-<version>.vsix; prints its path
 * Every file is written whole and then put in place, so that a build beside a running one disturbs nothing.
 */
import {
  cpSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');
const at = (path) => join(root, path);
const version = JSON.parse(readFileSync(at('package.json'), 'utf8')).version;

/** Shared by all bundles: names are kept because Langium and Chevrotain show them and look things up by them. */
const COMMON = {
  absWorkingDir: root,
  bundle: true,
  platform: 'node',
  target: 'node22',
  keepNames: true,
  legalComments: 'none',
  logLevel: 'warning',
  metafile: true,
  write: false,
  define: { COUPLET_VERSION: JSON.stringify(version) },
};

/** What runs in a worker of a browser: nothing of Node is there, and what would ask for it fails the build. */
const BROWSER = { platform: 'browser', target: 'es2024', minifySyntax: true, minifyWhitespace: true };

/** The heads of the extension are read while an editor starts, so they are as small as can be. */
const HEAD = { external: ['vscode'], minify: true, keepNames: false };

/** The extension is fetched over slow lines too. */
const MOST_BYTES = 3_000_000;

const BUNDLES = [
  {
    entryPoints: ['packages/server/src/node.ts'],
    outfile: 'packages/vscode/dist/server.cjs',
    format: 'cjs',
    minifySyntax: true,
    minifyWhitespace: true,
  },
  {
    entryPoints: ['packages/vscode/src/extension.ts'],
    outfile: 'packages/vscode/dist/extension.cjs',
    format: 'cjs',
    ...HEAD,
  },
  {
    // The page of the preview, with the layout of drawings; it runs in the editor's browser.
    entryPoints: ['packages/vscode/src/webview/main.ts'],
    outfile: 'packages/vscode/dist/preview/preview.js',
    format: 'iife',
    platform: 'browser',
    target: 'es2024',
    minify: true,
    tsconfig: 'packages/vscode/src/webview/tsconfig.json',
  },
  {
    entryPoints: ['packages/server/src/worker.ts'],
    outfile: 'packages/vscode/dist/server.worker.js',
    format: 'iife',
    ...BROWSER,
  },
  {
    entryPoints: ['packages/vscode/src/web.ts'],
    outfile: 'packages/vscode/dist/web.js',
    format: 'cjs',
    ...BROWSER,
    ...HEAD,
  },
  { entryPoints: ['packages/cli/src/main.ts'], outfile: 'packages/cli/dist/couplet.mjs', format: 'esm' },
];

/** Files that are taken over as they are. */
const COPIES = [
  // Editors without an extension start the same bundle by itself.
  ['packages/vscode/dist/server.cjs', 'packages/server/dist/server.cjs'],
  ['grammar/couplet.tmLanguage.json', 'packages/vscode/dist/couplet.tmLanguage.json'],
  ['grammar/language-configuration.json', 'packages/vscode/dist/language-configuration.json'],
  ['packages/vscode/src/webview/preview.css', 'packages/vscode/dist/preview/preview.css'],
  ['packages/vscode/src/webview/third-party.txt', 'packages/vscode/dist/preview/third-party.txt'],
  ['packages/vscode/snippets.json', 'packages/vscode/dist/snippets.json'],
  ...readdirSync(at('packages/vscode/media')).map((page) => [
    `packages/vscode/media/${page}`,
    `packages/vscode/dist/media/${page}`,
  ]),
  ...readdirSync(at('docs/rules')).map((page) => [`docs/rules/${page}`, `packages/vscode/dist/rules/${page}`]),
];

const started = Date.now();
const files = [];
for (const bundle of BUNDLES) {
  files.push(...(await makeBundle(bundle)));
}
for (const [from, to] of COPIES) {
  put(to, readFileSync(at(from)));
  files.push(to);
}
// Written last: set-up takes a build without it for unfinished.
put('packages/cli/dist/built.json', JSON.stringify({ started, files }, undefined, 1));

if (process.argv.includes('--package')) {
  console.log(await makePackage());
}

/** Bundles one entry and returns the files written: the bundle and, beside it, what went into it. */
async function makeBundle(bundle) {
  const { outputFiles, metafile } = await build({ ...COMMON, ...bundle });
  const copies = protocolCopies(metafile);
  if (copies.length > 1) {
    throw new Error(`${bundle.outfile} holds several copies of vscode-jsonrpc: ${copies.join(', ')}`);
  }
  const meta = bundle.outfile.replace(/\.[cm]?js$/, '.meta.json');
  put(bundle.outfile, outputFiles[0].contents);
  put(meta, JSON.stringify(metafile));
  return [bundle.outfile, meta];
}

/** Folders from which vscode-jsonrpc came. With two of them a cancelled request is answered as if it had succeeded. */
function protocolCopies(metafile) {
  const folder = /^.*node_modules\/vscode-jsonrpc(?=\/)/;
  return [...new Set(Object.keys(metafile.inputs).flatMap((input) => folder.exec(input) ?? []))];
}

/** Puts the extension's files together in a folder of their own and packs that; returns the path of the .vsix. */
async function makePackage() {
  const { createVSIX } = await import('@vscode/vsce');
  const stage = at('packages/vscode/dist/stage');
  rmSync(stage, { recursive: true, force: true });
  mkdirSync(join(stage, 'dist'), { recursive: true });

  const {
    private: _,
    type: __,
    exports: ___,
    ...manifest
  } = JSON.parse(readFileSync(at('packages/vscode/package.json'), 'utf8'));
  writeFileSync(
    join(stage, 'package.json'),
    JSON.stringify({ ...manifest, version, files: ['dist', '*.md', 'LICENSE'] }, undefined, 2),
  );
  const shipped = files.filter((file) => file.startsWith('packages/vscode/dist/') && !file.endsWith('.meta.json'));
  for (const file of shipped) {
    cpSync(at(file), join(stage, relative('packages/vscode', file)));
  }
  for (const file of ['packages/vscode/README.md', 'LICENSE', 'CHANGELOG.md']) {
    if (existsSync(at(file))) {
      cpSync(at(file), join(stage, file.split('/').pop()));
    }
  }

  const vsix = at(`packages/vscode/dist/couplet-${version}.vsix`);
  rmSync(vsix, { force: true });
  await createVSIX({
    cwd: stage,
    packagePath: vsix,
    dependencies: false,
    allowMissingRepository: true,
    skipLicense: !existsSync(at('LICENSE')),
  });
  rmSync(stage, { recursive: true, force: true });
  const { size } = statSync(vsix);
  if (size > MOST_BYTES) {
    throw new Error(`${relative(root, vsix)} has ${size} bytes, and ${MOST_BYTES} are allowed`);
  }
  return relative(root, vsix);
}

/** Writes a file beside its place and moves it there in one step. */
function put(path, contents) {
  const target = at(path);
  mkdirSync(dirname(target), { recursive: true });
  const fresh = `${target}.${process.pid}`;
  writeFileSync(fresh, contents);
  renameSync(fresh, target);
}
