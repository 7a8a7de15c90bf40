/**
 * Laws that take constant watts. Each is first taken as the resistance that would take its watts at the highest volts
 * there can be, which draws too little; then as the one for the volts just found, and so on. Resistances are monotone
 * laws, so every round is solved with certainty, and the volts fall monotonically to the highest solution or through
 * the lower end of the range, below which the law is a resistance. (It is the iteration i = P/v; a resistance for the
 * present volts rather than a fixed current, so that a limited source never contradicts it.)
 * Between rounds, tangents speed up the end: a tangent to P/v draws less than P/v everywhere, so it stays above the
 * solution; a step by tangents counts only where no curve changed its piece.
 */
import { type Compiled, CURVE, POWER } from './compile.ts';
import { HOLDS_AMPS, HOLDS_VOLTS, SLOPED } from './curve.ts';
import { operate } from './operate.ts';
import { holds, type Island, type Settled, SLACK, type Tally } from './settle.ts';

/** Rounds before giving up. Only a demand within 1e-6 of what can be delivered needs more than a few dozen. */
const MOST_ROUNDS = 4000;
const CLOSE = 1e-13;
/** Below this share of its volts without load a law without a lower end has found nothing to live on. */
const COLLAPSED = 1e-6;

export type Powered =
  | Settled
  /** Laws without a lower end whose volts fell to nothing. */
  | { readonly sort: 'collapsed'; readonly laws: number[] };

export function operateWithPower(c: Compiled, island: Island, tally: Tally): Powered {
  const powers: number[] = [];
  for (let k = 0; k < island.laws.length; k++) if (c.kind[island.laws[k]!] === POWER) powers.push(island.laws[k]!);
  if (powers.length === 0) return operate(c, island, tally);
  const top = highestVolts(c, island);
  let v = powers.map((k) => Math.min(lawOf(c, k).most, top));
  let first: readonly number[] | undefined;
  for (let round = 0; round < MOST_ROUNDS; round++) {
    powers.forEach((k, m) => {
      stampChord(c, k, v[m]!);
    });
    const settled = operate(c, island, tally);
    if (settled.sort !== 'settled') return settled;
    const found = powers.map((k) => voltsOf(c, k));
    first ??= found;
    const start = first;
    const collapsed = powers.filter(
      (k, m) => lawOf(c, k).least === 0 && !(found[m]! > COLLAPSED * Math.abs(start[m]!)),
    );
    if (collapsed.length > 0) return { sort: 'collapsed', laws: collapsed };
    if (arrived(c, powers, v, found)) {
      powers.forEach((k, m) => {
        c.piece[k] = section(lawOf(c, k), found[m]!);
      });
      return settled;
    }
    v = sharpen(c, island, powers, found, tally) ?? found;
  }
  return { sort: 'undecided' };
}

const lawOf = (c: Compiled, k: number) => c.network.laws[k] as { watts: number; least: number; most: number };

function voltsOf(c: Compiled, k: number): number {
  return c.linear.volts[c.linear.a[k]!]! - c.linear.volts[c.linear.b[k]!]!;
}

/** No two nodes can be further apart than all held volts and all driven currents through all ohms make together. */
function highestVolts(c: Compiled, island: Island): number {
  const { linear, kind } = c;
  let held = 1;
  let driven = 0;
  let ohms = 0;
  for (const k of island.laws) {
    if (kind[k] === CURVE) {
      const pieces = c.curves[k]!;
      let most = 0;
      for (let p = 0; p < pieces.count; p++) most = Math.max(most, Math.abs(pieces.v0[p]!));
      held += most;
    } else if (linear.mode[k] === HOLDS_VOLTS) held += Math.abs(linear.v0[k]!);
    else if (linear.mode[k] === HOLDS_AMPS) driven += Math.abs(linear.i0[k]!);
    else if (linear.mode[k] === SLOPED) ohms += 1 / linear.g[k]!;
  }
  return Math.min(held + driven * ohms, 1e9);
}

function section(law: { least: number; most: number }, v: number): number {
  return v < law.least ? 0 : v > law.most ? 2 : 1;
}

function stampChord(c: Compiled, k: number, v: number): void {
  const law = lawOf(c, k);
  const at = Math.min(Math.max(v, law.least), law.most);
  c.linear.mode[k] = SLOPED;
  c.linear.g[k] = law.watts / (at * at);
  c.linear.v0[k] = 0;
  c.linear.i0[k] = 0;
  c.piece[k] = section(law, v);
}

function stampTangent(c: Compiled, k: number, v: number): void {
  const law = lawOf(c, k);
  stampChord(c, k, v);
  if (section(law, v) !== 1) return;
  c.linear.g[k] = -law.watts / (v * v);
  c.linear.v0[k] = v;
  c.linear.i0[k] = law.watts / v;
}

/** The point lies on every law: the watts drawn at the volts found are the watts wanted. */
function arrived(c: Compiled, powers: readonly number[], used: readonly number[], found: readonly number[]): boolean {
  return powers.every((k, m) => {
    const law = lawOf(c, k);
    const clamp = (v: number): number => Math.min(Math.max(v, law.least), law.most);
    return Math.abs(clamp(used[m]!) - clamp(found[m]!)) <= CLOSE * Math.abs(clamp(found[m]!));
  });
}

/** Steps by tangents from `from` while no curve leaves its piece and the volts keep falling; where they ended. */
function sharpen(
  c: Compiled,
  island: Island,
  powers: readonly number[],
  from: readonly number[],
  tally: Tally,
): number[] | undefined {
  let best: number[] | undefined;
  let v = from;
  const pieces = island.curves.map((k) => c.piece[k]!);
  for (let round = 0; round < 30; round++) {
    powers.forEach((k, m) => {
      stampTangent(c, k, v[m]!);
    });
    const settled = holds(c, island, tally, SLACK);
    island.curves.forEach((k, m) => {
      c.piece[k] = pieces[m]!;
    });
    if (settled.sort !== 'settled') return best;
    const found = powers.map((k) => voltsOf(c, k));
    const falls = powers.every(
      (k, m) => found[m]! <= v[m]! * (1 + 1e-12) && section(lawOf(c, k), found[m]!) === section(lawOf(c, k), v[m]!),
    );
    if (!falls) return best;
    const still = powers.every((_, m) => Math.abs(found[m]! - v[m]!) <= 1e-15 * Math.abs(found[m]!));
    best = found;
    v = found;
    if (still) return best;
  }
  return best;
}
