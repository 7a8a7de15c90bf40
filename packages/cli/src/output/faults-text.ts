/** Single faults for a person: zone by zone the worst first, what reads alike together. */
import {
  type FaultCell,
  type FaultRow,
  formatFigure,
  formatRange,
  LOOP_DIGITS,
  type PassedError,
  type ZoneFaults,
} from '@couplet/engine';
import type { Paint, Shade } from '../terminal.ts';
import {
  acceptanceOf,
  type FaultSelection,
  faultName,
  nameIn,
  type SiteFaults,
  selectedRows,
  selectedZones,
} from './site-faults.ts';

/** Sections of a zone, in the order in which a reader needs them. */
const SECTIONS: readonly { readonly class: FaultRow['class']; readonly says: string; readonly shade: Shade }[] = [
  { class: 'blind', says: 'blind: the panel shows normal, and the event is lost', shade: 'red' },
  { class: 'misread', says: 'misread: the event arrives as something else', shade: 'yellow' },
  { class: 'quiet', says: 'quiet: the panel shows normal, and the event still arrives', shade: 'blue' },
  { class: 'announced', says: 'announced: the panel tells at once', shade: 'green' },
  { class: 'not-evaluated', says: 'not evaluated', shade: 'dim' },
];

export function textFaults(sites: readonly SiteFaults[], selection: FaultSelection, paint: Paint): string {
  const lines: string[] = [];
  for (const site of sites) {
    if (lines.length > 0) lines.push('');
    lines.push(paint('bold', `${site.title} (${site.file})`));
    if (site.errors > 0) {
      const word = site.errors === 1 ? 'an error' : `${site.errors} errors`;
      lines.push(paint('yellow', `'couplet check' finds ${word} here: the table shows the site as it is written.`));
    }
    lines.push(tolerated(site));
    for (const zone of selectedZones(site, selection)) lines.push('', ...zoneLines(site, zone, selection, paint));
    lines.push(...loadLines(site, selection, paint));
  }
  return `${lines.join('\n')}\n`;
}

/** Blind service faults over all zones, against what the site tolerates. */
function tolerated(site: SiteFaults): string {
  const { blindService, design } = site.table;
  const accepted = blindService.filter((fault) => acceptanceOf(site, fault) !== undefined).length;
  const by = accepted === 0 ? '' : `, ${accepted} of them accepted by name`;
  return `blind service faults: ${blindService.length}${by}; the site tolerates ${design.site.blind?.usual ?? 0}`;
}

function zoneLines(site: SiteFaults, zone: ZoneFaults, selection: FaultSelection, paint: Paint): string[] {
  const { design } = site.table;
  const head = paint('bold', `zone ${nameIn(design, zone.zone)}`);
  if (zone.rows.length === 0) return [`${head}: not evaluated: ${reasonOf(site, zone)}`];
  const lines = [`${head}: ${countsOf(zone)}${zone.reason === undefined ? '' : `; ${zone.reason}`}`];
  const rows = selectedRows(zone, selection);
  const names = rows.map(faultName);
  const width = Math.max(NOTHING_WRONG.length, ...names.map((name) => name.length + 2));
  const columns = ['rest', ...zone.columns.map(({ name, expected }) => `${name} (${expected})`)];
  const healthy = [zone.healthy.rest, ...zone.healthy.cells].map((cell) => cellText(cell));
  const cells = rows.map((row) => [row.rest, ...row.cells].map((cell) => cellText(cell)));
  const widths = columns.map((column, i) =>
    Math.max(column.length, healthy[i]?.length ?? 0, ...cells.map((row) => row[i]?.length ?? 0)),
  );
  const line = (name: string, texts: readonly string[]) =>
    `    ${name.padEnd(width)}  ${texts.map((text, i) => text.padEnd(widths[i] ?? 0)).join('  ')}`.trimEnd();
  lines.push(paint('dim', line('', columns)), line(NOTHING_WRONG, healthy));
  for (const { class: name, says, shade } of SECTIONS) {
    const section = rows.map((row, i) => ({ row, texts: cells[i] ?? [] })).filter(({ row }) => row.class === name);
    if (section.length === 0) continue;
    lines.push(`  ${paint(shade, says)}`);
    const told = new Set<number>();
    for (const { row, texts } of section) {
      if (told.has(row.group)) continue;
      told.add(row.group);
      section
        .filter(({ row: other }) => other.group === row.group)
        .forEach(({ row: other }, i) => {
          const note = noteOf(site, other, paint);
          lines.push(`${i === 0 ? line(faultName(other), texts) : `    = ${faultName(other)}`}${note}`);
        });
    }
  }
  lines.push(...windowLines(zone, selection), ...passedLines(zone, selection));
  return lines;
}

const NOTHING_WRONG = 'nothing wrong';

function noteOf(site: SiteFaults, row: FaultRow, paint: Paint): string {
  const notes: string[] = [];
  if (row.fault.group === 'fitting') notes.push('fitting');
  if (row.class === 'quiet' && row.unchanged) notes.push('changes nothing here');
  if (row.class === 'not-evaluated' && row.reason !== undefined) notes.push(row.reason);
  if (row.usualOnly) notes.push('usual figures only');
  const accepted = row.class === 'blind' ? acceptanceOf(site, row.fault) : undefined;
  if (accepted !== undefined) notes.push(`accepted: ${accepted}`);
  return notes.length === 0 ? '' : paint('dim', `  (${notes.join('; ')})`);
}

function countsOf({ rows }: ZoneFaults): string {
  const groups = [
    ['service', 'service fault'],
    ['fitting', 'fitting error'],
  ] as const;
  const texts = groups.flatMap(([group, word]) => {
    const own = rows.filter(({ fault }) => fault.group === group);
    if (own.length === 0) return [];
    const counts = SECTIONS.flatMap(({ class: name }) => {
      const count = own.filter((row) => row.class === name).length;
      return count === 0 ? [] : [`${count} ${name.replace('-', ' ')}`];
    });
    return [`${counts.join(', ')} of ${own.length} ${word}${own.length === 1 ? '' : 's'}`];
  });
  return texts.join('; ');
}

function reasonOf(site: SiteFaults, { reason, needs }: ZoneFaults): string {
  const lacks = needs.map(({ component, property }) => `${nameIn(site.table.design, component)} ${property}`);
  return lacks.length === 0 ? (reason ?? 'no fault reaches it') : `needs ${lacks.join(', ')}`;
}

/** '2.227 kΩ normal', 'open alarm', '1.1 kΩ normal or short'. */
export function cellText(cell: FaultCell): string {
  const { ohms, possible, reason } = cell;
  if (possible.length === 0) return reason === 'announced at rest' ? '·' : 'not evaluated';
  const names = possible.map((name) => name ?? 'outside every band').join(' or ');
  const figure = ohms === undefined ? 'no connection' : formatFigure(ohms.usual, 'ohm', { digits: LOOP_DIGITS });
  return `${figure} ${names}`;
}

function windowLines(zone: ZoneFaults, { classes }: FaultSelection): string[] {
  const windows = zone.leakage.filter(({ answer }) => classes === undefined || classes.includes(answer));
  if (windows.length === 0) return [];
  const ohms = ({ from, to }: { from: number; to: number }) =>
    to === Number.POSITIVE_INFINITY
      ? `from ${formatFigure(from, 'ohm', { digits: LOOP_DIGITS })} up`
      : formatRange(from, to, 'ohm', { digits: LOOP_DIGITS });
  return [
    '  leakage between the legs that hides an event',
    ...windows.map(({ answer, caseName, readsAs, usual, where, worst }) => {
      const as = answer === 'misread' ? ` as ${readsAs ?? 'outside every band'}` : '';
      const span = usual === undefined ? '' : `${ohms(usual)}; `;
      return `    ${caseName}: ${answer}${as} ${span}at worst ${ohms(worst)}, ${where}`;
    }),
  ];
}

function passedLines({ passed }: ZoneFaults, { classes }: FaultSelection): string[] {
  const shown = passed.filter(({ newlyBlind }) => newlyBlind.length > 0);
  if (shown.length === 0 || (classes !== undefined && !classes.includes('blind'))) return [];
  return [
    '  fitting errors that read as predicted, and what is blind with them and not without',
    ...shown.map(({ fault, newlyBlind }) => `    ${fault.name}: ${blindNames(newlyBlind)}`),
  ];
}

function blindNames(newlyBlind: PassedError['newlyBlind']): string {
  return newlyBlind.map(({ fault, caseName }) => `${fault.name} (${caseName})`).join(', ');
}

function loadLines({ table }: SiteFaults, selection: FaultSelection, paint: Paint): string[] {
  if (table.loads.length === 0 || selection.classes !== undefined || selection.zones !== undefined) return [];
  const lines = ['', paint('bold', 'faults that leave every zone alone and fail an expectation')];
  for (const [component, list] of Map.groupBy(table.loads, (load) => load.component)) {
    lines.push(`  ${table.design.components[component]?.kind} ${nameIn(table.design, component)}`);
    for (const [fault, all] of Map.groupBy(list, (load) => load.fault)) {
      const cases = [...new Set(all.map(({ caseName }) => caseName))].join(', ');
      lines.push(`    ${fault.name}: ${cases}`);
    }
  }
  return lines;
}
