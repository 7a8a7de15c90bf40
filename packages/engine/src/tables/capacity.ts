/** What a core carries without overheating. */
import type { Provenance } from './provenance.ts';

export const CAPACITY_PROVENANCE: Provenance = {
  source: 'IEC 60204-1, table 6: PVC at 40 °C; below 0.5 mm² common practice',
  status: 'from memory',
};

/** Installation methods: B1 wires in a conduit, B2 cable in a conduit, C on a wall, E on an open tray. */
export type Installation = 'B1' | 'B2' | 'C' | 'E';

export interface CapacityRow {
  /** mm². */
  readonly mm2: number;
  /** Amperes by installation method; a method the table does not have is absent. */
  readonly amps: Readonly<Partial<Record<Installation, number>>>;
}

export const IEC_60204_CAPACITY: readonly CapacityRow[] = [
  { mm2: 0.5, amps: { B2: 7.5, C: 7.5, E: 7.8 } },
  { mm2: 0.75, amps: { B1: 8.6, B2: 8.5, C: 9.8, E: 10.4 } },
  { mm2: 1, amps: { B1: 10.3, B2: 10.1, C: 11.7, E: 12.4 } },
  { mm2: 1.5, amps: { B1: 13.5, B2: 13.1, C: 15.2, E: 16.1 } },
  { mm2: 2.5, amps: { B1: 18.3, B2: 17.4, C: 21, E: 22 } },
];

/** Amperes of a core below 0.5 mm²: common practice for alarm cable. (The table allows pairs of electronics far more.) */
export const SMALL_CORE_AMPS = 1;

/**
 * Amperes that a core of `mm2` carries: the table's value for a cable in a conduit (B2, its lowest), of the next smaller
 * section in the table, so that beyond 2.5 mm², where this table ends, the figure errs on the safe side.
 */
export function coreCapacity(mm2: number): { readonly amps: number; readonly assumption: string } {
  const row = IEC_60204_CAPACITY.findLast((each) => each.mm2 <= mm2 * (1 + 1e-9));
  if (row === undefined) {
    return {
      amps: SMALL_CORE_AMPS,
      assumption: `core below 0.5 mm² taken to carry ${SMALL_CORE_AMPS} A (common practice)`,
    };
  }
  const amps = row.amps.B2 as number;
  return {
    amps,
    assumption: `core of ${row.mm2} mm² taken to carry ${amps} A (IEC 60204-1, PVC at 40 °C in a conduit)`,
  };
}
