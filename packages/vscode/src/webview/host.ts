/** The page's way to the extension, and through it to the language server. */
import type { Askable, FromPage, Place, ToPage } from '../preview/messages.ts';

interface EditorApi {
  postMessage(message: FromPage): void;
  getState(): unknown;
  setState(state: unknown): void;
}

declare function acquireVsCodeApi(): EditorApi;

/** Why there is no answer, in words. */
export class NoAnswer extends Error {}

export class Host {
  private readonly api = acquireVsCodeApi();
  private readonly waiting = new Map<
    number,
    { what: Askable; take(result: unknown): void; fail(error: Error): void }
  >();
  private asked = 0;

  /** Calls `hear` with all that is no answer. */
  listen(hear: (message: Exclude<ToPage, { type: 'answer' | 'failed' }>) => void): void {
    window.addEventListener('message', ({ data }: MessageEvent<ToPage>) => {
      if (data.type !== 'answer' && data.type !== 'failed') {
        hear(data);
        return;
      }
      const asker = this.waiting.get(data.id);
      this.waiting.delete(data.id);
      if (data.type === 'answer') asker?.take(data.result);
      else asker?.fail(new NoAnswer(data.reason));
    });
    this.api.postMessage({ type: 'ready' });
  }

  /** The server's answer; never settled where a newer question of the same kind has taken its place. */
  ask<T>(what: Askable, params: Record<string, unknown>): Promise<T> {
    for (const [id, asker] of this.waiting) if (asker.what === what) this.waiting.delete(id);
    this.asked += 1;
    const id = this.asked;
    this.api.postMessage({ type: 'ask', id, what, params });
    return new Promise<T>((resolve, reject) => {
      this.waiting.set(id, { what, take: (result) => resolve(result as T), fail: reject });
    });
  }

  reveal({ end, start, uri }: Place): void {
    this.api.postMessage({ type: 'reveal', place: { uri, start, end } });
  }

  get kept(): unknown {
    return this.api.getState();
  }

  keep(state: unknown): void {
    this.api.setState(state);
  }
}
