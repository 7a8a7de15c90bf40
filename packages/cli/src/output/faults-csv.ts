/** Single faults as comma-separated values (RFC 4180): one line a zone, fault and column; SI numbers. */
import type { FaultCell, FaultRow, FaultSpread } from '@couplet/engine';
import { cell } from './csv.ts';
import {
  acceptanceOf,
  type FaultSelection,
  faultName,
  nameIn,
  type SiteFaults,
  selectedRows,
  selectedZones,
} from './site-faults.ts';

const HEAD = [
  'site',
  'zone',
  'fault',
  'group',
  'word',
  'part',
  'class',
  'decided by',
  'reads like',
  'case',
  'expected',
  'answer',
  'reads',
  'ohms least',
  'ohms usual',
  'ohms most',
  'volts least',
  'volts usual',
  'volts most',
  'says',
] as const;

export function csvFaults(sites: readonly SiteFaults[], selection: FaultSelection): string {
  const lines: (readonly (string | number)[])[] = [HEAD];
  for (const site of sites) {
    for (const zone of selectedZones(site, selection)) {
      for (const row of selectedRows(zone, selection)) {
        const columns = [{ name: 'rest', expected: '' }, ...zone.columns];
        [row.rest, ...row.cells].forEach((each, i) => {
          lines.push([
            ...headOf(site, nameIn(site.table.design, zone.zone), row),
            ...cellsOf(each, columns[i], row, site),
          ]);
        });
      }
    }
  }
  return lines.map((line) => `${line.map(cell).join(',')}\r\n`).join('');
}

function headOf(site: SiteFaults, zone: string, row: FaultRow): (string | number)[] {
  const { fault } = row;
  const part = nameIn(site.table.design, fault.component);
  return [
    site.title,
    zone,
    faultName(row),
    fault.group,
    fault.word,
    part,
    row.class,
    row.caseName ?? 'rest',
    row.group,
  ];
}

function cellsOf(
  { answer, certain, ohms, possible, reason, volts }: FaultCell,
  column: { readonly name: string; readonly expected: string } | undefined,
  row: FaultRow,
  site: SiteFaults,
): (string | number)[] {
  const accepted = row.class === 'blind' ? acceptanceOf(site, row.fault) : undefined;
  const notes = [
    ...(reason === undefined ? [] : [reason]),
    ...(certain ? [] : ['least and most answer differently']),
    ...(row.usualOnly ? ['usual figures only'] : []),
    ...(accepted === undefined ? [] : [`accepted: ${accepted}`]),
  ];
  return [
    column?.name ?? '',
    column?.expected ?? '',
    answer,
    possible.map((name) => name ?? 'outside every band').join(' or '),
    ...numbers(ohms),
    ...numbers(volts),
    notes.join('; '),
  ];
}

function numbers(spread: FaultSpread | undefined): (string | number)[] {
  return spread === undefined ? ['', '', ''] : [spread.least, spread.usual, spread.most];
}
