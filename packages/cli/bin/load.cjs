/*
 * Loads the bundle. It is a file of its own because `import()` is a syntax error to the Nodes that couplet.cjs turns
 * away.
 */
'use strict';

const { existsSync } = require('node:fs');
const { join } = require('node:path');
const { pathToFileURL } = require('node:url');

const bundle = join(__dirname, '..', 'dist', 'couplet.mjs');

if (existsSync(bundle)) {
  import(pathToFileURL(bundle).href);
} else {
  process.stderr.write('couplet is not built yet: run `npm run build`.\n');
  process.exitCode = 2;
}
