/** What the client does when its server is gone: start it again, unless it keeps on ending. */
import { CloseAction, ErrorAction, type ErrorHandler } from 'vscode-languageclient';

/** How often a server may end within `WINDOW_MS` and is still started again. */
export const RESTARTS = 5;
/** Milliseconds within which the ends of a server are counted together. */
export const WINDOW_MS = 180_000;

/**
 * A broken connection is only logged: what ends a server also closes its connection, and a client that stops at the first
 * failed write never comes to the restart. A server that ended is started again, up to `RESTARTS` times in `WINDOW_MS`.
 *
 * @param now gives the time in milliseconds.
 */
export function restartingHandler(now: () => number = Date.now): ErrorHandler {
  let ends: number[] = [];
  return {
    error: (error) => ({
      action: ErrorAction.Continue,
      handled: true,
      message: `The way to the language server broke: ${error.message}`,
    }),
    closed() {
      ends = [...ends.filter((at) => now() - at <= WINDOW_MS), now()];
      if (ends.length <= RESTARTS) {
        return {
          action: CloseAction.Restart,
          handled: true,
          message: 'The language server ended and is started again.',
        };
      }
      const message = `The language server ended ${ends.length} times within ${WINDOW_MS / 60_000} minutes and is not started again. The command 'Couplet: Restart Language Server' starts it.`;
      return { action: CloseAction.DoNotRestart, message };
    },
  };
}
