/** What the client does when its server is gone: start it again, unless it keeps on ending. */
import { CloseAction, ErrorAction, type ErrorHandler } from 'vscode-languageclient';

/** How often a server may end within `WINDOW_MS` and is still started again. */
export const RESTARTS = 5;
/** Milliseconds within which the ends of a server are counted together. */
export const WINDOW_MS = 180_000;

const CURE = `The command 'Couplet: Restart Language Server' starts it.`;

/**
 * A server that ended is started again, up to `RESTARTS` times in `WINDOW_MS`. Where its end closes its connection, a
 * connection that breaks is only logged: a client that stops at the first failed write never comes to the restart. Where
 * nothing closes, what goes wrong there is all that is ever heard of a server that is gone, and its user is told.
 *
 * @param closes whether a server that ends closes its connection: a process does, a worker does not.
 * @param now gives the time in milliseconds.
 */
export function restartingHandler(closes: boolean, now: () => number = Date.now): ErrorHandler {
  let ends: number[] = [];
  return {
    error(error) {
      const what = `The way to the language server broke: ${error.message}`;
      if (closes) return { action: ErrorAction.Continue, handled: true, message: what };
      return { action: ErrorAction.Shutdown, message: `${what}. ${CURE}` };
    },
    closed() {
      ends = [...ends.filter((at) => now() - at <= WINDOW_MS), now()];
      if (ends.length <= RESTARTS) {
        return {
          action: CloseAction.Restart,
          handled: true,
          message: 'The language server ended and is started again.',
        };
      }
      const message = `The language server ended ${ends.length} times within ${WINDOW_MS / 60_000} minutes and is not started again. ${CURE}`;
      return { action: CloseAction.DoNotRestart, message };
    },
  };
}
