/**
 * What the autonomies of a site ask of its batteries: the currents of the cases as they go on the battery alone, sizing,
 * runtimes, and what its chargers have to spare when the site is at rest. A missing datum is a need, never a number.
 */
import type { Analysis, CaseAnalysis, Moment, Need, Value } from '../analysis/contract.ts';
import { type NotEvaluated, notEvaluated, type Ranged, ranged } from '../decay/extremes.ts';
import type { Autonomy, CarriesCase } from '../design/cases.ts';
import type { ComponentId, ComponentOf } from '../design/components.ts';
import type { Datum } from '../design/datum.ts';
import type { Design } from '../design/design.ts';
import { type Battery, batteryOf, chemistryOf } from './battery.ts';
import { chargersOf } from './on-battery.ts';
import { type Standby, standby } from './standby.ts';

type Source = ComponentOf<'source'>;

/** A carried case with what it draws from the battery. */
export interface CarriedDraw {
  /** The written case, or 'rest'. */
  readonly caseName: string;
  /** The case that was computed: that one on the battery, where something charges it. */
  readonly computed: string;
  /** The moment at which it draws most. */
  readonly moment: string;
  readonly amps: Value;
  readonly carries: CarriesCase;
  /** Set where the case has other moments, at which it may draw less. */
  readonly assumption?: string;
}

/** V of a battery at which every check is made. Absent: nothing charges it, or nothing boosts. */
export interface StandbyVolts {
  readonly end: number;
  readonly float?: number;
  readonly boost?: number;
}

export interface BatteryStandby {
  readonly autonomy: Autonomy;
  readonly battery: ComponentId;
  readonly name: string;
  readonly chargers: readonly ComponentId[];
  readonly volts?: StandbyVolts;
  /** In the order of the autonomy; those that could not be computed are missing. */
  readonly draws: readonly CarriedDraw[];
  readonly standby: Standby | NotEvaluated;
  /** A that the chargers have to spare; absent where nothing charges the battery. */
  readonly chargerAmps?: Ranged | NotEvaluated;
  /** Every clause that any of it rests on, sorted. */
  readonly assumptions: readonly string[];
}

/** One result for each autonomy of the design, in their order. `analysis` is that of the same design. */
export function standbyOf(design: Design, analysis: Analysis): readonly BatteryStandby[] {
  return design.autonomies.map((autonomy) => standbyOfOne(design, analysis, autonomy));
}

function standbyOfOne(design: Design, analysis: Analysis, autonomy: Autonomy): BatteryStandby {
  const source = sourceAt(design, autonomy.battery);
  const chargers = chargersOf(design, source.id);
  const battery = batteryAt(design, source.id);
  const found = autonomy.carries.map((carries) => drawOf(analysis, source, carries, chargers.length > 0));
  const draws = found.filter((each) => 'amps' in each);
  const lacking: NotEvaluated[] = found.flatMap((each) => ('amps' in each ? [] : [each]));
  if ('sort' in battery) lacking.push(battery);
  const chargerAmps = chargers.length === 0 ? undefined : chargerAmpsOf(design, analysis, source.id);
  const clauses = draws.flatMap(({ amps }) => amps.assumptions);
  const base = { autonomy, battery: source.id, name: source.name, chargers, draws };
  const volts = source.volts === undefined ? {} : { volts: voltsAt(design, source, chargers) };
  const spare = chargerAmps === undefined ? {} : { chargerAmps };
  lacking.push(...senseless(autonomy));
  if (lacking.length === 0 && draws.every(({ amps }) => amps.most <= 0)) {
    lacking.push(notEvaluated(`nothing draws from ${source.name}: say what it feeds, by wires or 'fed-by'`));
  }
  if (lacking.length > 0 || 'sort' in battery) {
    return { ...base, ...volts, ...spare, standby: merged(lacking), assumptions: [...new Set(clauses)].sort() };
  }
  const { ageing, recharge } = autonomy;
  const charged =
    chargerAmps === undefined || 'sort' in chargerAmps || recharge === undefined
      ? {}
      : { recharge: { seconds: rangedDatum('recharge', 's', recharge), chargerAmps } };
  const result = standby({
    battery,
    carries: draws.map((draw) => ({
      name: draw.caseName,
      amps: drawn(source.name, draw),
      seconds: rangedDatum(`time of ${draw.caseName}`, 's', draw.carries.seconds),
    })),
    ...(ageing === undefined ? {} : { ageing: rangedDatum('ageing', 'ratio', ageing) }),
    ...charged,
  });
  const assumptions = [...new Set([...clauses, ...result.assumptions])].sort();
  return { ...base, ...volts, ...spare, standby: result, assumptions };
}

/** Data of an autonomy that ask for nothing, so that any battery would do. */
function senseless({ ageing, carries }: Autonomy): readonly NotEvaluated[] {
  const found = carries
    .filter(({ seconds }) => !(seconds.least > 0))
    .map(({ caseName }) => notEvaluated(`case ${caseName} is to be carried for no time at all`));
  if (ageing !== undefined && ageing.least < 1) {
    found.push(notEvaluated('an ageing below 100 % asks less of an old battery than of a new one'));
  }
  return found;
}

/** A battery of a design as its sizing sees it; what it lacks, where it lacks something. */
export function batteryAt(design: Design, id: ComponentId): Battery | NotEvaluated {
  const source = sourceAt(design, id);
  const { ampereHours, nominalVolts, ratedTime, name, place } = source;
  const ambient = (place === undefined ? undefined : design.places[place]?.ambient) ?? design.site.ambient;
  const chemistry = chemistryOf(source.chemistry?.word ?? 'agm');
  const missing: string[] = [];
  if (ampereHours === undefined || nominalVolts === undefined) missing.push('rating');
  if (ambient === undefined) missing.push('ambient');
  if (chemistry === undefined) missing.push('chemistry');
  if (ampereHours === undefined || nominalVolts === undefined || ambient === undefined || chemistry === undefined) {
    return needing(
      design,
      missing.map((property) => [id, property] as const),
    );
  }
  return batteryOf({
    name,
    chemistry,
    volts: nominalVolts.usual,
    ampereHours: rangedDatum(name, 'Ah', ampereHours),
    celsius: rangedDatum(`${name} ambient`, 'degC', ambient),
    ...(ratedTime === undefined ? {} : { ratedSeconds: rangedDatum(`${name} rated time`, 's', ratedTime) }),
  });
}

/**
 * A that the chargers of a battery leave it while the site is at rest (least), and that they may push into it when their
 * loads are off (most).
 */
export function chargerAmpsOf(design: Design, analysis: Analysis, battery: ComponentId): Ranged | NotEvaluated {
  const { name } = sourceAt(design, battery);
  const rest = analysis.cases[0]?.moments[0];
  let [least, usual, most] = [0, 0, 0];
  const clauses: string[] = [];
  for (const id of chargersOf(design, battery)) {
    const spare = spareOf(design, rest, sourceAt(design, id));
    if ('sort' in spare) return spare;
    least += spare.least;
    usual += spare.usual;
    most += spare.most;
    if (spare.assumption !== undefined) clauses.push(spare.assumption);
  }
  const assumption = clauses.length === 0 ? {} : { assumption: clauses.join('; ') };
  return ranged(`charging of ${name}`, 'A', { least, usual, most, ...assumption });
}

function spareOf(design: Design, rest: Moment | undefined, charger: Source): Ranged | NotEvaluated {
  const { chargeLimit, limit, name } = charger;
  if (limit === undefined && chargeLimit === undefined) return needing(design, [[charger.id, 'limit']]);
  if (limit === undefined) return rangedDatum(name, 'A', chargeLimit!);
  const demand = rest?.demand(charger.id);
  if (demand?.sort === 'not-evaluated') return demand;
  const load = demand?.sort === 'value' ? demand : { least: 0, usual: 0, most: 0 };
  const held = chargeLimit ?? EVERYTHING;
  const least = Math.min(held.least, limit.least - Math.max(0, load.most));
  const usual = Math.max(least, Math.min(held.usual, limit.usual - Math.max(0, load.usual)));
  const most = Math.max(usual, Math.min(held.most, limit.most));
  const assumption =
    chargeLimit === undefined
      ? `${name} taken to charge with all that its loads leave (common practice, no source)`
      : undefined;
  return ranged(name, 'A', { least, usual, most, ...(assumption === undefined ? {} : { assumption }) });
}

const EVERYTHING = {
  least: Number.POSITIVE_INFINITY,
  usual: Number.POSITIVE_INFINITY,
  most: Number.POSITIVE_INFINITY,
};

/** What a case draws from its battery: of all its moments, the one at which that is most. */
function drawOf(
  analysis: Analysis,
  battery: Source,
  carries: CarriesCase,
  charged: boolean,
): CarriedDraw | NotEvaluated {
  const { caseName } = carries;
  const computed = analysis.cases.find(({ name, onBattery }) =>
    charged ? onBattery?.battery === battery.id && onBattery.of === caseName : name === caseName,
  );
  const moments = computed === undefined ? [] : momentsOf(computed);
  let most: { readonly amps: Value; readonly moment: string } | undefined;
  for (const moment of moments) {
    const amps = moment.amps(battery.id);
    if (amps.sort === 'not-evaluated') return amps;
    if (amps.sort === 'value' && amps.most > (most?.amps.most ?? Number.NEGATIVE_INFINITY)) {
      most = { amps, moment: moment.label };
    }
  }
  if (computed === undefined || most === undefined) {
    return notEvaluated(`${battery.name} has no connection in case ${caseName}`);
  }
  const assumption =
    moments.length > 1
      ? { assumption: `what ${battery.name} gives in case ${caseName}, ${most.moment}, taken for all its time` }
      : {};
  return { caseName, computed: computed.name, ...most, carries, ...assumption };
}

/** A case that turns something begins with its turns: what was there before them is not what it draws. */
function momentsOf(one: CaseAnalysis): readonly Moment[] {
  return one.moments.length > 1 && one.name !== 'rest'
    ? one.moments.filter(({ label }) => label !== 'at rest')
    : one.moments;
}

function drawn(battery: string, { amps, assumption, caseName }: CarriedDraw): Ranged {
  return ranged(`${battery} in ${caseName}`, 'A', {
    least: Math.max(0, amps.least),
    usual: Math.max(0, amps.usual),
    most: Math.max(0, amps.most),
    ...(assumption === undefined ? {} : { assumption }),
  });
}

function voltsAt(design: Design, battery: Source, chargers: readonly ComponentId[]): StandbyVolts {
  const charging = chargers.flatMap((id) => sourceAt(design, id).volts ?? []);
  const end = battery.volts!.least;
  if (charging.length === 0) return { end };
  const float = Math.max(...charging.map(({ usual }) => usual));
  const boost = Math.max(...charging.map(({ most }) => most));
  return boost > float ? { end, float, boost } : { end, float };
}

function rangedDatum(what: string, unit: string, datum: Datum): Ranged {
  return ranged(what, unit, datum);
}

function sourceAt(design: Design, id: ComponentId): Source {
  return design.components[id] as Source;
}

function needing(design: Design, missing: readonly (readonly [ComponentId, string])[]): NotEvaluated {
  const needs = missing.map(([component, property]): Need => {
    return { component, property, origin: design.components[component]!.origin };
  });
  return { sort: 'not-evaluated', needs };
}

function merged(all: readonly NotEvaluated[]): NotEvaluated {
  const needs = new Map(all.flatMap((each) => each.needs).map((need) => [`${need.component} ${need.property}`, need]));
  const reason = all.find((each) => each.reason !== undefined)?.reason;
  return { sort: 'not-evaluated', needs: [...needs.values()], ...(reason === undefined ? {} : { reason }) };
}
