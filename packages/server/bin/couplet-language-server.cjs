#!/usr/bin/env node
/*
 * The language server for any editor that speaks the protocol: over standard input and output with `--stdio`. Without
 * `--stdio`, `--node-ipc` or `--socket=PORT` it says so and ends.
 */
'use strict';

const { existsSync } = require('node:fs');
const { join } = require('node:path');

const bundle = join(__dirname, '..', 'dist', 'server.cjs');
const hasChannel = process.argv.some((word) => /^--(stdio|node-ipc|socket)/.test(word));

if (!hasChannel) {
  process.stderr.write('couplet-language-server --stdio: speaks the language-server protocol with an editor.\n');
  process.exitCode = 2;
} else if (!existsSync(bundle)) {
  process.stderr.write('couplet-language-server is not built yet: run `npm run build`.\n');
  process.exitCode = 2;
} else {
  require(bundle);
}
