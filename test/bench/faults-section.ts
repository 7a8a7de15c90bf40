/**
 * The fault table in the benchmark: 1,000 and 4,000 zones, at usual figures and with every spread, and against the circuit
 * simulator ngspice where it is installed. `node test/bench/faults-section.ts [ZONES]` prints the section alone.
 */
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

interface Measured {
  readonly zones: number;
  readonly spreads: boolean;
  readonly faults: number;
  readonly cells: number;
  readonly solves: number;
  readonly seconds: number;
}

function measured(zones: number, mode: 'usual' | 'spreads'): Measured {
  const file = join(import.meta.dirname, 'faults.ts');
  const words = ['--max-old-space-size=8192', file, String(zones), mode];
  return JSON.parse(execFileSync(process.execPath, words, { encoding: 'utf8' }));
}

/** The loop of one zone with what drives its relay, as a net list; shorts and cuts are resistors that are altered. */
const LOOP = `V1 n1 0 5
R0 n1 n2 4700
RG n2 n3 13.3
RK n3 n4 0.1
RA n3 n4 4700
RE n4 n5 2200
RY n5 0 13.3
RS n2 0 1e12`;
const ALTERED = ['RK', 'RA', 'RE', 'RG', 'RY', 'RS'];

/** Processor seconds of one run of the simulator, as its shell counts them. */
function simulatorSeconds(text: string): number {
  const folder = mkdtempSync(join(tmpdir(), 'couplet-bench-'));
  try {
    const file = join(folder, 'zone.cir');
    writeFileSync(file, text);
    const said = execFileSync('bash', ['-c', `ngspice -b -o '${folder}/log' '${file}' > '${folder}/out' 2>&1; times`], {
      encoding: 'utf8',
    });
    const [, children = ''] = said.split('\n');
    return [...children.matchAll(/(\d+)m([\d.]+)s/g)].reduce((sum, [, m, s]) => sum + 60 * Number(m) + Number(s), 0);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

const RUN = 'alone\n';

function netList(steps: readonly string[]): string {
  return [RUN.trim(), LOOP, '.control', ...steps, 'quit', '.endc', '.end', ''].join('\n');
}

/** Seconds of one faulted loop in one process that solves many, and in a process of its own. */
function simulator() {
  if (spawnSync('ngspice', ['--version']).status !== 0) return undefined;
  const many = 5000;
  const steps = Array.from({ length: many }, (_, k) => [
    `alter ${ALTERED[k % ALTERED.length]} = ${1 + ((k * 37) % 9000)}`,
    'op',
    'destroy all',
  ]).flat();
  const empty = Math.min(...[1, 2, 3].map(() => simulatorSeconds(netList([]))));
  const batch = Math.min(...[1, 2, 3].map(() => simulatorSeconds(netList(steps)))) - empty;
  const samples = 20;
  const each = Array.from({ length: samples }, () => simulatorSeconds(netList(['op']))).sort((a, b) => a - b);
  return { batch: batch / many, each: each[samples / 2]! };
}

export function faultsSection(most = Number.POSITIVE_INFINITY): string {
  const sizes = [1000, 4000].filter((zones) => zones <= most);
  const rows = sizes.flatMap((zones) => [measured(zones, 'usual'), measured(zones, 'spreads')]);
  const growth = (row: Measured) => {
    const smaller = rows.find((other) => other.spreads === row.spreads && other.zones * 4 === row.zones);
    return smaller === undefined ? '' : (row.seconds / smaller.seconds).toFixed(2);
  };
  const micro = ({ seconds, solves }: Measured) => (seconds / solves) * 1e6;
  const lines = [
    '| zones | cells | faults | cells told | solves | s | µs a solve | time of a fourth of the zones × |',
    `|${' --: |'.repeat(8)}`,
    ...rows.map(
      (row) =>
        `| ${row.zones} | ${row.spreads ? 'least, usual, most' : 'usual'} | ${row.faults} | ${row.cells} | ${row.solves} | ${row.seconds.toFixed(2)} | ${micro(row).toFixed(1)} | ${growth(row)} |`,
    ),
  ];
  const theirs = simulator();
  const ours = rows.find(({ spreads }) => !spreads);
  if (theirs !== undefined && ours !== undefined) {
    const own = micro(ours) / 1e6;
    lines.push(
      '',
      '| a faulted loop in ngspice | µs | ÷ here |',
      '| -- | --: | --: |',
      `| one process that runs \`alter\`, \`op\`, \`destroy all\` | ${(theirs.batch * 1e6).toFixed(0)} | ${(theirs.batch / own).toFixed(1)} |`,
      `| a process each (the middle of 20) | ${(theirs.each * 1e6).toFixed(0)} | ${(theirs.each / own).toFixed(0)} |`,
    );
  }
  return lines.join('\n');
}

/** What the section's columns mean, for docs/benchmark.md. */
export const FAULTS_SAYS = `Zones like that of the Tidewater Mill example (test/bench/fault-sites.ts), the whole table, coupling by coupling as a check
has it, in one warm process. A *solve* is one circuit (the coil's, the beacon's, the loop) with one fault, in one way in which it
can stand, at rest or in one of two cases: what somebody without a memory would have to solve. Processor time throughout,
the simulator's too; its circuit is the loop alone.`;

if (process.argv[1] === import.meta.filename) console.log(faultsSection(Number(process.argv[2] ?? 4000)));
