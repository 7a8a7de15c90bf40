/** The language server in an editor without an extension: neovim's own client, started as docs/other-editors.md says. */
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { cpSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

export const OTHER_EDITOR_CHECKS = [
  {
    name: 'neovim: findings, hover, completion, a fix and a rename through all files',
    check(root) {
      const said = askNeovim(root);
      assert.deepEqual(said.errors, []);
      assert.ok(said.findings.includes('load-undervoltage'), JSON.stringify(said.findings));
      assert.match(said.hover, /\*\*P1\*\* load/);
      assert.match(said.hover, /\d mA/);
      assert.ok(['2k0', '2k2'].includes(said.completion[0]), said.completion.join(' '));
      assert.deepEqual(said.fixes, ["Write 'V12'"]);
      assert.equal(said.mended, 'wire level.V12 -- P1 -- level.Q2');
      assert.deepEqual(said.renamed, ['site.couplet', 'signal-relay.couplet']);
    },
  },
];

/** Opens a copy of the worked example in neovim without a screen and returns what its client was told. */
function askNeovim(root) {
  const folder = mkdtempSync(join(tmpdir(), 'couplet-neovim-'));
  try {
    for (const part of ['types', 'tidewater-mill']) {
      cpSync(join(root, 'examples', part), join(folder, part), { recursive: true });
    }
    const script = join(root, 'test/editor/neovim.lua');
    const env = {
      ...process.env,
      COUPLET_NODE: process.execPath,
      COUPLET_SERVER: join(root, 'packages/server/bin/couplet-language-server.cjs'),
      COUPLET_FOLDER: folder,
    };
    execFileSync('nvim', ['--headless', '--clean', '-c', `luafile ${script}`], { env, stdio: 'pipe', timeout: 90_000 });
    return JSON.parse(readFileSync(join(folder, 'said.json'), 'utf8'));
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
