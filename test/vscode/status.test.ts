/** The status of the language: what it says of the server in each of its states, and where a click leads. */
import { expect, test, vi } from 'vitest';
import { addStatus } from '../../packages/vscode/src/status.ts';

const played = vi.hoisted(() => ({
  item: {} as Record<string, unknown>,
  State: { Stopped: 1, Starting: 3, Running: 2, StartFailed: 4 },
}));

/** As much of an editor as the status needs. */
vi.mock('vscode', () => ({
  LanguageStatusSeverity: { Information: 'information', Error: 'error' },
  languages: { createLanguageStatusItem: () => played.item },
  Disposable: { from: () => ({}) },
  EventEmitter: class {
    private readonly heard: (() => void)[] = [];
    readonly event = (listener: () => void) => {
      this.heard.push(listener);
      return { dispose: () => undefined };
    };
    fire() {
      for (const each of this.heard) each();
    }
  },
}));
vi.mock('vscode-languageclient', () => ({ State: played.State }));

/** A client whose state and word the test decides. */
class Client {
  private changed: ((event: { newState: number }) => void) | undefined;
  private said: (() => void) | undefined;
  onDidChangeState(listener: (event: { newState: number }) => void) {
    this.changed = listener;
  }
  onNotification(_name: string, listener: () => void) {
    this.said = listener;
  }
  becomes(newState: number) {
    this.changed?.({ newState });
  }
  hasChecked() {
    this.said?.();
  }
}

const { State } = played;

test.each([
  ['starting', State.Starting, 'information', true, 'couplet.showOutput'],
  ['checking', State.Running, 'information', true, 'couplet.showOutput'],
  ['stopped', State.Stopped, 'error', false, 'couplet.restartServer'],
  ['did not start', State.StartFailed, 'error', false, 'couplet.restartServer'],
])('%s', (words, state, severity, busy, command) => {
  const client = new Client();
  addStatus(client as never);
  client.becomes(state);
  expect(played.item).toMatchObject({ detail: words, severity, busy, command: { command } });
});

test('checked, once the server says so, and not busy any more', () => {
  const client = new Client();
  addStatus(client as never);
  client.becomes(State.Running);
  client.hasChecked();
  expect(played.item).toMatchObject({ detail: 'checked', severity: 'information', busy: false });
});
