/**
 * The preview's page in a browser, without an editor around it: the page as the extension makes it, under its policy, the
 * built script, a real language server behind it. The editor is played: its messages go in, those of the page come out.
 */
import { spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { createProtocolConnection, StreamMessageReader, StreamMessageWriter } from 'vscode-languageserver/node';
import { previewPage } from '../../packages/vscode/src/preview/page.ts';
import { launchBrowser } from './window.mjs';

const ORIGIN = 'http://preview.test';

/** Runs in the page before its own script: what the editor gives a page to speak through. */
function playEditor({ colours, kept }) {
  let state = kept;
  window.acquireVsCodeApi = () => ({
    postMessage: (message) => void window.toEditor(message),
    getState: () => state,
    setState: (next) => {
      state = next;
    },
  });
  window.keptState = () => state;
  document.addEventListener('DOMContentLoaded', () => {
    for (const [name, value] of Object.entries(colours)) document.documentElement.style.setProperty(name, value);
  });
}

/** Colours such as an editor hands to a page. */
const COLOURS = {
  '--vscode-editor-background': '#1f1f1f',
  '--vscode-editor-foreground': '#cccccc',
  '--vscode-foreground': '#cccccc',
  '--vscode-descriptionForeground': '#9d9d9d',
  '--vscode-textLink-foreground': '#4daafc',
  '--vscode-editorError-foreground': '#f14c4c',
  '--vscode-editorWarning-foreground': '#cca700',
  '--vscode-charts-green': '#89d185',
  '--vscode-sideBar-background': '#181818',
  '--vscode-focusBorder': '#0078d4',
  '--vscode-dropdown-background': '#313131',
  '--vscode-dropdown-foreground': '#cccccc',
  '--vscode-font-family': 'sans-serif',
  '--vscode-font-size': '13px',
};

/** Starts the built server on a folder and says it is there. */
async function startServer(root, folder) {
  const child = spawn(process.execPath, [join(root, 'packages/vscode/dist/server.cjs'), '--stdio'], {
    stdio: ['pipe', 'pipe', 'inherit'],
  });
  const connection = createProtocolConnection(
    new StreamMessageReader(child.stdout),
    new StreamMessageWriter(child.stdin),
  );
  connection.onRequest('client/registerCapability', () => null);
  connection.onNotification('window/logMessage', ({ message, type }) => type === 1 && console.error(message));
  connection.listen();
  await connection.sendRequest('initialize', {
    processId: process.pid,
    rootUri: null,
    capabilities: {},
    workspaceFolders: [{ uri: pathToFileURL(folder).href, name: 'site' }],
  });
  await connection.sendNotification('initialized', {});
  return {
    connection,
    stop() {
      connection.dispose();
      child.kill();
    },
  };
}

/** Opens the page for a file below `folder`; `kept` is what an earlier page remembered. */
export async function openPreviewPage({ root, folder, file, kept, pictures, size = { width: 900, height: 640 } }) {
  const server = await startServer(root, folder);
  const browser = await launchBrowser();
  const page = await browser.newPage({ viewport: size });
  const preview = new PreviewPage(server, browser, page, pathToFileURL(join(folder, file)).href, pictures);
  await preview.open(root, kept);
  return preview;
}

class PreviewPage {
  /** Places that the page wanted to be shown in the text. */
  revealed = [];
  /** What the browser had to complain of, refusals by the policy among it. */
  complaints = [];

  constructor(server, browser, page, uri, pictures) {
    this.server = server;
    this.browser = browser;
    this.page = page;
    this.uri = uri;
    this.pictures = pictures;
    this.version = 0;
  }

  async open(root, kept) {
    const { page } = this;
    const files = {
      '/': {
        contentType: 'text/html',
        body: previewPage({ source: ORIGIN, script: '/preview.js', style: '/preview.css', nonce: 'page' }),
      },
      '/preview.js': {
        contentType: 'text/javascript',
        body: readFileSync(join(root, 'packages/vscode/dist/preview/preview.js')),
      },
      '/preview.css': {
        contentType: 'text/css',
        body: readFileSync(join(root, 'packages/vscode/dist/preview/preview.css')),
      },
    };
    await page.route(`${ORIGIN}/**`, (route) => {
      const file = files[new URL(route.request().url()).pathname];
      return route.fulfill(file ?? { status: 404, body: '' });
    });
    page.on('console', (message) => message.type() === 'error' && this.complaints.push(message.text()));
    page.on('pageerror', (error) => this.complaints.push(String(error)));
    await page.exposeFunction('toEditor', (message) => this.hear(message));
    await page.addInitScript(playEditor, { colours: COLOURS, kept });
    this.server.connection.onNotification('$/couplet/checked', () => this.tell({ type: 'checked' }));
    await page.goto(`${ORIGIN}/`);
  }

  async hear(message) {
    if (message.type === 'ready') {
      await this.openFile();
      await this.tell({ type: 'file', uri: this.uri });
    }
    if (message.type === 'reveal') this.revealed.push(message.place);
    if (message.type !== 'ask') return;
    const { id, params, what } = message;
    const answer = await this.server.connection.sendRequest(`couplet/${what}`, params).then(
      (result) => ({ type: 'answer', id, result }),
      (error) => ({ type: 'failed', id, reason: error.message }),
    );
    await this.tell(answer);
  }

  async tell(message) {
    await this.page.evaluate((data) => window.postMessage(data, '*'), message).catch(() => undefined);
  }

  async openFile() {
    if (this.version > 0) return;
    this.version = 1;
    this.text = readFileSync(new URL(this.uri), 'utf8');
    const textDocument = { uri: this.uri, languageId: 'couplet', version: 1, text: this.text };
    await this.server.connection.sendNotification('textDocument/didOpen', { textDocument });
  }

  /** Another file of the folder comes to the front of the played editor. */
  async openOther(name) {
    this.uri = new URL(name, this.uri).href;
    this.version = 0;
    await this.openFile();
    await this.tell({ type: 'file', uri: this.uri });
  }

  /** Puts one text in the place of another, as typing would. */
  async edit(from, to) {
    if (!this.text.includes(from)) throw new Error(`no ${from} in the text`);
    this.version += 1;
    this.text = this.text.replace(from, () => to);
    const params = { textDocument: { uri: this.uri, version: this.version }, contentChanges: [{ text: this.text }] };
    await this.server.connection.sendNotification('textDocument/didChange', params);
  }

  async cursor(line, character) {
    await this.tell({ type: 'cursor', uri: this.uri, position: { line, character } });
  }

  /** Where the first `words` of the file stand, counted from nought. */
  placeOf(words) {
    const at = this.text.indexOf(words);
    if (at < 0) throw new Error(`no ${words} in the text`);
    const lines = this.text.slice(0, at).split('\n');
    return { line: lines.length - 1, character: lines.at(-1).length };
  }

  async wasRevealed(line) {
    for (let tries = 0; tries < 50; tries += 1) {
      if (this.revealed.at(-1)?.start.line === line) return;
      await this.page.waitForTimeout(100);
    }
    throw new Error(`line ${line} was not revealed: ${JSON.stringify(this.revealed)}`);
  }

  part(id) {
    return this.page.locator(`[data-ref="node ${id}"]`);
  }

  /** Something drawn, by what the picture calls it. */
  ref(ref) {
    return this.page.locator(`[data-ref="${ref}"]`);
  }

  async section(name) {
    await this.page.getByRole('tab', { name }).click();
  }

  chosen(ref) {
    return this.page.locator(`[data-ref="${ref}"].chosen`);
  }

  textOf(id) {
    return this.part(id).textContent();
  }

  /** Waits until what is written at a part matches. */
  async until(id, pattern) {
    await this.part(id).filter({ hasText: pattern }).waitFor({ timeout: 15_000 });
  }

  body(selector) {
    return this.page.locator(`.body${selector}`);
  }

  note() {
    return this.page.locator('.notice').textContent();
  }

  sentence() {
    return this.page.locator('.sentence', { hasNotText: /^(Waiting|Computing)/ }).textContent();
  }

  async pick(label, title) {
    const picker = this.page.getByRole('combobox', { name: label });
    const options = await picker.locator('option').allTextContents();
    await picker.selectOption({ label: options.find((each) => title.test(each)) });
  }

  picked(label) {
    return this.page.getByRole('combobox', { name: label }).locator('option:checked').textContent();
  }

  untick(label) {
    return this.page.getByRole('checkbox', { name: label }).uncheck();
  }

  /** What has the focus: what is drawn by its reference, everything else by what it is called. */
  focused() {
    return this.page.evaluate(() => {
      const at = document.activeElement;
      return (
        at.getAttribute('data-ref') ??
        at.getAttribute('aria-label') ??
        at.labels?.[0]?.querySelector('span')?.textContent ??
        at.textContent
      );
    });
  }

  /** The part of the drawing that is in the window. */
  window() {
    return this.page.evaluate(() => {
      const { height, width, x, y } = document.querySelector('.canvas svg').viewBox.baseVal;
      return { x, y, width, height };
    });
  }

  async moved(from) {
    await this.page.waitForFunction((before) => {
      const { width, x, y } = document.querySelector('.canvas svg').viewBox.baseVal;
      return x !== before.x || y !== before.y || width !== before.width;
    }, from);
  }

  kept() {
    return this.page.evaluate(() => window.keptState());
  }

  async picture(name) {
    if (this.pictures !== undefined) await this.page.screenshot({ path: join(this.pictures, `${name}.png`) });
  }

  async close() {
    await this.browser.close();
    this.server.stop();
  }
}
