import type { Component, ComponentId, Core } from '@couplet/engine';
import { componentOf } from '../circuit/circuits.ts';
import { type NodeId, type Part, wiringOf } from '../circuit/wiring.ts';
import { defineRule } from '../define.ts';

interface Data {
  readonly part: string;
  readonly plus: string;
  readonly minus: string;
}

/** Colours that the trade takes for plus, and for minus. */
const PLUS: ReadonlySet<string> = new Set(['RD', 'BN']);
const MINUS: ReadonlySet<string> = new Set(['BK', 'BU']);

export const coreColourReversed = defineRule<Data>({
  name: 'core-colour-reversed',
  thresholds: [],
  explains: [],
  *find({ design }) {
    const wiring = wiringOf(design);
    for (const component of design.components) {
      if (!isPolarised(component)) continue;
      for (const part of wiring.partsOf(component.id)) {
        const plus = coreAt(part, part.a, MINUS);
        const minus = coreAt(part, part.b, PLUS);
        if (plus === undefined || minus === undefined) continue;
        yield {
          severity: 'information',
          origin: component.origin,
          subject: component.id,
          alsoConcerns: [plus.id, minus.id],
          related: [plus, minus].map((core) => ({ origin: core.origin, message: core.name })),
          data: { part: component.name, plus: plus.name, minus: minus.name },
        };
      }
    }

    /** A core of one of the colours that ends at the node of a part. */
    function coreAt(part: Part, node: NodeId, colours: ReadonlySet<string>): Core | undefined {
      for (const near of wiring.partsAt(node)) {
        const core: Core | undefined = componentOf(design, near.component as ComponentId, 'core');
        if (core !== undefined && near !== part && colours.has(core.colour)) return core;
      }
      return undefined;
    }
  },
  word({ data }) {
    const { part, plus, minus } = data;
    return (
      `${plus} is on the plus side of ${part} and ${minus} on its minus side. Red and brown are taken for plus, black and blue ` +
      `for minus: the next person will believe the colours. Swap the two cores at both ends.`
    );
  },
});

function isPolarised(component: Component): boolean {
  if (component.kind === 'load') return component.polarised?.word !== 'no';
  if (component.kind === 'relay') return component.suppressor !== undefined && component.suppressor.sort !== 'none';
  return component.kind === 'feed';
}
