/** What the host itself measures: printed in every run, and written into docs/editor-figures.md when it is asked for. */
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { statSync, writeFileSync } from 'node:fs';
import { cpus, loadavg } from 'node:os';
import { join } from 'node:path';

/** Windows opened for a figure; each activates the extension anew. */
const WINDOWS = 5;

const measured = new Map();

/** Processes that want a processor at the same time, over the last minute and as the run begins. */
const [load] = loadavg();

/** Milliseconds of several activations, as the editor's own list of running extensions says them; no limit is asserted. */
export async function activation(where, open) {
  const all = [];
  for (let count = 0; count < WINDOWS; count += 1) {
    const window = await open('boat-shed.couplet');
    try {
      await window.problems('output-overloaded');
      const { milliseconds, text } = await window.runningExtension('Couplet');
      assert.ok(Number.isInteger(milliseconds), text);
      all.push(milliseconds);
    } finally {
      await window.close();
    }
  }
  all.sort((one, other) => one - other);
  measured.set(where, all);
  console.log(`        activation: ${all.join(', ')} ms`);
}

const KB = (path) => (statSync(path).size / 1000).toFixed(0);

export function writeFigures(root, vsix) {
  const dist = join(root, 'packages/vscode/dist');
  const commit = execFileSync('git', ['rev-parse', '--short', 'HEAD'], { cwd: root, encoding: 'utf8' }).trim();
  const rows = [...measured].map(
    ([where, all]) => `| ${where} | ${all[Math.floor(all.length / 2)]} | ${all[0]} .. ${all.at(-1)} | ${all.length} |`,
  );
  const bundles = ['extension.cjs', 'server.cjs', 'web.js', 'server.worker.js'];
  writeFileSync(
    join(root, 'docs/editor-figures.md'),
    `# The extension in its host

Written by \`npm run test:editor -- --figures\` on ${new Date().toISOString().slice(0, 10)} at commit ${commit}; ${cpus().length} × ${cpus()[0]?.model.trim()}, load average ${load?.toFixed(1)} as it began.

## Activation

Milliseconds as the editor's own list of running extensions says them: loading the code and activating. The aim is 300 ms.
*machine*: the extension beside the machine that serves the editor, its language server a process. *browser*: the extension
in the browser, its language server in a worker. Absolute times say little about another machine.

| where | middle | least .. most | windows |
| -- | --: | --: | --: |
${rows.join('\n')}

## Sizes

The packed extension: ${(statSync(vsix).size / 1e6).toFixed(2)} MB, of 3 MB that the build allows.

| bundle | kB |
| -- | --: |
${bundles.map((bundle) => `| ${bundle} | ${KB(join(dist, bundle))} |`).join('\n')}
`,
  );
}
