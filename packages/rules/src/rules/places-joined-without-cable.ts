import type { Component, Join } from '@couplet/engine';
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
    // A part that lies in another place than both its neighbours was put in the wrong place once, not wired wrongly twice.
    const found = new Map<string, [Join, ...Join[]]>();
    for (const join of design.joins) {
      const [one, other] = [design.terminals[join.a], design.terminals[join.b]];
      if (one?.place === undefined || other?.place === undefined || one.place === other.place) continue;
      const part = [one, other].map((end) => end.component).find((id) => isTwoTerminal(design.components[id]));
      const places = [one.place, other.place].sort((a, b) => a - b).join(' ');
      const key = `${part ?? `${one.component} ${other.component}`}\n${places}`;
      const known = found.get(key);
      if (known === undefined) found.set(key, [join]);
      else known.push(join);
    }
    for (const [join, ...others] of found.values()) {
      const [one, other] = [design.terminals[join.a]!, design.terminals[join.b]!];
      yield {
        severity: 'error',
        origin: join.origin < 0 ? one.origin : join.origin,
        subject: one.component,
        alsoConcerns: [other.component],
        related: others.map((each) => ({ origin: each.origin, message: 'and here' })),
        data: {
          one: one.name,
          other: other.name,
          onePlace: design.places[one.place!]?.name ?? '?',
          otherPlace: design.places[other.place!]?.name ?? '?',
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

const TWO_TERMINAL: ReadonlySet<Component['kind']> = new Set([
  'load',
  'resistor',
  'diode',
  'capacitor',
  'fuse',
  'relay',
  'contact',
  'arrester',
]);

function isTwoTerminal(component: Component | undefined): boolean {
  return component !== undefined && TWO_TERMINAL.has(component.kind);
}
