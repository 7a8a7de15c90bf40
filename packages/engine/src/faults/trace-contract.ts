/** From readings to causes: what fits them how well, and what to measure next. Plain data; SI numbers. */
import type { Reading } from '../design/cases.ts';
import type { Design } from '../design/design.ts';
import type { Fault, FaultSpread, FaultVariant } from './contract.ts';
import type { Point } from './predict.ts';

/** One reading against what is predicted of it with one cause. */
export interface Fit {
  /** What the meter would show; absent where that cannot be computed. */
  readonly predicted?: FaultSpread;
  /** Within the parts' and the meter's tolerance. */
  readonly fits: boolean;
  /** How far outside that, in tolerances of the meter; 0 where it fits. */
  readonly off: number;
}

export interface Candidate {
  /** Absent for the site as it is written. */
  readonly fault?: Fault;
  readonly variant?: FaultVariant;
  /** 'as written', 'K1.11-14 welded', 'W1.GN shorted to W1.YE at pit'. */
  readonly name: string;
  /** Share of all candidates' weights, 0 to 1: each weighs exp(−off² / 2) for each reading, and all are as likely beforehand. */
  readonly weight: number;
  /** Candidates that fit equally well share a number, the best 0. */
  readonly group: number;
  /** In the order of `Trace.readings`. */
  readonly fits: readonly Fit[];
}

export interface TracedReading {
  readonly reading: Reading;
  /** With the site as it is written. */
  readonly predicted?: FaultSpread;
  /** What the reading may be if the site is as written: parts, joints, cable and meter. */
  readonly allowed?: { readonly least: number; readonly most: number };
  readonly asPredicted: boolean | 'not-evaluated';
  /** At the terminals of a zone: the class that the reading means, and the one that the case should bring. */
  readonly class?: string;
  readonly expectedClass?: string;
  /** Whether these are the same; absent elsewhere. */
  readonly inBand?: boolean;
  readonly reason?: string;
}

/** A reading that tells the leading candidates apart. */
export interface NextReading {
  readonly case: string;
  readonly point: Point;
  /** 'volts panel.Z4 to panel.ZC'. */
  readonly what: string;
  /** What the meter would show and for which candidates, by their index; each leading candidate once. */
  readonly outcomes: readonly { readonly spread: FaultSpread; readonly candidates: readonly number[] }[];
}

export interface Trace {
  readonly design: Design;
  readonly readings: readonly TracedReading[];
  /** Best first. */
  readonly candidates: readonly Candidate[];
  /** Nothing fits within three tolerances: more than one thing is wrong, or a reading is. */
  readonly unexplained: boolean;
  /** Absent where the site as written explains everything, or nothing tells the leading candidates apart. */
  readonly next?: NextReading;
}
