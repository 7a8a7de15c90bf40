import type { Change, ComponentId, Moment, Value, Zone } from '@couplet/engine';
import { circuitComponents, componentOf, nameOf } from '../circuit/circuits.ts';
import { defineRule } from '../define.ts';
import type { RuleContext } from '../rule.ts';
import { expectedByDriver } from '../support/expected.ts';
import { casesOf, restOf } from '../support/instants.ts';
import { isNormal, wiredZones } from '../support/loop.ts';
import { whereWired } from '../support/place.ts';
import { list, spread } from '../support/words.ts';

interface Data {
  readonly zone: Zone;
  readonly together: readonly string[];
  readonly readsAs: string | undefined;
  readonly ohms?: Value;
}

const ALARM = 'alarm';
/** Contacts of one loop of which every combination is tried; of more, pairs and all of them at once. */
const MOST_COMBINED = 6;

export const severalAlarmsMisread = defineRule<Data>({
  name: 'several-alarms-misread',
  thresholds: [],
  explains: [],
  *find(context) {
    const rest = restOf(context.analysis);
    if (rest === undefined) return;
    for (const zone of wiredZones(context)) {
      if (zone.scheme === undefined || !isNormal(rest, zone)) continue;
      const alarms = alarmsOf(context, rest, zone);
      if (alarms.length > MOST_COMBINED) {
        const reason = `${alarms.length} contacts can alarm in one loop: only pairs of them and all at once were tried`;
        context.gap({ subject: zone.id, needs: [], reason });
      }
      for (const chosen of combinations(alarms.length)) {
        const together = chosen.map((index) => alarms[index]!);
        const reading = rest.vary(together.flatMap(({ flips }) => flips)).reading(zone.id);
        if (reading.volts.sort === 'not-evaluated') {
          context.gap({ subject: zone.id, needs: reading.volts.needs, reason: reading.volts.reason });
          break;
        }
        const wrong = reading.possible.filter((name) => !saysAlarm(name));
        if (wrong.length === 0) continue;
        yield {
          severity: 'error',
          origin: whereWired(context.design, zone.id, zone.a),
          subject: zone.id,
          alsoConcerns: together.map(({ driver }) => driver),
          data: {
            zone,
            together: together.map(({ driver }) => nameOf(context.design, driver)),
            readsAs: wrong[0],
            ...(reading.ohms.sort === 'value' ? { ohms: reading.ohms } : {}),
          },
        };
        break;
      }
    }
  },
  word({ data }) {
    const { zone, together, readsAs, ohms } = data;
    const figure = ohms === undefined || !Number.isFinite(ohms.usual) ? '' : ` (${spread(ohms)})`;
    return (
      `${list(together)} each alarm on ${zone.name}, but with ${together.length} of them at once it may read ${readsAs ?? 'outside every band'}${figure}: ` +
      `the alarm is taken for something else just when there are most. Let one resistor lie across all alarm contacts in series, or take ` +
      `resistors of which the sum stays in the alarm band, or a zone for each.`
    );
  },
  figures: ({ data }) => (data.ohms === undefined ? [] : [{ label: `ohms at ${data.zone.name}`, figure: data.ohms }]),
});

function saysAlarm(name: string | undefined): boolean {
  return name?.split('+').includes(ALARM) ?? false;
}

interface Alarm {
  readonly driver: ComponentId;
  /** Its contacts in the loop, the other way round than at rest. */
  readonly flips: readonly Change[];
}

/** What works contacts of a loop and alarms alone, but for what a case expects something else of. */
function alarmsOf(context: RuleContext, rest: Moment, zone: Zone): readonly Alarm[] {
  const { design } = context;
  const flips = new Map<ComponentId, Change[]>();
  for (const id of circuitComponents(design, zone.id)) {
    const contact = componentOf(design, id, 'contact');
    const states = contact === undefined ? [] : rest.states(id);
    if (contact === undefined || states.length !== 1) continue;
    const flip: Change = { sort: states[0] === 'closed' ? 'remove' : 'bridge', component: id };
    flips.set(contact.driver, [...(flips.get(contact.driver) ?? []), flip]);
  }
  const expected = expectedByDriver(casesOf(context.analysis, zone.id), zone.id);
  return [...flips]
    .map(([driver, changes]) => ({ driver, flips: changes }))
    .filter(({ driver }) => expected.get(driver)?.every((word) => saysAlarm(word)) ?? true)
    .filter(({ flips: changes }) => saysAlarm(rest.vary(changes).reading(zone.id).usual));
}

/** Choices of two or more of so many, the smallest first. */
function combinations(count: number): readonly (readonly number[])[] {
  const all = Array.from({ length: count }, (_, index) => index);
  if (count > MOST_COMBINED) {
    return [...all.flatMap((one) => all.slice(one + 1).map((other) => [one, other])), all];
  }
  const found: number[][] = [];
  for (let bits = 0; bits < 2 ** count; bits += 1) {
    const chosen = all.filter((index) => (bits >> index) & 1);
    if (chosen.length > 1) found.push(chosen);
  }
  return found.sort((one, other) => one.length - other.length);
}
