/**
 * Linear networks in exact arithmetic: nodal equations with currents of held volts as unknowns, over fractions of
 * whole numbers. Slow, and right to the last digit: what the solver is held against where rounding matters.
 */
import type { Network } from '@couplet/engine';

interface Fraction {
  readonly up: bigint;
  readonly down: bigint;
}

const ZERO: Fraction = { up: 0n, down: 1n };
const ONE: Fraction = { up: 1n, down: 1n };

function reduced(up: bigint, down: bigint): Fraction {
  let [a, b] = [up < 0n ? -up : up, down < 0n ? -down : down];
  while (b !== 0n) [a, b] = [b, a % b];
  const by = down < 0n ? -a : a;
  return { up: up / by, down: down / by };
}

/** The number that a double stands for, to the last bit. */
function fraction(x: number): Fraction {
  let down = 1n;
  let up = x;
  while (!Number.isInteger(up)) {
    up *= 2;
    down *= 2n;
  }
  return reduced(BigInt(up), down);
}

const minus = (x: Fraction, y: Fraction): Fraction => reduced(x.up * y.down - y.up * x.down, x.down * y.down);
const plus = (x: Fraction, y: Fraction): Fraction => reduced(x.up * y.down + y.up * x.down, x.down * y.down);
const times = (x: Fraction, y: Fraction): Fraction => reduced(x.up * y.up, x.down * y.down);
const over = (x: Fraction, y: Fraction): Fraction => reduced(x.up * y.down, x.down * y.up);
const negative = (x: Fraction): Fraction => ({ up: -x.up, down: x.down });

function toNumber({ up, down }: Fraction): number {
  if (up === 0n) return 0;
  // Keep 80 bits of the quotient, then scale: the division of two doubles would overflow.
  const shift = BigInt(80 + down.toString(2).length - up.toString(2).replace('-', '').length);
  const scaled = shift >= 0n ? (up << shift) / down : up / (down << -shift);
  return Number(scaled) * 2 ** Number(-shift);
}

/** Volts against node 0 and amperes, of a network of ohms (> 0), volts and amperes without floating parts or conflicts. */
export function solveExactly(network: Network): { volts: number[]; amps: number[] } {
  const held = network.laws.flatMap((law, k) => (law.sort === 'volts' ? [k] : []));
  const size = network.nodes - 1 + held.length;
  const m: Fraction[][] = Array.from({ length: size }, () => new Array<Fraction>(size + 1).fill(ZERO));
  const add = (row: number, column: number, x: Fraction): void => {
    if (row >= 0 && column >= 0) m[row]![column] = plus(m[row]![column]!, x);
  };
  network.laws.forEach((law, k) => {
    const [a, b] = [law.a - 1, law.b - 1];
    if (law.sort === 'ohms') {
      const g = over(ONE, fraction(law.ohms));
      add(a, a, g);
      add(b, b, g);
      add(a, b, negative(g));
      add(b, a, negative(g));
    } else if (law.sort === 'amps') {
      add(a, size, negative(fraction(law.amps)));
      add(b, size, fraction(law.amps));
    } else if (law.sort === 'volts') {
      const own = network.nodes - 1 + held.indexOf(k);
      add(a, own, ONE);
      add(b, own, negative(ONE));
      add(own, a, ONE);
      add(own, b, negative(ONE));
      add(own, size, fraction(law.volts));
    }
  });
  for (let k = 0; k < size; k++) {
    const pivot = m.findIndex((row, r) => r >= k && row[k]!.up !== 0n);
    [m[k], m[pivot]] = [m[pivot]!, m[k]!];
    for (let r = k + 1; r < size; r++) {
      if (m[r]![k]!.up === 0n) continue;
      const factor = over(m[r]![k]!, m[k]![k]!);
      for (let j = k; j <= size; j++) if (m[k]![j]!.up !== 0n) m[r]![j] = minus(m[r]![j]!, times(factor, m[k]![j]!));
    }
  }
  const x = new Array<Fraction>(size).fill(ZERO);
  for (let k = size - 1; k >= 0; k--) {
    let rest = m[k]![size]!;
    for (let j = k + 1; j < size; j++) rest = minus(rest, times(m[k]![j]!, x[j]!));
    x[k] = over(rest, m[k]![k]!);
  }
  const v = [ZERO, ...x.slice(0, network.nodes - 1)];
  return {
    volts: v.map(toNumber),
    amps: network.laws.map((law, k) => {
      if (law.sort === 'amps') return law.amps;
      if (law.sort === 'volts') return toNumber(x[network.nodes - 1 + held.indexOf(k)]!);
      if (law.sort !== 'ohms') throw new Error('linear laws only');
      return toNumber(over(minus(v[law.a]!, v[law.b]!), fraction(law.ohms)));
    }),
  };
}
