/**
 * The operating point of an island of monotone laws: flips first, then the proof that there is none, then the way down
 * the co-content, which is quick however large the island, then Lemke's method, which ends for certain but is dense.
 */
import type { Compiled } from './compile.ts';
import { HOLDS_AMPS, neighbourPiece } from './curve.ts';
import { descend } from './descend.ts';
import { contradictionIn } from './feasible.ts';
import { walkToSolution } from './lemke.ts';
import { holds, type Island, NO_AMPS, type Settled, SLACK, settle, type Tally } from './settle.ts';

/** What a point found in a roundabout way may lie off its pieces, as a share of the island's largest figure. */
const COARSE = 1e-9;

export function operate(c: Compiled, island: Island, tally: Tally): Settled {
  const settled = settle(c, island, tally);
  if (settled.sort === 'settled') return loosen(c, island, tally, settled);
  if (settled.sort === 'contradictory') return settled;
  // A point on a corner, to the rounding, flips to and fro: either piece is right.
  const chattering = holds(c, island, tally, COARSE);
  if (chattering.sort === 'settled') return loosen(c, island, tally, chattering);
  const laws = contradictionIn(c, island);
  if (laws !== undefined) return { sort: 'contradictory', laws };
  const descended = descend(c, island, tally);
  if (descended.sort === 'settled') return loosen(c, island, tally, descended);
  // A long row of curves each of which decides the next takes as many rounds as it has curves.
  const patient = settle(c, island, tally, Number.POSITIVE_INFINITY);
  if (patient.sort === 'settled') return loosen(c, island, tally, patient);
  for (const far of [1e3, 1e5, 1e7]) {
    for (const backwards of [false, true]) {
      if (!walkToSolution(c, island, far, backwards)) continue;
      const walked = holds(c, island, tally, COARSE);
      if (walked.sort === 'settled') return loosen(c, island, tally, walked);
    }
  }
  return { sort: 'undecided' };
}

/**
 * A curve that stands exactly where its level piece begins carries that current on either piece. On the level one it
 * does not tie its nodes together; where that is a solution as well, the voltage between them is not defined.
 */
function loosen(c: Compiled, island: Island, tally: Tally, settled: Settled): Settled {
  const { linear, piece } = c;
  let mostAmps = 0;
  for (const k of island.curves) mostAmps = Math.max(mostAmps, Math.abs(linear.amps[k]!));
  const moved: number[] = [];
  const was: number[] = [];
  for (const k of island.curves) {
    const pieces = c.curves[k]!;
    const p = piece[k]!;
    if (pieces.mode[p] === HOLDS_AMPS) continue;
    const level = levelBeside(c, k, SLACK * Math.max(mostAmps, pieces.iSize[p]!) + NO_AMPS);
    if (level < 0) continue;
    moved.push(k);
    was.push(p);
    piece[k] = level;
  }
  if (moved.length === 0) return settled;
  const loose = holds(c, island, tally, COARSE);
  if (loose.sort === 'settled') return loose;
  for (let m = 0; m < moved.length; m++) piece[moved[m]!] = was[m]!;
  const tight = holds(c, island, tally, COARSE);
  return tight.sort === 'settled' ? tight : { sort: 'undecided' };
}

/** The level piece that begins where curve `k` stands, or −1. */
function levelBeside(c: Compiled, k: number, slack: number): number {
  const pieces = c.curves[k]!;
  const p = c.piece[k]!;
  const i = c.linear.amps[k]!;
  const below = neighbourPiece(pieces, p, -1);
  if (below >= 0 && pieces.mode[below] === HOLDS_AMPS && Math.abs(i - pieces.iLow[p]!) <= slack) return below;
  const above = neighbourPiece(pieces, p, 1);
  return above >= 0 && pieces.mode[above] === HOLDS_AMPS && Math.abs(i - pieces.iHigh[p]!) <= slack ? above : -1;
}
