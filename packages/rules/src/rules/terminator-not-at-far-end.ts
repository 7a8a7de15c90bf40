import type { ComponentOf, FaultRow, Zone, ZoneFaults } from '@couplet/engine';
import { hotCores, pairCores } from '../circuit/circuits.ts';
import { defineRule } from '../define.ts';
import type { RuleContext } from '../rule.ts';
import { faultClassesOf } from '../support/faults.ts';
import { bandAt, cableOf, className, NORMAL, wiredZones } from '../support/loop.ts';
import { whereWired } from '../support/place.ts';
import { list } from '../support/words.ts';

interface Data {
  readonly zone: Zone;
  readonly cable: string;
  readonly far: string;
  readonly what: 'short' | 'cut';
  readonly cores: readonly string[];
  readonly canTell: boolean;
}

export const terminatorNotAtFarEnd = defineRule<Data>({
  name: 'terminator-not-at-far-end',
  thresholds: [],
  explains: ['terminator-in-hot-leg', 'silent-fault'],
  *find(context) {
    for (const zone of wiredZones(context)) {
      if (zone.scheme === undefined) continue;
      const faults = faultClassesOf(context.design).zones.find((each) => each.zone === zone.id);
      if (faults === undefined || faults.healthy.rest.usual !== NORMAL) continue;
      const found = judge(context, faults, zone);
      if (found === undefined) continue;
      const { data, cable } = found;
      yield {
        severity: data.canTell ? 'error' : 'warning',
        origin: whereWired(context.design, zone.id, zone.a),
        subject: zone.id,
        alsoConcerns: [cable.id],
        caseName: context.analysis.cases[0]!.name,
        related: [{ origin: cable.origin, message: `${cable.name} is not watched` }],
        data,
      };
    }
  },
  word({ data }) {
    const { zone, cable, far, what, cores, canTell } = data;
    const fault =
      what === 'short' ? `With ${list(cores)} shorted together anywhere in ${cable}` : `With ${cable} cut through`;
    const why =
      what === 'short'
        ? 'the current turns back before the contact, and the alarm can no longer arrive'
        : 'the end resistor still closes the loop, and the alarm can no longer arrive';
    const cure = canTell
      ? `The end resistor belongs at the far end${far === '' ? '' : ` (${far})`}, beyond the last contact, so that all of the cable lies between it and the panel.`
      : `The scheme of ${zone.name} cannot tell it: choose one with an end resistor, and fit that at the far end${far === '' ? '' : ` (${far})`}.`;
    return `${fault}, ${zone.name} still reads normal: ${why}. ${cure}`;
  },
});

function judge(
  context: RuleContext,
  faults: ZoneFaults,
  zone: Zone,
): { readonly data: Data; readonly cable: ComponentOf<'cable'> } | undefined {
  const { design } = context;
  const hot = new Set(hotCores(design, zone));
  const byCable = new Map<number, ComponentOf<'core'>[]>();
  for (const core of pairCores(design, zone)) byCable.set(core.cable, [...(byCable.get(core.cable) ?? []), core]);

  for (const mine of byCable.values()) {
    const cable = cableOf(context, mine[0]!);
    if (cable === undefined) continue;
    const inLoop = new Map(mine.map((core) => [core.id, core]));
    const made = (what: Data['what'], names: readonly string[]): Data => {
      const canTell = bandNameAt(zone, what === 'short' ? 0 : Number.POSITIVE_INFINITY) !== NORMAL;
      return { zone, cable: cable.name, far: farPlace(context, zone, mine), what, cores: names, canTell };
    };
    for (const { fault, rest } of faults.rows) {
      if (fault.word !== 'shorted' || rest.answer !== 'quiet' || fault.other === undefined) continue;
      const [one, other] = [inLoop.get(fault.component), inLoop.get(fault.other)];
      if (one === undefined || other === undefined || (!hot.has(one) && !hot.has(other))) continue;
      return { cable, data: made('short', [one.name, other.name]) };
    }
    const cuts = faults.rows.filter(({ fault }) => fault.word === 'cut' && inLoop.has(fault.component));
    if (mine.length > 1 && isUnnoticed(cuts, faults)) {
      return {
        cable,
        data: made(
          'cut',
          mine.map(({ name }) => name),
        ),
      };
    }
  }
  return undefined;
}

/** The event is lost with a core cut; where no case says what should arrive, rest shows nothing of any cut. */
function isUnnoticed(cuts: readonly FaultRow[], { columns }: ZoneFaults): boolean {
  if (columns.length > 0) return cuts.some((row) => row.class === 'blind');
  return cuts.length > 0 && cuts.every(({ rest }) => rest.answer === 'quiet');
}

/**
 * The class at 0 Ω or at an open loop. In volts, 0 Ω is 0 V and an open loop is the feed.
 */
function bandNameAt(zone: Zone, ohms: number): string | undefined {
  const value = zone.scheme!.unit === 'ohm' || ohms === 0 ? ohms : (zone.feedVolts?.usual ?? ohms);
  const band = bandAt(zone, value);
  return band === undefined ? undefined : className(band);
}

/** The place at the other end of the cable than the zone. */
function farPlace(context: RuleContext, zone: Zone, cores: readonly ComponentOf<'core'>[]): string {
  const { places, terminals } = context.design;
  for (const terminal of [cores[0]!.a, cores[0]!.b]) {
    const place = terminals[terminal]?.place;
    if (place !== undefined && place !== zone.place) return places[place]?.name ?? '';
  }
  return '';
}
