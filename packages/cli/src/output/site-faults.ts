/** What the reports of single faults are written from. */
import type { ComponentId, Design, Fault, FaultRow, FaultTable, Origin, ZoneFaults } from '@couplet/engine';
import type { TextPlace } from '@couplet/project';

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

export function nameIn(design: Design, component: ComponentId): string {
  return design.components[component]?.name ?? '';
}

export function selectedZones({ table }: SiteFaults, { zones }: FaultSelection): readonly ZoneFaults[] {
  return table.zones.filter(({ zone }) => zones === undefined || zones.includes(nameIn(table.design, zone)));
}

export function selectedRows(zone: ZoneFaults, { classes }: FaultSelection): readonly FaultRow[] {
  return zone.rows.filter((row) => classes === undefined || classes.includes(row.class));
}

/** The fault with the end at which it is worst, where it may stand at either. */
export function faultName(row: FaultRow): string {
  const { fault, variant } = row;
  return fault.variants.length > 1 && variant.where !== undefined ? `${fault.name} ${variant.where}` : fault.name;
}

/** Why a blind fault is tolerated, when an acceptance in force names it. */
export function acceptanceOf({ table, today }: SiteFaults, fault: Fault): string | undefined {
  const { design } = table;
  const found = design.acceptances.find(
    ({ rule, fault: word, targets, until }) =>
      rule === 'silent-fault' &&
      word === fault.word &&
      (until === undefined || today <= until) &&
      ownersOf(design, fault.component).some((id) => targets.includes(id)),
  );
  return found?.because;
}

function ownersOf(design: Design, component: ComponentId): readonly ComponentId[] {
  const owners: ComponentId[] = [];
  for (let at: ComponentId | undefined = component; at !== undefined && !owners.includes(at); ) {
    owners.push(at);
    at = design.components[at]?.owner;
  }
  return owners;
}
