import { componentOf } from '../circuit/circuits.ts';
import { defineRule } from '../define.ts';
import { asksForFaults, faultClassesOf } from '../support/faults.ts';
import { NORMAL } from '../support/loop.ts';
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
    const { design } = context;
    if (!asksForFaults(design)) return;
    for (const zone of faultClassesOf(design).zones) {
      if (zone.healthy.rest.usual !== NORMAL) continue;
      // A unit that is lost with a rail of its own is told by the rail.
      for (const row of zone.rows) {
        const { fault, caseName } = row;
        const lost = design.components[fault.component];
        if (row.class !== 'blind' || caseName === undefined || (fault.word !== 'lost' && fault.word !== 'blown'))
          continue;
        if (lost?.kind !== 'source' && lost?.kind !== 'fuse') continue;
        const hot = componentOf(design, zone.zone, 'zone')!;
        yield {
          severity: 'error',
          origin: whereWired(design, lost.id, lost.a),
          subject: lost.id,
          alsoConcerns: [zone.zone],
          caseName,
          related: [{ origin: whereWired(design, hot.id, hot.a), message: `${hot.name} goes blind` }],
          data: { lost: lost.name, isFuse: lost.kind === 'fuse', zone: hot.name, caseName },
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
