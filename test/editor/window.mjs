/** One window of the editor in a browser, and what a person does in it. */
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { chromium } from 'playwright-core';
import { Preview } from './preview-reader.mjs';

/** Milliseconds that anything may take on a machine that is busy with other work as well. */
const PATIENCE = 120_000;

const BROWSERS = ['chromium', 'chromium-browser', 'google-chrome'];

function browserPath() {
  for (const name of BROWSERS) {
    try {
      return execFileSync('which', [name], { encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] }).trim();
    } catch {
      // The next name.
    }
  }
  throw new Error(`none of ${BROWSERS.join(', ')} is installed`);
}

/** A browser that runs for root too, and where little memory is shared, as in a container. */
export function launchBrowser() {
  const args = ['--no-sandbox', '--disable-dev-shm-usage'];
  return chromium.launch({ executablePath: browserPath(), args, timeout: PATIENCE });
}

/** A text as a person types it: the editor draws blanks that do not break. */
function plain(text) {
  return (text ?? '').replaceAll('\u00a0', ' ');
}

/** Opens `folder` and in it `file` (a path below it). */
export async function openWindow({ address, folder, file, pictures }) {
  const browser = await launchBrowser();
  const page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
  page.setDefaultTimeout(PATIENCE);
  page.setDefaultNavigationTimeout(PATIENCE);
  const payload = [['openFile', `vscode-remote://${address}${join(folder, file)}`]];
  try {
    await page.goto(`http://${address}/?folder=${folder}&payload=${encodeURIComponent(JSON.stringify(payload))}`);
    await page.locator('.monaco-editor .view-line').first().waitFor();
  } catch (error) {
    await page.screenshot({ path: join(pictures, 'failed-to-open.png') });
    await browser.close();
    throw error;
  }
  return new Window(browser, page, join(folder, file), pictures);
}

class Window {
  constructor(browser, page, path, pictures) {
    this.browser = browser;
    this.page = page;
    this.path = path;
    this.pictures = pictures;
  }

  /** Puts the cursor at a line and column, both counted from one as the editor shows them. */
  async goTo(line, column) {
    await this.page.keyboard.press('Escape');
    await this.page.keyboard.press('Control+g');
    const input = this.page.locator('.quick-input-widget input').first();
    await input.waitFor();
    await input.fill(`:${line}:${column}`);
    await this.page.keyboard.press('Enter');
    await this.page.locator('.quick-input-widget').waitFor({ state: 'hidden' });
  }

  /** Where the first `text` of the opened file stands, so many characters into it; from one, as the editor counts. */
  async find(text, into) {
    const file = readFileSync(this.path, 'utf8');
    const at = file.indexOf(text);
    if (at < 0) throw new Error(`${this.path} has no ${text}`);
    const lines = file.slice(0, at + into).split('\n');
    return { line: lines.length, column: lines.at(-1).length + 1 };
  }

  async deleteToLineEnd() {
    await this.page.keyboard.press('Shift+End');
    await this.page.keyboard.press('Delete');
  }

  async type(text) {
    await this.page.keyboard.type(text);
  }

  /** Runs a command of the palette by its title. */
  async run(title) {
    await this.page.keyboard.press('F1');
    const input = this.page.locator('.quick-input-widget input').first();
    await input.waitFor();
    await input.fill(`>${title}`);
    await this.page.locator('.quick-input-widget .monaco-list-row', { hasText: title }).first().click();
  }

  /** Types into the question that is open, or picks the first answer that what is typed leaves. */
  async answer(question, text) {
    const widget = this.page.locator('.quick-input-widget');
    const input = widget.locator('input').first();
    await this.page
      .locator(`.quick-input-widget input[placeholder="${question}"]`)
      .or(widget.getByText(question))
      .first()
      .waitFor();
    await input.fill(text);
    await this.page.keyboard.press('Enter');
    await this.page.locator(`.quick-input-widget input[placeholder="${question}"]`).waitFor({ state: 'hidden' });
  }

  /** Waits until the editor shows another file of the same folder; from then on that is the opened file. */
  async shows(name) {
    this.path = join(dirname(this.path), name);
    await this.page.locator('.tab.active', { hasText: name }).waitFor();
    await this.page.locator('.monaco-editor .view-line').first().waitFor();
  }

  /** Lets the problems view show only what holds `words`; a view that is still opening may forget what was typed. */
  async filterProblems(words) {
    await this.run('Problems: Focus on Problems View');
    const filter = this.page.locator('.markers-panel-action-filter-container input, .viewpane-filter input').first();
    for (let tries = 0; tries < 40; tries += 1) {
      await filter.fill(words);
      await this.page.waitForTimeout(500);
      if ((await filter.inputValue()) === words) return;
    }
    throw new Error(`the problems view does not keep '${words}'`);
  }

  /**
   * What the problems view lists when only what holds `wanted` (a code, a file's name) is shown: one text a row, once
   * one of them holds `enough`.
   */
  async problems(wanted, enough = wanted) {
    await this.filterProblems(wanted);
    const rows = this.page.locator('.markers-panel .monaco-list-row');
    await rows.filter({ hasText: enough }).first().waitFor({ timeout: PATIENCE });
    return rows.allInnerTexts();
  }

  /** Watches the squiggles of a severity from now on; what it returns waits until there was a moment without any. */
  async watchMarks(severity) {
    await this.page.evaluate((selector) => {
      globalThis.marksWereGone = false;
      new MutationObserver(() => {
        if (document.querySelector(selector) === null) globalThis.marksWereGone = true;
      }).observe(document.body, { childList: true, subtree: true });
    }, `.monaco-editor .squiggly-${severity}`);
    return () => this.page.waitForFunction(() => globalThis.marksWereGone === true);
  }

  /** The texts under squiggles of a severity ('error', 'warning', 'info'): what the reader sees marked. */
  async marked(severity) {
    await this.page.locator(`.monaco-editor .squiggly-${severity}`).first().waitFor({ timeout: PATIENCE });
    return this.marks(severity);
  }

  /** The same without waiting for any. */
  marks(severity) {
    return this.page.evaluate((selector) => {
      const textUnder = (mark) => {
        const box = mark.getBoundingClientRect();
        let text = '';
        for (const line of document.querySelectorAll('.monaco-editor .view-line')) {
          const walker = document.createTreeWalker(line, NodeFilter.SHOW_TEXT);
          for (let node = walker.nextNode(); node !== null; node = walker.nextNode()) {
            for (let at = 0; at < node.length; at += 1) {
              const range = document.createRange();
              range.setStart(node, at);
              range.setEnd(node, at + 1);
              const { left, right, top, bottom } = range.getBoundingClientRect();
              const middle = (left + right) / 2;
              const sameLine = top < box.bottom && bottom > box.top + 2 && Math.abs(bottom - box.bottom) < 12;
              if (sameLine && middle > box.left && middle < box.right) text += node.data[at];
            }
          }
        }
        return text.replaceAll('\u00a0', ' ');
      };
      return [...document.querySelectorAll(selector)].map(textUnder);
    }, `.monaco-editor .squiggly-${severity}`);
  }

  /** What shows when the mouse rests on the cursor's place. */
  async hover() {
    const box = await this.page.locator('.monaco-editor .cursors-layer .cursor').first().boundingBox();
    await this.page.mouse.move(box.x + 2, box.y + box.height / 2, { steps: 4 });
    const hover = this.page.locator('.monaco-hover .hover-contents').filter({ visible: true });
    await hover.first().waitFor({ timeout: PATIENCE });
    return (await hover.allInnerTexts()).join('\n');
  }

  /** Labels of the completion list at the cursor, as far as it shows them, from the top. */
  async completions() {
    await this.page.keyboard.press('Control+Space');
    const rows = this.page.locator('.suggest-widget.visible .monaco-list-row');
    await rows.first().waitFor({ timeout: PATIENCE });
    // The list is drawn lazily and in any order; its rows carry their index.
    const labels = await rows.evaluateAll((list) =>
      list
        .map((row) => [Number(row.dataset.index), row.querySelector('.label-name')?.textContent ?? ''])
        .sort(([a], [b]) => a - b)
        .map(([, label]) => label),
    );
    return labels;
  }

  /** The text of the first line over the code that matches. */
  async lens(words) {
    const lens = this.page.locator('.monaco-editor .codelens-decoration').filter({ hasText: words }).first();
    await lens.waitFor();
    return plain(await lens.textContent());
  }

  /** The first line of the editor that holds `words`, as it is drawn, figures beside the text included. */
  async lineText(words) {
    const text = words.replaceAll(' ', '[\\s\u00a0]');
    const line = this.page
      .locator('.monaco-editor .view-line')
      .filter({ hasText: new RegExp(text) })
      .first();
    await line.waitFor({ timeout: PATIENCE });
    return plain(await line.textContent());
  }

  /** Takes the first fix at the cursor whose title matches, and says its title. */
  async quickFix(title) {
    const row = this.page.locator('.action-widget .monaco-list-row').filter({ hasText: title }).first();
    // The list closes when lines move under it, as they do while figures come in.
    for (let tries = 0; tries < 20 && !(await row.isVisible()); tries += 1) {
      await this.page.keyboard.press('Control+.');
      await row.waitFor({ timeout: 8_000 }).catch(() => undefined);
    }
    await row.waitFor({ timeout: 1000 });
    await this.picture('quick-fix');
    const text = await row.textContent();
    await row.click();
    return plain(text);
  }

  /** Waits until the problems view lists nothing that holds `words`. */
  async noProblem(words) {
    await this.filterProblems(words);
    const rows = this.page.locator('.markers-panel .monaco-list-row').filter({ hasText: words });
    await rows.first().waitFor({ state: 'detached', timeout: PATIENCE });
  }

  /** Gives what the cursor is on another name. */
  async rename(name) {
    await this.page.keyboard.press('F2');
    const input = this.page.locator('.rename-box input').first();
    await input.waitFor({ timeout: PATIENCE });
    await input.fill(name);
    await this.page.keyboard.press('Enter');
    await input.waitFor({ state: 'hidden' });
  }

  /** Opens another file of the folder by its name. */
  async openFile(name) {
    await this.page.keyboard.press('Control+p');
    const input = this.page.locator('.quick-input-widget input').first();
    await input.fill(name);
    await this.page.locator('.quick-input-widget .monaco-list-row', { hasText: name }).first().click();
    await this.page.locator('.tab.active', { hasText: name }).waitFor();
  }

  /** The rows of the testing view with their outcomes, as they are read out, once one of them matches. */
  async testRows(enough) {
    await this.run('Testing: Focus on Test Explorer View');
    const rows = this.page.locator('.test-explorer .monaco-list-row');
    await this.page.getByLabel(enough).first().waitFor({ timeout: PATIENCE });
    return rows.evaluateAll((list) => list.map((row) => row.getAttribute('aria-label') ?? ''));
  }

  /** The message of a failed test, among the results of the last run. */
  async testMessage(words) {
    await this.page.getByRole('tab', { name: 'Test Results' }).click();
    const shown = this.page.locator('.test-output-peek-tree .monaco-list-row').filter({ hasText: words }).first();
    await shown.waitFor({ timeout: PATIENCE });
    return plain(await shown.textContent());
  }

  /** Opens the drawing beside the text with the button over the text. */
  async openPreview() {
    await this.page.getByRole('button', { name: 'Show the Drawing Beside the Text' }).first().click();
    const preview = this.preview();
    await preview.ready();
    return preview;
  }

  preview() {
    return new Preview(this.page.frameLocator('iframe.webview').frameLocator('#active-frame'));
  }

  /** Waits until the cursor stands in a line. */
  async cursorAt(line) {
    await this.page.locator('.statusbar-item', { hasText: new RegExp(`Ln ${line}, `) }).waitFor();
  }

  /** Until the editor has written what it keeps of its windows, which it does every few seconds. */
  async settle() {
    await this.page.waitForTimeout(8000);
  }

  /** Chooses a colour theme by its name. */
  async theme(name) {
    await this.run('Preferences: Color Theme');
    const input = this.page.locator('.quick-input-widget input').first();
    await input.fill(name);
    await this.page.locator('.quick-input-widget .monaco-list-row', { hasText: name }).first().click();
    await this.page.locator('.quick-input-widget').waitFor({ state: 'hidden' });
    await this.page.waitForTimeout(1000);
  }

  /** Loads the window again as it was left: the address that opened the first file would open it anew. */
  async reload() {
    const address = new URL(this.page.url());
    address.searchParams.delete('payload');
    await this.page.goto(address.href);
    await this.page.locator('.monaco-editor .view-line').first().waitFor({ timeout: PATIENCE });
  }

  /** What the status of the opened file's language says, once it matches. */
  async languageStatus(enough) {
    const item = this.page.locator('[id="status.languageStatus"]').first();
    const said = this.page.locator('.hover-language-status').filter({ hasText: enough }).first();
    // The list goes when the mouse rests elsewhere, and says what was so when it came.
    for (let tries = 0; tries < 40 && !(await said.isVisible()); tries += 1) {
      await this.page.mouse.move(400, 300);
      await item.hover();
      await said.waitFor({ timeout: 3000 }).catch(() => undefined);
    }
    return plain(await said.textContent());
  }

  /** Waits until a channel is shown in the output view. */
  async outputChannel(name) {
    await this.page
      .locator('.part.panel .monaco-select-box, .part.panel .action-label', { hasText: name })
      .first()
      .waitFor();
  }

  /** What the editor says of a running extension: where it runs, and how long its activation took. */
  async runningExtension(name) {
    await this.run('Developer: Show Running Extensions');
    const row = this.page.locator('.runtime-extensions-editor .monaco-list-row').filter({
      has: this.page.getByText(name, { exact: true }),
    });
    // The list is drawn as far as it is seen, the slowest first.
    const list = this.page.locator('.runtime-extensions-editor .monaco-list').first();
    await list.waitFor();
    await list.focus();
    for (let tries = 0; tries < 100 && !(await row.first().isVisible()); tries += 1) {
      await this.page.keyboard.press('PageDown');
      await this.page.waitForTimeout(300);
    }
    const text = plain(await row.first().textContent());
    return { text, milliseconds: Number(/Activation: (\d+)\s*ms/.exec(text)?.[1]) };
  }

  async picture(name) {
    await this.page.screenshot({ path: join(this.pictures, `${name}.png`) });
  }

  async close() {
    await this.browser.close();
  }
}
