/**
 * A coil whose suppression is a resistor and a capacitor in series: it swings, or dies away as the sum of two
 * exponentials. L di/dt = u − (R + Rs) i, C du/dt = −i, where u is what the capacitor holds in the coil's direction.
 * The same equations hold with the element across the coil and across the switch: in both, u starts at the coil's volts
 * and the supply's, and the switch sees supply − u + Rs i.
 * Source: textbook solution of the series RLC circuit, OpenStax University Physics vol 2, 14.6.
 */

/** Coil Ω, H and amperes at opening; Ω and F of the suppression; volts on its capacitor at opening. */
export interface RingState {
  readonly ohms: number;
  readonly henries: number;
  readonly amps: number;
  readonly seriesOhms: number;
  readonly farads: number;
  readonly capacitorVolts: number;
}

/** A quantity that obeys x'' + 2 α x' + ω0² x = 0. */
interface Swing {
  at(seconds: number): number;
  /** Seconds until x' is first zero after the start, Infinity where it never is. */
  readonly turns: number;
  /** Seconds from one turn to the next, Infinity where there is one at most. */
  readonly every: number;
  /** A time after which it has all but died away, for bracketing. */
  readonly slow: number;
  /** Natural logarithm of |x| at a turn over |x| at the next one. */
  readonly fade: number;
}

function swing(alpha: number, square: number, x0: number, slope0: number): Swing {
  const inner = square - alpha ** 2;
  if (inner > square * 1e-12) {
    const omega = Math.sqrt(inner);
    const b = (slope0 + alpha * x0) / omega;
    // x' = e^(−αt) (slope0 cos ωt − q sin ωt): its zeros lie half a turn apart.
    const q = alpha * b + omega * x0;
    const phase = Math.atan2(slope0, q);
    const turns = (phase > 0 ? phase : phase + Math.PI) / omega;
    return {
      at: (t) => Math.exp(-alpha * t) * (x0 * Math.cos(omega * t) + b * Math.sin(omega * t)),
      turns,
      every: Math.PI / omega,
      slow: 1 / alpha,
      fade: (alpha * Math.PI) / omega,
    };
  }
  const once = { every: Number.POSITIVE_INFINITY, fade: Number.POSITIVE_INFINITY };
  if (inner >= -square * 1e-12) {
    const b = slope0 + alpha * x0;
    const turns = b === 0 ? -1 : slope0 / (alpha * b);
    return { ...once, at: (t) => Math.exp(-alpha * t) * (x0 + b * t), turns: later(turns), slow: 1 / alpha };
  }
  const fast = -alpha - Math.sqrt(-inner);
  const slow = square / fast;
  const p = (slope0 - fast * x0) / (slow - fast);
  const r = (slow * x0 - slope0) / (slow - fast);
  const ratio = -(r * fast) / (p * slow);
  return {
    ...once,
    at: (t) => p * Math.exp(slow * t) + r * Math.exp(fast * t),
    turns: ratio > 0 ? later(Math.log(ratio) / (slow - fast)) : Number.POSITIVE_INFINITY,
    slow: -1 / slow,
  };
}

function later(seconds: number): number {
  return seconds > 0 ? seconds : Number.POSITIVE_INFINITY;
}

function coefficients(state: RingState): { readonly alpha: number; readonly square: number } {
  return {
    alpha: (state.ohms + state.seriesOhms) / (2 * state.henries),
    square: 1 / (state.henries * state.farads),
  };
}

function currentOf(state: RingState): Swing {
  const { alpha, square } = coefficients(state);
  const slope = (state.capacitorVolts - (state.ohms + state.seriesOhms) * state.amps) / state.henries;
  return swing(alpha, square, state.amps, slope);
}

function isPhysical({ ohms, henries, amps, seriesOhms, farads, capacitorVolts }: RingState): boolean {
  return (
    ohms > 0 &&
    henries > 0 &&
    amps > 0 &&
    seriesOhms >= 0 &&
    farads > 0 &&
    [ohms, henries, amps, seriesOhms, farads, capacitorVolts].every(Number.isFinite)
  );
}

/** Amperes in the coil `seconds` after the switch has opened; negative while it swings back. */
export function ringAmps(state: RingState, seconds: number): number {
  if (!(seconds > 0)) return state.amps;
  return isPhysical(state) ? currentOf(state).at(seconds) : 0;
}

export interface RingTimes {
  /** Seconds until the current first falls to the level. */
  readonly first: number;
  /** Seconds after which it stays within the level, whichever way it flows: an armature minds no direction. */
  readonly last: number;
}

/**
 * When the coil's current falls to `amps`, and when it stays there. Both 0 where it starts there or lower, and where the
 * values are not those of a coil with such an element. Infinity where it only tends to there.
 */
export function ringTimes(state: RingState, amps: number): RingTimes {
  if (!isPhysical(state) || state.amps <= amps) return { first: 0, last: 0 };
  const level = Math.max(0, amps);
  const current = currentOf(state);
  return {
    get first() {
      return firstFall(current, level);
    },
    get last() {
      return lastFall(current, level);
    },
  };
}

function firstFall(current: Swing, level: number): number {
  let from = 0;
  // The first turn may be a rise, the second is below nothing: more than three are never needed.
  for (
    let turn = current.turns;
    Number.isFinite(turn) && turn < current.turns + 3 * current.every;
    turn += current.every
  ) {
    if (current.at(turn) <= level) return crossing(current, level, from, turn);
    from = turn;
    if (!Number.isFinite(current.every)) break;
  }
  return tail(current, level, from);
}

function lastFall(current: Swing, level: number): number {
  if (!Number.isFinite(current.turns)) return tail(current, level, 0);
  if (Number.isFinite(current.every)) {
    const top = Math.abs(current.at(current.turns));
    if (top <= level) return firstFall(current, level);
    if (level === 0) return Number.POSITIVE_INFINITY;
    // The last turn still beyond the level: each is smaller than the one before by the same ratio.
    const count = Math.floor(Math.log(top / level) / current.fade);
    const turn = current.turns + count * current.every;
    return crossing(current, level, turn, turn + current.every);
  }
  if (Math.abs(current.at(current.turns)) <= level) return firstFall(current, level);
  return tail(current, level, current.turns);
}

/** After the last turn the size only falls, towards nothing. */
function tail(current: Swing, level: number, from: number): number {
  if (level === 0) return Number.POSITIVE_INFINITY;
  let until = from + current.slow;
  for (let k = 0; k < DOUBLINGS && Math.abs(current.at(until)) > level; k++) until = from + (until - from) * 2;
  return crossing(current, level, from, until);
}

/** e^(−2^64) is nothing for any level that a number can hold. */
const DOUBLINGS = 64;
const ROUNDS = 200;

/**
 * Where the size passes the level, on a way on which it only falls from beyond it to within it; it may go on through
 * nothing to the other side. Regula falsi with the Illinois weights: a stale end counts half.
 */
function crossing(current: Swing, level: number, from: number, until: number): number {
  const side = Math.sign(current.at(from));
  const excess = (seconds: number) => side * current.at(seconds) - level;
  let [beyond, within] = [from, until];
  let [above, below] = [excess(beyond), excess(within)];
  const close = 4e-16 * (above + level);
  if (below >= -close) return within;
  let stale = 0;
  for (let round = 0; round < ROUNDS; round++) {
    const cut = beyond + ((within - beyond) * above) / (above - below);
    const seconds = cut > beyond && cut < within ? cut : (beyond + within) / 2;
    if (seconds <= beyond || seconds >= within) break;
    const found = excess(seconds);
    if (Math.abs(found) <= close) return seconds;
    if (found > 0) {
      [beyond, above] = [seconds, found];
      if (stale === 1) below /= 2;
      stale = 1;
    } else {
      [within, below] = [seconds, found];
      if (stale === -1) above /= 2;
      stale = -1;
    }
  }
  return within;
}

/**
 * Volts across the coil against its own direction at their most: Rs i − u over all time. Add the supply's for what the
 * switch sees. The element's first jump, Rs i − u at the opening, counts.
 */
export function ringPeakVolts(state: RingState): number {
  const { seriesOhms, amps, capacitorVolts, henries, ohms, farads } = state;
  const start = seriesOhms * amps - capacitorVolts;
  if (!isPhysical(state)) return Number.isNaN(start) ? 0 : Math.max(0, start);
  const { alpha, square } = coefficients(state);
  const slope = (seriesOhms * (capacitorVolts - (ohms + seriesOhms) * amps)) / henries + amps / farads;
  const volts = swing(alpha, square, start, slope);
  const peaks = [start];
  if (Number.isFinite(volts.turns)) peaks.push(volts.at(volts.turns));
  if (Number.isFinite(volts.every)) peaks.push(volts.at(volts.turns + volts.every));
  return Math.max(0, ...peaks);
}

/** Joules that end in the element's resistor: its share of what the coil and the capacitor held at opening. */
export function ringJoules(state: RingState): number {
  if (!isPhysical(state)) return 0;
  const held = 0.5 * state.henries * state.amps ** 2 + 0.5 * state.farads * state.capacitorVolts ** 2;
  return (held * state.seriesOhms) / (state.ohms + state.seriesOhms);
}
