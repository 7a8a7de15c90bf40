/**
 * Makes a checkout ready to run: installs the dependencies when they are not those of the lock file, and builds the
 * bundles when a source is newer than they are. npm runs it before `start` and `test`.
 *
 * It runs on whatever Node the system has, before the project's own Node is installed: built-in modules only, syntax of
 * Node 18. Everything it starts goes through npm, which finds the project's Node first on its path.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');

/** What bundles are made from; a folder stands for everything in it. */
const SOURCES = [
  'packages',
  'grammar',
  'docs/rules',
  'scripts/build.mjs',
  'package.json',
  'package-lock.json',
  'node_modules/.package-lock.json',
];

/** Folders below a source that are made, not written. */
const MADE = new Set(['dist', 'node_modules']);

if (!installed()) {
  npm(['ci', '--loglevel=error', '--no-audit', '--no-fund'], 'installing the dependencies');
}
if (!built()) {
  npm(['run', '--silent', 'build'], 'building');
}

/** True when node_modules holds what the lock file asks for on this machine. */
function installed() {
  const wanted = packagesOf(join(root, 'package-lock.json'));
  const found = packagesOf(join(root, 'node_modules', '.package-lock.json'));
  if (wanted === undefined || found === undefined) {
    return false;
  }
  return Object.entries(wanted).every(([path, entry]) => {
    if (path === '') {
      return true;
    }
    const there = found[path];
    if (there === undefined) {
      // npm leaves out what belongs to another operating system or processor, and what only such a package needs.
      return entry.optional === true;
    }
    return there.version === entry.version && there.integrity === entry.integrity && existsSync(join(root, path));
  });
}

/** The `packages` of a lock file, or nothing where the file is missing or unreadable. */
function packagesOf(file) {
  try {
    return JSON.parse(readFileSync(file, 'utf8')).packages;
  } catch {
    return undefined;
  }
}

/** True when the last build is complete and no source has changed since it began. */
function built() {
  try {
    const { started, files } = JSON.parse(readFileSync(join(root, 'packages', 'cli', 'dist', 'built.json'), 'utf8'));
    const complete = files.every((file) => existsSync(join(root, file)));
    return complete && started >= Math.max(...SOURCES.map((source) => newest(join(root, source))));
  } catch {
    return false;
  }
}

/** The newest time of a file, or of a folder and all below it: a folder's own time tells of files taken away. */
function newest(path) {
  if (!existsSync(path)) {
    return 0;
  }
  const own = statSync(path);
  if (!own.isDirectory()) {
    return own.mtimeMs;
  }
  const entries = readdirSync(path, { withFileTypes: true }).filter((entry) => !MADE.has(entry.name));
  // The folder above a made one changes whenever that is made, so its own time says nothing.
  const made = existsSync(join(path, 'dist'));
  return Math.max(made ? 0 : own.mtimeMs, ...entries.map((entry) => newest(join(path, entry.name))));
}

/** Runs npm in the checkout and ends with its exit code when it fails. */
function npm(args, doing) {
  console.error(`set-up: ${doing}`);
  const { status, error } = spawnSync('npm', args, {
    cwd: root,
    // What npm says goes to standard error: standard output belongs to the command that set-up comes before.
    stdio: ['ignore', 2, 2],
    shell: process.platform === 'win32',
  });
  if (error !== undefined) {
    console.error(`set-up: npm could not be started: ${error.message}`);
    process.exit(1);
  }
  if (status !== 0) {
    console.error(`set-up: ${doing} failed`);
    process.exit(status ?? 1);
  }
}
