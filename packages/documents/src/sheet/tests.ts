/** What is measured and operated on site: predicted values with a blank beside each. */
import { type CaseAnalysis, type Component, LOOP_DIGITS, type Moment } from '@couplet/engine';
import { figureCell, momentName } from './cells.ts';
import type { Section, SheetInput } from './model.ts';

/** Every zone in every moment that may change it: rest in full, then what differs. */
export function loopSheet({ design, analysis }: SheetInput): Section | undefined {
  const zones = wired(
    design.components.filter((part) => part.kind === 'zone'),
    design,
  );
  const rows = zones.flatMap((zone) =>
    momentsOf(analysis.cases, zone).map(({ caseName, moment }) => {
      const reading = moment.reading(zone.id);
      return [
        zone.name,
        momentName(caseName, moment),
        reading.possible.map((name) => name ?? 'outside every band').join(' or '),
        figureCell(reading.ohms, design, LOOP_DIGITS),
        '',
        figureCell(reading.volts, design, LOOP_DIGITS),
        '',
      ];
    }),
  );
  if (rows.length === 0) return undefined;
  const notes = [
    'Ohms: circuit dead, loop lifted at the panel. Volts: circuit live, across zone and return.',
    'A reading inside its band is not enough: it shall also be as predicted. A resistor at the wrong end reads right at rest.',
  ];
  const columns = ['zone', 'case', 'panel shows', 'ohms predicted', 'measured', 'volts predicted', 'measured'];
  return { heading: 'Loops', notes, table: { columns, rows } };
}

/** Volts and amperes of every load and coil where they are meant to work. */
export function loadSheet({ design, analysis }: SheetInput): Section | undefined {
  const parts = design.components.filter((part) => part.kind === 'load' || part.kind === 'relay');
  const rows = wired(parts, design).flatMap((part) =>
    momentsOf(analysis.cases, part).map(({ caseName, moment }) => {
      const [a, b] = part.kind === 'relay' ? [part.coil.a, part.coil.b] : [part.a, part.b];
      return [
        part.name,
        momentName(caseName, moment),
        moment.states(part.id).join(' or '),
        figureCell(moment.volts(a, b), design),
        '',
        figureCell(moment.amps(part.id), design),
        '',
      ];
    }),
  );
  if (rows.length === 0) return undefined;
  const columns = ['part', 'case', 'state', 'volts predicted', 'measured', 'amperes predicted', 'measured'];
  return { heading: 'Loads and coils', notes: [], table: { columns, rows } };
}

/** Every case as it is to be operated, with what shall be seen. */
export function functionSheet({ analysis }: SheetInput): Section | undefined {
  const rows = analysis.cases.flatMap((each) => {
    const done = each.moments.map((moment) => moment.label).join('; ');
    const { length } = each.verdicts;
    if (length === 0) return [];
    const borne = each.verdicts.filter((verdict) => verdict.holds === true).length;
    return [[each.name, each.case?.description ?? '', done, `${borne} of ${length}`, '', '']];
  });
  if (rows.length === 0) return undefined;
  const columns = [
    'case',
    'what happens',
    'how it is brought about',
    'expectations the computation bears out',
    'seen',
    'date, name',
  ];
  return { heading: 'Operating tests', notes: [], table: { columns, rows } };
}

interface At {
  readonly caseName: string;
  readonly moment: Moment;
}

/** Rest, and the moments of other cases that may differ from it for this part. */
function momentsOf(cases: readonly CaseAnalysis[], part: Component): At[] {
  return cases.flatMap((each, index) =>
    each.moments
      .filter((moment) => {
        const affected = moment.affected();
        return index === 0 || affected === 'all' || affected.has(part.id);
      })
      .map((moment) => ({ caseName: each.name, moment })),
  );
}

function wired<C extends Component>(parts: readonly C[], design: SheetInput['design']): C[] {
  const joined = new Set(design.joins.flatMap((join) => [join.a, join.b]));
  return parts.filter((part) => {
    if (part.kind === 'relay') return joined.has(part.coil.a) || joined.has(part.coil.b);
    return 'a' in part && joined.has(part.a);
  });
}
