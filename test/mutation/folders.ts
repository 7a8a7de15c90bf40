/** What is measured and with which tests: the fast ones of a folder, and of those that use it. */
import { globSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

const SOURCE = 'packages/engine/src';
const TESTS = 'test/engine';

/** Folders whose tests are run for the mutants of a folder; the first is its own. */
const TESTED_BY: Readonly<Record<string, readonly string[]>> = {
  quantity: ['quantity'],
  tables: ['tables'],
  network: ['network'],
  decay: ['decay'],
  standby: ['standby'],
  'disjoint.ts': ['build'],
  design: ['design'],
  build: ['build', 'analysis'],
  analysis: ['analysis', 'time'],
  time: ['time'],
  faults: ['faults'],
};

/** Comparisons with a circuit simulator and with exact fractions. */
const SLOW_FILES = [/\/outside\.test\.ts$/, /\/exact\.test\.ts$/];

/** What a test imports that reaches beyond the engine; the copy in which mutants are run has nothing else. */
const BEYOND = /from '(?:@couplet\/(?!engine')|\.\.\/\.\.\/(?!\.\.\/packages\/engine\/|support\/|reference\/))/;

/** Single tests of large networks and of many random sites. */
const SLOW_TESTS = [
  'settles large islands whose curves all disturb each other',
  'solves chains and stars of many thousand nodes',
  'gives the slope of a re-solve in a large network',
  'ten thousand loads behind one fuse are looked at once each',
  'is answered without throwing, without NaN',
  'reads what the whole table has as usual, for random sites',
  'are never left by 200 random points in each of 40 networks',
];

/** Share of its samples that a test draws in a mutation run (see test/support/samples.ts). */
export const SHARE_OF_SAMPLES = 0.05;

/** Whether a test is too slow to be run for every mutant, by its name. */
export const isTooSlow = (name: string): boolean => SLOW_TESTS.some((slow) => name.startsWith(slow));

const sorted = (root: string, pattern: string): string[] =>
  globSync(pattern, { cwd: root })
    .map((file) => file.replaceAll('\\', '/'))
    .sort();

/** All source files of the engine, as paths from the checkout. */
export const sources = (root: string): string[] => sorted(root, `${SOURCE}/**/*.ts`);

/** The folder of a source file: `quantity`. */
export const folderOf = (source: string): string => source.slice(SOURCE.length + 1).split('/')[0]!;

/** The test files for the source files of a folder. */
export function testsOf(root: string, folder: string): string[] {
  const folders = TESTED_BY[folder] ?? [];
  return folders
    .flatMap((folder) => sorted(root, `${TESTS}/${folder}/*.test.ts`))
    .filter((file) => !SLOW_FILES.some((slow) => slow.test(file)))
    .filter((file) => !BEYOND.test(readFileSync(join(root, file), 'utf8')));
}
