/** The page of the preview. */
import type { Host } from './host.ts';

export class App {
  private readonly root: HTMLElement;
  private readonly host: Host;

  constructor(root: HTMLElement, host: Host) {
    this.root = root;
    this.host = host;
  }

  start(): void {
    this.host.listen(() => this.root.replaceChildren());
  }
}
