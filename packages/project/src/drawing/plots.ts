/** Plots of a site as data: time lines of its cases, readings within their bands, runtimes of its batteries. */
import {
  type BatteryStandby,
  type ComponentId,
  type ComponentOf,
  type Design,
  type FaultCell,
  type FaultTable,
  type Figure,
  formatFigure,
  formatSpread,
  LOOP_DIGITS,
  standbyOf,
  type Track,
  type TrackPoint,
} from '@couplet/engine';
import { wiringOf } from '@couplet/rules';
import { needsOf } from '../figures.ts';
import type { BandChart, DrawnReading, DrawnSeconds, DrawnTrack, RuntimeCurve, TimeLine } from './contract.ts';
import { couplingsIn } from './couplings.ts';
import type { DrawnSite } from './drawing.ts';
import { finite, lackWords } from './words.ts';

/** s that a plot goes on after its last event, as a share of the time until then, and at least. */
const AFTER = 0.08;
const LEAST_AFTER = 0.1;

/** What changes in a case over time; nothing where there is no such case. `coupling` leaves out what it does not show. */
export function timeLineOf(site: DrawnSite, caseName: string, coupling?: string): TimeLine | undefined {
  const { analysis, design } = site;
  const found = analysis.cases.find(({ name }) => name === caseName);
  if (found === undefined) return undefined;
  const shown = shownIn(design, coupling);
  const tracks = found.timeline.filter(({ component }) => isShown(design, shown, component));
  const ends = tracks.flatMap(({ points }) => points.flatMap(({ time }) => [time.usual, time.most]));
  const waits = found.moments.map(({ time }) => time);
  const periods = tracks.flatMap(({ repeats }) =>
    repeats === undefined ? [] : [repeats.from.usual + repeats.period.usual],
  );
  const last = Math.max(0, ...[...ends, ...waits, ...periods].filter(Number.isFinite));
  const until = last + Math.max(LEAST_AFTER, last * AFTER);
  const description = found.case?.description;
  return {
    site: design.site.title,
    case: found.name,
    ...(description === undefined ? {} : { description }),
    until,
    tracks: tracks.map((track) => trackOf(site, track, until)),
  };
}

function trackOf({ design, place }: DrawnSite, { component, points, repeats, what }: Track, until: number): DrawnTrack {
  const part = design.components[component]!;
  const levels = new Map<string, number>();
  const segments = points.map(({ needs, states, time }: TrackPoint) => {
    const word = states.join(' or ');
    if (!levels.has(word)) levels.set(word, levels.size);
    const lacks = needsOf({ sort: 'not-evaluated', needs }, design) ?? [];
    return { from: seconds(time, until), states, level: levels.get(word)!, needs: lacks };
  });
  const source = place(part.origin);
  return {
    id: `${part.name} ${what}`,
    title: what === 'state' ? part.name : `${part.name} ${what}`,
    name: part.name,
    segments,
    ...(repeats === undefined
      ? {}
      : { repeats: { from: seconds(repeats.from, until), period: seconds(repeats.period, until) } }),
    ...(source === undefined ? {} : { source }),
  };
}

/** Times that never come end with the plot. */
function seconds(time: DrawnSeconds, until: number): DrawnSeconds {
  const within = (value: number) => (Number.isFinite(value) ? value : until);
  return { least: within(time.least), usual: within(time.usual), most: within(time.most) };
}

function shownIn(design: Design, coupling: string | undefined): ReadonlySet<ComponentId> | undefined {
  return coupling === undefined ? undefined : couplingsIn(design).find(({ id }) => id === coupling)?.components;
}

/** A part that is drawn, or that works or owns one that is. */
function isShown(design: Design, shown: ReadonlySet<ComponentId> | undefined, component: ComponentId): boolean {
  if (shown === undefined || shown.has(component)) return true;
  return [...shown].some((id) => {
    const part = design.components[id]!;
    return part.owner === component || (part.kind === 'contact' && part.driver === component);
  });
}

export interface BandWish {
  /** Only zones that this coupling shows. */
  readonly coupling?: string;
  /** The single faults of the design, to be marked. */
  readonly faults?: FaultTable;
}

/** One chart a wired zone, in the order of the design. */
export function bandChartsOf(site: DrawnSite, { coupling, faults }: BandWish = {}): readonly BandChart[] {
  const { design } = site;
  const wiring = wiringOf(design);
  const shown = shownIn(design, coupling);
  return design.components
    .filter((part): part is ComponentOf<'zone'> => part.kind === 'zone')
    .filter(({ a, id }) => wiring.isWired(a) && (shown === undefined || shown.has(id)))
    .map((zone) => bandChart(site, zone, faults));
}

function bandChart({ analysis, design, place }: DrawnSite, zone: ComponentOf<'zone'>, faults?: FaultTable): BandChart {
  const { description, name, scheme } = zone;
  const unit = scheme?.unit ?? 'ohm';
  const readings = analysis.casesOf(zone.id).flatMap((each) =>
    each.moments.map((moment): DrawnReading => {
      const { ohms, possible, volts } = moment.reading(zone.id);
      const title = each.name === 'rest' && moment.label === 'at rest' ? 'rest' : `${each.name}, ${moment.label}`;
      const source = each.case === undefined ? undefined : place(each.case.origin);
      const figure = unit === 'V' ? volts : ohms;
      return { ...readingOf(title, figure, unit, possible, design), ...(source === undefined ? {} : { source }) };
    }),
  );
  const source = place(zone.origin);
  return {
    zone: name,
    ...(description === undefined ? {} : { description }),
    scheme: scheme?.name ?? '',
    unit,
    bands: (scheme?.bands ?? []).map(({ classes, from, origin, to }) => {
      const at = place(origin);
      return {
        label: classes.join(' or '),
        ...finite('from', from),
        ...finite('to', to),
        ...(at === undefined ? {} : { source: at }),
      };
    }),
    readings: once(readings),
    faults: faults === undefined ? [] : faultReadings(zone, unit, faults, place),
    ...(source === undefined ? {} : { source }),
  };
}

function readingOf(
  title: string,
  figure: Figure,
  unit: 'ohm' | 'V',
  possible: readonly (string | undefined)[],
  design: Design,
): DrawnReading {
  const states = possible.map((each) => each ?? 'outside every band');
  if (figure.sort !== 'value') return { title, text: lackWords(figure, design), sort: figure.sort, states };
  const { least, most, usual } = figure;
  const text = formatSpread({ least, usual, most }, unit, { digits: LOOP_DIGITS });
  return { title, text, sort: 'value', ...ends(figure), states };
}

function ends({ least, most, usual }: DrawnSeconds): Pick<DrawnReading, 'least' | 'usual' | 'most'> {
  return { ...finite('least', least), ...finite('usual', usual), ...finite('most', most) };
}

/** Readings that are alike in all figures are one, under the first of their titles. */
function once(readings: readonly DrawnReading[]): readonly DrawnReading[] {
  const groups = Map.groupBy(readings, ({ states, text }) => `${text} ${states.join()}`);
  return [...groups.values()].map(([first, ...others]) =>
    others.length === 0 ? first! : { ...first!, title: `${first!.title} and ${others.length} more` },
  );
}

/** How the zone reads at rest with each fault; faults that it cannot tell apart are one. */
function faultReadings(
  zone: ComponentOf<'zone'>,
  unit: 'ohm' | 'V',
  { zones }: FaultTable,
  place: DrawnSite['place'],
): readonly DrawnReading[] {
  const rows = zones.find((each) => each.zone === zone.id)?.rows ?? [];
  const groups = [...Map.groupBy(rows, ({ group }) => group).values()];
  return groups.map(([first, ...others]): DrawnReading => {
    const { class: answer, fault, rest } = first!;
    const title = others.length === 0 ? fault.name : `${fault.name} and ${others.length} alike`;
    const source = place(fault.origin);
    return { ...cellReading(title, rest, unit), answer, ...(source === undefined ? {} : { source }) };
  });
}

function cellReading(title: string, cell: FaultCell, unit: 'ohm' | 'V'): DrawnReading {
  const states = cell.possible.map((each) => each ?? 'outside every band');
  const spread = unit === 'V' ? cell.volts : cell.ohms;
  if (spread === undefined) {
    const sort = cell.answer === 'not-evaluated' ? 'not-evaluated' : 'no-connection';
    return { title, text: cell.reason ?? 'no connection', sort, states };
  }
  return {
    title,
    text: formatFigure(spread.usual, unit, { digits: LOOP_DIGITS }),
    sort: 'value',
    ...ends(spread),
    states,
  };
}

/** One curve a battery that shall carry something, in the order of the design. */
export function runtimeCurvesOf(site: DrawnSite): readonly RuntimeCurve[] {
  const { analysis, design } = site;
  return [...standbyOf(design, analysis)]
    .sort((one, other) => one.battery - other.battery)
    .map((one) => runtimeCurve(site, one));
}

function runtimeCurve({ design, place }: DrawnSite, { battery, draws, name, standby }: BatteryStandby): RuntimeCurve {
  const { description, origin } = design.components[battery]!;
  const source = place(origin);
  const base = { battery: name, ...(description === undefined ? {} : { description }), ...(source ? { source } : {}) };
  if ('sort' in standby) return { ...base, says: lackWords(standby, design), points: [], marks: [] };
  const { curve, runtimes, sizing } = standby;
  const says = sizing.sort !== 'sizing' ? lackWords(sizing, design) : sizing.sufficient ? 'large enough' : 'too small';
  return {
    ...base,
    says,
    points: curve
      .map(({ amps, seconds }) => ({ amps, least: seconds.least, usual: seconds.usual, most: seconds.most }))
      .filter((point) => Object.values(point).every(Number.isFinite)),
    marks: draws.map(({ amps, caseName, carries }) => {
      const lasts = runtimes.find((each) => each.name === caseName)?.seconds;
      const words = lasts === undefined ? '' : lasts.sort === 'value' ? spreadOf(lasts) : lackWords(lasts, design);
      return {
        title: caseName,
        amps: amps.usual,
        ...finite('seconds', lasts?.sort === 'value' ? lasts.usual : undefined),
        wanted: carries.seconds.usual,
        text: `${formatFigure(amps.usual, 'A')}${words === '' ? '' : ` for ${words}`}`,
      };
    }),
  };
}

function spreadOf({ least, most, usual }: DrawnSeconds): string {
  return formatSpread({ least, usual, most }, 's');
}
