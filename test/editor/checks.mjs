/** What is looked at in the real editor. `file` is below test/editor/site; lines and columns count from one. */
import assert from 'node:assert/strict';

export const CHECKS = [
  {
    name: 'a syntax finding stands under the characters that cause it',
    file: 'half-typed.couplet',
    async check(window) {
      const rows = await window.problems('half-typed.couplet');
      await window.picture('finding-syntax');
      assert.ok(
        rows.some((row) => row.includes('couplet') && /Ln 4, Col \d+/.test(row)),
        rows.join('\n'),
      );
    },
  },
];
