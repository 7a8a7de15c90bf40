/** The server's word that it has computed the sites anew, for everybody who wants to hear it: a client keeps one handler only. */
import { type Disposable, EventEmitter } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';

const emitters = new WeakMap<BaseLanguageClient, EventEmitter<void>>();

/** Calls `listener` after every complete pass of the server. */
export function onChecked(client: BaseLanguageClient, listener: () => void): Disposable {
  let emitter = emitters.get(client);
  if (emitter === undefined) {
    emitter = new EventEmitter<void>();
    emitters.set(client, emitter);
    client.onNotification('$/couplet/checked', () => emitters.get(client)?.fire());
  }
  return emitter.event(listener);
}
