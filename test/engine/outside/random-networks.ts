/** Seeded random networks of the sizes and values that couplings have. Ω, V, A, W. */
import type { Law, Network } from '@couplet/engine';
import { amps, curve, diode, limitedCurve, ohms, power, volts } from '../network/support.ts';

/** A generator of numbers in 0..1, the same for the same seed (mulberry32, public domain). */
export function randomFrom(seed: number): () => number {
  let state = seed | 0;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

export interface Dice {
  real(low: number, high: number): number;
  whole(low: number, high: number): number;
  /** Evenly spread over the decades. */
  decades(low: number, high: number): number;
  chance(p: number): boolean;
}

export function diceFrom(seed: number): Dice {
  const random = randomFrom(seed);
  const real = (low: number, high: number): number => low + (high - low) * random();
  return {
    real,
    whole: (low, high) => low + Math.floor(random() * (high - low + 1)),
    decades: (low, high) => Math.exp(real(Math.log(low), Math.log(high))),
    chance: (p) => random() < p,
  };
}

/** A tree of resistors and sources over all nodes, then resistors and currents across it: always solvable. */
export function linearNetwork(dice: Dice): Network {
  const nodes = dice.whole(2, 12);
  const laws: Law[] = [];
  for (let n = 1; n < nodes; n++) {
    const other = dice.whole(0, n - 1);
    const [a, b] = dice.chance(0.5) ? [n, other] : [other, n];
    laws.push(dice.chance(0.2) ? volts(a, b, dice.real(-30, 30)) : ohms(a, b, dice.decades(0.1, 1e6)));
  }
  const extra = dice.whole(0, 2 * nodes);
  for (let k = 0; k < extra; k++) {
    const a = dice.whole(0, nodes - 1);
    const b = (a + dice.whole(1, nodes - 1)) % nodes;
    laws.push(
      dice.chance(0.15)
        ? amps(a, b, dice.decades(1e-6, 1) * (dice.chance(0.5) ? 1 : -1))
        : ohms(a, b, dice.decades(0.1, 1e6)),
    );
  }
  return { nodes, laws };
}

/** A supply (limited or ideal) at nodes 1 and 0, resistors over all nodes, and diodes across them. */
export function piecewiseNetwork(dice: Dice): Network {
  const nodes = dice.whole(3, 10);
  const emf = dice.real(5, 30);
  const laws: Law[] = [
    dice.chance(0.5) ? curve(1, 0, limitedCurve(emf, dice.decades(0.05, 5), dice.decades(0.02, 2))) : volts(1, 0, emf),
  ];
  for (let n = 2; n < nodes; n++) laws.push(ohms(n, dice.whole(0, n - 1), dice.decades(1, 1e5)));
  const resistors = dice.whole(1, nodes);
  for (let k = 0; k < resistors; k++) {
    const a = dice.whole(0, nodes - 1);
    laws.push(ohms(a, (a + dice.whole(1, nodes - 1)) % nodes, dice.decades(1, 1e5)));
  }
  const diodes = dice.whole(1, 5);
  for (let k = 0; k < diodes; k++) {
    const a = dice.whole(0, nodes - 1);
    laws.push(diode(a, (a + dice.whole(1, nodes - 1)) % nodes, dice.real(0.3, 1.2), dice.decades(0.05, 20)));
  }
  if (dice.chance(0.4)) {
    const a = dice.whole(2, nodes - 1);
    laws.push(curve(a, 0, limitedCurve(dice.real(3, 24), dice.decades(0.1, 100), dice.decades(0.01, 1))));
  }
  return { nodes, laws };
}

/** Loads of constant watts along a line from a supply, some behind diodes. Without them the last laws are gone. */
export function powerNetwork(dice: Dice): { readonly network: Network; readonly unloaded: Network } {
  const emf = dice.real(10, 28);
  const laws: Law[] = [
    dice.chance(0.5) ? curve(1, 0, limitedCurve(emf, dice.decades(0.05, 1), dice.real(0.5, 4))) : volts(1, 0, emf),
  ];
  const loads: Law[] = [];
  let nodes = 2;
  const count = dice.whole(1, 4);
  for (let k = 0; k < count; k++) {
    laws.push(ohms(nodes - 1, nodes, dice.decades(0.1, 5)), ohms(nodes, 0, dice.decades(50, 1e4)));
    nodes++;
    const least = dice.real(0.3, 0.9) * emf;
    loads.push(power(nodes - 1, 0, dice.decades(0.2, 12), least, dice.real(1, 1.5) * emf));
  }
  if (dice.chance(0.4))
    laws.push(diode(dice.whole(0, nodes - 1), dice.whole(0, nodes - 1), 0.65, dice.decades(0.1, 5)));
  return { network: { nodes, laws: [...laws, ...loads] }, unloaded: { nodes, laws } };
}
