/** The preview beside the text, in the real editor. */
import assert from 'node:assert/strict';

const MILL = 'examples/tidewater-mill/site.couplet';

export const PREVIEW_CHECKS = [
  {
    name: 'preview: the drawing stands beside the text, follows the case picker and an edit',
    file: MILL,
    async check(window) {
      await window.problems('terminal-unused', 'Ln 16');
      const preview = await window.openPreview();
      await preview.part('P1').waitFor();
      await window.picture('preview-drawing');
      assert.match(await preview.part('P1').textContent(), /P1/);
      await preview.pick('Case', /high-water/);
      await preview.part('P1').filter({ hasText: '521 mA' }).waitFor();
      await window.picture('preview-case');
      const { line, column } = await window.find('6 W @ 12 V', 0);
      await window.goTo(line, column);
      await window.type('1');
      await preview.part('P1').filter({ hasNotText: '521 mA' }).waitFor();
      await window.picture('preview-edited');
    },
  },
  {
    name: 'preview: a click leads to the text, the cursor in the text marks the part',
    file: MILL,
    async check(window) {
      await window.problems('terminal-unused', 'Ln 16');
      const preview = await window.openPreview();
      await preview.part('K1').click();
      const relay = await window.find('relay K1', 0);
      await window.cursorAt(relay.line);
      const load = await window.find('load P1', 5);
      await window.goTo(load.line, load.column);
      await preview.marked('P1').waitFor();
      await window.picture('preview-marked');
    },
  },
  {
    name: 'preview: what was chosen is there again after the window was loaded again',
    file: MILL,
    async check(window) {
      await window.problems('terminal-unused', 'Ln 16');
      const preview = await window.openPreview();
      await preview.pick('Case', /supply-lost/);
      await preview.part('P1').waitFor();
      await preview.section('Zone bands');
      await window.reload();
      const again = window.preview();
      await again.chosenTab('Zone bands').waitFor({ timeout: 60_000 });
      await again.section('Drawing');
      assert.match(await again.picked('Case'), /supply-lost/);
      await window.picture('preview-reloaded');
    },
  },
];
