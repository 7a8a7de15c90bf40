/** What feeds a site, computed: how long batteries last and what charges them, and what opens fuses. Data for any consumer. */
import {
  type Analysis,
  type BatteryStandby,
  type ComponentId,
  type Datum,
  type Design,
  type Figure,
  type FuseClearing,
  type FuseFarEnds,
  farEndsOf,
  type Origin,
  type Ranged,
  standbyOf,
  type Value,
  worstEnd,
} from '@couplet/engine';
import { needsOf } from './figures.ts';

export interface SupplyFigure {
  /** 'needed capacity', 'current in alarm', 'prospective current'. */
  readonly label: string;
  readonly figure: Figure;
  readonly needs?: readonly string[];
}

export interface SupplyRow {
  readonly component: ComponentId;
  readonly name: string;
  readonly description?: string;
  readonly kind: 'battery' | 'fuse';
  readonly origin: Origin;
  /** In words: 'large enough', 'a short at P1 opens it promptly'. */
  readonly says: string;
  readonly figures: readonly SupplyFigure[];
  /** Of a battery: s that it gives a constant current, against A. */
  readonly curve?: readonly {
    readonly amps: number;
    readonly least: number;
    readonly usual: number;
    readonly most: number;
  }[];
}

/** Batteries with an autonomy, then wired fuses, each in the order of the design. */
export function supplyFigures(analysis: Analysis): readonly SupplyRow[] {
  const { design } = analysis;
  const batteries = [...standbyOf(design, analysis)].sort((one, other) => one.battery - other.battery);
  return [
    ...batteries.map((one) => batteryRow(design, one)),
    ...farEndsOf(design).map((each) => fuseRow(design, each)),
  ];
}

/** Clauses of every assumption behind the figures of such rows, sorted, without repeats. */
export function assumptionsOfSupplies(rows: readonly SupplyRow[]): string[] {
  const figures = rows.flatMap((row) => row.figures.map(({ figure }) => figure));
  return [...new Set(figures.flatMap((figure) => (figure.sort === 'value' ? figure.assumptions : [])))].sort();
}

function row(
  design: Design,
  component: ComponentId,
  kind: SupplyRow['kind'],
  says: string,
  figures: readonly (readonly [label: string, figure: Figure])[],
): SupplyRow {
  const { description, name, origin } = design.components[component]!;
  return {
    component,
    name,
    ...(description === undefined ? {} : { description }),
    kind,
    origin,
    says,
    figures: figures.map(([label, figure]) => {
      const needs = needsOf(figure, design);
      return needs === undefined ? { label, figure } : { label, figure, needs };
    }),
  };
}

function batteryRow(design: Design, one: BatteryStandby): SupplyRow {
  const { battery, chargerAmps, draws, standby, volts } = one;
  const part = design.components[battery]!;
  const capacity = part.kind === 'source' ? part.ampereHours : undefined;
  const sizing = 'sort' in standby ? standby : standby.sizing;
  const runtimes = 'sort' in standby ? [] : standby.runtimes;
  const recharge = 'sort' in standby ? undefined : standby.recharge;
  const figures: (readonly [string, Figure])[] = [];
  if (capacity !== undefined) figures.push(['capacity', plain('Ah', capacity)]);
  figures.push(['needed capacity', sizing.sort === 'sizing' ? sizing.needed : sizing]);
  for (const { amps, caseName } of draws) {
    figures.push([`current in ${caseName}`, amps]);
    const lasts = runtimes.find(({ name }) => name === caseName);
    if (lasts !== undefined) figures.push([`lasts in ${caseName}`, lasts.seconds]);
  }
  if (chargerAmps !== undefined) {
    figures.push(['current left to charge', 'sort' in chargerAmps ? chargerAmps : plain('A', chargerAmps)]);
  }
  if (recharge !== undefined) {
    figures.push(['current to charge in time', recharge.neededAmps], ['charged in', recharge.restoredIn]);
  }
  for (const [label, value] of [
    ['volts at end of discharge', volts?.end],
    ['volts on float', volts?.float],
    ['volts on boost', volts?.boost],
  ] as const) {
    if (value !== undefined) figures.push([label, plain('V', { least: value, usual: value, most: value })]);
  }
  const says = sizing.sort !== 'sizing' ? 'not evaluated' : sizing.sufficient ? 'large enough' : 'too small';
  const made = row(design, battery, 'battery', says, figures);
  if ('sort' in standby || standby.curve.length === 0) return made;
  const curve = standby.curve.map(({ amps, seconds: { least, most, usual } }) => ({ amps, least, usual, most }));
  return { ...made, curve };
}

const CLEARING: Readonly<Record<FuseClearing['clearing'], string>> = {
  promptly: 'opens it promptly',
  slowly: 'may take more than seconds to open it',
  never: 'need not open it',
};

function fuseRow(design: Design, ends: FuseFarEnds): SupplyRow {
  const { fuse, needs } = ends;
  const part = design.components[fuse]!;
  const rated = part.kind === 'fuse' ? part.rated : undefined;
  const missing = rated === undefined ? [{ component: fuse, property: 'rating', origin: part.origin }] : needs;
  const worst = rated === undefined ? undefined : worstEnd(ends, rated);
  if (worst === undefined) {
    const reason = missing.length === 0 ? { reason: 'no supply reaches it by copper and contacts alone' } : {};
    const figure: Figure = { sort: 'not-evaluated', needs: missing, ...reason };
    return row(design, fuse, 'fuse', 'not evaluated', [['prospective current', figure]]);
  }
  const { clearing, end } = worst;
  const says = `a short at ${design.components[end.at]!.name} ${CLEARING[clearing.clearing]}`;
  return row(design, fuse, 'fuse', says, [
    ['prospective current', clearing.amps],
    ['of its rating', clearing.ratio],
  ]);
}

/** A number that was given, or summed up elsewhere, as a figure. */
function plain(unit: string, datum: Pick<Datum, 'least' | 'usual' | 'most' | 'assumption'> | Ranged): Value {
  const { assumption, least, most, usual } = datum;
  const assumptions = assumption === undefined ? [] : [assumption];
  return { sort: 'value', unit, least, usual, most, leastCorner: [], mostCorner: [], proven: true, assumptions };
}
