/** Schedules: what is joined to what, cables, relays, settings. */
import type { Component, ComponentOf, Design, TerminalId } from '@couplet/engine';
import { componentName, datumCell, placeName, terminalName } from './cells.ts';
import type { Section, SheetInput } from './model.ts';

/** For every terminal that a wire meets, the terminals that are one with it by a single wire. */
function neighbours(design: Design): ReadonlyMap<TerminalId, readonly TerminalId[]> {
  const map = new Map<TerminalId, TerminalId[]>();
  const add = (from: TerminalId, to: TerminalId) => map.set(from, [...(map.get(from) ?? []), to]);
  for (const { a, b } of design.joins) {
    add(a, b);
    add(b, a);
  }
  return map;
}

const partsOf = <K extends Component['kind']>(design: Design, kind: K): ComponentOf<K>[] =>
  design.components.filter((component): component is ComponentOf<K> => component.kind === kind);

/** One row a terminal of equipment; cores have a schedule of their own. */
export function terminalSchedule({ design }: SheetInput): Section | undefined {
  const rows = [...neighbours(design)]
    .filter(([id]) => design.components[design.terminals[id]?.component ?? -1]?.kind !== 'core')
    .map(([id, others]) => {
      const terminal = design.terminals[id]!;
      return [
        placeName(design, terminal.place),
        terminal.name,
        others
          .map((each) => terminalName(design, each))
          .sort()
          .join(', '),
        '',
      ];
    })
    .sort((one, other) => (`${one[0]} ${one[1]}` < `${other[0]} ${other[1]}` ? -1 : 1));
  if (rows.length === 0) return undefined;
  return { heading: 'Terminals', notes: [], table: { columns: ['place', 'terminal', 'joined to', 'done'], rows } };
}

export function cableSchedule({ design }: SheetInput): Section | undefined {
  const met = neighbours(design);
  const end = (id: TerminalId) =>
    (met.get(id) ?? [])
      .map((each) => terminalName(design, each))
      .sort()
      .join(', ') || 'open';
  const rows = partsOf(design, 'core').map((core) => {
    const cable = design.components[core.cable] as ComponentOf<'cable'>;
    return [
      cable.name,
      core.colour,
      `${placeName(design, design.terminals[core.a]?.place)}: ${end(core.a)}`,
      `${placeName(design, design.terminals[core.b]?.place)}: ${end(core.b)}`,
      datumCell(cable.length, 'm'),
      datumCell(cable.section, 'mm2'),
      datumCell(core.ohms, 'ohm'),
      '',
    ];
  });
  if (rows.length === 0) return undefined;
  const columns = ['cable', 'core', 'from', 'to', 'length', 'section', 'ohms at 20 °C', 'measured'];
  return {
    heading: 'Cables',
    notes: ['Ohms of one core, end to end, with both ends lifted.'],
    table: { columns, rows },
  };
}

export function relaySchedule({ design, analysis }: SheetInput): Section | undefined {
  const rest = analysis.cases[0]?.moments[0];
  const rows = partsOf(design, 'relay').map((relay) => [
    relay.name,
    relay.description ?? '',
    placeName(design, relay.place),
    datumCell(relay.rated, 'V'),
    datumCell(relay.ohms, 'ohm'),
    datumCell(relay.operates, 'V'),
    datumCell(relay.releases, 'V'),
    rest?.states(relay.id).join(' or ') ?? '',
    relay.contacts.map((id) => componentName(design, id)).join(', '),
  ]);
  if (rows.length === 0) return undefined;
  const columns = [
    'relay',
    'duty',
    'place',
    'rated',
    'coil at 20 °C',
    'operates at',
    'releases at',
    'at rest',
    'contacts',
  ];
  return { heading: 'Relays', notes: [], table: { columns, rows } };
}

export function settingsSchedule({ design }: SheetInput): Section | undefined {
  const rows = partsOf(design, 'unit').flatMap((unit) =>
    unit.settings.map((setting) => [unit.name, setting.name, setting.text, '']),
  );
  if (rows.length === 0) return undefined;
  return { heading: 'Settings', notes: [], table: { columns: ['unit', 'setting', 'value', 'made'], rows } };
}
