/** What the reports of single faults are written from. */
import type { Fault, FaultRow, FaultTable, Origin, ZoneFaults } from '@couplet/engine';
import { faultAcceptance, nameIn, type TextPlace } from '@couplet/project';

export { faultName, nameIn } from '@couplet/project';

export interface SiteFaults {
  readonly title: string;
  readonly file: string;
  /** Errors that `couplet check` finds. */
  readonly errors: number;
  readonly table: FaultTable;
  /** ISO date by which acceptances are judged. */
  readonly today: string;
  /** Where something is written. */
  show(origin: Origin): (TextPlace & { readonly file: string }) | undefined;
}

/** What is asked for; everything where it is absent. */
export interface FaultSelection {
  readonly classes?: readonly string[];
  readonly zones?: readonly string[];
}

export function selectedZones({ table }: SiteFaults, { zones }: FaultSelection): readonly ZoneFaults[] {
  return table.zones.filter(({ zone }) => zones === undefined || zones.includes(nameIn(table.design, zone)));
}

export function selectedRows(zone: ZoneFaults, { classes }: FaultSelection): readonly FaultRow[] {
  return zone.rows.filter((row) => classes === undefined || classes.includes(row.class));
}

/** Why a blind fault is tolerated, when an acceptance in force names it. */
export function acceptanceOf({ table, today }: SiteFaults, fault: Fault): string | undefined {
  return faultAcceptance(table.design, fault, today);
}
