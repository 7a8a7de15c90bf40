/** What is looked at in the real editor. `file` is below the opened folder; lines and columns count from one. */
import assert from 'node:assert/strict';

const MILL = 'examples/tidewater-mill/site.couplet';

export const CHECKS = [
  {
    name: 'a syntax finding stands under the characters that cause it',
    file: 'half-typed.couplet',
    async check(window) {
      const marked = await window.marked('error');
      const rows = await window.problems('syntax-error');
      await window.picture('finding-syntax');
      assert.ok(marked.includes('--'), marked.join('\n'));
      assert.equal(rows.filter((row) => row.includes('[Ln 4, Col 15]')).length, 1, rows.join('\n'));
    },
  },
  {
    name: 'an overloaded output is found, at its characters, with its figures',
    file: 'boat-shed.couplet',
    async check(window) {
      const rows = await window.problems('output-overloaded');
      const marked = await window.marked('error');
      await window.picture('finding-electrical');
      const row = rows.find((each) => each.includes('output-overloaded')) ?? '';
      assert.match(row, /\d(\.\d+)? A/);
      assert.ok(
        marked.some((text) => text.includes('Q1')),
        marked.join('\n'),
      );
    },
  },
  {
    name: 'the worked example has no error and no warning',
    file: MILL,
    async check(window) {
      // Its own findings are there once those of the information level are.
      await window.problems('site.couplet', 'Ln 13');
      await window.picture('worked-example');
      assert.deepEqual(await window.marks('error'), []);
      assert.deepEqual(await window.marks('warning'), []);
    },
  },
  {
    name: 'the hover of a load shows the current computed for each case',
    file: MILL,
    async check(window) {
      await window.problems('site.couplet', 'Ln 13');
      const { line, column } = await window.find('-- P1 --', 4);
      await window.goTo(line, column);
      const text = await window.hover();
      await window.picture('hover');
      assert.match(text, /P1 load/);
      assert.match(text, /high-water/);
      assert.match(text, /521 mA/);
    },
  },
  {
    name: 'resistor values are offered in the order in which they suit the zone',
    file: MILL,
    async check(window) {
      await window.problems('site.couplet', 'Ln 13');
      const { line, column } = await window.find('2k2 +-1%', 0);
      await window.goTo(line, column);
      await window.deleteToLineEnd();
      const labels = await window.completions();
      await window.picture('completion');
      assert.ok(['2k0', '2k2'].includes(labels[0]), labels.join(' '));
      assert.ok(labels.indexOf('4k7') > 0, labels.join(' '));
    },
  },
  {
    name: 'a killed server comes back and goes on checking',
    file: 'half-typed.couplet',
    async check(window, host) {
      await window.problems('syntax-error', '[Ln 4, Col 15]');
      const killed = host.killServers();
      assert.ok(killed.length > 0);
      await window.goTo(4, 15);
      await window.type(' ');
      await window.problems('syntax-error', '[Ln 4, Col 16]');
      assert.ok(host.servers().some((pid) => !killed.includes(pid)));
    },
  },
];
