import type { Change, ComponentOf, Moment, Zone } from '@couplet/engine';
import { hotCores, pairCores } from '../circuit/circuits.ts';
import { wiringOf } from '../circuit/wiring.ts';
import { defineRule } from '../define.ts';
import type { RuleContext } from '../rule.ts';
import { restOf } from '../support/instants.ts';
import { bandAt, cableOf, className, isNormal, mayBeNormal, NORMAL, wiredZones } from '../support/loop.ts';
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
    const rest = restOf(context.analysis);
    if (rest === undefined) return;
    for (const zone of wiredZones(context)) {
      if (zone.scheme === undefined || !isNormal(rest, zone)) continue;
      const found = judge(context, rest, zone);
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

/** Pairs of cores tried in one loop; more cores than that in one loop are several loops. */
const MOST_CORES = 8;

function judge(
  context: RuleContext,
  rest: Moment,
  zone: Zone,
): { readonly data: Data; readonly cable: ComponentOf<'cable'> } | undefined {
  const { design } = context;
  const wiring = wiringOf(design);
  const cores = pairCores(design, zone);
  const hot = new Set(hotCores(design, zone));
  const byCable = new Map<number, ComponentOf<'core'>[]>();
  for (const core of cores) byCable.set(core.cable, [...(byCable.get(core.cable) ?? []), core]);

  for (const mine of byCable.values()) {
    const cable = cableOf(context, mine[0]!);
    if (cable === undefined || mine.length > MOST_CORES) continue;
    for (const [one, other] of pairs(mine)) {
      if ((!hot.has(one) && !hot.has(other)) || isOneConductor(wiring.node, one, other)) continue;
      const blind = [
        [one.a, other.a],
        [one.b, other.b],
      ].some(([a, b]) => mayBeNormal(rest.vary([{ sort: 'join', a: a!, b: b! }]), zone));
      if (!blind) continue;
      const canTell = bandNameAt(zone, 0) !== NORMAL;
      return { cable, data: made('short', [one.name, other.name], canTell) };
    }
    const cut: Change[] = mine.map((core) => ({ sort: 'remove', component: core.id }));
    if (mine.length > 1 && mayBeNormal(rest.vary(cut), zone)) {
      const canTell = bandNameAt(zone, Number.POSITIVE_INFINITY) !== NORMAL;
      const names = mine.map((core) => core.name);
      return { cable, data: made('cut', names, canTell) };
    }

    function made(what: Data['what'], names: readonly string[], canTell: boolean): Data {
      return { zone, cable: cable!.name, far: farPlace(context, zone, mine), what, cores: names, canTell };
    }
  }
  return undefined;
}

/**
 * The class at 0 Ω or at an open loop. In volts, 0 Ω is 0 V and an open loop is the feed.
 */
function bandNameAt(zone: Zone, ohms: number): string | undefined {
  const value = zone.scheme!.unit === 'ohm' || ohms === 0 ? ohms : (zone.feedVolts?.usual ?? ohms);
  const band = bandAt(zone, value);
  return band === undefined ? undefined : className(band);
}

/** Cores joined to each other at an end are one conductor there: a short between them says nothing. */
function isOneConductor(
  node: (terminal: number) => number,
  one: ComponentOf<'core'>,
  other: ComponentOf<'core'>,
): boolean {
  const ends = [node(one.a), node(one.b)];
  return ends.includes(node(other.a)) || ends.includes(node(other.b));
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

function* pairs<T>(items: readonly T[]): Generator<readonly [T, T]> {
  for (let first = 0; first < items.length; first += 1) {
    for (let second = first + 1; second < items.length; second += 1) yield [items[first]!, items[second]!];
  }
}
