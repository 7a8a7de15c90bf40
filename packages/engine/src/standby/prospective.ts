/**
 * What flows when the far end of a core is shorted, and whether the fuse before it then opens.
 * Source: Ohm's law; IEC 60127 for the factors (2.1 × first must-open point, confirmed; 4 × from memory).
 */
import type { Value } from '../analysis/contract.ts';
import { extremesOf, type Ranged } from '../decay/extremes.ts';
import { copperFactor } from '../tables/copper.ts';
import { FUSE_PROMPT_FACTOR, IEC_60127 } from '../tables/fuses.ts';

/** The way of a fault's current. */
export interface FaultLoop {
  /** V of the supply without load, and its Ω. */
  readonly volts: Ranged;
  readonly sourceOhms: Ranged;
  /** Ω of copper at 20 °C, out and back, and °C along it. */
  readonly copperOhms: Ranged;
  readonly celsius: Ranged;
  /** Ω of what does not warm with the copper: fuse, contacts, arresters. */
  readonly otherOhms: Ranged;
  /** A that the supply holds when more is asked of it; absent: it does not limit. */
  readonly limit?: Ranged;
}

function loopOhms(values: readonly number[]): number {
  const [, source = 0, copper = 0, celsius = 20, other = 0] = values;
  return Math.max(0, source) + Math.max(0, copper) * Math.max(0, copperFactor(celsius)) + Math.max(0, other);
}

function unlimited(values: readonly number[]): number {
  const volts = Math.max(0, values[0]!);
  return volts === 0 ? 0 : volts / loopOhms(values);
}

function variablesOf(loop: FaultLoop) {
  return [
    { of: loop.volts, direction: 'rises' },
    { of: loop.sourceOhms, direction: 'falls' },
    { of: loop.copperOhms, direction: 'falls' },
    { of: loop.celsius, direction: 'falls' },
    { of: loop.otherOhms, direction: 'falls' },
    ...(loop.limit === undefined ? [] : [{ of: loop.limit, direction: 'rises' } as const]),
  ] as const;
}

function ampsAt(values: readonly number[]): number {
  return Math.min(unlimited(values), values[5] ?? Number.POSITIVE_INFINITY);
}

/** A through a short at the far end; least with the least volts and hot copper. Infinity where nothing resists. */
export function prospectiveAmps(loop: FaultLoop): Value {
  return extremesOf({ unit: 'A', variables: variablesOf(loop), at: ampsAt });
}

/** `never`: the fuse need not open at all; `slowly`: it may take more than seconds; `promptly`: neither. */
export type Clearing = 'never' | 'slowly' | 'promptly';

export interface FuseClearing {
  readonly amps: Value;
  /** Prospective current over the fuse's rating. */
  readonly ratio: Value;
  readonly clearing: Clearing;
  /** What holds the current down at its least. */
  readonly heldBy: 'loop' | 'limit';
  /** A from which the fuse must open, and from which it does so promptly, of the fuse at its most. */
  readonly mustOpenAmps: number;
  readonly promptAmps: number;
  /**
   * Ω of copper at 20 °C, out and back, up to which a short still opens the fuse promptly; negative where no copper would
   * do, because supply and contacts resist too much or the supply's limit is too low.
   */
  readonly copperForPrompt: number;
}

/** Factors of a fuse's rating: from where it must open at all, and from where it does so promptly. */
export interface ClearingFactors {
  readonly mustOpen: number;
  readonly prompt: number;
}

/** A fuse of `rated` A against a short at the far end of what it protects. */
export function fuseClearing(
  loop: FaultLoop,
  rated: Ranged,
  factors: ClearingFactors = {
    mustOpen: IEC_60127.mustOpen,
    prompt: FUSE_PROMPT_FACTOR,
  },
): FuseClearing {
  const amps = prospectiveAmps(loop);
  const ratio = extremesOf({
    unit: 'ratio',
    variables: [{ of: rated, direction: 'falls' }, ...variablesOf(loop)],
    at: ([fuse = 0, ...values]) => (fuse > 0 ? ampsAt(values) / fuse : Number.POSITIVE_INFINITY),
  });
  const promptAmps = factors.prompt * rated.most;
  const worst = [loop.volts.least, loop.sourceOhms.most, loop.copperOhms.most, loop.celsius.most, loop.otherOhms.most];
  const limit = loop.limit?.least ?? Number.POSITIVE_INFINITY;
  const rest = loopOhms([0, loop.sourceOhms.most, 0, 20, loop.otherOhms.most]);
  const left = loop.volts.least / promptAmps - rest;
  return {
    amps,
    ratio,
    clearing: ratio.least < factors.mustOpen ? 'never' : ratio.least < factors.prompt ? 'slowly' : 'promptly',
    heldBy: limit < unlimited(worst) ? 'limit' : 'loop',
    mustOpenAmps: factors.mustOpen * rated.most,
    promptAmps,
    copperForPrompt: limit < promptAmps ? Number.NEGATIVE_INFINITY : left / copperFactor(loop.celsius.most),
  };
}
