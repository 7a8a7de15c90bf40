import type { CaseAnalysis, Moment, Zone } from '@couplet/engine';
import { pairCores } from '../circuit/circuits.ts';
import { defineRule } from '../define.ts';
import type { RuleContext } from '../rule.ts';
import { casesOf, restOf } from '../support/instants.ts';
import { cableOf, className, NORMAL, wiredZones } from '../support/loop.ts';
import { whereWired } from '../support/place.ts';
import { show, showLoop } from '../support/words.ts';

interface Data {
  readonly zone: Zone;
  readonly caseName: string;
  readonly expected: string;
  readonly upper: number;
  readonly reach: number;
}

/** Routes on which joints and sheaths get wet. */
const WET_ROUTES: ReadonlySet<string> = new Set(['outdoor', 'buried', 'overhead']);

export const leakageMasksAlarm = defineRule<Data>({
  name: 'leakage-masks-alarm',
  thresholds: [
    {
      key: 'reach',
      value: 5000,
      unit: 'ohm',
      says: 'least ohms between cores that damp joints reach',
      origin: 'readings on damp joints',
      standing: 'common practice',
      settable: true,
    },
  ],
  explains: [],
  *find(context) {
    const rest = restOf(context.analysis);
    if (rest === undefined) return;
    const reach = context.threshold('reach').value;
    for (const zone of wiredZones(context)) {
      if (zone.scheme === undefined || rest.reading(zone.id).usual !== NORMAL || !isDamp(context, zone)) continue;
      const worst = worstWindow(context, zone, reach);
      if (worst === undefined) continue;
      yield {
        severity: 'warning',
        origin: whereWired(context.design, zone.id, zone.a),
        subject: zone.id,
        alsoConcerns: pairCores(context.design, zone).map((core) => core.cable),
        caseName: worst.caseName,
        data: { zone, reach, ...worst },
      };
    }
  },
  word({ data }) {
    const { zone, caseName, expected, upper, reach } = data;
    return (
      `Leakage between the cores hides case ${caseName}: with up to ${showLoop(upper)} across the loop ${zone.name} still reads ` +
      `normal and not ${expected}, and damp joints outdoors or in wet places reach ${show(reach, 'ohm')}. Keep joints dry and test the ` +
      `insulation, or take smaller resistors, so that a leakage must be lower to hide anything.`
    );
  },
});

/** A loop that runs outdoors, or has an end in a wet place. */
function isDamp(context: RuleContext, zone: Zone): boolean {
  return pairCores(context.design, zone).some((core) => {
    const cable = cableOf(context, core);
    if (cable?.route !== undefined && WET_ROUTES.has(cable.route.word)) return true;
    return [core.a, core.b].some((end) => {
      const place = context.design.terminals[end]?.place;
      return place !== undefined && context.design.places[place]?.wet?.word === 'yes';
    });
  });
}

type Window = Omit<Data, 'zone' | 'reach'>;

/** The case whose window reaches highest above what damp joints reach. */
function worstWindow(context: RuleContext, zone: Zone, reach: number): Window | undefined {
  let worst: Window | undefined;
  for (const one of casesOf(context.analysis, zone.id)) {
    if (one.case === undefined) continue;
    const moment = alarmMoment(one, zone);
    if (moment === undefined) continue;
    const expected = moment.reading(zone.id).usual!;
    const upper = upperEnd(moment, zone, reach);
    if (upper !== undefined && upper > (worst?.upper ?? 0)) worst = { caseName: one.name, expected, upper };
  }
  return worst;
}

/** The first moment of a case at which the zone certainly does not read normal. */
function alarmMoment(one: CaseAnalysis, zone: Zone): Moment | undefined {
  return one.moments.find((moment) => {
    const reading = moment.reading(zone.id);
    return reading.usual !== undefined && !reading.possible.includes(NORMAL);
  });
}

/** No leakage that anybody would call one. */
const NO_LEAKAGE = 100e6;
/** Relative width at which the search for the end of the window stops. */
const CLOSE = 1e-3;

/**
 * Greatest leakage resistance with which the zone may still read normal, when it is above `reach`. It is looked for
 * across the panel's own terminals: the window's upper end is highest there, since further out the cable's ohms stand
 * in series with the leakage.
 */
function upperEnd(moment: Moment, zone: Zone, reach: number): number | undefined {
  const hides = (ohms: number) =>
    moment
      .vary([{ sort: 'join', a: zone.a, b: zone.b, ohms }])
      .reading(zone.id)
      .possible.includes(NORMAL);
  const guess = parallelGuess(moment, zone);
  if (guess !== undefined && guess > reach && hides(guess * (1 - CLOSE)) && !hides(guess * (1 + CLOSE))) return guess;
  let low = guess === undefined ? reach : Math.max(reach, guess * (1 - CLOSE));
  if (!hides(low)) {
    low = reach;
    if (!hides(low)) return undefined;
  }
  let high = NO_LEAKAGE;
  if (hides(high)) return high;
  while (high / low > 1 + CLOSE) {
    const middle = Math.sqrt(low * high);
    if (hides(middle)) low = middle;
    else high = middle;
  }
  return low > reach ? low : undefined;
}

/** Where leakage in parallel with the least ohms of the loop makes the upper edge of normal. */
function parallelGuess(moment: Moment, zone: Zone): number | undefined {
  const edge =
    zone.scheme?.unit === 'ohm' ? zone.scheme.bands.find((band) => className(band) === NORMAL)?.to : undefined;
  const { ohms } = moment.reading(zone.id);
  if (edge === undefined || ohms.sort !== 'value' || ohms.least <= edge) return undefined;
  return ohms.least === Number.POSITIVE_INFINITY ? edge : 1 / (1 / edge - 1 / ohms.least);
}
