#!/usr/bin/env node
/*
 * Starts the bundled command. Written in the oldest syntax there is, so that a Node too old for the bundle still
 * reaches the line that says so.
 */
'use strict';

// biome-ignore-start lint: `var` and joined strings are the point here.
var least = 22;

if (parseInt(process.versions.node, 10) < least) {
  process.stderr.write('couplet needs Node ' + least + ' or newer; this is Node ' + process.versions.node + '.\n');
  process.exitCode = 2;
} else {
  require('./load.cjs');
}
// biome-ignore-end lint: end of the old syntax.
