import type { Join } from '@couplet/engine';
import { defineRule } from '../define.ts';

interface Data {
  readonly one: string;
  readonly other: string;
  readonly onePlace: string;
  readonly otherPlace: string;
}

export const placesJoinedWithoutCable = defineRule<Data>({
  name: 'places-joined-without-cable',
  thresholds: [],
  explains: [],
  *find({ design }) {
    const said = new Set<number>();
    for (const join of design.joins) {
      const [one, other] = [design.terminals[join.a], design.terminals[join.b]];
      if (one?.place === undefined || other?.place === undefined || one.place === other.place) continue;
      // A stretch of a chain is one wire, however many terminals it joins.
      if (join.origin >= 0 && said.has(join.origin)) continue;
      said.add(join.origin);
      yield {
        severity: 'error',
        origin: originOf(join, one.origin),
        subject: one.component,
        alsoConcerns: [other.component],
        data: {
          one: one.name,
          other: other.name,
          onePlace: design.places[one.place]?.name ?? '?',
          otherPlace: design.places[other.place]?.name ?? '?',
        },
      };
    }
  },
  word({ data }) {
    const { one, other, onePlace, otherPlace } = data;
    return (
      `${one} is in ${onePlace} and ${other} is in ${otherPlace}: only a cable joins two places. ` +
      `Name the core that runs between them (${one} -- W1.RD -- ${other}), so that its resistance counts.`
    );
  },
});

function originOf(join: Join, otherwise: number): number {
  return join.origin < 0 ? otherwise : join.origin;
}
