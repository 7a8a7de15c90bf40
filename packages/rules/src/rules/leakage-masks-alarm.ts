import type { CaseAnalysis, Moment, TerminalId, Zone } from '@couplet/engine';
import { loopCores } from '../circuit/circuits.ts';
import { defineRule } from '../define.ts';
import type { RuleContext } from '../rule.ts';
import { casesOf, restOf } from '../support/instants.ts';
import { cableOf, NORMAL, wiredZones } from '../support/loop.ts';
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
        alsoConcerns: loopCores(context.design, zone).map((core) => core.cable),
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
  return loopCores(context.design, zone).some((core) => {
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
    for (const [a, b] of endsOf(context, zone)) {
      const upper = upperEnd(moment, zone, a, b, reach);
      if (upper !== undefined && upper > (worst?.upper ?? 0)) worst = { caseName: one.name, expected, upper };
    }
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

/** Pairs of points across which leakage is tried: the panel's terminals, and the far ends of the loop's cores. */
function endsOf(context: RuleContext, zone: Zone): readonly (readonly [TerminalId, TerminalId])[] {
  const cores = loopCores(context.design, zone);
  const pairs: (readonly [TerminalId, TerminalId])[] = [[zone.a, zone.b]];
  const [first, second] = cores;
  // In a loop of two cores the other end is plain; with more, which pair leaks is open, and the panel's end stands for all.
  if (cores.length === 2 && first !== undefined && second !== undefined) {
    for (const [a, b] of [
      [first.a, second.a],
      [first.b, second.b],
    ] as const) {
      if (a !== zone.a && b !== zone.a) pairs.push([a, b]);
    }
  }
  return pairs;
}

/** No leakage that anybody would call one. */
const NO_LEAKAGE = 100e6;
/** Relative width at which the search for the end of the window stops. */
const CLOSE = 1e-4;

/** Greatest leakage resistance with which the zone may still read normal, when it is above `reach`. */
function upperEnd(moment: Moment, zone: Zone, a: TerminalId, b: TerminalId, reach: number): number | undefined {
  const hides = (ohms: number) =>
    moment
      .vary([{ sort: 'join', a, b, ohms }])
      .reading(zone.id)
      .possible.includes(NORMAL);
  if (!hides(reach)) {
    // A window above `reach` that `reach` itself does not lie in: leakage of `reach` then reads lower than normal.
    const { ohms } = moment.vary([{ sort: 'join', a, b, ohms: reach }]).reading(zone.id);
    const lowest = zone.scheme?.bands.find((band) => band.classes.length === 1 && band.classes[0] === NORMAL);
    const isBelow =
      ohms.sort === 'value' && lowest?.from !== undefined && zone.scheme?.unit === 'ohm' && ohms.most < lowest.from;
    if (!isBelow) return undefined;
  }
  let low = reach;
  let high = NO_LEAKAGE;
  if (hides(high)) return high;
  while (high / low > 1 + CLOSE) {
    const middle = Math.sqrt(low * high);
    if (hides(middle)) low = middle;
    else high = middle;
  }
  return low > reach ? low : undefined;
}
