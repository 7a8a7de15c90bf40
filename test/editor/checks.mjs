/** What is looked at in the real editor. `file` is below test/editor/site; lines and columns count from one. */
import assert from 'node:assert/strict';

export const CHECKS = [
  {
    name: 'a syntax finding stands under the characters that cause it',
    file: 'half-typed.couplet',
    async check(window) {
      const marked = await window.marked('error');
      const rows = await window.problems('half-typed.couplet');
      await window.picture('finding-syntax');
      assert.ok(marked.includes('--'), marked.join('\n'));
      assert.equal(rows.filter((row) => row.includes('[Ln 4, Col 15]')).length, 1, rows.join('\n'));
    },
  },
  {
    name: 'a killed server comes back and goes on checking',
    file: 'half-typed.couplet',
    async check(window, host) {
      await window.problems('[Ln 4, Col 15]');
      const killed = host.killServers();
      assert.ok(killed.length > 0);
      await window.goTo(4, 15);
      await window.type(' ');
      await window.problems('[Ln 4, Col 16]');
      assert.ok(host.servers().some((pid) => !killed.includes(pid)));
    },
  },
];
