/** Capacitors of one island on their way from the volts that they have to those at which nothing flows into them. */
import type { Circuit } from '../analysis/circuit.ts';
import type { Measure } from '../analysis/extremes.ts';
import type { ComponentOf } from '../design/components.ts';
import type { Datum } from '../design/datum.ts';
import type { Seconds } from './stamp.ts';

/** A capacitor that moves: its farads, the volts that it has, and about those at which it settles. */
export interface Charged {
  readonly part: ComponentOf<'capacitor'>;
  readonly farads: Datum;
  readonly from: Seconds;
  readonly towards: Seconds;
}

/** Volts are listed in the order of the capacitors. */
export interface ChargeCurve {
  /** Volts at the start. */
  readonly from: readonly Seconds[];
  /** False where the island cannot be solved with the capacitors in it, as right across a supply. */
  readonly works: boolean;
  /** A figure at the usual parameters with the capacitors at some volts. */
  at(measure: (circuit: Circuit) => Measure, volts: readonly number[]): number | undefined;
  /**
   * Seconds until a figure is for the first time no longer what `stays` says, with their spread; Infinity where that never
   * comes. `least` and `most` may have predicates of their own, for figures that differ from specimen to specimen.
   */
  seconds(
    measure: (circuit: Circuit) => Measure,
    stays: (figure: number) => boolean,
    ends?: { readonly least?: (figure: number) => boolean; readonly most?: (figure: number) => boolean },
  ): Seconds;
  /**
   * Seconds until the name of a figure changes for the `count`-th time, with their spread; Infinity where it never does.
   */
  changes(measure: (circuit: Circuit) => Measure, name: (figure: number) => string, count: number): Seconds;
  /** Volts after a time at the usual parameters, and how far they may lie apart. */
  volts(after: Seconds): readonly Seconds[];
}
