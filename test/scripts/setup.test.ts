/** When set-up installs and when it builds, on a small checkout with an npm that only writes down what it is asked. */
import { spawnSync } from 'node:child_process';
import { chmodSync, cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { delimiter, join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';

const script = join(import.meta.dirname, '../../scripts/setup.mjs');
let root = '';

/** An npm that notes its arguments; with `build` among them it leaves bundles as the real build does. */
const NPM = `#!/usr/bin/env node
const { appendFileSync, writeFileSync, mkdirSync } = require('node:fs');
const args = process.argv.slice(2).filter((word) => !word.startsWith('--'));
appendFileSync('asked.txt', args.join(' ') + '\\n');
if (args.includes('fail')) process.exit(3);
if (args[1] === 'build') {
  mkdirSync('packages/cli/dist', { recursive: true });
  writeFileSync('packages/cli/dist/couplet.mjs', '');
  writeFileSync('packages/cli/dist/built.json', JSON.stringify({ started: Date.now(), files: ['packages/cli/dist/couplet.mjs'] }));
}
if (args[0] === 'ci') {
  mkdirSync('node_modules/a', { recursive: true });
  const lock = JSON.parse(require('node:fs').readFileSync('package-lock.json', 'utf8'));
  delete lock.packages['node_modules/elsewhere'];
  writeFileSync('node_modules/.package-lock.json', JSON.stringify(lock));
}
`;

const lock = (version: string) =>
  JSON.stringify({
    packages: {
      '': {},
      'node_modules/a': { version, integrity: `sha512-${version}` },
      'node_modules/elsewhere': { version: '1.0.0', optional: true, os: ['none'] },
    },
  });

beforeEach(() => {
  root = mkdtempSync(join(tmpdir(), 'couplet-setup-'));
  for (const folder of ['scripts', 'bin', 'packages/cli/src', 'grammar']) {
    mkdirSync(join(root, folder), { recursive: true });
  }
  cpSync(script, join(root, 'scripts/setup.mjs'));
  write('scripts/build.mjs', '');
  write('package.json', '{}');
  write('package-lock.json', lock('1.0.0'));
  write('packages/cli/src/main.ts', '');
  write('grammar/couplet.langium', '');
  write('bin/npm', NPM);
  chmodSync(join(root, 'bin/npm'), 0o755);
  age();
});

afterEach(() => rmSync(root, { recursive: true, force: true }));

function write(file: string, text: string): void {
  writeFileSync(join(root, file), text);
}

/** Makes every source older than anything made from now on. */
function age(): void {
  const before = new Date(Date.now() - 60_000);
  for (const file of [
    'packages/cli/src/main.ts',
    'packages/cli/src',
    'packages/cli',
    'packages',
    'grammar/couplet.langium',
    'grammar',
    'scripts/build.mjs',
    'package.json',
    'package-lock.json',
  ]) {
    utimesSync(join(root, file), before, before);
  }
}

/** Runs set-up and says what it asked npm for. */
function setUp(): { asked: string[]; status: number | null; stdout: string } {
  write('asked.txt', '');
  const { status, stdout } = spawnSync('node', ['scripts/setup.mjs'], {
    cwd: root,
    encoding: 'utf8',
    env: { ...process.env, PATH: join(root, 'bin') + delimiter + process.env.PATH },
  });
  const asked = readFileSync(join(root, 'asked.txt'), 'utf8').split('\n').filter(Boolean);
  return { asked, status, stdout };
}

test('a fresh checkout is installed and built, with nothing on standard output', () => {
  expect(setUp()).toMatchObject({ asked: ['ci', 'run build'], status: 0, stdout: '' });
});

test('the second time asks npm for nothing', () => {
  setUp();
  expect(setUp().asked).toEqual([]);
});

test('another version in the lock file installs and builds again', () => {
  setUp();
  write('package-lock.json', lock('1.0.1'));
  expect(setUp().asked).toEqual(['ci', 'run build']);
});

test('a package taken out of node_modules installs again', () => {
  setUp();
  rmSync(join(root, 'node_modules/a'), { recursive: true });
  expect(setUp().asked[0]).toBe('ci');
});

test.each(['packages/cli/src/main.ts', 'packages/cli/src/fresh.ts', 'grammar/couplet.langium', 'scripts/build.mjs'])(
  'a change of %s builds again, once',
  (file) => {
    setUp();
    const later = new Date(Date.now() + 10);
    write(file, 'changed');
    utimesSync(join(root, file), later, later);
    expect(setUp().asked).toEqual(['run build']);
    expect(setUp().asked).toEqual([]);
  },
);

test('a source taken away builds again', () => {
  setUp();
  rmSync(join(root, 'packages/cli/src/main.ts'));
  expect(setUp().asked).toEqual(['run build']);
});

test('a bundle taken away is built again', () => {
  setUp();
  rmSync(join(root, 'packages/cli/dist/couplet.mjs'));
  expect(setUp().asked).toEqual(['run build']);
});

test('a failing npm ends set-up with its exit code', () => {
  write('bin/npm', '#!/bin/sh\nexit 3\n');
  expect(setUp().status).toBe(3);
});
