/** Factors of rated current at which fuses hold and open. */
import type { Provenance } from './provenance.ts';

export interface FuseFactors {
  /** Carried without end. */
  readonly carries: number;
  /** Held for at least an hour. */
  readonly holds: number;
  /** First factor at which the fuse must open at all. */
  readonly mustOpen: number;
  /** Share of the rating that a design loads it with. */
  readonly load: number;
  readonly provenance: Provenance;
}

export const IEC_60127: FuseFactors = {
  carries: 1,
  holds: 1.5,
  mustOpen: 2.1,
  load: 1,
  provenance: { source: 'IEC 60127, miniature fuses', status: 'confirmed' },
};

export const UL_248_14: FuseFactors = {
  carries: 1,
  holds: 1.1,
  mustOpen: 1.35,
  load: 0.75,
  provenance: { source: 'UL 248-14, supplemental fuses', status: 'confirmed' },
};

/** Factor of rated current below which a miniature fuse may take more than seconds. */
export const FUSE_PROMPT_FACTOR = 4;

export const FUSE_PROMPT_PROVENANCE: Provenance = { source: 'IEC 60127, time-current gates', status: 'from memory' };
