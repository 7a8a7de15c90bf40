import type { Zone, ZoneReading } from '@couplet/engine';
import { defineRule } from '../define.ts';
import { contactCures, resistorCures } from '../support/cures.ts';
import { restOf } from '../support/instants.ts';
import { className, NORMAL, returnName, wiredZones } from '../support/loop.ts';
import { whereWired } from '../support/place.ts';
import { showLoop, spread } from '../support/words.ts';

interface Data {
  readonly zone: Zone;
  readonly reading: ZoneReading;
  readonly normal: string;
  readonly returns: string;
}

export const restInverted = defineRule<Data>({
  name: 'rest-inverted',
  thresholds: [],
  explains: [
    'reading-outside-band',
    'signal-too-short',
    'expectation-failed',
    'silent-fault',
    'changed-unasked',
    'zone-without-case',
    'loop-resistance-high',
  ],
  *find(context) {
    const rest = restOf(context.analysis);
    if (rest === undefined || context.design.fragment) return;
    for (const zone of wiredZones(context)) {
      const normal = zone.scheme?.bands.find((band) => className(band) === NORMAL);
      if (zone.scheme === undefined) {
        context.gap({ subject: zone.id, needs: [{ component: zone.id, property: 'scheme', origin: zone.origin }] });
        continue;
      }
      if (normal === undefined) continue;
      const reading = rest.reading(zone.id);
      if (reading.volts.sort === 'not-evaluated') {
        context.gap({ subject: zone.id, needs: reading.volts.needs, reason: reading.volts.reason });
        continue;
      }
      // Where the spread still reaches into the normal band, the rule on bands says how far it does not.
      if (reading.possible.includes(NORMAL)) continue;
      const unit = zone.scheme.unit;
      const edge = (value: number | undefined, open: string) =>
        value === undefined ? open : unit === 'V' ? `${value} V` : showLoop(value);
      yield {
        severity: 'error',
        origin: whereWired(context.design, zone.id, zone.a),
        subject: zone.id,
        caseName: context.analysis.cases[0]!.name,
        related: [{ origin: normal.origin, message: `the normal band of ${zone.name}` }],
        data: {
          zone,
          reading,
          normal: `${edge(normal.from, 'nothing')} to ${edge(normal.to, 'open')}`,
          returns: returnName(context, zone),
        },
      };
    }
  },
  word({ data }) {
    const { zone, reading, normal, returns } = data;
    const reads = reading.usual === undefined ? 'no class' : reading.usual;
    const ohms = reading.ohms;
    const open = ohms.sort !== 'value' || ohms.usual === Number.POSITIVE_INFINITY;
    const figure = open
      ? `nothing conducts between ${zone.name} and ${returns}`
      : `${spread(ohms)} between ${zone.name} and ${returns}`;
    return (
      `When all is well, ${zone.name} reads ${reads} and not normal: ${figure}, where normal is ${normal}. ` +
      `The panel would stand in that state for ever, and what it shall report would look like all is well. ` +
      `Use the other contact (normally closed in place of normally open), put the end resistor where the current ` +
      `passes it at rest, or choose the scheme that the loop is built for.`
    );
  },
  cures({ data }, { design }) {
    const { reading, zone } = data;
    const normal = zone.scheme?.bands.find((band) => className(band) === NORMAL);
    const value = reading.ohms.sort === 'value' ? reading.ohms.usual : Number.POSITIVE_INFINITY;
    const resistors = normal === undefined ? [] : resistorCures(design, zone, normal, value);
    return [...contactCures(design, zone.id, zone.origin), ...resistors];
  },
  figures: ({ data }) => [
    { label: `ohms at ${data.zone.name}`, figure: data.reading.ohms },
    { label: `volts at ${data.zone.name}`, figure: data.reading.volts },
  ],
});
