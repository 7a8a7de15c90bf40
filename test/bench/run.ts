/**
 * `npm run bench`: generated sites of 100, 1,000 and 10,000 couplings, in one file and in many, each measured in a process
 * of its own. Prints the table and writes it to docs/benchmark.md. Times are of one machine on one day: what counts are
 * the ratios within a run.
 */
import { execFileSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { cpus } from 'node:os';
import { join } from 'node:path';
import { FAULTS_SAYS, faultsSection } from './faults-section.ts';

interface Measured {
  readonly couplings: number;
  readonly files: number;
  readonly lines: number;
  readonly components: number;
  /** Of the processor. `first` and `changed` are those of a site judged whole, and again with one value changed. */
  readonly seconds: Record<(typeof STAGES)[number] | 'first' | 'changed', number>;
  readonly megabytes: number;
}

const STAGES = ['parse', 'link', 'lower', 'cut', 'solve', 'faults', 'rules', 'gather'] as const;
const SIZES: readonly (readonly [couplings: number, files: number])[] = [
  [100, 1],
  [100, 5],
  [1000, 1],
  [1000, 20],
  [10_000, 1],
  [10_000, 200],
];

const root = join(import.meta.dirname, '..', '..');
const most = Number(process.argv[2] ?? Number.POSITIVE_INFINITY);

function measure(couplings: number, files: number): Measured {
  const words = [
    '--max-old-space-size=8192',
    join(import.meta.dirname, 'measure.ts'),
    String(couplings),
    String(files),
    '--again',
  ];
  return JSON.parse(execFileSync(process.execPath, words, { encoding: 'utf8' }));
}

interface Ratios {
  readonly couplings: number;
  /** Processor microseconds a coupling. */
  readonly settled: number;
  readonly point: number;
  readonly worst: number;
  readonly ratio: number;
  readonly quantities: number;
  readonly solvesOfPoints: number;
  readonly solvesPerQuantity: number;
  /** Absent where no simulator is installed. Seconds. */
  readonly simulator?: {
    readonly couplings: number;
    readonly circuits: number;
    readonly of: number;
    readonly settled: number;
    readonly ours: number;
    readonly theirs: number;
  };
}

function ratios(couplings: number, simulated: number): Ratios {
  const file = join(import.meta.dirname, 'ratios.ts');
  const words = ['--max-old-space-size=8192', file, String(couplings), String(simulated)];
  return JSON.parse(execFileSync(process.execPath, words, { encoding: 'utf8' }));
}

function tableOf({ couplings, settled, point, worst, ratio, quantities, ...solves }: Ratios): string {
  const { simulator } = solves;
  return [
    '| what | measured |',
    '| -- | --: |',
    `| operating points of all circuits of a coupling at rest, laws built anew, µs (${couplings} couplings) | ${point.toFixed(0)} |`,
    `| solves for them | ${solves.solvesOfPoints.toFixed(1)} |`,
    `| every volt and ampere of them at its worst, µs | ${worst.toFixed(0)} |`,
    `| worst case ÷ operating point | ${ratio.toFixed(1)} |`,
    `| quantities | ${quantities.toFixed(0)} |`,
    `| solves a quantity, enumerations included | ${solves.solvesPerQuantity.toFixed(2)} |`,
    `| design to settled rest with all relays decided, µs | ${settled.toFixed(0)} |`,
    ...(simulator === undefined
      ? []
      : [
          `| ngspice, ${simulator.circuits} of the ${simulator.of} circuits of ${simulator.couplings} couplings as one net list, s (the rest holds volts in a way that no net list says; start of the program taken off) | ${simulator.theirs.toFixed(3)} |`,
          `| the same circuits here, s | ${simulator.ours.toFixed(3)} |`,
          `| ngspice ÷ here | ${(simulator.theirs / simulator.ours).toFixed(1)} |`,
        ]),
  ].join('\n');
}

const total = (row: Measured) => STAGES.reduce((sum, name) => sum + row.seconds[name], 0);

const rows = SIZES.filter(([couplings]) => couplings <= most).map(([couplings, files]) => {
  const row = measure(couplings, files);
  console.log(`${couplings} couplings, ${files} files: ${total(row).toFixed(1)} s, ${row.megabytes.toFixed(0)} MB`);
  return row;
});

/** How much longer the larger site takes than ten times the smaller one with as many or fewer files; 1 is linear. */
function growth(row: Measured): string {
  const smaller = rows.findLast((other) => other.couplings * 10 === row.couplings && other.files > 1 === row.files > 1);
  return smaller === undefined ? '' : (total(row) / total(smaller) / 10).toFixed(2);
}

const table = [
  `| couplings | files | lines | ${STAGES.map((name) => `${name} s`).join(' | ')} | total s | of bare parse | memory MB | growth | one value changed |`,
  `|${' --: |'.repeat(STAGES.length + 8)}`,
  ...rows.map((row) => {
    const times = STAGES.map((name) => row.seconds[name].toFixed(2)).join(' | ');
    const ratio = (total(row) / row.seconds.parse).toFixed(1);
    return `| ${row.couplings} | ${row.files} | ${row.lines} | ${times} | ${total(row).toFixed(2)} | ${ratio} × | ${row.megabytes.toFixed(0)} | ${growth(row)} | ${((row.seconds.changed / row.seconds.first) * 100).toFixed(1)} % |`;
  }),
].join('\n');

const faults = faultsSection(most);
const measured = tableOf(ratios(Math.min(1000, most), Math.min(5000, most)));

const commit = execFileSync('git', ['rev-parse', '--short', 'HEAD'], { cwd: root, encoding: 'utf8' }).trim();
const text = `# Benchmark

Written by \`npm run bench${most === Number.POSITIVE_INFINITY ? '' : ` -- ${most}`}\` on ${new Date().toISOString().slice(0, 10)} at commit ${commit}; Node ${process.version}, ${cpus().length} × ${cpus()[0]?.model.trim()}.

Generated sites (test/bench/generate.ts): each coupling has a controller, a panel, a relay, a loop with two resistors and a
cable, a beacon and a case, 21 lines, every value its own. Each row is one process. *parse* is the bare parse of the text,
*link* names and checks of the language, *lower* the way to the design, *cut* the couplings and their digests, *solve*
operating points of rest and every case with all verdicts, *faults* the table of single faults, *rules* all rules with the
worst cases that they ask for, *gather* the findings of the site from those of its couplings. *growth* is the total against
ten times the total of the site a tenth as large; 1 is linear. *one value changed* is the way from a design of which one
resistor changed to its findings, of the way when nothing was remembered. Seconds are those of the processor. Absolute times
say little about another machine; ratios within this table do.

${table}

## Ratios

Processor time of one process, everything warm; ngspice as installed, by the clock. Nothing of this is run where the
program is used.

${measured}

## Single faults

${FAULTS_SAYS}

${faults}
`;
writeFileSync(join(root, 'docs', 'benchmark.md'), text);
console.log(`\n${table}\n\n${measured}\n\n${faults}`);
