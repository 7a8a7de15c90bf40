/**
 * A request that comes right behind a change must be answered from the changed text. Langium works a change in a little
 * later, under its lock; until then the document still looks finished. This builder knows of the change at once and
 * lets requests for that document wait.
 */
import { CoupletDocumentBuilder } from '@couplet/language';
import { type DocumentState, Emitter, OperationCancelled, type URI } from 'langium';
import type { CancellationToken } from 'vscode-languageserver';

export class FreshDocumentBuilder extends CoupletDocumentBuilder {
  /** Documents whose newest text no update has taken up yet. */
  private readonly outdated = new Set<string>();
  private readonly takenUp = new Emitter<void>();

  /** Says that a document has a newer text, and that an update with it will follow. */
  markOutdated(uri: string): void {
    this.outdated.add(uri);
  }

  /** Says that the newer text of a document is gone: nobody waits for it any more. */
  forget(uri: string): void {
    if (this.outdated.delete(uri)) this.takenUp.fire();
  }

  /** Whether a document, without one any, has a newer text than the one that was last taken up. */
  isOutdated(uri?: string): boolean {
    return uri === undefined ? this.outdated.size > 0 : this.outdated.has(uri);
  }

  override waitUntil(state: DocumentState, cancelToken?: CancellationToken): Promise<void>;
  override waitUntil(state: DocumentState, uri?: URI, cancelToken?: CancellationToken): Promise<URI>;
  override async waitUntil(
    state: DocumentState,
    uriOrToken?: URI | CancellationToken,
    cancelToken?: CancellationToken,
  ): Promise<unknown> {
    const uri = uriOrToken !== undefined && 'path' in uriOrToken ? uriOrToken : undefined;
    const token = uri === undefined ? (uriOrToken as CancellationToken | undefined) : cancelToken;
    while (uri === undefined ? this.outdated.size > 0 : this.outdated.has(uri.toString())) {
      await this.nextUpdate(token);
    }
    if (uri !== undefined) return super.waitUntil(state, uri, token);
    await super.waitUntil(state, token);
    return undefined;
  }

  protected override async emitUpdate(changed: URI[], deleted: URI[]): Promise<void> {
    await super.emitUpdate(changed, deleted);
    for (const uri of [...changed, ...deleted]) this.outdated.delete(uri.toString());
    this.takenUp.fire();
  }

  private nextUpdate(token: CancellationToken | undefined): Promise<void> {
    if (token?.isCancellationRequested) return Promise.reject(OperationCancelled);
    return new Promise((resolve, reject) => {
      const settle = (end: () => void) => () => {
        update.dispose();
        cancellation?.dispose();
        end();
      };
      const update = this.takenUp.event(settle(resolve));
      const cancellation = token?.onCancellationRequested(settle(() => reject(OperationCancelled)));
    });
  }
}
