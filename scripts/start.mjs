/**
 * `npm start`: the main job on the sound sites of examples/, or on the paths that are given.
 * The sites of examples/mistakes fail on purpose and are shown by naming them.
 */
import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';

const given = process.argv.slice(2);
const words = given.length > 0 ? given : ['--skip', 'examples/mistakes', 'examples'];
const command = fileURLToPath(new URL('../packages/cli/bin/couplet.cjs', import.meta.url));
const { status } = spawnSync('node', [command, 'check', '--figures', ...words], { stdio: 'inherit' });
process.exitCode = status ?? 3;
