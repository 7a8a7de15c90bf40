/** The command's launcher: turns an old Node away with one line, whatever that Node can parse. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { runInNewContext } from 'node:vm';
import { expect, test } from 'vitest';

const bin = join(import.meta.dirname, '../../packages/cli/bin');
const launcher = readFileSync(join(bin, 'couplet.cjs'), 'utf8').replace(/^#!.*/, '');

function launch(version: string): { written: string; exitCode: number; required: string[] } {
  let written = '';
  const required: string[] = [];
  const process = {
    versions: { node: version },
    stderr: { write: (text: string) => (written += text) },
    exitCode: 0,
  };
  runInNewContext(launcher, { process, require: (name: string) => required.push(name) });
  return { written, exitCode: process.exitCode, required };
}

test.each(['6.17.1', '18.20.4', '20.20.2', '21.7.3'])('Node %s is turned away with one line and exit 2', (version) => {
  expect(launch(version)).toEqual({
    written: `couplet needs Node 22 or newer; this is Node ${version}.\n`,
    exitCode: 2,
    required: [],
  });
});

test.each(['22.0.0', '24.21.0', '100.0.0'])('Node %s goes on to the bundle', (version) => {
  expect(launch(version)).toEqual({ written: '', exitCode: 0, required: ['./load.cjs'] });
});

test('the launcher holds no syntax younger than ECMAScript 5', () => {
  const code = launcher.replace(/\/\*[\s\S]*?\*\/|\/\/.*/g, '');
  expect(code).not.toMatch(/\b(const|let|import|async|await|class)\b|=>|`|\?\.|\?\?|\.\.\./);
});

test('what the launcher goes on to exists beside it', () => {
  expect(createRequire(join(bin, 'couplet.cjs')).resolve('./load.cjs')).toBe(join(bin, 'load.cjs'));
});
