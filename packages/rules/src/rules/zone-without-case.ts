import type { Zone } from '@couplet/engine';
import { defineRule } from '../define.ts';
import { NORMAL, wiredZones } from '../support/loop.ts';
import { whereWired } from '../support/place.ts';

interface Data {
  readonly zone: Zone;
}

export const zoneWithoutCase = defineRule<Data>({
  name: 'zone-without-case',
  thresholds: [],
  explains: [],
  *find(context) {
    if (context.design.fragment) return;
    const asked = new Set<number>();
    for (const one of context.design.cases) {
      for (const step of one.steps) {
        if (step.sort !== 'expect' || step.subject.sort !== 'component') continue;
        const isRest = step.predicate.sort === 'state' && step.predicate.word === NORMAL;
        if (!isRest && one.name !== 'rest') asked.add(step.subject.component);
      }
    }
    for (const zone of wiredZones(context)) {
      if (asked.has(zone.id)) continue;
      yield {
        severity: 'warning',
        origin: whereWired(context.design, zone.id, zone.a),
        subject: zone.id,
        data: { zone },
      };
    }
  },
  word({ data }) {
    const { name } = data.zone;
    return (
      `No case says what shall change ${name}: whether its alarm arrives, and which faults hide it, cannot be judged. ` +
      `Write one: \`case alarm { turn … open  expect ${name} alarm within 1 s }\`.`
    );
  },
});
