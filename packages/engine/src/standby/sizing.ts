/**
 * Whether a battery carries what it shall:
 * Ah ≥ ageing × Σ over cases of I t × max(1, I / I at the rated hour)^(k − 1) / temperature factor.
 * Source: IEEE 485 (ageing, temperature; from memory); Peukert's law in its rated-hour form.
 */
import type { Value } from '../analysis/contract.ts';
import { type Direction, extremesOf, type NotEvaluated, notEvaluated, type Ranged } from '../decay/extremes.ts';
import { BATTERY_TEMPERATURE, batteryTemperatureFactor, peukertFactor } from '../tables/batteries.ts';
import { type Battery, HOUR } from './battery.ts';

/** One case that the battery shall carry: A drawn from it, and s for how long. */
export interface CarriedCase {
  readonly name: string;
  readonly amps: Ranged;
  readonly seconds: Ranged;
}

export interface SizedCase {
  readonly name: string;
  readonly amps: Ranged;
  readonly seconds: Ranged;
  /** A·h drawn. */
  readonly drawn: Value;
  /** How much more each drawn A·h counts because of its haste, 1 at least. */
  readonly haste: Value;
  /** A·h counted: drawn × haste. */
  readonly counted: Value;
  /** J at the battery's volts from end of discharge to full. */
  readonly joules: Value;
}

export interface BatterySizing {
  readonly sort: 'sizing';
  readonly cases: readonly SizedCase[];
  readonly ageing: Ranged;
  /** Share of its capacity that the battery has at the temperature of its place. */
  readonly temperatureFactor: Value;
  /** A at the rated hour. */
  readonly ratedAmps: Value;
  /** A·h that a battery of this capacity must have. */
  readonly needed: Value;
  /** A·h of the smallest battery of this make that would do: its own rated current counted. */
  readonly smallest: Value;
  /** Needed over capacity: above 1 the battery is too small. */
  readonly share: Value;
  readonly sufficient: boolean;
}

/** °C below which the table of capacities does not reach. */
export const COLDEST = BATTERY_TEMPERATURE[0]![0];

/** The clause of the table of temperatures. */
export function temperatureClause(battery: Battery): string {
  const made = battery.chemistry.name === 'LiFePO4' ? ', taken for lithium iron phosphate as well' : '';
  return `capacity by temperature as of lead-acid batteries (IEEE 485, from memory)${made}`;
}

/** The reason why a battery in such cold cannot be judged. */
export function tooCold(battery: Battery): NotEvaluated | undefined {
  if (battery.celsius.least >= COLDEST) return undefined;
  return notEvaluated(
    `capacity of ${battery.name} below ${COLDEST} °C is not known: its place is at ${battery.celsius.least} °C`,
  );
}

/** Share of the capacity at `celsius`; below the table, where nothing is judged, its last value. */
export function shareAt(celsius: number): number {
  return batteryTemperatureFactor(Math.max(COLDEST, celsius)) ?? 1;
}

/** Values of one battery: A·h, s, Peukert's exponent, °C. */
interface Figures {
  readonly capacity: number;
  readonly rated: number;
  readonly exponent: number;
  readonly celsius: number;
}

function ratedAmpsOf({ capacity, rated }: Pick<Figures, 'capacity' | 'rated'>): number {
  return rated > 0 ? (capacity * HOUR) / rated : Number.POSITIVE_INFINITY;
}

/** Coulombs drawn. */
function chargeOf(amps: number, seconds: number): number {
  return amps > 0 && seconds > 0 ? amps * seconds : 0;
}

/** Nothing drawn counts nothing, whatever the capacity. */
function hasteOf(amps: number, figures: Figures): number {
  return amps > 0 ? peukertFactor(amps, ratedAmpsOf(figures), figures.exponent) : 1;
}

/** A·h counted of what is drawn. */
function countedOf(amps: number, seconds: number, figures: Figures): number {
  const charge = chargeOf(amps, seconds);
  return charge === 0 ? 0 : (charge * hasteOf(amps, figures)) / HOUR;
}

function demandOf(
  drawn: readonly (readonly [amps: number, seconds: number])[],
  ageing: number,
  figures: Figures,
): number {
  const sum = drawn.reduce((total, [amps, seconds]) => total + countedOf(amps, seconds, figures), 0);
  return sum === 0 || ageing <= 0 ? 0 : (ageing * sum) / shareAt(figures.celsius);
}

/** The capacity that equals its own demand: demand falls as capacity rises, so that there is one. */
function smallestOf(drawn: readonly (readonly [number, number])[], ageing: number, figures: Figures): number {
  let low = demandOf(drawn, ageing, { ...figures, capacity: Number.POSITIVE_INFINITY });
  if (!(low > 0) || !Number.isFinite(low)) return low;
  let high = demandOf(drawn, ageing, { ...figures, capacity: low });
  for (let k = 0; k < HALVINGS; k++) {
    const middle = (low + high) / 2;
    if (middle <= low || middle >= high) break;
    if (demandOf(drawn, ageing, { ...figures, capacity: middle }) > middle) low = middle;
    else high = middle;
  }
  return high;
}

const HALVINGS = 200;

type Variables = { readonly of: Ranged; readonly direction: Direction }[];

function batteryVariables(battery: Battery): Variables {
  return [
    { of: battery.ampereHours, direction: 'falls' },
    { of: battery.ratedSeconds, direction: 'rises' },
    { of: battery.exponent, direction: 'rises' },
    { of: battery.celsius, direction: 'falls' },
  ];
}

function figuresOf(values: readonly number[]): Figures {
  const [capacity = 0, rated = 0, exponent = 1, celsius = 25] = values;
  return { capacity: Math.max(0, capacity), rated, exponent, celsius };
}

/**
 * A battery against the cases that it shall carry, one after the other. Not evaluated below −10 °C, where no share of the
 * capacity is known. `sufficient` compares the capacity at its least with the demand at its most.
 */
export function batterySizing(
  battery: Battery,
  carries: readonly CarriedCase[],
  ageing: Ranged,
): BatterySizing | NotEvaluated {
  const cold = tooCold(battery);
  if (cold !== undefined) return cold;
  const ofBattery = batteryVariables(battery);
  const ofCases: Variables = carries.flatMap(({ amps, seconds }) => [
    { of: amps, direction: 'rises' },
    { of: seconds, direction: 'rises' },
  ]);
  const variables: Variables = [...ofBattery, { of: ageing, direction: 'rises' }, ...ofCases];
  const pairs = (values: readonly number[]) => carries.map((_, k) => [values[2 * k]!, values[2 * k + 1]!] as const);
  const clause = [temperatureClause(battery)];
  const over =
    (formula: (drawn: readonly (readonly [number, number])[], ageing: number, figures: Figures) => number) =>
    (values: readonly number[]) =>
      formula(pairs(values.slice(5)), values[4]!, figuresOf(values));
  const needed = extremesOf({ unit: 'Ah', variables, at: over(demandOf), assumptions: clause });
  const capacityAside: Variables = variables.map((each, k) => (k === 0 ? { ...each, direction: 'none' } : each));
  return {
    sort: 'sizing',
    cases: carries.map((carried) => sizedCase(battery, carried, ofBattery)),
    ageing,
    temperatureFactor: extremesOf({
      unit: 'ratio',
      variables: [{ of: battery.celsius, direction: 'rises' }],
      at: ([celsius = 25]) => shareAt(celsius),
      assumptions: clause,
    }),
    ratedAmps: extremesOf({
      unit: 'A',
      variables: [
        { of: battery.ampereHours, direction: 'rises' },
        { of: battery.ratedSeconds, direction: 'falls' },
      ],
      at: (values) => ratedAmpsOf(figuresOf(values)),
    }),
    needed,
    smallest: extremesOf({ unit: 'Ah', variables: capacityAside, at: over(smallestOf), assumptions: clause }),
    share: extremesOf({
      unit: 'ratio',
      variables,
      at: over((drawn, aged, figures) => {
        const demand = demandOf(drawn, aged, figures);
        return demand === 0 ? 0 : demand / figures.capacity;
      }),
      assumptions: clause,
    }),
    sufficient: needed.most <= battery.ampereHours.least,
  };
}

function sizedCase(battery: Battery, { name, amps, seconds }: CarriedCase, ofBattery: Variables): SizedCase {
  const drawn: Variables = [
    { of: amps, direction: 'rises' },
    { of: seconds, direction: 'rises' },
  ];
  const warm: Variables = ofBattery.map((each, k) => (k === 3 ? { ...each, direction: 'none' } : each));
  const { fullVolts, endVolts } = battery.chemistry;
  const volts: Ranged = {
    what: `${battery.name} volts`,
    unit: 'V',
    least: endVolts * battery.cells,
    usual: battery.chemistry.nominalVolts * battery.cells,
    most: fullVolts * battery.cells,
    assumption: `${battery.name} taken as ${battery.cells} cells of ${endVolts} V .. ${fullVolts} V (${battery.chemistry.name})`,
  };
  return {
    name,
    amps,
    seconds,
    drawn: extremesOf({
      unit: 'Ah',
      variables: drawn,
      at: ([current = 0, time = 0]) => chargeOf(current, time) / HOUR,
    }),
    haste: extremesOf({
      unit: 'ratio',
      variables: [...warm, { of: amps, direction: 'rises' }],
      at: (values) => hasteOf(values[4]!, figuresOf(values)),
    }),
    counted: extremesOf({
      unit: 'Ah',
      variables: [...warm, ...drawn],
      at: (values) => {
        const [current = 0, time = 0] = values.slice(4);
        return countedOf(current, time, figuresOf(values));
      },
    }),
    joules: extremesOf({
      unit: 'J',
      variables: [...drawn, { of: volts, direction: 'rises' }],
      at: ([current = 0, time = 0, across = 0]) => chargeOf(current, time) * across,
    }),
  };
}
