/** How the ohms that a zone reads go with those of a leakage somewhere in its loop. */
import type { FaultSpread } from './contract.ts';
import { ENDS, type End } from './zone-scale.ts';

/**
 * R(L) = (open·L + short·knee) / (L + knee): in every network of ohms and steady sources a reading is such a quotient of
 * the ohms of one branch. Where the loop is open without the leakage, R(L) = short + rise·L.
 */
export interface Curve {
  readonly open: number;
  readonly short: number;
  readonly knee: number;
  readonly rise: number;
}

export type Curves = Readonly<Record<End, Curve>>;

/** Ohms of leakage at which a curve is taken, besides none and infinitely many. */
export const PROBE = 1000;

/** The curves through what is read without leakage, with none of its ohms, and with `PROBE`. */
export function curvesThrough(open: FaultSpread, short: FaultSpread, probed: FaultSpread): Curves {
  const at = (end: End): Curve => ({
    open: open[end],
    short: short[end],
    knee: (PROBE * (open[end] - probed[end])) / (probed[end] - short[end]),
    rise: (probed[end] - short[end]) / PROBE,
  });
  const [least, usual, most] = ENDS.map(at);
  return { least: least!, usual: usual!, most: most! };
}

export function ohmsAt({ open, short, knee, rise }: Curve, leak: number): number {
  if (open === Number.POSITIVE_INFINITY) return leak === Number.POSITIVE_INFINITY ? open : short + rise * leak;
  if (leak === Number.POSITIVE_INFINITY) return open;
  return knee > 0 && Number.isFinite(knee) ? (open * leak + short * knee) / (leak + knee) : open;
}

/** The leakage at which the loop has so many ohms; `undefined` where none does. */
export function leakAt({ open, short, knee, rise }: Curve, ohms: number): number | undefined {
  if (!(ohms > short && ohms < open)) return undefined;
  const leak = open === Number.POSITIVE_INFINITY ? (ohms - short) / rise : (knee * (ohms - short)) / (open - ohms);
  return leak > 0 && Number.isFinite(leak) ? leak : undefined;
}
