/**
 * The preview beside the text: one panel, which shows the site of the file that was edited last. It holds no knowledge
 * of drawings: the page asks the server through it, and it hands on what the editor knows (file, cursor, new figures).
 */
import {
  CancellationTokenSource,
  commands,
  Disposable,
  type ExtensionContext,
  Range,
  Selection,
  type TextDocument,
  type TextEditor,
  TextEditorRevealType,
  Uri,
  ViewColumn,
  type Webview,
  type WebviewPanel,
  window,
  workspace,
} from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { onChecked } from '../checked.ts';
import { type Askable, type FromPage, fromPage, type Place, type ToPage } from './messages.ts';
import { freshNonce, previewPage } from './page.ts';

const VIEW = 'couplet.preview';
const LANGUAGE = 'couplet';

/** Milliseconds that the cursor has to rest before the drawing follows it. */
const CURSOR_RESTS = 120;

/** Adds the command, the panel that it opens, and the way back of a panel after the window was loaded again. */
export function addPreview({ extensionUri }: ExtensionContext, client: BaseLanguageClient): Disposable {
  let shown: Preview | undefined;
  const take = (panel: WebviewPanel, uri: string | undefined) => {
    shown?.dispose();
    const preview = new Preview(panel, client, extensionUri, uri);
    shown = preview;
    panel.onDidDispose(() => {
      preview.dispose();
      if (shown === preview) shown = undefined;
    });
  };
  return Disposable.from(
    commands.registerCommand('couplet.showDrawing', (asked?: unknown) => {
      const uri = asked instanceof Uri ? asked.toString() : window.activeTextEditor?.document.uri.toString();
      if (shown !== undefined) {
        shown.follow(uri);
        shown.bringToFront();
        return;
      }
      const where = { viewColumn: ViewColumn.Beside, preserveFocus: true };
      take(window.createWebviewPanel(VIEW, 'Couplet drawing', where), uri);
    }),
    window.registerWebviewPanelSerializer(VIEW, {
      async deserializeWebviewPanel(panel, state: unknown) {
        take(panel, uriOf(state));
      },
    }),
    new Disposable(() => shown?.dispose()),
  );
}

/** The page keeps the file it shows among what it remembers. */
function uriOf(state: unknown): string | undefined {
  const uri = typeof state === 'object' && state !== null && 'uri' in state ? state.uri : undefined;
  return typeof uri === 'string' ? uri : undefined;
}

class Preview {
  private readonly panel: WebviewPanel;
  private readonly client: BaseLanguageClient;
  private readonly subscriptions: Disposable[];
  private uri: string | undefined;
  private resting: ReturnType<typeof setTimeout> | undefined;
  /** The last question of each kind: a newer one makes it idle. */
  private readonly asking = new Map<Askable, CancellationTokenSource>();

  constructor(panel: WebviewPanel, client: BaseLanguageClient, extensionUri: Uri, uri: string | undefined) {
    this.panel = panel;
    this.client = client;
    this.uri = fileOf(window.activeTextEditor) ?? uri;
    const files = Uri.joinPath(extensionUri, 'dist', 'preview');
    const icon = (name: string) => Uri.joinPath(extensionUri, 'dist', 'media', name);
    panel.iconPath = { light: icon('couplet-light.svg'), dark: icon('couplet-dark.svg') };
    panel.webview.options = { enableScripts: true, localResourceRoots: [files] };
    this.subscriptions = [
      panel.webview.onDidReceiveMessage((message: unknown) => this.hear(fromPage(message))),
      window.onDidChangeActiveTextEditor((editor) => this.follow(fileOf(editor))),
      window.onDidChangeTextEditorSelection(({ textEditor }) => this.noteCursor(textEditor)),
      onChecked(client, () => this.post({ type: 'checked' })),
    ];
    panel.webview.html = pageFor(panel.webview, files);
  }

  bringToFront(): void {
    this.panel.reveal(undefined, true);
  }

  /** Shows the site of another file; without one everything stays. */
  follow(uri: string | undefined): void {
    if (uri === undefined || uri === this.uri) return;
    this.uri = uri;
    this.postFile();
  }

  dispose(): void {
    clearTimeout(this.resting);
    for (const source of this.asking.values()) source.cancel();
    this.asking.clear();
    Disposable.from(...this.subscriptions.splice(0)).dispose();
    this.panel.dispose();
  }

  private hear(message: FromPage | undefined): void {
    switch (message?.type) {
      case 'ready':
        this.postFile();
        return;
      case 'ask':
        void this.ask(message);
        return;
      case 'reveal':
        void this.reveal(message.place);
        return;
    }
  }

  private postFile(): void {
    const position = editorOf(this.uri)?.selection.active;
    const cursor = position === undefined ? {} : { position: { line: position.line, character: position.character } };
    this.post(this.uri === undefined ? { type: 'file' } : { type: 'file', uri: this.uri, ...cursor });
  }

  private async ask({ id, params, what }: Extract<FromPage, { type: 'ask' }>): Promise<void> {
    this.asking.get(what)?.cancel();
    const source = new CancellationTokenSource();
    this.asking.set(what, source);
    try {
      // The server computes the sites of open files: after a reload the file may be in no editor.
      if (typeof params.uri === 'string') await workspace.openTextDocument(Uri.parse(params.uri));
      const result = await this.client.sendRequest<unknown>(`couplet/${what}`, params, source.token);
      if (!source.token.isCancellationRequested) this.post({ type: 'answer', id, result });
    } catch (error) {
      if (source.token.isCancellationRequested) return;
      this.post({ type: 'failed', id, reason: error instanceof Error ? error.message : String(error) });
    } finally {
      if (this.asking.get(what) === source) this.asking.delete(what);
      source.dispose();
    }
  }

  private noteCursor(editor: TextEditor): void {
    const uri = fileOf(editor);
    if (uri === undefined) return;
    clearTimeout(this.resting);
    this.resting = setTimeout(() => {
      const { character, line } = editor.selection.active;
      this.post({ type: 'cursor', uri, position: { line, character } });
    }, CURSOR_RESTS);
  }

  /** Shows a place in the column where its file, or another of the language, is open already. */
  private async reveal({ end, start, uri }: Place): Promise<void> {
    const beside = editorOf(uri) ?? window.visibleTextEditors.find((editor) => fileOf(editor) !== undefined);
    const document = await workspace.openTextDocument(Uri.parse(uri));
    const editor = await window.showTextDocument(document, beside?.viewColumn ?? ViewColumn.One);
    const range = document.validateRange(new Range(start.line, start.character, end.line, end.character));
    editor.selection = new Selection(range.start, range.end);
    editor.revealRange(range, TextEditorRevealType.InCenterIfOutsideViewport);
  }

  private post(message: ToPage): void {
    void this.panel.webview.postMessage(message);
  }
}

function pageFor(webview: Webview, files: Uri): string {
  const at = (name: string) => webview.asWebviewUri(Uri.joinPath(files, name)).toString();
  return previewPage({
    source: webview.cspSource,
    script: at('preview.js'),
    style: at('preview.css'),
    nonce: freshNonce(),
  });
}

/** The file in an editor, where it is one of the language. */
function fileOf(editor: TextEditor | undefined): string | undefined {
  return editor !== undefined && isSite(editor.document) ? editor.document.uri.toString() : undefined;
}

function isSite({ languageId }: TextDocument): boolean {
  return languageId === LANGUAGE;
}

function editorOf(uri: string | undefined): TextEditor | undefined {
  return window.visibleTextEditors.find(({ document }) => document.uri.toString() === uri);
}
