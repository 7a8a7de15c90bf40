import type { Case, CaseAnalysis, ComponentOf, Design, Moment, Zone } from '@couplet/engine';
import { componentOf } from '../circuit/circuits.ts';
import { downstreamOf } from '../circuit/reach.ts';
import { wiringOf } from '../circuit/wiring.ts';
import { defineRule } from '../define.ts';
import type { RuleContext } from '../rule.ts';
import { casesOf, restOf } from '../support/instants.ts';
import { isNormal, NORMAL } from '../support/loop.ts';
import { whereWired } from '../support/place.ts';

interface Data {
  readonly lost: string;
  readonly isFuse: boolean;
  readonly zone: string;
  readonly caseName: string;
}

export const supplyLossSilent = defineRule<Data>({
  name: 'supply-loss-silent',
  thresholds: [],
  explains: ['silent-fault'],
  *find(context) {
    const rest = restOf(context.analysis);
    if (rest === undefined) return;
    for (const component of context.design.components) {
      if (component.kind !== 'source' && component.kind !== 'fuse') continue;
      for (const zone of zonesBehind(context, component)) {
        if (!isNormal(rest, zone)) continue;
        const columns = alarms(context, zone);
        if (columns.length === 0) continue;
        const lose = (moment: Moment) => moment.vary([{ sort: 'remove', component: component.id }]);
        if (lose(rest).reading(zone.id).usual !== NORMAL) continue;
        const silent = columns.find(({ moments }) =>
          moments.every((moment) => lose(moment).reading(zone.id).usual === NORMAL),
        );
        if (silent === undefined) continue;
        yield {
          severity: 'error',
          origin: whereWired(context.design, component.id, component.a),
          subject: component.id,
          alsoConcerns: [zone.id],
          caseName: silent.name,
          related: [{ origin: whereWired(context.design, zone.id, zone.a), message: `${zone.name} goes blind` }],
          data: {
            lost: component.name,
            isFuse: component.kind === 'fuse',
            zone: zone.name,
            caseName: silent.name,
          },
        };
      }
    }
  },
  word({ data }) {
    const { lost, isFuse, zone, caseName } = data;
    return (
      `With ${lost} ${isFuse ? 'blown' : 'lost'}, ${zone} reads normal and stays so in case ${caseName}: nobody learns that it is gone, and ` +
      `the alarm does not arrive. Let the relay or contact be held in while all is well, so that it falls with its supply, or ` +
      `report the supply on a zone of its own.`
    );
  },
});

/** Zones that change when the component does, those fed by it through relays and detectors. */
function zonesBehind(context: RuleContext, component: ComponentOf<'source'> | ComponentOf<'fuse'>): readonly Zone[] {
  const zones: Zone[] = [];
  for (const id of downstreamOf(context.design, component.id)) {
    const zone = componentOf(context.design, id, 'zone');
    if (zone?.scheme !== undefined && wiringOf(context.design).isWired(zone.a)) zones.push(zone);
  }
  return zones.sort((one, other) => one.id - other.id);
}

/** Cases in which the zone reports something, those left out that are a lost supply or a blown fuse themselves. */
function alarms(context: RuleContext, zone: Zone): readonly CaseAnalysis[] {
  return casesOf(context.analysis, zone.id).filter(
    (one) =>
      one.case !== undefined &&
      !isSupplyFault(context.design, one.case) &&
      one.moments.some((moment) => !moment.reading(zone.id).possible.includes(NORMAL)),
  );
}

const FAULTS: ReadonlySet<string> = new Set(['off', 'lost', 'blown']);
const SUPPLYING: ReadonlySet<string> = new Set(['unit', 'source', 'fuse']);

function isSupplyFault(design: Design, what: Case): boolean {
  return what.steps.some(
    (step) =>
      step.sort === 'turn' && FAULTS.has(step.state) && SUPPLYING.has(design.components[step.target]?.kind ?? ''),
  );
}
