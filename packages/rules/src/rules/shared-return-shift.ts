import type { ComponentId, Zone, ZoneReading } from '@couplet/engine';
import { circuitComponents, circuitOf, componentOf, nameOf } from '../circuit/circuits.ts';
import { downstreamOf } from '../circuit/reach.ts';
import { wiringOf } from '../circuit/wiring.ts';
import { defineRule } from '../define.ts';
import type { RuleContext } from '../rule.ts';
import { type Instant, instantsOf } from '../support/instants.ts';
import { wiredZones } from '../support/loop.ts';
import { whereWired } from '../support/place.ts';
import { list, percent, showLoop, when } from '../support/words.ts';

interface Data {
  readonly zone: Zone;
  readonly consumer: string;
  readonly cores: readonly string[];
  readonly withIt: ZoneReading;
  readonly without: ZoneReading;
  readonly shift: number;
  readonly isOther: boolean;
  readonly at: Instant;
}

/** A part that draws next to nothing any more. */
const NEXT_TO_NOTHING = 1e9;

export const sharedReturnShift = defineRule<Data>({
  name: 'shared-return-shift',
  thresholds: [
    {
      key: 'shift',
      value: 0.05,
      unit: '',
      says: 'what the reading is moved by, over the reading without it',
      origin: 'half of the tenth that is kept from an edge',
      standing: 'common practice',
      settable: true,
    },
  ],
  explains: ['reading-outside-band', 'rest-inverted', 'expectation-failed'],
  *find(context) {
    const allowed = context.threshold('shift').value;
    for (const zone of wiredZones(context)) {
      if (zone.scheme === undefined) continue;
      let worst: Data | undefined;
      for (const { consumer, cores } of sharersOf(context, zone)) {
        for (const at of instantsOf(context.analysis, zone.id)) {
          const data = shiftOf(context, zone, consumer, cores, at);
          if (data !== undefined && (worst === undefined || rank(data) > rank(worst))) worst = data;
        }
      }
      if (worst === undefined || (!worst.isOther && worst.shift <= allowed)) continue;
      const consumers = sharersOf(context, zone).map(({ consumer }) => consumer);
      yield {
        severity: worst.isOther ? 'error' : 'warning',
        origin: whereWired(context.design, zone.id, zone.a),
        subject: zone.id,
        alsoConcerns: consumers.filter((id) => nameOf(context.design, id) === worst.consumer),
        caseName: worst.at.of.name,
        data: worst,
      };
    }
  },
  word({ data }) {
    const { zone, consumer, cores, withIt, without, shift, isOther, at } = data;
    const [reads, would] = [ohmsOf(withIt), ohmsOf(without)];
    const figures = `${zone.name} reads ${reads} ${when(at)} and would read ${would} without ${consumer}, which moves it by up to ${percent(shift)}`;
    const outcome = isOther ? `: ${withIt.usual ?? 'no class'} in place of ${without.usual ?? 'no class'}` : '';
    return (
      `The return current of ${consumer} flows through ${list(cores)}, which the loop of ${zone.name} shares: ${figures}${outcome}. ` +
      `What the panel reads then hangs on what else is on. Give the loop a return core of its own, back to the terminal of the zone.`
    );
  },
  figures: ({ data }) => [{ label: `ohms at ${data.zone.name}`, figure: data.withIt.ohms }],
});

function rank({ isOther, shift }: Data): number {
  return (isOther ? 1e6 : 0) + shift;
}

function ohmsOf({ ohms }: ZoneReading): string {
  return ohms.sort === 'value' && Number.isFinite(ohms.usual) ? showLoop(ohms.usual) : 'open';
}

interface Sharer {
  readonly consumer: ComponentId;
  readonly cores: readonly string[];
}

/**
 * Loads and feeds that end at the copper of the zone's return beyond a core, where the loop ends beyond a core too. What
 * works a contact of the loop itself is left out: without its current the contact would move.
 */
function sharersOf({ design }: RuleContext, zone: Zone): readonly Sharer[] {
  const wiring = wiringOf(design);
  const home = wiring.node(zone.b);
  const copper = wiring.copperFrom(home);
  const own = new Set(circuitComponents(design, zone.id));
  const isBeyond = (node: number) => node !== home && copper.has(node);
  const ends = circuitOf(design, zone.id).filter((part) => part.sort !== 'source');
  if (!ends.some((part) => isBeyond(part.a) || isBeyond(part.b))) return [];
  const found = new Map<ComponentId, string[]>();
  for (const node of copper) {
    if (node === home) continue;
    const cores = wiring
      .partsAt(node)
      .map((part) => componentOf(design, part.component, 'core')?.name)
      .filter((name) => name !== undefined);
    for (const part of wiring.partsAt(node)) {
      const kind = design.components[part.component]?.kind;
      if (kind !== 'load' && kind !== 'feed' && kind !== 'relay') continue;
      if (own.has(part.component)) continue;
      if (kind === 'relay' && downstreamOf(design, part.component).has(zone.id)) continue;
      found.set(part.component, [...(found.get(part.component) ?? []), ...cores]);
    }
  }
  return [...found].map(([consumer, cores]) => ({ consumer, cores: [...new Set(cores)] }));
}

function shiftOf(
  context: RuleContext,
  zone: Zone,
  consumer: ComponentId,
  cores: readonly string[],
  at: Instant,
): Data | undefined {
  const amps = at.moment.amps(consumer);
  if (amps.sort === 'not-evaluated') context.gap({ subject: zone.id, needs: amps.needs, reason: amps.reason });
  if (amps.sort !== 'value' || (amps.least === 0 && amps.most === 0)) return undefined;
  const withIt = at.moment.reading(zone.id);
  const idle = at.moment.vary([{ sort: 'scale', component: consumer, factor: NEXT_TO_NOTHING }]);
  // A unit that has supply only without its own current works its contacts otherwise: that is no shift.
  const unit = context.design.components[consumer]?.owner;
  if (unit !== undefined && at.moment.states(unit).join() !== idle.states(unit).join()) return undefined;
  const without = idle.reading(zone.id);
  if (withIt.ohms.sort !== 'value' || without.ohms.sort !== 'value') return undefined;
  const shift = Math.max(
    ...(['least', 'usual', 'most'] as const).map((end) => {
      const [one, other] = [(withIt.ohms as typeof amps)[end], (without.ohms as typeof amps)[end]];
      return one === other ? 0 : Math.abs(one / other - 1);
    }),
  );
  if (Number.isNaN(shift)) return undefined;
  const isOther = withIt.usual !== without.usual;
  return { zone, consumer: nameOf(context.design, consumer), cores, withIt, without, shift, isOther, at };
}
