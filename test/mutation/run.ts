/**
 * `npm run mutation`: mutation testing of the engine, file by file, each with the fast unit tests of its folder. What is
 * already measured and unchanged is taken from the last run; it may be stopped at any time. Writes docs/quality.md.
 *
 *     npm run mutation                      every file
 *     npm run mutation -- network decay     these folders (or files, or parts of their paths)
 *     npm run mutation -- --report          the table alone, from what is measured
 *     npm run mutation -- --force …         measures anew what is unchanged too
 *     npm run mutation -- --one-in=4 …      a sample of the mutants
 *     npm run mutation -- --again --share=0.3 …   once more what survived, with more of the samples that tests draw
 */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { folderOf, SHARE_OF_SAMPLES, sources, testsOf } from './folders.ts';
import { hasCode, type Report, reportOf, writeTable } from './table.ts';

const root = join(import.meta.dirname, '..', '..');
const words = process.argv.slice(2);
const oneIn = Number(words.find((word) => word.startsWith('--one-in='))?.slice('--one-in='.length) ?? 1);
const again = words.includes('--again');
const share = Number(words.find((word) => word.startsWith('--share='))?.slice('--share='.length) ?? SHARE_OF_SAMPLES);
const wanted = words.filter((word) => !word.startsWith('--'));

/** What Stryker need not copy: nothing in it is imported by the tests of the engine. */
const NOT_COPIED = [
  'coverage',
  'docs',
  'examples',
  'grammar',
  'scripts',
  'packages/*',
  '!packages/engine',
  'test/*',
  '!test/engine',
  '!test/support',
  '!test/reference',
  '!test/mutation',
];

/**
 * The last report without what was not drawn, and without what survived among the mutants of code that runs when a module
 * loads: no test is known to reach them, so that Stryker would not notice that one was added.
 */
function withoutOpen(report: string, files: readonly string[]): string {
  const last = JSON.parse(readFileSync(report, 'utf8')) as Report;
  for (const name of files) {
    const file = last.files[name];
    if (file === undefined) continue;
    file.mutants = file.mutants.filter(
      ({ status, static: atLoading }) =>
        status !== 'RuntimeError' && (status !== 'Survived' || !(again || atLoading === true)),
    );
  }
  return JSON.stringify(last);
}

/** Measures some files of one folder in one run of Stryker; what is known of its other files stays in the report. */
function measure(files: readonly string[]): boolean {
  const folder = folderOf(files[0]!);
  const report = reportOf(root, folder);
  mkdirSync(dirname(report), { recursive: true });
  // A run that is stopped leaves the last report as it was.
  const running = join(dirname(report), `${folder}.running.json`);
  if (existsSync(report)) writeFileSync(running, withoutOpen(report, files));
  else rmSync(running, { force: true });
  const settings = join(dirname(report), `${folder}.stryker.json`);
  const options = {
    mutate: files,
    ignorePatterns: NOT_COPIED,
    testRunner: 'in-process',
    plugins: ['./test/mutation/runner.ts'],
    coverageAnalysis: 'perTest',
    incremental: true,
    incrementalFile: running,
    force: words.includes('--force'),
    // The compiler of this checkout has no interface that Stryker could read a configuration with; it needs none here.
    tsconfigFile: 'absent.json',
    mutator: { excludedMutations: ['StringLiteral'] },
    reporters: ['clear-text'],
    clearTextReporter: { logTests: false, reportTests: false, reportScoreTable: true },
    concurrency: 1,
    tempDirName: 'coverage/mutation/sandbox',
    allowConsoleColors: false,
    // The runner stops tests by the processor time that they use; this is for what it cannot stop.
    timeoutMS: 600_000,
  };
  writeFileSync(settings, JSON.stringify(options));
  const ran = spawnSync(join(root, 'node_modules/.bin/stryker'), ['run', settings], {
    cwd: root,
    stdio: 'inherit',
    env: {
      ...process.env,
      COUPLET_MUTATION_TESTS: testsOf(root, folder).join(','),
      COUPLET_SAMPLES: String(share),
      COUPLET_MUTATION_ONE_IN: String(oneIn),
    },
  });
  rmSync(settings);
  if (ran.status !== 0 || !existsSync(running)) return false;
  renameSync(running, report);
  return true;
}

/** Files of one run: few enough that stopping loses little, enough that starting costs little. */
const FILES_A_RUN = 8;

const failed: string[] = [];
if (!words.includes('--report')) {
  const chosen = sources(root).filter((source) => {
    return (
      wanted.length === 0 ||
      wanted.some((part) => (/[/.]/.test(part) ? source.includes(part) : folderOf(source) === part))
    );
  });
  for (const folder of new Set(chosen.map(folderOf))) {
    const files = chosen.filter((source) => folderOf(source) === folder && hasCode(root, source));
    if (testsOf(root, folder).length === 0) continue;
    for (let from = 0; from < files.length; from += FILES_A_RUN) {
      const some = files.slice(from, from + FILES_A_RUN);
      if (!measure(some)) failed.push(...some);
      writeTable(root);
    }
  }
}
writeTable(root);
for (const source of failed) console.error(`not measured: ${source}`);
if (failed.length > 0) process.exitCode = 1;
