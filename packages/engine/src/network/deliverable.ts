/** How much a network can deliver to a law that asks for more. */
import type { Law, Network, SolvedPoint } from './contract.ts';

/**
 * The most watts that can reach law `k` of the network, whatever it is: resistances from 1 µΩ to 1 GΩ in its place,
 * then a golden-section search about the best. `without` are laws that take nothing meanwhile.
 */
export function mostWatts(
  network: Network,
  k: number,
  without: readonly number[],
  solve: (network: Network, start?: Int32Array) => SolvedPoint,
): number {
  const { a, b } = network.laws[k]!;
  const laws: Law[] = network.laws.map((law, n) => (without.includes(n) ? { ...OPEN, a: law.a, b: law.b } : law));
  let pieces: Int32Array | undefined;
  const wattsAt = (exponent: number): number => {
    laws[k] = { sort: 'ohms', a, b, ohms: 10 ** exponent };
    const point = solve({ nodes: network.nodes, laws }, pieces);
    pieces = point.pieces;
    const watts = (point.volts[a]! - point.volts[b]!) * point.amps[k]!;
    return Number.isFinite(watts) ? watts : 0;
  };
  let best = 0;
  let where = 0;
  for (let exponent = -6; exponent <= 9; exponent += 0.5) {
    const watts = wattsAt(exponent);
    if (watts <= best) continue;
    best = watts;
    where = exponent;
  }
  if (best === 0) return 0;
  // The top may be a corner, where a source comes to its limit: the exponent decides every digit of the watts.
  const golden = (Math.sqrt(5) - 1) / 2;
  let low = where - 0.5;
  let high = where + 0.5;
  let x = high - golden * (high - low);
  let y = low + golden * (high - low);
  let atX = wattsAt(x);
  let atY = wattsAt(y);
  while (high - low > 1e-9) {
    if (atX > atY) {
      [high, y, atY] = [y, x, atX];
      x = high - golden * (high - low);
      atX = wattsAt(x);
    } else {
      [low, x, atX] = [x, y, atY];
      y = low + golden * (high - low);
      atY = wattsAt(y);
    }
  }
  return Math.max(best, atX, atY);
}

const OPEN = { sort: 'ohms', ohms: Number.POSITIVE_INFINITY } as const;
