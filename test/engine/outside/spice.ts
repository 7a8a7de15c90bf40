/** Networks as net lists for a circuit simulator, and the simulator's answers. */
import { Worker } from 'node:worker_threads';
import type { Curve, Law, Network } from '@couplet/engine';

/** The simulator's memory grows with each run: a fresh worker after so many. */
const RUNS_A_WORKER = 2000;

/** Figures by name (`v(n1)`, `i(v3)`), or the text of a failure. */
export type Answer = Record<string, number> | string;

export async function simulate(netlists: readonly string[]): Promise<Answer[]> {
  const answers: Answer[] = [];
  for (let from = 0; from < netlists.length; from += RUNS_A_WORKER) {
    answers.push(...(await runBatch(netlists.slice(from, from + RUNS_A_WORKER))));
  }
  return answers;
}

function runBatch(batch: readonly string[]): Promise<Answer[]> {
  const worker = new Worker(new URL('./spice-worker.mjs', import.meta.url), { workerData: batch });
  return new Promise<Answer[]>((resolve, reject) => {
    worker.once('message', resolve);
    worker.once('error', reject);
    worker.once('exit', (code) => reject(new Error(`the simulator's worker ended with ${code}`)));
  }).finally(() => worker.terminate());
}

/** `v(n1)` of node 1; the reference has no figure of its own. */
export const nodeName = (n: number, reference: number): string => (n === reference ? '0' : `n${n}`);

export interface NetlistOptions {
  readonly reference: number;
  /** Volts of the nodes to begin from: picks one of several solutions. */
  readonly nodeset?: ArrayLike<number>;
  /** Model line and the laws (indices) that are the simulator's own diodes instead of a piecewise-linear source. */
  readonly diodes?: { readonly model: string; readonly laws: ReadonlySet<number> };
}

/** The same laws as elements of a net list: curves and constant watts as behavioural sources. */
export function netlistOf(network: Network, options: NetlistOptions): string {
  const at = (n: number): string => nodeName(n, options.reference);
  const lines = ['couplet'];
  network.laws.forEach((law, k) => {
    lines.push(elementOf(law, k, at, options));
  });
  if (options.diodes !== undefined) lines.push(`.model outside ${options.diodes.model}`);
  if (options.nodeset !== undefined) {
    const base = options.nodeset[options.reference]!;
    for (let n = 0; n < network.nodes; n++) {
      if (n !== options.reference) lines.push(`.nodeset v(${at(n)})=${options.nodeset[n]! - base}`);
    }
  }
  lines.push('.options reltol=1e-9 abstol=1e-15 vntol=1e-12', '.op', '.end');
  return lines.join('\n');
}

function elementOf(law: Law, k: number, at: (n: number) => string, options: NetlistOptions): string {
  const ends = `${at(law.a)} ${at(law.b)}`;
  const v = `v(${at(law.a)},${at(law.b)})`;
  switch (law.sort) {
    case 'ohms':
      return law.ohms === 0 ? `v${k} ${ends} 0` : `r${k} ${ends} ${law.ohms}`;
    case 'volts':
      return `v${k} ${ends} ${law.volts}`;
    case 'amps':
      return `i${k} ${ends} ${law.amps}`;
    case 'curve':
      return options.diodes?.laws.has(k) ? `d${k} ${ends} outside` : `b${k} ${ends} i = ${currentOf(law.curve, v)}`;
    case 'power': {
      const { watts, least, most } = law;
      const below = `${v} < ${least} ? ${v}*${watts / least ** 2} : `;
      const above =
        most < Number.POSITIVE_INFINITY
          ? `(${v} > ${most} ? ${v}*${watts / most ** 2} : ${watts}/${v})`
          : `${watts}/${v}`;
      return `b${k} ${ends} i = ${below}${above}`;
    }
  }
}

/** Current as nested conditions on the volts; the curve has no vertical piece. */
function currentOf(curve: Curve, v: string): string {
  const line = (point: readonly [number, number], slope: number): string => `${point[1]}+${slope}*(${v}-(${point[0]}))`;
  const { points, before, after } = curve;
  const last = points[points.length - 1]!;
  let text = line(last, after[1] / after[0]);
  for (let k = points.length - 1; k >= 1; k--) {
    const [low, high] = [points[k - 1]!, points[k]!];
    text = `${v} < ${high[0]} ? ${line(low, (high[1] - low[1]) / (high[0] - low[0]))} : (${text})`;
  }
  return `${v} < ${points[0]![0]} ? ${line(points[0]!, before[1] / before[0])} : (${text})`;
}
