import type { ComponentOf, Signal } from '@couplet/engine';
import { componentOf } from '../circuit/circuits.ts';
import { defineRule } from '../define.ts';
import { assumptionOf } from '../support/coil.ts';
import { lacks } from '../support/instants.ts';
import { whereWired } from '../support/place.ts';
import { show } from '../support/words.ts';

interface Data {
  readonly zone: ComponentOf<'zone'>;
  readonly gap: number;
  readonly restores: number;
  readonly caseName: string;
}

/** Times are sums: what differs by less is equal. */
const ROUNDING = 1e-9;

export const eventsMerge = defineRule<Data>({
  name: 'events-merge',
  thresholds: [
    {
      key: 'warning',
      value: 1,
      unit: '',
      says: 'restored time between two events over the time that the zone needs to restore',
      origin: 'common practice, no source',
      standing: 'common practice',
      settable: true,
    },
  ],
  explains: [],
  *find(context) {
    const limit = context.threshold('warning').value;
    const worst = new Map<number, { readonly data: Data; readonly signal: Signal }>();
    for (const one of context.analysis.cases) {
      for (const signal of one.signals) {
        const zone = componentOf(context.design, signal.component, 'zone');
        if (zone === undefined || signal.gap === undefined) continue;
        if (zone.restores === undefined) {
          lacks(context, zone.id, 'restores');
          continue;
        }
        const known = worst.get(zone.id);
        if (known !== undefined && known.data.gap <= signal.gap) continue;
        const data = { zone, gap: signal.gap, restores: zone.restores.most, caseName: one.name };
        worst.set(zone.id, { data, signal });
      }
    }
    for (const { data, signal } of worst.values()) {
      if (!(data.gap < limit * data.restores * (1 - ROUNDING))) continue;
      const { zone, restores } = data;
      yield {
        severity: 'warning',
        origin: signal.origin < 0 ? whereWired(context.design, zone.id, zone.a) : signal.origin,
        subject: zone.id,
        caseName: data.caseName,
        related: [{ origin: zone.restores!.origin, message: `${zone.name} restores within ${show(restores, 's')}` }],
        assumptions: assumptionOf(zone.restores),
        data,
      };
    }
  },
  word({ data }) {
    const { zone, gap, restores, caseName } = data;
    return (
      `In case ${caseName}, ${zone.name} is normal for ${show(gap, 's')} between two events at its shortest, and the panel needs up to ` +
      `${show(restores, 's')} to take notice: it may report one event in place of two. ` +
      `Let more time pass between them, or let what counts them count at the controller.`
    );
  },
});
