/** A first site to change: small, complete, and without findings. */
import { commands, type Disposable, window, workspace } from 'vscode';
import { NEW_SITE } from './new-site-text.ts';

/** Opens it as a file that is not saved yet. */
export function addNewSite(): Disposable {
  return commands.registerCommand('couplet.newSite', async () => {
    const document = await workspace.openTextDocument({ language: 'couplet', content: NEW_SITE });
    await window.showTextDocument(document);
  });
}
