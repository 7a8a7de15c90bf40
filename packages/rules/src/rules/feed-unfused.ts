import type { ComponentOf } from '@couplet/engine';
import { componentOf, ofKind } from '../circuit/circuits.ts';
import { type NodeId, wiringOf } from '../circuit/wiring.ts';
import { defineRule } from '../define.ts';
import type { RuleContext } from '../rule.ts';
import { capacityOf } from '../support/capacity.ts';
import { assumptionOf } from '../support/coil.ts';
import { lacks } from '../support/instants.ts';
import { whereWired } from '../support/place.ts';
import { show } from '../support/words.ts';

interface Data {
  readonly source: string;
  readonly limit: number;
  readonly core: string;
  readonly capacity: number;
}

export const feedUnfused = defineRule<Data>({
  name: 'feed-unfused',
  thresholds: [
    {
      key: 'share',
      value: 1,
      unit: '',
      says: 'limit of the supply over the capacity of the core',
      origin: 'a core is protected where the supply cannot give more than it carries',
      standing: 'common practice',
      settable: true,
    },
  ],
  explains: [],
  *find(context) {
    for (const source of ofKind(context.design, 'source')) {
      const core = coreWithoutFuse(context, source);
      if (core === undefined) continue;
      if (source.limit === undefined) {
        lacks(context, source.id, 'limit');
        continue;
      }
      const capacity = capacityOf(context, core);
      if (capacity === undefined) continue;
      const limit = source.limit.usual;
      if (limit <= capacity.amps * context.threshold('share').value) continue;
      yield {
        severity: 'warning',
        origin: whereWired(context.design, source.id, source.a),
        subject: source.id,
        alsoConcerns: [core.id, core.cable],
        related: [
          { origin: core.origin, message: `${core.name} carries ${show(capacity.amps, 'A')}` },
          { origin: source.limit.origin, message: `${source.name} gives ${show(limit, 'A')}` },
        ],
        assumptions: [...assumptionOf(source.limit), ...capacity.assumptions],
        data: { source: source.name, limit, core: core.name, capacity: capacity.amps },
      };
    }
  },
  word({ data }) {
    const { source, limit, core, capacity } = data;
    return (
      `${source} leaves its place by ${core} without a fuse, and gives ${show(limit, 'A')} where the core carries ${show(capacity, 'A')}: ` +
      `a short at the far end heats the whole cable. Put a fuse of at most ${show(capacity, 'A')} beside the supply.`
    );
  },
});

/** A core at the plus of a source that is reached without passing a fuse. */
function coreWithoutFuse(context: RuleContext, source: ComponentOf<'source'>): ComponentOf<'core'> | undefined {
  const wiring = wiringOf(context.design);
  const seen = new Set<NodeId>([wiring.node(source.a)]);
  const queue = [...seen];
  for (let node = queue.pop(); node !== undefined; node = queue.pop()) {
    for (const part of wiring.partsAt(node)) {
      const core = componentOf(context.design, part.component, 'core');
      if (core !== undefined) return core;
      if (componentOf(context.design, part.component, 'arrester') === undefined) continue;
      for (const next of [part.a, part.b]) {
        if (seen.has(next)) continue;
        seen.add(next);
        queue.push(next);
      }
    }
  }
  return undefined;
}
