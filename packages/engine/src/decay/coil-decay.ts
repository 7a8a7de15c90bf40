/**
 * How the current of a coil dies away through its suppression: L di/dt = −R i − v(i), solved segment by segment in
 * closed form. Inductance is constant: the armature's movement is neglected.
 * Source: textbook solution of the RL circuit, OpenStax University Physics vol 2, 14.4; energy ½ L i², 14.3.
 */
import { lawVolts, type SuppressionLaw } from './law.ts';

/** A coil at one temperature: Ω, H, and the amperes in it when the switch opens. */
export interface CoilState {
  readonly ohms: number;
  readonly henries: number;
  readonly amps: number;
}

/** One straight piece of the way down, from `high` to `low` amperes; volts of the suppression are `rest` + `ohms` × i. */
interface Stretch {
  readonly high: number;
  readonly low: number;
  readonly rest: number;
  readonly ohms: number;
}

function stretches(law: SuppressionLaw, high: number, low: number): readonly Stretch[] {
  const found: Stretch[] = [];
  for (let k = law.length - 1; k >= 0; k--) {
    const { from, volts, ohms } = law[k]!;
    const top = Math.min(high, law[k + 1]?.from ?? Number.POSITIVE_INFINITY);
    const bottom = Math.max(low, from);
    if (top > bottom) found.push({ high: top, low: bottom, rest: Math.max(0, volts - ohms * from), ohms });
  }
  return found;
}

/** (L / R') ln((high + V/R') / (low + V/R')), in a form that stays exact for small drops and for R' = 0. */
function stretchSeconds(coil: CoilState, { high, low, rest, ohms }: Stretch): number {
  const total = Math.max(0, coil.ohms) + ohms;
  const against = total * low + rest;
  if (against === 0) return Number.POSITIVE_INFINITY;
  const fall = high - low;
  const x = (total * fall) / against;
  if (x < 1e-8) return ((coil.henries * fall) / against) * (1 - x / 2);
  return (coil.henries / total) * Math.log1p(x);
}

/**
 * Seconds from the opening of the switch until the coil's current has fallen to `amps`. 0 where it starts there or lower,
 * where nothing carries it or without inductance; Infinity where it only tends to there, or starts without bound.
 */
export function decaySeconds(coil: CoilState, law: SuppressionLaw, amps: number): number {
  const low = Math.max(0, amps);
  if (!(coil.amps > low) || !(coil.henries > 0) || law.length === 0) return 0;
  if (!Number.isFinite(coil.amps)) return Number.POSITIVE_INFINITY;
  return stretches(law, coil.amps, low).reduce((sum, stretch) => sum + stretchSeconds(coil, stretch), 0);
}

/** Amperes in the coil `seconds` after the switch has opened. */
export function decayAmps(coil: CoilState, law: SuppressionLaw, seconds: number): number {
  if (!(seconds > 0) || !(coil.amps > 0)) return Math.max(0, coil.amps);
  if (!(coil.henries > 0) || law.length === 0) return 0;
  let left = seconds;
  for (const stretch of stretches(law, coil.amps, 0)) {
    const lasts = stretchSeconds(coil, stretch);
    if (left >= lasts) {
      left -= lasts;
      continue;
    }
    const total = Math.max(0, coil.ohms) + stretch.ohms;
    const y = (left * total) / coil.henries;
    const shape = y < 1e-8 ? 1 - y / 2 : -Math.expm1(-y) / y;
    return Math.max(0, stretch.high - (((total * stretch.high + stretch.rest) * left) / coil.henries) * shape);
  }
  return 0;
}

/** Joules held by the coil when the switch opens: ½ L i². */
export function storedJoules(coil: Pick<CoilState, 'henries' | 'amps'>): number {
  return coil.henries > 0 ? 0.5 * coil.henries * coil.amps ** 2 : 0;
}

/** Joules that end in the suppression while the current dies away; the others warm the coil. */
export function suppressionJoules(coil: CoilState, law: SuppressionLaw): number {
  if (!(coil.amps > 0) || !(coil.henries > 0)) return 0;
  if (!Number.isFinite(coil.amps)) return law.length === 0 ? 0 : Number.POSITIVE_INFINITY;
  return stretches(law, coil.amps, 0).reduce((sum, stretch) => sum + stretchJoules(coil, stretch), 0);
}

/** L ∫ i v / (R i + v) di over the stretch. */
function stretchJoules(coil: CoilState, { high, low, rest, ohms }: Stretch): number {
  const { henries } = coil;
  const own = Math.max(0, coil.ohms);
  const total = own + ohms;
  if (own === 0) return 0.5 * henries * (high ** 2 - low ** 2);
  if (rest === 0) return (0.5 * henries * (high ** 2 - low ** 2) * ohms) / total;
  if (total * high < 0.1 * rest) {
    // Where the volts hardly depend on the current, differences would cancel; the integrand is smooth there.
    const half = (high - low) / 2;
    const middle = (high + low) / 2;
    return GAUSS.reduce((sum, [place, weight]) => {
      const amps = middle + half * place;
      const volts = rest + ohms * amps;
      return sum + (half * weight * henries * amps * volts) / (own * amps + volts);
    }, 0);
  }
  const fall = high - low;
  const seconds = (henries / total) * Math.log1p((total * fall) / (total * low + rest));
  const coulombs = (henries * fall - rest * seconds) / total;
  const squared = (0.5 * henries * (high ** 2 - low ** 2) - rest * coulombs) / total;
  return rest * coulombs + ohms * squared;
}

/** Places and weights of the Gauss–Legendre rule of six points on −1 .. 1. */
const GAUSS: readonly (readonly [number, number])[] = [
  [0.2386191860831969, 0.467913934572691],
  [0.6612093864662645, 0.3607615730481386],
  [0.932469514203152, 0.1713244923791704],
].flatMap(([place, weight]) => [[place!, weight!] as const, [-place!, weight!] as const]);

/**
 * Volts across the opened switch at their most, which is at the first instant: supply plus what the suppression holds at
 * the full current. Infinity where nothing carries the current.
 */
export function peakSwitchVolts(supplyVolts: number, coil: Pick<CoilState, 'amps'>, law: SuppressionLaw): number {
  return supplyVolts + lawVolts(law, coil.amps);
}
