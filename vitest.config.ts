import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['test/**/*.test.ts'],
    exclude: ['**/node_modules/**', 'test/editor/**', 'test/bench/**'],
    setupFiles: ['test/support/seed.ts'],
    pool: 'threads',
    testTimeout: 60_000,
    reporters: ['default', './test/support/closing-line.ts'],
  },
});
