/** The preview's page in a browser, with a real language server and a played editor: what a reader sees and does in it. */
import assert from 'node:assert/strict';
import { openPreviewPage } from './preview-page.mjs';

const MILL = 'examples/tidewater-mill/site.couplet';
const HOSTILE = 'hostile-names.couplet';

/** Each gets a function that opens the page for a file, with what it remembers. */
export const PAGE_CHECKS = [
  {
    name: 'preview page: the drawing is shown with its figures, and the policy has nothing to refuse',
    async check(open) {
      const preview = await open(MILL);
      assert.match(await preview.textOf('P1'), /off · 1\.92 mV/);
      assert.match(await preview.textOf('K1'), /operated/);
      await preview.picture('page-drawing');
      await preview.untick('Figures');
      await preview.until('P1', /^(?!.*mV)/s);
      assert.match(await preview.textOf('P1'), /6 W at 12 V/);
      assert.deepEqual(preview.complaints, []);
    },
  },
  {
    name: 'preview page: another case has other figures, its moments can be chosen',
    async check(open) {
      const preview = await open(MILL);
      await preview.pick('Case', /high-water/);
      await preview.until('P1', /on · 12\.\d V/);
      await preview.pick('Moment', /back/);
      await preview.until('P1', /off · 1\.92 mV/);
      assert.deepEqual(preview.complaints, []);
    },
  },
  {
    name: 'preview page: it follows an edit; while the text cannot be read, what was drawn stays dimmed, with a note',
    async check(open) {
      const preview = await open(MILL);
      await preview.edit('load P1 = 6 W', 'load P1 = 3 W');
      await preview.until('P1', /3 W at 12 V/);
      await preview.edit('wire level.V12 -- P1', 'wire level.V12 -- -- P1');
      await preview.body('.dimmed').waitFor();
      assert.match(await preview.note(), /^Line \d+ cannot be read: .+ computed before\.$/);
      assert.match(await preview.textOf('P1'), /3 W at 12 V/);
      await preview.picture('page-unread');
      await preview.edit('wire level.V12 -- -- P1', 'wire level.V12 -- P1');
      await preview.body(':not(.dimmed)').waitFor();
      assert.equal(await preview.note(), '');
    },
  },
  {
    name: 'preview page: a click leads to the text, the cursor in the text marks what stands there',
    async check(open) {
      const preview = await open(MILL);
      const load = preview.placeOf('load P1');
      await preview.part('P1').click();
      await preview.wasRevealed(load.line);
      await preview.cursor(load.line, load.character + 5);
      await preview.chosen('node P1').waitFor();
      assert.equal(await preview.part('P1').getAttribute('aria-current'), 'true');
      const wire = preview.placeOf('P1 -- level.Q2');
      await preview.cursor(wire.line, wire.character + 3);
      await preview.page.locator('[data-ref^="wire"].chosen').first().waitFor();
      assert.equal(await preview.chosen('node P1').count(), 0);
      const named = preview.placeOf('P1 >= 10.5 V');
      await preview.cursor(named.line, named.character + 1);
      await preview.chosen('node P1').waitFor();
      const terminal = preview.placeOf('panel.Z4 -- W1.GN');
      await preview.cursor(terminal.line, terminal.character + 7);
      await preview.chosen('terminal panel.Z4').waitFor();
      await preview.cursor(terminal.line, terminal.character + 'panel.Z4 -- W1.G'.length);
      await preview.page.locator('[data-ref^="core"].chosen').waitFor();
    },
  },
  {
    name: 'preview page: everything can be done with the keyboard',
    async check(open) {
      const preview = await open(MILL);
      const { keyboard } = preview.page;
      await preview.page.getByRole('tab', { name: 'Drawing' }).focus();
      const reached = [];
      for (let i = 0; i < 80 && !reached.includes('node P1'); i += 1) {
        await keyboard.press('Tab');
        reached.push(await preview.focused());
      }
      for (const wanted of [
        'Case',
        'Figures',
        'Zoom out',
        'Zoom in',
        'Show all of the drawing',
        'frame pit',
        'node P1',
      ]) {
        assert.ok(reached.includes(wanted), `${wanted} is not among ${reached.join(', ')}`);
      }
      await preview.picture('page-focus');
      await keyboard.press('Enter');
      await preview.wasRevealed(preview.placeOf('load P1').line);
      await keyboard.press('0');
      const fitted = await preview.window();
      await keyboard.press('+');
      await keyboard.press('+');
      const close = await preview.window();
      assert.ok(close.width < fitted.width / 1.4, `${close.width} of ${fitted.width}`);
      await keyboard.press('ArrowRight');
      assert.ok((await preview.window()).x > close.x);
      await keyboard.press('0');
      assert.deepEqual(await preview.window(), fitted);
      await preview.edit('load P1 = 6 W', 'load P1 = 3 W');
      await preview.until('P1', /3 W at 12 V/);
      assert.equal(await preview.focused(), 'node P1');
      await preview.page.getByRole('tab', { name: 'Drawing' }).focus();
      await keyboard.press('ArrowRight');
      assert.equal(await preview.focused(), 'Time line');
    },
  },
  {
    name: 'preview page: the mouse zooms at its place and moves the drawing; a drag is no click',
    async check(open) {
      const preview = await open(MILL);
      const { mouse } = preview.page;
      await preview.page.getByRole('button', { name: 'Show all of the drawing' }).click();
      const fitted = await preview.window();
      const box = await preview.part('P1').boundingBox();
      const at = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
      await mouse.move(at.x, at.y);
      await preview.page.keyboard.down('Control');
      await mouse.wheel(0, -300);
      await preview.page.keyboard.up('Control');
      await preview.moved(fitted);
      const zoomed = await preview.window();
      assert.ok(zoomed.width < fitted.width);
      const after = await preview.part('P1').boundingBox();
      assert.ok(after.x < at.x && after.x + after.width > at.x, 'the part stays below the pointer');
      await mouse.down();
      await mouse.move(at.x - 60, at.y - 40, { steps: 4 });
      await mouse.up();
      await preview.moved(zoomed);
      assert.deepEqual(preview.revealed, []);
      await mouse.wheel(0, 50);
      await preview.page.getByRole('button', { name: 'Show all of the drawing' }).click();
      assert.deepEqual(await preview.window(), fitted);
    },
  },
  {
    name: 'preview page: a reloaded page shows what the last one showed',
    async check(open) {
      const first = await open(MILL);
      await first.pick('Case', /high-water/);
      await first.until('P1', /on · 12\.\d V/);
      await first.untick('Figures');
      await first.page.getByRole('button', { name: 'Zoom in' }).click();
      const window = await first.window();
      const kept = await first.kept();
      const second = await open(MILL, kept);
      assert.match(await second.picked('Case'), /high-water/);
      assert.deepEqual(await second.window(), window);
      assert.equal(await second.page.getByRole('checkbox', { name: 'Figures' }).isChecked(), false);
    },
  },
  {
    name: 'preview page: the sections show the case over time, the readings within their bands, the battery',
    async check(open) {
      const preview = await open(MILL);
      await preview.section('Time line');
      await preview.ref('track panel.Z4 reports').waitFor();
      assert.match(await preview.picked('Case'), /high-water/);
      await preview.picture('page-time');
      await preview.ref('track K1 state').focus();
      await preview.page.keyboard.press('Enter');
      await preview.wasRevealed(preview.placeOf('relay K1').line);
      await preview.section('Zone bands');
      await preview.ref('reading rest').waitFor();
      assert.equal(await preview.ref('reading RA missing').count(), 0);
      await preview.page.getByRole('checkbox', { name: 'Single faults' }).check();
      await preview.ref('reading RA missing').waitFor();
      await preview.picture('page-bands');
      await preview.section('Battery');
      assert.match(await preview.sentence(), /autonomy/);
      assert.deepEqual(preview.complaints, []);
      const pump = await open('examples/pumping-station/site.couplet');
      await pump.section('Battery');
      await pump.page.locator('.plots svg').waitFor();
      assert.match(await pump.page.locator('.plots').textContent(), /wanted 24 h/);
      await pump.page.getByRole('button', { name: 'B1 in the text' }).click();
      await pump.wasRevealed(pump.placeOf('battery B1').line);
      await pump.picture('page-battery');
    },
  },
  {
    name: 'preview page: the cursor in another coupling shows that one',
    async check(open) {
      const preview = await open('two-couplings.couplet');
      assert.equal(await preview.part('P2').count(), 0);
      const wire = preview.placeOf('P2 -- two.Q1');
      await preview.cursor(wire.line, wire.character + 1);
      await preview.part('P2').waitFor();
      assert.match(await preview.picked('Coupling'), /P2/);
      await preview.pick('Coupling', /P1/);
      await preview.part('P1').waitFor();
      await preview.edit('site "Two"', 'site "Two of them"');
      await preview.page.locator('.canvas svg', { hasText: 'Two of them' }).waitFor();
      assert.equal(await preview.part('P1').count(), 1);
      await preview.page.getByRole('button', { name: 'Zoom in' }).click();
      assert.ok((await preview.kept()).view.scale > 0);
      await preview.openOther('hostile-names.couplet');
      await preview.page.locator('.canvas svg', { hasText: 'alert(1)' }).waitFor();
      assert.equal((await preview.kept()).view, undefined);
    },
  },
  {
    name: 'preview page: where there is nothing to draw, a sentence says why',
    async check(open) {
      const preview = await open('examples/types/chill-controller.couplet', undefined, 'sentence');
      assert.match(await preview.sentence(), /belongs to no site/);
      await preview.tell({ type: 'file' });
      assert.match(await preview.sentence(), /^Open a file of the language/);
    },
  },
  {
    name: 'preview page: names and descriptions that look like markup are shown and do nothing',
    async check(open) {
      const preview = await open(HOSTILE);
      const text = await preview.textOf('P1');
      assert.match(text, /<img src=x/);
      assert.equal(
        await preview.page.evaluate(() => document.querySelectorAll('img, script:not([nonce]), a').length),
        0,
      );
      assert.deepEqual(preview.complaints, []);
    },
  },
];

/** Runs them on a copy of the sites in `folder`; `report` hears how each went. */
export async function runPageChecks({ root, folder, pictures, isWanted, report }) {
  for (const { name, check } of PAGE_CHECKS.filter(isWanted)) {
    const opened = [];
    const open = async (file, kept, wait) => {
      const preview = await openPreviewPage({ root, folder, file, kept, pictures });
      opened.push(preview);
      if (wait !== 'sentence') await preview.page.locator('.canvas svg').waitFor({ timeout: 60_000 });
      return preview;
    };
    try {
      await check(open);
      report(name);
    } catch (error) {
      await opened.at(-1)?.picture(`failed-${name.replaceAll(/\W+/g, '-')}`);
      report(name, error);
    } finally {
      for (const preview of opened) await preview.close();
    }
  }
}
