/** Seeded numbers, comparison, and the outside simulator's transient analysis. */
import { type Ranged, ranged } from '@couplet/engine';
import { Simulation } from 'eecircuit-engine';
import { expect } from 'vitest';

/** Numbers from 0 to 1 that are the same in every run. Source: mulberry32, public domain. */
export function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** Evenly over the decades between `least` and `most`. */
export function decades(random: () => number, least: number, most: number): number {
  return least * (most / least) ** random();
}

export function expectNear(found: number, wanted: number, relative: number): void {
  const bound = relative * Math.max(Math.abs(found), Math.abs(wanted));
  if (!(Math.abs(found - wanted) <= bound)) expect.fail(`${found} is not ${wanted} within ${relative}`);
}

let started: Promise<Simulation> | undefined;

/** One engine for all runs of a file: far fewer than it takes for its memory to matter. */
function simulation(): Promise<Simulation> {
  started ??= (async () => {
    const made = new Simulation();
    await made.start();
    return made;
  })();
  return started;
}

export interface Transient {
  readonly seconds: readonly number[];
  of(name: string): readonly number[];
}

/**
 * Transient analysis from given initial conditions over `seconds`, in steps of at most 1/`steps` of it. `lines` are the
 * elements; node 0 is ground.
 */
export async function transient(lines: readonly string[], seconds: number, steps = 4000): Promise<Transient> {
  const engine = await simulation();
  const step = seconds / steps;
  engine.setNetList(
    [
      'decay',
      ...lines,
      '.options reltol=1e-7 abstol=1e-15 vntol=1e-12 chgtol=1e-18 method=trap',
      `.tran ${step} ${seconds} 0 ${step} uic`,
      '.end',
      '',
    ].join('\n'),
  );
  const result = await engine.runSim();
  const errors = engine.getError().filter((line) => /error/i.test(line));
  if (errors.length > 0) expect.fail(errors.join('\n'));
  const column = (name: string): readonly number[] => {
    const found = result.data.find((each) => each.name === name);
    if (found === undefined) return expect.fail(`no ${name} among ${result.variableNames.join(', ')}`);
    return found.values as number[];
  };
  return { seconds: column('time'), of: column };
}

/** The first time at which the values come down through `level`, between two steps by a straight line. */
export function comesDown(seconds: readonly number[], values: readonly number[], level: number): number {
  const k = values.findIndex((value, index) => index > 0 && value <= level);
  if (k === -1) return Number.POSITIVE_INFINITY;
  const [above, below] = [values[k - 1]!, values[k]!];
  return seconds[k - 1]! + ((above - level) / (above - below)) * (seconds[k]! - seconds[k - 1]!);
}

/** The last time after which no value lies beyond `level` on either side. */
export function staysWithin(seconds: readonly number[], values: readonly number[], level: number): number {
  const k = values.findLastIndex((value) => Math.abs(value) > level);
  const [beyond, within] = [Math.abs(values[k]!), Math.abs(values[k + 1]!)];
  const same = Math.sign(values[k]!) === Math.sign(values[k + 1]!) ? within : -within;
  return seconds[k]! + ((beyond - level) / (beyond - same)) * (seconds[k + 1]! - seconds[k]!);
}

/** Area under the values. */
export function integral(seconds: readonly number[], values: readonly number[]): number {
  let sum = 0;
  for (let k = 1; k < seconds.length; k++) sum += ((values[k]! + values[k - 1]!) / 2) * (seconds[k]! - seconds[k - 1]!);
  return sum;
}

export const NEVER = Number.POSITIVE_INFINITY;

/** `usual` with a share of it less and more. */
export function box(what: string, unit: string, usual: number, below: number, above: number): Ranged {
  return ranged(what, unit, { least: usual * (1 - below), usual, most: usual * (1 + above) });
}
