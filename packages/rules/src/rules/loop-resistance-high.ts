import type { ComponentOf, Moment, Zone } from '@couplet/engine';
import { circuitComponents, componentOf, ownCores } from '../circuit/circuits.ts';
import { defineRule } from '../define.ts';
import type { RuleContext } from '../rule.ts';
import { assumptionOf } from '../support/coil.ts';
import { restOf } from '../support/instants.ts';
import { wiredZones } from '../support/loop.ts';
import { whereWired } from '../support/place.ts';
import { list, percent, show, showLoop } from '../support/words.ts';

interface Data {
  readonly zone: Zone;
  readonly ohms: number;
  readonly allowed: number;
  readonly because: string;
  readonly cables: readonly string[];
}

/** What a panel allows in a loop when it does not say. Common practice, no source. */
const ASSUMED_LIMIT = 100;

export const loopResistanceHigh = defineRule<Data>({
  name: 'loop-resistance-high',
  thresholds: [
    {
      key: 'share',
      value: 0.1,
      unit: '',
      says: 'ohms of cable and arresters over the smallest resistor of the loop',
      origin: 'what the bands leave for the cable',
      standing: 'common practice',
      settable: true,
    },
  ],
  explains: [],
  *find(context) {
    const rest = restOf(context.analysis);
    if (rest === undefined) return;
    for (const zone of wiredZones(context)) {
      const series = seriesOhms(context, rest, zone);
      if (series === undefined || series.ohms <= 0) continue;
      const smallest = smallestResistor(context, zone);
      const share = context.threshold('share').value;
      const limit = zone.loopLimit?.least ?? ASSUMED_LIMIT;
      const byResistor = smallest === undefined ? Number.POSITIVE_INFINITY : smallest.ohms!.usual * share;
      const allowed = Math.min(limit, byResistor);
      if (series.ohms <= allowed) continue;
      const isLimit = limit <= byResistor;
      yield {
        severity: 'warning',
        origin: whereWired(context.design, zone.id, zone.a),
        subject: zone.id,
        alsoConcerns: series.cables,
        caseName: context.analysis.cases[0]!.name,
        related: series.cables.map((id) => ({
          origin: context.design.components[id]!.origin,
          message: `${context.design.components[id]!.name} is in this loop`,
        })),
        assumptions: isLimit
          ? zone.loopLimit === undefined
            ? [`the panel allows ${show(ASSUMED_LIMIT, 'ohm')} in the loop of ${zone.name}`]
            : assumptionOf(zone.loopLimit)
          : [],
        data: {
          zone,
          ohms: series.ohms,
          allowed,
          because: isLimit
            ? 'that the panel allows'
            : `(${percent(share)} of ${smallest!.name}, the smallest resistor)`,
          cables: series.cables.map((id) => context.design.components[id]!.name),
        },
      };
    }
  },
  word({ data }) {
    const { zone, ohms, allowed, because, cables } = data;
    return (
      `Cable and arresters put up to ${showLoop(ohms)} into the loop of ${zone.name}, more than the ${show(allowed, 'ohm')} ${because}: ` +
      `the bands were drawn for less, and a bad joint is no longer told from a state. Take a larger section for ${list(cables)}, or use cores in parallel.`
    );
  },
});

interface Series {
  readonly ohms: number;
  readonly cables: readonly number[];
}

/**
 * Ohms of the copper that the loop's current passes at rest, each weighted with its share of that current (a core in
 * parallel with another counts half). A loop without current at rest has nothing to weigh by.
 */
function seriesOhms(context: RuleContext, rest: Moment, zone: Zone): Series | undefined {
  const total = rest.amps(zone.id);
  if (total.sort !== 'value' || Math.abs(total.usual) <= 0) return undefined;
  let ohms = 0;
  const cables = new Set<number>();
  for (const part of copperOf(context, zone)) {
    if (part.ohms === undefined) continue;
    const amps = rest.amps(part.id);
    if (amps.sort !== 'value') continue;
    const share = Math.min(1, Math.abs(amps.usual / total.usual));
    if (share < 1e-6) continue;
    ohms += part.ohms.most * share;
    if (part.kind === 'core') cables.add(part.cable);
  }
  return { ohms, cables: [...cables].sort((one, other) => one - other) };
}

function copperOf(context: RuleContext, zone: Zone): readonly (ComponentOf<'core'> | ComponentOf<'arrester'>)[] {
  const arresters = circuitComponents(context.design, zone.id)
    .map((id) => componentOf(context.design, id, 'arrester'))
    .filter((arrester) => arrester !== undefined);
  return [...ownCores(context.design, zone), ...arresters];
}

function smallestResistor(context: RuleContext, zone: Zone): ComponentOf<'resistor'> | undefined {
  return circuitComponents(context.design, zone.id)
    .map((id) => componentOf(context.design, id, 'resistor'))
    .filter((resistor) => resistor?.ohms !== undefined)
    .sort((one, other) => one!.ohms!.usual - other!.ohms!.usual)[0];
}
