/** Short ways to look things up in a fault table. */
import type { Design, FaultRow, FaultTable, ZoneFaults } from '@couplet/engine';

export function zoneNamed(table: FaultTable, name: string): ZoneFaults {
  const found = table.zones.find(({ zone }) => table.design.components[zone]!.name === name);
  if (found === undefined) throw new Error(`The table has no zone ${name}`);
  return found;
}

export function rowNamed(zone: ZoneFaults, name: string): FaultRow {
  const found = zone.rows.find(({ fault }) => fault.name === name);
  if (found === undefined)
    throw new Error(`No row ${name}; there are ${zone.rows.map((row) => row.fault.name).join(', ')}`);
  return found;
}

/** Classes by the names of their faults. */
export function classesOf(zone: ZoneFaults): Readonly<Record<string, string>> {
  return Object.fromEntries(zone.rows.map((row) => [row.fault.name, row.class]));
}

/** Usual ohms at rest and in each case, to a tenth of an ohm. */
export function ohmsOf(row: FaultRow): readonly (string | undefined)[] {
  return [row.rest, ...row.cells].map(({ ohms }) => ohms?.usual.toFixed(1));
}

export function nameOf(design: Design, component: number): string {
  return design.components[component]!.name;
}
