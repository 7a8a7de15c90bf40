import type { ComponentOf } from '@couplet/engine';
import { componentOf, ofKind } from '../circuit/circuits.ts';
import { type NodeId, wiringOf } from '../circuit/wiring.ts';
import { defineRule } from '../define.ts';
import type { RuleContext } from '../rule.ts';
import { capacityOf } from '../support/capacity.ts';
import { lacks } from '../support/instants.ts';
import { whereWired } from '../support/place.ts';
import { sharedFuses } from '../support/shared-fuses.ts';
import { listSome, show } from '../support/words.ts';

type Data =
  | {
      readonly sort: 'unguarded';
      readonly source: string;
      /** What the fuse, or else the limit of the supply, lets through. */
      readonly amps: number;
      readonly isFuse: boolean;
      readonly core: string;
      readonly capacity: number;
    }
  /** One fuse whose loss takes both what sees an alarm and what sounds it. */
  | { readonly sort: 'shared'; readonly fuse: string; readonly zones: readonly string[]; readonly sounder: string };

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
      const worst = leastGuarded(source);
      if (worst === undefined) continue;
      const { core, capacity, amps, isFuse } = worst;
      yield {
        severity: 'warning',
        origin: whereWired(context.design, source.id, source.a),
        subject: source.id,
        alsoConcerns: [core.id, core.cable],
        related: [{ origin: core.origin, message: `${core.name} carries ${show(capacity.amps, 'A')}` }],
        assumptions: capacity.assumptions,
        data: { sort: 'unguarded', source: source.name, amps, isFuse, core: core.name, capacity: capacity.amps },
      };
    }

    for (const { fuse, zones, sounder } of sharedFuses(context)) {
      yield {
        severity: 'warning',
        origin: fuse.origin,
        subject: fuse.id,
        alsoConcerns: [...zones, sounder].map(({ id }) => id),
        related: [{ origin: sounder.origin, message: `${sounder.name} goes silent with it` }],
        beyondLimits: true,
        data: { sort: 'shared', fuse: fuse.name, zones: zones.map(({ name }) => name), sounder: sounder.name },
      };
    }

    /** The core that fuse and limit together guard worst, where neither is small enough. */
    function leastGuarded(source: ComponentOf<'source'>) {
      const share = context.threshold('share').value;
      for (const { core, fuse } of waysOut(context, source)) {
        if (source.limit === undefined && fuse === Number.POSITIVE_INFINITY) {
          lacks(context, source.id, 'limit');
          return undefined;
        }
        const capacity = capacityOf(context, core);
        if (capacity === undefined) return undefined;
        const limit = source.limit?.usual ?? Number.POSITIVE_INFINITY;
        const amps = Math.min(limit, fuse);
        if (amps > capacity.amps * share) return { core, capacity, amps, isFuse: fuse < limit };
      }
      return undefined;
    }
  },
  word({ data }) {
    if (data.sort === 'shared') {
      const { fuse, sounder, zones } = data;
      return (
        `${fuse} alone feeds ${listSome(zones, 4)} and ${sounder}: when it blows, an alarm is neither seen nor heard. ` +
        `Give ${sounder} a fuse of its own, which the fault of one line does not take.`
      );
    }
    const { source, amps, isFuse, core, capacity } = data;
    const guard = isFuse
      ? `behind a fuse of ${show(amps, 'A')}, where the core carries ${show(capacity, 'A')}`
      : `without a fuse, and gives ${show(amps, 'A')} where the core carries ${show(capacity, 'A')}`;
    return (
      `${source} leaves its place by ${core} ${guard}: a short at the far end heats the whole cable. ` +
      `Put a fuse of at most ${show(capacity, 'A')} beside the supply, or take a larger section.`
    );
  },
});

interface Way {
  readonly core: ComponentOf<'core'>;
  /** The smallest fuse on the way, in amperes; Infinity without one. */
  readonly fuse: number;
}

/** Cores by which the plus of a source leaves its place, each with the fuse that guards it. */
function* waysOut(context: RuleContext, source: ComponentOf<'source'>): Generator<Way> {
  const wiring = wiringOf(context.design);
  const best = new Map<NodeId, number>();
  const queue: (readonly [NodeId, number])[] = [[wiring.node(source.a), Number.POSITIVE_INFINITY]];
  for (let at = queue.pop(); at !== undefined; at = queue.pop()) {
    const [node, fuse] = at;
    // A node is looked at again only where it is reached by a less guarded way.
    if ((best.get(node) ?? -1) >= fuse) continue;
    best.set(node, fuse);
    for (const part of wiring.partsAt(node)) {
      const core = componentOf(context.design, part.component, 'core');
      if (core !== undefined) {
        yield { core, fuse };
        continue;
      }
      if (part.sort !== 'copper') continue;
      const rated = componentOf(context.design, part.component, 'fuse')?.rated?.usual;
      for (const next of [part.a, part.b]) queue.push([next, Math.min(fuse, rated ?? Number.POSITIVE_INFINITY)]);
    }
  }
}
