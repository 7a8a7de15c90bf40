/** docs/quality.md out of the reports of the runs: nothing in it that was not measured, and what was not is named. */
import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { folderOf, sources } from './folders.ts';

/** What is read of a report of Stryker (the mutation testing report schema). */
export interface Report {
  readonly files: Readonly<Record<string, { readonly source: string; mutants: Mutant[] }>>;
}

interface Mutant extends Drawable {
  readonly status: string;
  readonly statusReason?: string;
  readonly static?: boolean;
}

interface Count {
  killed: number;
  timeout: number;
  survived: number;
  uncovered: number;
  /** Left out of the sample. */
  left: number;
}

/** What tells a mutant from all others of its file, whatever else is measured; lines and columns count from `first`. */
export interface Drawable {
  readonly mutatorName: string;
  readonly replacement?: string;
  readonly location: { readonly start: { readonly line: number; readonly column: number } };
}

/** Whether a mutant is in a sample of one in so many: by a hash (FNV-1a), so that samples of a power of two are nested. */
export function isDrawn({ mutatorName, replacement, location }: Drawable, first: 0 | 1, oneIn: number): boolean {
  const { line, column } = location.start;
  let hash = 0x811c9dc5;
  for (const character of `${line - first}:${column - first} ${mutatorName} ${replacement}`) {
    hash = Math.imul(hash ^ character.codePointAt(0)!, 0x01000193) >>> 0;
  }
  return ((hash ^ (hash >>> 15)) >>> 0) % oneIn === 0;
}

/** Why a mutant has no result that was left out of a sample. */
export const notDrawn = (oneIn: number): string => `not drawn into the sample of one in ${oneIn}`;

/** The sample that a file was measured with: one in so many. */
function sampleOf(mutants: readonly Mutant[]): number {
  for (const { statusReason } of mutants) {
    const found = /not drawn into the sample of one in (\d+)/.exec(statusReason ?? '');
    if (found !== null) return Number(found[1]);
  }
  return 1;
}

/** Where the report of a folder is kept between runs, out of the repository. */
export const reportOf = (root: string, folder: string): string =>
  join(root, 'coverage/mutation/reports', `${folder}.json`);

const nothing = (): Count => ({ killed: 0, timeout: 0, survived: 0, uncovered: 0, left: 0 });

const total = ({ killed, timeout, survived, uncovered }: Count): number => killed + timeout + survived + uncovered;

function score(count: Count): string {
  if (total(count) === 0) return '';
  return `${((100 * (count.killed + count.timeout)) / total(count)).toFixed(1)} %`;
}

function sum(counts: readonly Count[]): Count {
  const all = nothing();
  for (const count of counts) for (const key of Object.keys(all) as (keyof Count)[]) all[key] += count[key];
  return all;
}

/** The count of a file, or undefined where it was not measured as it now stands. */
function countOf(root: string, source: string): Count | undefined {
  const report = reportOf(root, folderOf(source));
  if (!existsSync(report)) return undefined;
  const file = (JSON.parse(readFileSync(report, 'utf8')) as Report).files[source];
  if (file === undefined || file.source !== readFileSync(join(root, source), 'utf8')) return undefined;
  // Mutants that no test reaches have a result without being run: of them, too, only those of the sample count.
  const oneIn = sampleOf(file.mutants);
  const drawn = file.mutants.filter((mutant) => isDrawn(mutant, 1, oneIn));
  const of = (status: string): number => drawn.filter((mutant) => mutant.status === status).length;
  return {
    killed: of('Killed'),
    timeout: of('Timeout'),
    survived: of('Survived'),
    uncovered: of('NoCoverage'),
    left:
      file.mutants.filter((mutant) => mutant.status !== 'Ignored').length -
      drawn.filter((mutant) => mutant.status !== 'Ignored').length,
  };
}

/** Files of types and lists of exports have nothing that could be changed. */
export const hasCode = (root: string, source: string): boolean => {
  const text = readFileSync(join(root, source), 'utf8').replace(/\/\*[\s\S]*?\*\/|\/\/.*|'[^']*'/g, '');
  return /\b(?:function|class|const)\s+\w/.test(text);
};

const dayOf = (milliseconds: number): string => new Date(milliseconds).toISOString().slice(0, 10);

function line(name: string, count: Count, share = score(count)): string {
  const { killed, timeout, survived, uncovered, left } = count;
  return `| ${name} | ${total(count) + left} | ${total(count)} | ${killed} | ${timeout} | ${survived} | ${uncovered} | ${share} |`;
}

const HEAD = ['mutants', 'run', 'killed', 'timed out', 'survived', 'not reached', 'score'];
const head = (first: string): string[] => [
  `| ${first} | ${HEAD.join(' | ')} |`,
  `|---|${HEAD.map(() => '--:').join('|')}|`,
];

/** Several folders as one: each counts by all its mutants, however many of them were run. */
function weighed(folders: readonly Count[]): string {
  const all = (count: Count): number => total(count) + count.left;
  const noticed = folders.reduce((found, count) => {
    return found + (all(count) * (count.killed + count.timeout)) / Math.max(1, total(count));
  }, 0);
  return `${((100 * noticed) / folders.reduce((found, count) => found + all(count), 0)).toFixed(1)} %`;
}

/** Files by name, or the folder where all of its files are meant. */
function named(files: readonly string[], measured: ReadonlyMap<string, Count>): string {
  const whole = new Set(files.map(folderOf));
  for (const source of measured.keys()) whole.delete(folderOf(source));
  const names = files.map((source) =>
    whole.has(folderOf(source)) && !folderOf(source).endsWith('.ts') ? `${folderOf(source)}/` : source,
  );
  return [...new Set(names)].map((name) => `\`${name.replace('packages/engine/src/', '')}\``).join(', ');
}

/** Writes the table between its marks in docs/quality.md; what stands around it is written by hand. */
export function writeTable(root: string): void {
  const measured = new Map<string, Count>();
  const missing: string[] = [];
  let last = 0;
  for (const source of sources(root)) {
    if (!hasCode(root, source)) continue;
    const count = countOf(root, source);
    if (count === undefined) missing.push(source);
    else {
      measured.set(source, count);
      last = Math.max(last, statSync(reportOf(root, folderOf(source))).mtimeMs);
    }
  }
  if (measured.size === 0) return;
  const commit = execFileSync('git', ['rev-parse', '--short', 'HEAD'], { cwd: root, encoding: 'utf8' }).trim();
  const byFolder = new Map<string, Count>();
  for (const folder of new Set([...measured.keys()].map(folderOf))) {
    byFolder.set(
      folder,
      sum([...measured].filter(([source]) => folderOf(source) === folder).map(([, count]) => count)),
    );
  }
  const whole = sum([...byFolder.values()]);
  const short = (source: string): string => source.replace('packages/engine/src/', '');
  const lines = [
    `Measured on ${dayOf(last)}, at commit ${commit}.`,
    '',
    ...head('folder'),
    ...[...byFolder].map(([folder, count]) => line(folder, count)),
    line('**all**', whole, weighed([...byFolder.values()])),
    '',
    ...(whole.left === 0
      ? []
      : [
          "Where fewer were run than there are, a sample was drawn (by a hash); 'all' weighs each folder by its mutants.",
          '',
        ]),
    missing.length === 0
      ? 'Every file with code is measured.'
      : `Not measured as they stand at that commit, and not counted: ${named(missing, measured)}.`,
    '',
    '## File by file',
    '',
    ...head('file'),
    ...[...measured].map(([source, count]) => line(`\`${short(source)}\``, count)),
  ];
  const page = join(root, 'docs', 'quality.md');
  const [before, rest = ''] = readFileSync(page, 'utf8').split('<!-- measured -->\n');
  const after = rest.split('<!-- end of what is measured -->')[1] ?? '\n';
  const table = `<!-- measured -->\n${lines.join('\n')}\n<!-- end of what is measured -->`;
  writeFileSync(page, `${before}${table}${after}`);
}
