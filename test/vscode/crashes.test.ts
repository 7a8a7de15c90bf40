/** What the client does when the way to its server breaks or the server ends. */
import { expect, test, vi } from 'vitest';
import { RESTARTS, restartingHandler, WINDOW_MS } from '../../packages/vscode/src/crashes.ts';

const { CloseAction, ErrorAction } = vi.hoisted(() => ({
  CloseAction: { DoNotRestart: 1, Restart: 2 },
  ErrorAction: { Continue: 1, Shutdown: 2 },
}));
vi.mock('vscode-languageclient', () => ({ CloseAction, ErrorAction }));

test('a write that failed does not keep the client from the restart', async () => {
  const handler = restartingHandler(true);
  for (const count of [undefined, 0, 1, 4, 100]) {
    const answer = await handler.error(new Error('write EPIPE'), undefined, count);
    expect(answer).toMatchObject({ action: ErrorAction.Continue, handled: true });
    expect(answer.message).toContain('write EPIPE');
  }
});

test('a worker closes nothing when it ends: what goes wrong there stops the client, and its user is told', async () => {
  const answer = await restartingHandler(false).error(new Error('the script cannot be loaded'), undefined, undefined);
  expect(answer.action).toBe(ErrorAction.Shutdown);
  expect(answer.handled).toBeUndefined();
  expect(answer.message).toMatch(/cannot be loaded\. The command 'Couplet: Restart Language Server' starts it\./);
});

test('a server that keeps on ending is left, with a word about the command that starts it', async () => {
  let time = 0;
  const handler = restartingHandler(true, () => time);
  for (let ends = 1; ends <= RESTARTS; ends += 1) {
    expect((await handler.closed()).action, `${ends}`).toBe(CloseAction.Restart);
    time += 1000;
  }
  const answer = await handler.closed();
  expect(answer.action).toBe(CloseAction.DoNotRestart);
  // Not `handled`: this one the user is told.
  expect(answer.handled).toBeUndefined();
  expect(answer.message).toMatch(/ended 6 times within 3 minutes.*'Couplet: Restart Language Server'/);
});

test('ends that lie far apart are not counted together', async () => {
  let time = 0;
  const handler = restartingHandler(true, () => time);
  for (let ends = 1; ends <= 4 * RESTARTS; ends += 1) {
    expect((await handler.closed()).action, `${ends}`).toBe(CloseAction.Restart);
    time += WINDOW_MS / RESTARTS + 1;
  }
});
