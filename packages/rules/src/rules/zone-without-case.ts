import type { Zone } from '@couplet/engine';
import { defineRule } from '../define.ts';
import { restOf } from '../support/instants.ts';
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
    const rest = restOf(context.analysis);
    for (const one of context.design.cases) {
      for (const step of one.steps) {
        if (step.sort !== 'expect' || step.subject.sort !== 'component') continue;
        const atRest = rest?.reading(step.subject.component).usual ?? NORMAL;
        const isRest = step.predicate.sort === 'state' && step.predicate.word === atRest;
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
