/** A verb of the command: its words for the help, and what it does. */
import type { Invocation, OptionSpec } from './options.ts';
import type { Terminal } from './terminal.ts';

/** Exit statuses. */
export const EXIT = {
  /** Nothing at or above the severity that fails. */
  fine: 0,
  /** Findings. */
  findings: 1,
  /** Nothing could be checked: no file, a bad option, an unreadable path. */
  nothing: 2,
  /** An internal error. */
  internal: 3,
} as const;

export type Exit = (typeof EXIT)[keyof typeof EXIT];

export interface Verb {
  readonly name: string;
  /** What stands after the verb: 'PATH…'. */
  readonly takes: string;
  /** One line. */
  readonly says: string;
  /** Further lines of its help. */
  readonly more?: readonly string[];
  readonly options: readonly OptionSpec[];
  run(invocation: Invocation, terminal: Terminal): Promise<Exit>;
}
