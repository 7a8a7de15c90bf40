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
      await window.run('File: Revert File');
      await preview.part('P1').filter({ hasText: '521 mA' }).waitFor();
    },
  },
  {
    name: 'preview: a click leads to the text, the cursor in the text marks the part',
    file: MILL,
    async check(window) {
      await window.problems('terminal-unused', 'Ln 16');
      await window.run('View: Hide Panel');
      await window.run('View: Toggle Primary Side Bar Visibility');
      const preview = await window.openPreview();
      await preview.pick('Case', /high-water/);
      // A part that is drawn anew between the press and the release of a button takes no click.
      await window.settle();
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
      await window.settle();
      await window.reload();
      const again = window.preview();
      await again.chosenTab('Zone bands').waitFor({ timeout: 60_000 });
      await again.section('Drawing');
      assert.match(await again.picked('Case'), /supply-lost/);
      await window.picture('preview-reloaded');
    },
  },
  {
    name: 'preview: a site that is not saved yet is drawn, too',
    file: 'half-typed.couplet',
    async check(window) {
      await window.problems('syntax-error', '[Ln 4, Col 15]');
      await window.run('Couplet: New Site');
      const preview = await window.openPreview();
      await preview.part('P1').filter({ hasText: '6 W at 12 V' }).waitFor();
      await window.picture('preview-not-saved');
      await window.run('View: Revert and Close Editor');
    },
  },
  {
    name: 'preview: in every theme its words stand out from their ground',
    file: MILL,
    async check(window) {
      await window.problems('terminal-unused', 'Ln 16');
      const preview = await window.openPreview();
      await preview.pick('Case', /high-water/);
      await preview.part('P1').waitFor();
      await window.run('View: Hide Panel');
      for (const theme of ['Light Modern', 'Dark High Contrast', 'Light High Contrast', 'Dark Modern']) {
        await window.theme(theme);
        await window.picture(`preview-${theme.toLowerCase().replaceAll(' ', '-')}`);
        const { figure, ground, ink } = await preview.colours();
        assert.ok(contrast(ink, ground) >= 4.5, `${theme}: ${ink} on ${ground}`);
        assert.ok(contrast(figure, ground) >= 4.5, `${theme}: ${figure} on ${ground}`);
      }
    },
  },
];

/** What only a server that is a process can show. */
export const PREVIEW_MACHINE_CHECKS = [
  {
    name: 'preview: it goes on with the server that comes after a killed one',
    file: MILL,
    async check(window, host) {
      await window.problems('terminal-unused', 'Ln 16');
      const preview = await window.openPreview();
      await preview.part('P1').waitFor();
      assert.ok(host.killServers().length > 0);
      const { line, column } = await window.find('6 W @ 12 V', 0);
      await window.goTo(line, column);
      await window.type('1');
      // The name and the value stand side by side.
      await preview.part('P1').filter({ hasText: 'P116 W at 12 V' }).waitFor();
      await window.run('File: Revert File');
      await preview.part('P1').filter({ hasText: 'P16 W at 12 V' }).waitFor();
    },
  },
];

/** Of two colours as a browser tells them ('rgb(31, 31, 31)'): WCAG 2.2, 'contrast ratio'. */
function contrast(one, other) {
  const luminance = (colour) => {
    const parts = colour
      .match(/[\d.]+/g)
      .slice(0, 3)
      .map((part) => Number(part) / 255);
    const [red, green, blue] = parts.map((part) => (part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4));
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
  };
  const [dark, light] = [luminance(one), luminance(other)].sort((a, b) => a - b);
  return (light + 0.05) / (dark + 0.05);
}
