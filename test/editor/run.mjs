/**
 * The packed extension in a real editor: installs it into a host, opens a site in a browser, looks and takes pictures.
 *   npm run test:editor
 *   node test/editor/run.mjs FILE.vsix     that package, without building one
 *   node test/editor/run.mjs FILE.vsix WORD…     only checks whose names hold one of the words
 * Pictures are left in test/editor/output. The first run installs the host (host.sh).
 */
import { cpSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { CHECKS } from './checks.mjs';
import { installHost, makePackage, startHost } from './host.mjs';
import { OTHER_EDITOR_CHECKS } from './other-editor.mjs';
import { PREVIEW_CHECKS } from './preview.mjs';
import { runPageChecks } from './preview-page-checks.mjs';
import { openWindow } from './window.mjs';

const here = dirname(fileURLToPath(import.meta.url));
const root = join(here, '../..');
const pictures = join(here, 'output');
rmSync(pictures, { recursive: true, force: true });
mkdirSync(pictures, { recursive: true });

const vsix = process.argv[2] ?? makePackage(root);
const host = installHost(root);
const scratch = mkdtempSync(join(tmpdir(), 'couplet-editor-'));
const folder = join(scratch, 'site');
cpSync(join(here, 'site'), folder, { recursive: true });
for (const part of ['types', 'tidewater-mill', 'pumping-station']) {
  cpSync(join(root, 'examples', part), join(folder, 'examples', part), { recursive: true });
}

const words = process.argv.slice(3);
const isWanted = ({ name }) => words.length === 0 || words.some((word) => name.includes(word));

let passed = 0;
let failed = 0;
const report = (name, error) => {
  if (error === undefined) passed += 1;
  else failed += 1;
  console.log(
    error === undefined ? `ok      ${name}` : `FAILED  ${name}\n${error instanceof Error ? error.stack : error}`,
  );
};

await runPageChecks({ root, folder, pictures, isWanted, report });

const served = await startHost({ host, vsix, folder, state: join(scratch, 'state') });
try {
  for (const { name, file, check } of [...CHECKS, ...PREVIEW_CHECKS].filter(isWanted)) {
    const window = await openWindow({ address: served.address, folder, file, pictures });
    try {
      await check(window, served);
      report(name);
    } catch (error) {
      report(name, error);
      await window.picture(`failed-${name.replaceAll(/\W+/g, '-')}`);
    } finally {
      await window.close();
    }
  }
} finally {
  served.stop();
  rmSync(scratch, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
}

for (const { name, check } of OTHER_EDITOR_CHECKS.filter(isWanted)) {
  try {
    check(root);
    report(name);
  } catch (error) {
    report(name, error);
  }
}

console.log(`${passed} passed, ${failed} failed`);
process.exitCode = failed === 0 ? 0 : 1;
