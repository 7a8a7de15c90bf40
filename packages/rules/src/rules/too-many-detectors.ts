import type { Zone } from '@couplet/engine';
import { circuitComponents, componentOf, nameOf } from '../circuit/circuits.ts';
import { defineRule } from '../define.ts';
import { wiredZones } from '../support/loop.ts';
import { whereWired } from '../support/place.ts';
import { listSome } from '../support/words.ts';

interface Data {
  readonly zone: Zone;
  readonly names: readonly string[];
  readonly isPowered: boolean;
  readonly most: number;
}

export const tooManyDetectors = defineRule<Data>({
  name: 'too-many-detectors',
  thresholds: [
    {
      key: 'passive',
      value: 10,
      unit: '',
      says: 'passive contacts on one zone',
      origin: 'EN 50131-1',
      standing: 'standard from memory',
      settable: true,
    },
    {
      key: 'powered',
      value: 1,
      unit: '',
      says: 'powered detectors on one zone',
      origin: 'EN 50131-1',
      standing: 'standard from memory',
      settable: false,
    },
  ],
  explains: [],
  *find(context) {
    const { design } = context;
    for (const zone of wiredZones(context)) {
      const powered = new Set<number>();
      const passive = new Set<number>();
      for (const id of circuitComponents(design, zone.id)) {
        const contact = componentOf(design, id, 'contact');
        if (contact === undefined) continue;
        const driver = design.components[contact.driver];
        // Alarm and tamper contacts of one detector are one detector.
        if (driver?.kind === 'actuator') powered.add(driver.owner ?? driver.id);
        if (driver?.kind === 'switch') passive.add(driver.id);
      }
      const isPowered = powered.size > context.threshold('powered').value;
      const most = context.threshold(isPowered ? 'powered' : 'passive').value;
      const found = isPowered ? powered : passive;
      if (found.size <= most) continue;
      yield {
        severity: 'warning',
        origin: whereWired(design, zone.id, zone.a),
        subject: zone.id,
        related: [...found].map((id) => ({
          origin: design.components[id]!.origin,
          message: `${nameOf(design, id)} is in this loop`,
        })),
        beyondLimits: isPowered,
        data: { zone, names: [...found].map((id) => nameOf(design, id)), isPowered, most },
      };
    }
  },
  word({ data }) {
    const { zone, names, isPowered, most } = data;
    const what = isPowered ? 'powered detectors' : 'contacts';
    return (
      `${names.length} ${what} share ${zone.name} (${listSome(names, 4)}), more than ${most}: nobody can tell from the panel which of ` +
      `them reported, and several at once may read as something else. Give each a zone of its own where there are zones left.`
    );
  },
});
