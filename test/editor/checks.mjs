/**
 * What is looked at in the real editor, wherever the extension runs. `file` is below the opened folder; lines and columns
 * count from one.
 */
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
      await window.problems('terminal-unused', 'Ln 16');
      await window.picture('worked-example');
      assert.deepEqual(await window.marks('error'), []);
      assert.deepEqual(await window.marks('warning'), []);
    },
  },
  {
    name: 'the hover of a load shows the current computed for each case',
    file: MILL,
    async check(window) {
      await window.problems('terminal-unused', 'Ln 16');
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
      await window.problems('terminal-unused', 'Ln 16');
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
    name: 'over the loop stands what its zone reads, beside each part its figure',
    file: MILL,
    async check(window) {
      await window.problems('terminal-unused', 'Ln 16');
      const loop = await window.find('panel.Z4 --', 0);
      await window.goTo(loop.line, loop.column);
      const lens = await window.lens('panel.Z4: rest');
      await window.picture('zone-readings');
      assert.match(lens, /rest 2\.227 kΩ normal · high-water 6\.927 kΩ alarm/);
      const { line, column } = await window.find('load P1 =', 0);
      await window.goTo(line, column);
      const shown = await window.lineText('load P1');
      await window.picture('inlay-figures');
      assert.match(shown, /load P1\s*521 mA\s*= 6 W/);
    },
  },
  {
    name: 'a proven fix is offered with its figure, and applied makes the finding go',
    file: 'wrong-contact.couplet',
    async check(window) {
      await window.problems('rest-inverted', '[Ln');
      const { line, column } = await window.find('panel.Z1 -- ', 0);
      await window.goTo(line, column + 2);
      const title = await window.quickFix(/^Wire K1\.11-14 in place of K1\.11-12: ohms at panel\.Z1 2\.\d+ kΩ/);
      await window.picture('quick-fix-applied');
      assert.ok(title);
      await window.noProblem('rest-inverted');
      assert.match(await window.lineText('wire panel.Z1'), /K1\.11-14 -- RE/);
    },
  },
  {
    name: 'a type is renamed in the file that declares it and where it is used',
    file: MILL,
    async check(window) {
      await window.problems('terminal-unused', 'Ln 16');
      const { line, column } = await window.find('SignalRelay12', 3);
      await window.goTo(line, column);
      await window.rename('HoldingRelay');
      await window.picture('rename');
      assert.match(await window.lineText('relay K1.*HoldingRelay'), /HoldingRelay/);
      await window.openFile('signal-relay.couplet');
      assert.match(await window.lineText('type HoldingRelay'), /HoldingRelay/);
      await window.picture('rename-other-file');
    },
  },
  {
    name: 'cases run in the testing view, and a failed one says what was expected and computed',
    file: 'boat-shed.couplet',
    async check(window) {
      await window.problems('output-overloaded', 'Ln');
      await window.run('Test: Run All Tests');
      const rows = await window.testRows(/Boat shed.*Failed/i);
      assert.ok(
        rows.some((row) => /Tidewater Mill.*Passed/i.test(row)),
        rows.join('\n'),
      );
      const { line, column } = await window.find('expect P1 >= 14.5 V', 0);
      await window.goTo(line, column);
      const message = await window.testMessage(/expected/);
      await window.picture('testing-view');
      assert.match(message, /P1 >= 14\.5 V is expected; computed: 12\.5 V/);
    },
  },
  {
    name: 'the status of the language says what the engine does, and the log is a click away',
    file: 'boat-shed.couplet',
    async check(window) {
      await window.problems('output-overloaded');
      assert.match(await window.languageStatus(/Couplet.*checked/s), /Show output/);
      await window.picture('language-status');
      await window.run('Couplet: Show Output');
      await window.outputChannel('Couplet');
      await window.picture('output');
    },
  },
  {
    name: 'the guided coupling asks, writes a file, and nothing is wrong with it',
    file: 'boat-shed.couplet',
    async check(window) {
      await window.problems('output-overloaded');
      await window.run('Couplet: New Coupling');
      await window.answer('What is the site called?', 'Boat house');
      await window.answer('What switches?', 'Open collector of 500 mA, 12 V');
      await window.answer('What does it drive?', 'A signal relay');
      await window.answer('Over which cable?', '0.22');
      await window.answer('How long is it?', '50 m');
      await window.picture('new-coupling');
      await window.answer('How does the zone read its loop?', '4k7, two');
      await window.shows('boat-house.couplet');
      // What is only for information is there once the file is checked.
      await window.problems('boat-house', 'terminal-unused');
      const loop = await window.find('panel.Z1 --', 0);
      await window.goTo(loop.line, loop.column);
      assert.match(await window.lens('panel.Z1: rest'), /rest 4\.\d+ kΩ normal · report 9\.\d+ kΩ alarm/);
      await window.picture('new-coupling-written');
      assert.deepEqual(await window.marks('error'), []);
      assert.deepEqual(await window.marks('warning'), []);
    },
  },
];

/** What only a server that is a process can show. */
export const MACHINE_CHECKS = [
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
