/**
 * The packed extension in a real editor: installs it into a host, opens a site in a browser, looks and takes pictures.
 * Everything is looked at twice: with the extension on the machine that serves the editor and its server as a process, and
 * with the extension in the browser itself and its server in a worker. Another editor comes last.
 *   npm run test:editor
 *   npm run test:editor -- --figures         also writes docs/editor-figures.md
 *   node test/editor/run.mjs FILE.vsix       that package, without building one
 *   node test/editor/run.mjs FILE.vsix WORD…     only checks whose names hold one of the words
 * Pictures are left in test/editor/output. The first run installs the host (host.sh).
 */
import { cpSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { BROWSER_CHECKS } from './browser-checks.mjs';
import { CHECKS, MACHINE_CHECKS } from './checks.mjs';
import { activation, writeFigures } from './figures.mjs';
import { IN_BROWSER, installHost, makePackage, startHostTwice } from './host.mjs';
import { OTHER_EDITOR_CHECKS } from './other-editor.mjs';
import { PREVIEW_CHECKS, PREVIEW_MACHINE_CHECKS } from './preview.mjs';
import { runPageChecks } from './preview-page-checks.mjs';
import { openWindow } from './window.mjs';

const here = dirname(fileURLToPath(import.meta.url));
const root = join(here, '../..');
const pictures = join(here, 'output');
rmSync(pictures, { recursive: true, force: true });
mkdirSync(pictures, { recursive: true });

const { positionals, values } = parseArgs({ allowPositionals: true, options: { figures: { type: 'boolean' } } });
const [given, ...words] = positionals;
const vsix = given ?? makePackage(root);
const host = installHost(root);
const isWanted = ({ name }) => words.length === 0 || words.some((word) => name.includes(word));

let passed = 0;
let failed = 0;

/** Counts a check and tells how it went. */
function count(name, error) {
  if (error === undefined) passed += 1;
  else failed += 1;
  console.log(error === undefined ? `ok      ${name}` : `FAILED  ${name}\n${error?.stack ?? error}`);
}

/** Runs one check and counts it; where it fails, `onFailure` may take a picture. */
async function run(name, check, onFailure = async () => undefined) {
  try {
    await check();
    count(name);
  } catch (error) {
    count(name, error);
    await onFailure().catch((late) => console.log(`no picture: ${late.message}`));
  }
}

/** Does something with a folder that is gone afterwards. */
async function inFolder(work) {
  const folder = mkdtempSync(join(tmpdir(), 'couplet-editor-'));
  try {
    await work(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true, maxRetries: 10, retryDelay: 500 });
  }
}

/** A copy of the sites that the checks open; returns its folder. */
function copySites(folder) {
  cpSync(join(here, 'site'), folder, { recursive: true });
  for (const part of ['types', 'tidewater-mill', 'pumping-station']) {
    cpSync(join(root, 'examples', part), join(folder, 'examples', part), { recursive: true });
  }
  return folder;
}

/** A host of its own, and in it one window a check. */
async function inHost(scratch, where, settings, checks) {
  const shots = join(pictures, where);
  mkdirSync(shots, { recursive: true });
  const served = await startHostTwice({ host, vsix, folder: scratch, state: join(scratch, 'state'), settings });
  let opened = 0;
  const open = (file) => {
    // A folder of its own for every window: the editor brings unsaved text back to a folder that it knows.
    opened += 1;
    const folder = copySites(join(scratch, `site-${opened}`));
    return openWindow({ address: served.address, folder, file, pictures: shots });
  };
  try {
    for (const { name, file, check } of checks.filter(isWanted)) {
      let window;
      const work = async () => {
        window = await open(file);
        await check(window, served);
      };
      await run(`${where}: ${name}`, work, async () => window?.picture(`failed-${name.replaceAll(/\W+/g, '-')}`));
      await window?.close();
    }
    if (isWanted(ACTIVATION)) await run(`${where}: ${ACTIVATION.name}`, () => activation(where, open));
  } finally {
    served.stop();
  }
}

const ACTIVATION = { name: 'the host measures the activation' };
const HOSTS = [
  ['machine', {}, [...CHECKS, ...PREVIEW_CHECKS, ...PREVIEW_MACHINE_CHECKS, ...MACHINE_CHECKS]],
  ['browser', IN_BROWSER, [...CHECKS, ...PREVIEW_CHECKS, ...BROWSER_CHECKS]],
];
for (const [where, settings, checks] of HOSTS.filter(([, , checks]) => [ACTIVATION, ...checks].some(isWanted))) {
  // A host that does not come up at all is one failure; the other parts still run.
  await inFolder((scratch) => inHost(scratch, where, settings, checks)).catch((error) =>
    count(`${where}: host`, error),
  );
}
await inFolder((folder) =>
  runPageChecks({ root, folder: copySites(join(folder, 'site')), pictures, isWanted, report: count }),
).catch((error) => count('the page of the preview', error));
for (const { name, check } of OTHER_EDITOR_CHECKS.filter(isWanted)) await run(name, async () => check(root));

if (values.figures) writeFigures(root, vsix);
console.log(`pictures: ${relative(root, pictures)}`);
console.log(`${passed} passed, ${failed} failed`);
process.exitCode = failed === 0 && passed > 0 ? 0 : 1;
