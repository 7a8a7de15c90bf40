import type { ComponentId, ComponentOf, Design } from '@couplet/engine';
import { nameOf, ofKind } from '../circuit/circuits.ts';
import { polesOf } from '../circuit/systems.ts';
import { type NodeId, wiringOf } from '../circuit/wiring.ts';
import { defineRule } from '../define.ts';
import type { RuleContext } from '../rule.ts';
import { whereWired } from '../support/place.ts';
import { list } from '../support/words.ts';

type Contact = ComponentOf<'contact'>;

interface Data {
  readonly pole: string;
  readonly isRelay: boolean;
  readonly carries: readonly string[];
}

export const contactShared = defineRule<Data>({
  name: 'contact-shared',
  thresholds: [],
  explains: ['rest-inverted'],
  *find(context) {
    const { design } = context;
    const supplies = suppliesOf(design);
    for (const throws of poles(design)) {
      const carried = carriedBy(context, throws, supplies);
      if (carried.length < 2) continue;
      const [first] = throws;
      yield {
        severity: 'error',
        origin: whereWired(design, first!.id, first!.a),
        subject: first!.id,
        alsoConcerns: [first!.driver, ...throws.slice(1).map((contact) => contact.id)],
        alsoExplains: carried,
        related: carried.map((id) => ({
          origin: whereWired(design, id),
          message: `${nameOf(design, id)} goes over it`,
        })),
        data: {
          pole: list(throws.map((contact) => contact.name)),
          isRelay: design.components[first!.driver]?.kind === 'relay',
          carries: carried.map((id) => nameOf(design, id)),
        },
      };
    }
  },
  word({ data }) {
    const { pole, isRelay, carries } = data;
    return (
      `One pole, ${pole}, carries ${list(carries)}: the two are joined through it, each feeds the other, and one fault takes both. ` +
      `Give each a pole of its own${isRelay ? ' (a relay with more poles, or a second relay beside it)' : ' or a relay of its own'}.`
    );
  },
});

/** The wired throws of each pole. */
function poles(design: Design): readonly (readonly Contact[])[] {
  const wiring = wiringOf(design);
  const wired = ofKind(design, 'contact').filter((each) => wiring.isWired(each.a) && wiring.isWired(each.b));
  return [...Map.groupBy(wired, ({ driver, pole }) => `${driver} ${pole}`).values()];
}

/** What lies at one end of a contact: poles by a node of their copper, and the zones and inputs that feed themselves. */
interface End {
  readonly poles: ReadonlySet<NodeId>;
  readonly readers: ReadonlySet<ComponentId>;
}

/** Sources by the copper of their plus, in the order of the design, and the system of each. */
interface Supplies {
  readonly systems: ReadonlyMap<ComponentId, ComponentId>;
  readonly byPlus: ReadonlyMap<NodeId, readonly ComponentOf<'source'>[]>;
}

function suppliesOf(design: Design): Supplies {
  const wiring = wiringOf(design);
  return {
    systems: new Map(polesOf(design).map(({ component, system }) => [component, system])),
    byPlus: Map.groupBy(ofKind(design, 'source'), (source) => copperOf(design, wiring.node(source.a))),
  };
}

/** The node that stands for all that copper joins to one. */
function copperOf(design: Design, node: NodeId): NodeId {
  return Math.min(...wiringOf(design).copperFrom(node));
}

/**
 * Zones, inputs and systems whose current can pass a pole: hot at one end of a throw, return at the other. What a diode
 * keeps apart is not counted. Of a system its first source stands for it.
 */
function carriedBy(
  { design }: RuleContext,
  throws: readonly Contact[],
  { systems, byPlus }: Supplies,
): readonly ComponentId[] {
  const wiring = wiringOf(design);
  const own = new Set(throws.map((contact) => contact.id));
  const copper = (node: NodeId) => copperOf(design, node);
  const found = new Set<ComponentId>();
  const seenSystems = new Set<ComponentId>();

  for (const contact of throws) {
    const [a, b] = [endAt(wiring.node(contact.a)), endAt(wiring.node(contact.b))];
    for (const [hot, cold] of [
      [a, b],
      [b, a],
    ] as const) {
      for (const id of hot.readers) {
        const reader = design.components[id]!;
        if ('b' in reader && cold.poles.has(copper(wiring.node(reader.b)))) found.add(id);
      }
      const sources = [...hot.poles].flatMap((pole) => byPlus.get(pole) ?? []);
      for (const source of sources.sort((one, other) => one.id - other.id)) {
        if (!cold.poles.has(copper(wiring.node(source.b)))) continue;
        const system = systems.get(source.id) ?? source.id;
        if (seenSystems.has(system)) continue;
        seenSystems.add(system);
        found.add(source.id);
      }
    }
  }
  return [...found].sort((one, other) => one - other);

  function endAt(start: NodeId): End {
    const poles = new Set<NodeId>();
    const readers = new Set<ComponentId>();
    const seen = new Set([start]);
    const queue = [start];
    for (let node = queue.pop(); node !== undefined; node = queue.pop()) {
      if (wiring.isPole(node)) {
        poles.add(copper(node));
        continue;
      }
      for (const part of wiring.partsAt(node)) {
        if (part.sort === 'source') {
          if (part.a === node && design.components[part.component]?.kind !== 'source') readers.add(part.component);
          continue;
        }
        if (own.has(part.component) || part.sort === 'diode' || part.sort === 'capacitor') continue;
        for (const next of [part.a, part.b]) {
          if (seen.has(next)) continue;
          seen.add(next);
          queue.push(next);
        }
      }
    }
    return { poles, readers };
  }
}
