/** The computed table of a site: for every case and moment what each wired part does, as data for any consumer. */
import type { Analysis, Component, ComponentId, Design, Figure, Moment, Origin, TerminalId } from '@couplet/engine';

export type Quantity = 'volts' | 'ohms' | 'amps' | 'watts';

export interface QuantityFigure {
  readonly quantity: Quantity;
  /** 'A1 to A2' where a part has more than one pair of terminals of the kind. */
  readonly between?: string;
  readonly figure: Figure;
  /** Where the figure is not evaluated: what it needs, as 'level.V12 limit'. */
  readonly needs?: readonly string[];
}

/** One part at one moment. */
export interface FigureRow {
  readonly component: ComponentId;
  readonly name: string;
  readonly description?: string;
  readonly kind: Component['kind'];
  readonly origin: Origin;
  /** States or classes it may be in, the usual one first; 'outside every band' where a zone's reading is in none. */
  readonly states: readonly string[];
  readonly figures: readonly QuantityFigure[];
}

export interface MomentFigures {
  /** Seconds since the case began. */
  readonly time: number;
  readonly label: string;
  /** False: every part that has no row is as at rest. */
  readonly complete: boolean;
  readonly rows: readonly FigureRow[];
}

export interface CaseFigures {
  readonly name: string;
  readonly description?: string;
  readonly moments: readonly MomentFigures[];
}

/** What is said of a part of each kind; kinds without an entry are not in the table. Their order is that of the table. */
const ROWS: {
  readonly [K in Component['kind']]?: (
    part: Extract<Component, { kind: K }>,
    moment: Moment,
  ) => { readonly states: readonly string[]; readonly figures: readonly QuantityFigure[] };
} = {
  source: (part, moment) => ({
    states: [],
    figures: [volts(moment, part.a, part.b), { quantity: 'amps', figure: moment.amps(part.id) }],
  }),
  feed: (part, moment) => ({
    states: [],
    figures: [volts(moment, part.a, part.b), { quantity: 'amps', figure: moment.amps(part.id) }],
  }),
  fuse: (part, moment) => ({
    states: moment.states(part.id),
    figures: [{ quantity: 'amps', figure: moment.amps(part.id) }],
  }),
  output: (part, moment) => ({
    states: moment.states(part.id),
    figures: [
      { quantity: 'amps', figure: moment.amps(part.id) },
      ...(part.returns === undefined ? [] : [volts(moment, part.a, part.returns)]),
    ],
  }),
  relay: (part, moment) => ({
    states: moment.states(part.id),
    figures: [
      volts(moment, part.coil.a, part.coil.b, part.secondCoil && 'A1 to A2'),
      ...(part.secondCoil ? [volts(moment, part.secondCoil.a, part.secondCoil.b, 'B1 to B2')] : []),
      { quantity: 'amps', figure: moment.amps(part.id) },
    ],
  }),
  load: (part, moment) => ({
    states: moment.states(part.id),
    figures: [
      volts(moment, part.a, part.b),
      { quantity: 'amps', figure: moment.amps(part.id) },
      { quantity: 'watts', figure: moment.watts(part.id) },
    ],
  }),
  input: (part, moment) => ({
    states: moment.states(part.id),
    figures: [volts(moment, part.a, part.b), { quantity: 'amps', figure: moment.amps(part.id) }],
  }),
  zone: (part, moment) => {
    const reading = moment.reading(part.id);
    return {
      states: reading.possible.map((name) => name ?? 'outside every band'),
      figures: [
        { quantity: 'ohms', figure: reading.ohms },
        { quantity: 'volts', figure: reading.volts },
      ],
    };
  },
};

const ORDER = Object.keys(ROWS);

function volts(moment: Moment, a: TerminalId, b: TerminalId, between?: string): QuantityFigure {
  return { quantity: 'volts', figure: moment.volts(a, b), ...(between === undefined ? {} : { between }) };
}

/**
 * The table, case by case in the order of the analysis; within a moment by kind, then in the order of the design.
 * Rest is told in full, other moments with the parts that may differ from rest: the table grows with what happens, not
 * with cases times parts.
 */
export function* figureTable(analysis: Analysis): Generator<CaseFigures> {
  const { design } = analysis;
  const parts = partsOfInterest(design);
  const rank = new Map(parts.map((part, index) => [part.id, index]));
  for (const each of analysis.cases) {
    const moments = each.moments.map((moment) => {
      const affected = moment.affected();
      const told = affected === 'all' ? parts : inOrder(affected, rank, parts);
      const rows = told.map((part) => rowOf(part, moment, design));
      return { time: moment.time, label: moment.label, complete: affected === 'all', rows };
    });
    yield { name: each.name, ...(each.case?.description ? { description: each.case.description } : {}), moments };
  }
}

function inOrder(
  affected: ReadonlySet<ComponentId>,
  rank: ReadonlyMap<ComponentId, number>,
  parts: readonly Component[],
): Component[] {
  const ranks = [...affected].flatMap((id) => rank.get(id) ?? []);
  return ranks.sort((a, b) => a - b).map((index) => parts[index] as Component);
}

/** What is said of one part at a moment, whether wired or not; nothing where its kind has no row. */
export function figureRow(part: Component, moment: Moment, design: Design): FigureRow | undefined {
  return ROWS[part.kind] === undefined ? undefined : rowOf(part, moment, design);
}

function rowOf(part: Component, moment: Moment, design: Design): FigureRow {
  const row = ROWS[part.kind] as (part: Component, moment: Moment) => Pick<FigureRow, 'states' | 'figures'>;
  const { id, name, description, kind, origin } = part;
  const { states, figures } = row(part, moment);
  const told = figures.map((each) => withNeeds(each, design));
  return { component: id, name, ...(description ? { description } : {}), kind, origin, states, figures: told };
}

function withNeeds(each: QuantityFigure, design: Design): QuantityFigure {
  const needs = needsOf(each.figure, design);
  return needs === undefined ? each : { ...each, needs };
}

/** What a figure that is not evaluated needs, as 'level.V12 limit', sorted, without repeats. */
export function needsOf(figure: Figure, design: Design): readonly string[] | undefined {
  if (figure.sort !== 'not-evaluated') return undefined;
  const needs = figure.needs.map(({ component, property }) => {
    const name = design.components[component]?.name;
    return name === undefined ? property : `${name} ${property}`;
  });
  return [...new Set(needs)].sort();
}

/** Parts with a row that something is wired to; a rail counts as wired when one of its outputs is. */
export function partsOfInterest(design: Design): Component[] {
  const wired = new Set<ComponentId>();
  const joined = new Set(design.joins.flatMap((join) => [join.a, join.b]));
  for (const part of design.components) {
    if ('a' in part && joined.has(part.a)) wired.add(part.id);
    if (part.kind === 'relay' && (joined.has(part.coil.a) || joined.has(part.coil.b))) wired.add(part.id);
  }
  for (const part of design.components) {
    if (part.kind === 'output' && part.rail !== undefined && wired.has(part.id)) wired.add(part.rail);
  }
  for (const part of design.components) {
    if (part.kind === 'source' && part.fedBy !== undefined && wired.has(part.id)) wired.add(part.fedBy);
  }
  return design.components
    .filter((part) => ROWS[part.kind] !== undefined && wired.has(part.id))
    .sort((a, b) => ORDER.indexOf(a.kind) - ORDER.indexOf(b.kind) || a.id - b.id);
}

/** Clauses of every assumption behind the figures of a table, sorted, without repeats. */
export function assumptionsOf(cases: Iterable<CaseFigures>): string[] {
  const clauses = new Set<string>();
  for (const each of cases) {
    for (const moment of each.moments) {
      for (const row of moment.rows) {
        for (const { figure } of row.figures) {
          if (figure.sort === 'value') for (const clause of figure.assumptions) clauses.add(clause);
        }
      }
    }
  }
  return [...clauses].sort();
}
