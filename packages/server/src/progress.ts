/** Tells the editor how far the loading and the first check of a workspace have come, where there is something to wait for. */
import type { Connection, WorkDoneProgressServerReporter } from 'vscode-languageserver';

/** Files below which nobody has time to read a word about them. */
const WORTH_TELLING = 10;

export class LoadingProgress {
  private readonly connection: Connection;
  private reporter: Promise<WorkDoneProgressServerReporter | undefined> | undefined;
  private ended = false;

  constructor(connection: Connection) {
    this.connection = connection;
  }

  /** So many of the workspace's files are loaded and checked. */
  report(loaded: number, total: number): void {
    if (this.ended || total < WORTH_TELLING) return;
    const percentage = Math.floor((100 * loaded) / total);
    const message = `${loaded} of ${total} files`;
    if (this.reporter === undefined) this.reporter = this.begin(percentage, message);
    else this.reporter.then((reporter) => reporter?.report(percentage, message));
  }

  end(): void {
    this.ended = true;
    this.reporter?.then((reporter) => reporter?.done());
    this.reporter = undefined;
  }

  /** A client that shows no progress may refuse. */
  private async begin(percentage: number, message: string): Promise<WorkDoneProgressServerReporter | undefined> {
    try {
      const reporter = await this.connection.window.createWorkDoneProgress();
      reporter.begin('Couplet: checking sites', percentage, message);
      return reporter;
    } catch {
      return undefined;
    }
  }
}
