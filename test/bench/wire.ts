/**
 * `npm run bench:wire [FILES]`: the language server over its standard input and output, as an editor has it, on generated
 * workspaces of 100 files (or as many as are said). Prints the table and writes it to docs/benchmark-wire.md. Each row is
 * a server of its own, warm. Times are of one machine on one day: what counts are the ratios within a row.
 */
import { execFileSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { cpus, loadavg } from 'node:os';
import { join } from 'node:path';
import { build } from 'esbuild';

interface Spread {
  readonly p50: number;
  readonly p95: number;
}

/** Milliseconds, where nothing else is said. */
interface Measured {
  readonly shape: 'one' | 'many';
  readonly unresolved: number;
  readonly files: number;
  readonly lines: number;
  readonly editedLines: number;
  readonly firstPublished: number;
  readonly firstFindings: number;
  readonly everything: number;
  readonly progress: number;
  readonly key: Spread;
  readonly processorPerKey: number;
  readonly parse: Spread;
  readonly parseProcessor: number;
  readonly statement: Spread;
  readonly hover: Spread;
  readonly completion: Spread;
  readonly completionBehindKey: Spread;
  readonly cancelled: { readonly keys: number; readonly passes: number; readonly milliseconds: number };
  readonly heapMegabytes: number;
  readonly residentMegabytes: number;
}

const root = join(import.meta.dirname, '..', '..');
const files = Number(process.argv[2] ?? 100);
const rows: readonly (readonly [shape: Measured['shape'], unresolved: number])[] = [
  ['many', 0],
  ['many', Math.floor(files / 2) - 1],
  ['one', 0],
];

const bundle = join(root, 'packages/server/dist/bench-server.cjs');
await build({
  absWorkingDir: root,
  entryPoints: ['packages/server/src/node.ts'],
  outfile: bundle,
  bundle: true,
  platform: 'node',
  target: 'node22',
  format: 'cjs',
  keepNames: true,
  logLevel: 'error',
});

const measured = rows.map(([shape, unresolved]): Measured => {
  const words = [
    join(import.meta.dirname, 'wire-measure.ts'),
    shape,
    String(unresolved),
    '--files',
    String(files),
    '--bundle',
    'packages/server/dist/bench-server.cjs',
  ];
  const row = JSON.parse(execFileSync(process.execPath, words, { encoding: 'utf8' })) as Measured;
  console.log(`${shape}, ${unresolved} with unresolved names: ${row.key.p50.toFixed(0)} ms a key`);
  return row;
});

const ms = (value: number) => value.toFixed(value < 10 ? 1 : 0);
const both = ({ p50, p95 }: Spread) => `${ms(p50)} / ${ms(p95)}`;

const LINES: readonly (readonly [what: string, value: (row: Measured) => string])[] = [
  ['files, lines', ({ files: count, lines }) => `${count}, ${lines}`],
  ['files with unresolved names besides the edited one', ({ unresolved }) => String(unresolved)],
  ['lines of the edited file', ({ editedLines }) => String(editedLines)],
  ['key to findings, p50 / p95 ms', ({ key }) => both(key)],
  ['bare parse of the edited file in the same run, p50 / p95 ms', ({ parse }) => both(parse)],
  ['key to findings ÷ bare parse, medians', ({ key, parse }) => (key.p50 / parse.p50).toFixed(1)],
  ['processor time of the server a key, ms', ({ processorPerKey }) => ms(processorPerKey)],
  ['processor time a key ÷ that of a bare parse', (row) => (row.processorPerKey / row.parseProcessor).toFixed(1)],
  ['a statement written, each key to the end of its check, p50 / p95 ms', ({ statement }) => both(statement)],
  ['hover, p50 / p95 ms', ({ hover }) => both(hover)],
  ['completion at any line, p50 / p95 ms', ({ completion }) => both(completion)],
  ['completion right behind a key, p50 / p95 ms', ({ completionBehindKey }) => both(completionBehindKey)],
  ['first findings of the open file from the start of the process, s', (row) => (row.firstFindings / 1000).toFixed(1)],
  ['everything loaded and checked, s', ({ everything }) => (everything / 1000).toFixed(1)],
  ['words of progress until then', ({ progress }) => String(progress)],
  ['20 keys, one every 5 ms: checks made', ({ cancelled }) => String(cancelled.passes)],
  ['… last key to its findings, ms', ({ cancelled }) => ms(cancelled.milliseconds)],
  ['heap after collection, MB', ({ heapMegabytes }) => heapMegabytes.toFixed(0)],
  ['resident, MB', ({ residentMegabytes }) => residentMegabytes.toFixed(0)],
];

const table = [
  `| | ${measured.map(({ shape }) => (shape === 'one' ? 'one site' : 'sites of two files')).join(' | ')} |`,
  `| -- |${' --: |'.repeat(measured.length)}`,
  ...LINES.map(([what, value]) => `| ${what} | ${measured.map(value).join(' | ')} |`),
].join('\n');

const commit = execFileSync('git', ['rev-parse', '--short', 'HEAD'], { cwd: root, encoding: 'utf8' }).trim();
writeFileSync(
  join(root, 'docs', 'benchmark-wire.md'),
  `# Benchmark over the wire

Written by \`npm run bench:wire ${files}\` on ${new Date().toISOString().slice(0, 10)} at commit ${commit}; Node ${process.version}, ${cpus().length} × ${cpus()[0]?.model.trim()}, load ${(loadavg()[0] ?? 0).toFixed(1)} when it ended: with more load than
processors, times by the clock are those of waiting, and only ratios and processor times say something.

The language server as a process, asked as an editor asks it (test/bench/wire-measure.ts). A key is a digit typed into the
watts of a load, or taken out again; its findings have come when that load's output is told to be overloaded, or is not any
more. The moment that the server leaves to completions behind a key is counted. The bare parse is that of the edited file in a process
of its own, between the keys.

${table}
`,
);
console.log(`\n${table}`);
