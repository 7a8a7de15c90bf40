/** Ends a run with one plain line, 'N passed, N failed', for build servers that read it. */
import type { Reporter, TestModule } from 'vitest/node';

export default class ClosingLine implements Reporter {
  onTestRunEnd(modules: readonly TestModule[], unhandled: readonly unknown[]): void {
    let passed = 0;
    let failed = unhandled.length;
    for (const module of modules) {
      let inModule = 0;
      for (const one of module.children.allTests()) {
        inModule++;
        if (one.result().state === 'passed') passed++;
        else failed++;
      }
      if (inModule === 0 || module.errors().length > 0) failed++;
    }
    process.on('exit', () => console.log(`${passed} passed, ${failed} failed`));
  }
}
