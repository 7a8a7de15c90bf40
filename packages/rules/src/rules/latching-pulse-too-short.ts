import type { ComponentOf, Signal } from '@couplet/engine';
import { componentOf } from '../circuit/circuits.ts';
import { defineRule } from '../define.ts';
import { assumptionOf } from '../support/coil.ts';
import { lacks } from '../support/instants.ts';
import { percent, show } from '../support/words.ts';

interface Data {
  readonly relay: ComponentOf<'relay'>;
  readonly signal: Signal;
  readonly minimum: number;
  readonly caseName: string;
}

/** Times are sums: what differs by less is equal. */
const ROUNDING = 1e-9;

export const latchingPulseTooShort = defineRule<Data>({
  name: 'latching-pulse-too-short',
  thresholds: [
    {
      key: 'error',
      value: 2,
      unit: '',
      says: 'shortest pulse at a coil over its minimum pulse',
      origin: 'common practice, no source',
      standing: 'common practice',
      settable: true,
    },
  ],
  explains: ['order-decides', 'expectation-failed'],
  reach: 'downstream',
  *find(context) {
    const limit = context.threshold('error').value;
    const worst = new Map<string, Data>();
    for (const one of context.analysis.cases) {
      for (const signal of one.signals) {
        const relay = componentOf(context.design, signal.component, 'relay');
        if (relay?.latching === undefined || signal.shortest === Number.POSITIVE_INFINITY) continue;
        if (relay.minimumPulse === undefined) {
          lacks(context, relay.id, 'minimum-pulse');
          continue;
        }
        const key = `${relay.id} ${signal.className}`;
        const known = worst.get(key);
        if (known !== undefined && known.signal.shortest <= signal.shortest) continue;
        worst.set(key, { relay, signal, minimum: relay.minimumPulse.most, caseName: one.name });
      }
    }
    for (const data of worst.values()) {
      if (!(data.signal.shortest < limit * data.minimum * (1 - ROUNDING))) continue;
      const { relay, signal, caseName } = data;
      yield {
        severity: 'error',
        origin: signal.origin < 0 ? relay.origin : signal.origin,
        subject: relay.id,
        caseName,
        related: [
          { origin: relay.minimumPulse!.origin, message: `${relay.name} needs at least ${show(data.minimum, 's')}` },
        ],
        assumptions: assumptionOf(relay.minimumPulse),
        data,
      };
    }
  },
  word({ data }, context) {
    const { relay, signal, minimum, caseName } = data;
    const ratio = percent(signal.shortest / minimum);
    const wanted = minimum * context.threshold('error').value;
    return (
      `In case ${caseName}, ${relay.name} is driven to ${signal.className} for ${show(signal.shortest, 's')} at its shortest, ` +
      `${ratio} of the ${show(minimum, 's')} that it needs: it may stay where it was, or stop between. ` +
      `Let the pulse last for at least ${show(wanted, 's')}.`
    );
  },
});
