/** What is particular to the extension in the browser's own extension host, with the language server in a worker. */
import assert from 'node:assert/strict';

export const BROWSER_CHECKS = [
  {
    name: 'the extension runs in the browser, and no server runs on the machine that serves it',
    file: 'boat-shed.couplet',
    async check(window, host) {
      await window.problems('output-overloaded');
      const { text } = await window.runningExtension('Couplet');
      await window.picture('browser-host');
      assert.match(text, /web worker/);
      assert.deepEqual(host.servers(), []);
    },
  },
  {
    name: 'the command starts the server anew, and the new one checks what is typed',
    file: 'half-typed.couplet',
    async check(window) {
      await window.marked('error');
      const gone = await window.watchMarks('error');
      await window.run('Couplet: Restart Language Server');
      // With the old server go its findings, with the new one they return.
      await gone();
      await window.marked('error');
      await window.goTo(4, 15);
      await window.type(' ');
      await window.problems('syntax-error', '[Ln 4, Col 16]');
    },
  },
];
