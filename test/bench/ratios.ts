/**
 * Ratios that no machine changes much, in one process: `node test/bench/ratios.ts COUPLINGS [SIMULATED]` prints one line of
 * JSON. For every circuit at rest the operating point is found anew, then every volt and ampere of it at its worst; the
 * solves are counted. Where the circuit simulator ngspice is installed, it solves the same circuits as one net list.
 */
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Circuit } from '../../packages/engine/src/analysis/circuit.ts';
import { NOTHING_DONE } from '../../packages/engine/src/analysis/doings.ts';
import { ampsGauge, voltsGauge } from '../../packages/engine/src/analysis/gauges.ts';
import { finish } from '../../packages/engine/src/analysis/moment.ts';
import { type Gauge, inCircuit } from '../../packages/engine/src/analysis/range.ts';
import { settling } from '../../packages/engine/src/analysis/settle.ts';
import { Shared } from '../../packages/engine/src/analysis/shared.ts';
import { Model } from '../../packages/engine/src/build/index.ts';
import type { Law, Network } from '../../packages/engine/src/network/contract.ts';
import { solve } from '../../packages/engine/src/network/index.ts';
import { netlistOf } from '../engine/outside/spice.ts';
import { lowered } from './lowered.ts';

const couplings = Number(process.argv[2]);
const simulated = Number(process.argv[3] ?? couplings);

/** Processor seconds of this process, so that others on the machine do not count. */
function seconds(work: () => void): number {
  const before = process.cpuUsage();
  work();
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1e6;
}

/** Circuits of a site at rest, and the processor seconds from its design to them. */
async function atRest(count: number): Promise<{ readonly circuits: readonly Circuit[]; readonly settled: number }> {
  const { design } = (await lowered(count, 1)).lowered;
  const circuits: Circuit[] = [];
  const settled = seconds(() => {
    const shared = new Shared(new Model(design));
    const { world } = finish(settling(shared, NOTHING_DONE));
    for (const region of shared.model.regions) {
      for (const island of world.layoutOf(region).islands) circuits.push(world.circuits(island)[0]!);
    }
  });
  return { circuits, settled };
}

/** Volts across and amperes through every element that is connected. */
function gaugesOf({ island, lawOf }: Circuit): readonly Gauge[] {
  return island.elements.flatMap((element, at) =>
    lawOf[at]! < 0 ? [] : [voltsGauge(island, element.a, element.b), ampsGauge(island, [element])],
  );
}

const NOTHING: ReadonlyMap<string, unknown> = new Map();

async function worstCase() {
  const { circuits, settled } = await atRest(couplings);
  const gauges = new Map(circuits.map((circuit) => [circuit, gaugesOf(circuit)]));
  let solves = 0;
  const counted = Circuit.prototype as unknown as Record<'solveAt' | 'solveLaws', (what: unknown) => unknown>;
  for (const name of ['solveAt', 'solveLaws'] as const) {
    const original = counted[name];
    counted[name] = function (what) {
      solves += 1;
      return original.call(this, what);
    };
  }
  const points = () => {
    for (const circuit of circuits) circuit.apart(NOTHING).atUsual();
  };
  let quantities = 0;
  const worst = () => {
    for (const circuit of circuits) {
      const fresh = circuit.apart(NOTHING);
      for (const gauge of gauges.get(circuit)!) inCircuit(fresh, gauge);
      quantities += fresh.figures.size;
    }
  };
  points();
  worst();
  solves = 0;
  quantities = 0;
  const point = seconds(points);
  const solvesOfPoints = solves;
  solves = 0;
  const most = seconds(worst);
  return {
    settled: (settled / couplings) * 1e6,
    point: (point / couplings) * 1e6,
    worst: (most / couplings) * 1e6,
    ratio: most / point,
    quantities: quantities / couplings,
    solvesOfPoints: solvesOfPoints / couplings,
    solvesPerQuantity: solves / quantities,
  };
}

/** A curve that stands straight up somewhere is no current as a function of volts, which is all a net list can say. */
function canBeSimulated(law: Law): boolean {
  if (law.sort !== 'curve') return true;
  const { points, before, after } = law.curve;
  return before[0] > 0 && after[0] > 0 && points.every(([v], k) => k === 0 || v > points[k - 1]![0]);
}

/** All circuits as one network with node 0 in common. */
function inOne(networks: readonly Network[]): Network {
  const laws: Law[] = [];
  let nodes = 1;
  for (const network of networks) {
    const base = nodes - 1;
    const at = (node: number) => (node === 0 ? 0 : base + node);
    for (const law of network.laws) laws.push({ ...law, a: at(law.a), b: at(law.b) });
    nodes += network.nodes - 1;
  }
  return { nodes, laws };
}

function isInstalled(): boolean {
  return spawnSync('ngspice', ['--version']).status === 0;
}

async function againstSimulator() {
  if (!isInstalled()) return undefined;
  const { circuits, settled } = await atRest(simulated);
  const networks = circuits.map((circuit) => ({
    nodes: circuit.island.nodes.length,
    laws: circuit.lawsAt(circuit.axes.map(() => 0)),
  }));
  const taken = networks.filter(({ laws }) => laws.every(canBeSimulated));
  const folder = mkdtempSync(join(tmpdir(), 'couplet-bench-'));
  const run = (network: Network) => {
    const file = join(folder, 'site.cir');
    writeFileSync(file, netlistOf(network, { reference: 0 }));
    const start = performance.now();
    execFileSync('ngspice', ['-b', '-o', join(folder, 'log'), file], { stdio: 'ignore' });
    return (performance.now() - start) / 1000;
  };
  try {
    const whole = inOne(taken);
    const empty = Math.min(...[1, 2, 3].map(() => run({ nodes: 2, laws: [{ sort: 'ohms', a: 0, b: 1, ohms: 1 }] })));
    const theirs = Math.min(...[1, 2, 3].map(() => run(whole))) - empty;
    const ours = Math.min(
      ...[1, 2, 3].map(() =>
        seconds(() => {
          for (const network of taken) solve(network);
        }),
      ),
    );
    return { couplings: simulated, circuits: taken.length, of: networks.length, settled, ours, theirs };
  } finally {
    rmSync(folder, { recursive: true });
  }
}

console.log(JSON.stringify({ couplings, ...(await worstCase()), simulator: await againstSimulator() }));
