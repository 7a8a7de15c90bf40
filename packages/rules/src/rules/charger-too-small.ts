import type { ComponentOf, Recharge } from '@couplet/engine';
import { nameOf } from '../circuit/circuits.ts';
import { defineRule } from '../define.ts';
import { whereWired } from '../support/place.ts';
import { batteries, chargingOf, rechargeOf, standbyAt } from '../support/standby.ts';
import { list, percent, show } from '../support/words.ts';

interface Data {
  readonly battery: ComponentOf<'source'>;
  readonly chargers: readonly string[];
  readonly found: Recharge;
  readonly seconds: number;
  readonly share: number;
}

export const chargerTooSmall = defineRule<Data>({
  name: 'charger-too-small',
  thresholds: [
    {
      key: 'share',
      value: 0.8,
      unit: '',
      says: 'share of the capacity to be restored in the time demanded',
      origin: 'EN 50131-1, EN 50131-6',
      standing: 'standard from memory',
      settable: true,
    },
  ],
  explains: [],
  *find(context) {
    for (const battery of batteries(context)) {
      const autonomy = standbyAt(context, battery.id)?.autonomy;
      if (autonomy?.recharge === undefined) continue;
      const charging = chargingOf(context, battery);
      if (charging === undefined) {
        const reason = 'nothing on this site says that it charges it (`charges`)';
        if (!context.design.components.some((part) => part.kind === 'source' && part.charges === battery.id)) {
          context.gap({ subject: battery.id, needs: [], reason });
        }
        continue;
      }
      const share = context.threshold('share').value;
      const found = rechargeOf(context, battery, charging, share)!;
      if (!found.tooSmall) continue;
      const [charger] = charging.chargers;
      const { origin } = autonomy.recharge;
      yield {
        severity: 'error',
        origin: whereWired(context.design, charger!),
        subject: charger!,
        alsoConcerns: [battery.id, ...charging.chargers],
        related: [{ origin, message: `${battery.name} is to be charged again here` }],
        assumptions: [found.chargerAmps.assumption, autonomy.recharge.assumption].filter(
          (clause) => clause !== undefined,
        ),
        data: {
          battery,
          chargers: charging.chargers.map((id) => nameOf(context.design, id)),
          found,
          seconds: autonomy.recharge.least,
          share,
        },
      };
    }
  },
  word({ data }) {
    const { battery, chargers, found, seconds, share } = data;
    const { chargerAmps, neededAmps, restoredIn } = found;
    const spare = Math.max(0, chargerAmps.least);
    if (!Number.isFinite(neededAmps.most)) {
      return `No current restores ${percent(share)} of ${battery.name} in ${show(seconds, 's')}. Demand a longer time.`;
    }
    const takes = Number.isFinite(restoredIn.most) ? `it takes ${show(restoredIn.most, 's')}` : 'it never gets there';
    return (
      `${list(chargers)} ${chargers.length === 1 ? 'leaves' : 'leave'} ${battery.name} ${show(spare, 'A')} at rest, and ` +
      `${show(neededAmps.most, 'A')} are needed to restore ${percent(share)} of it in ${show(seconds, 's')}: ${takes}, and a second ` +
      `loss of mains within that time finds it half empty. Take a charger of at least ${show(neededAmps.most - chargerAmps.least, 'A')} more, ` +
      `or demand a longer time.`
    );
  },
  figures: ({ data }) => [
    { label: 'charging current that is needed', figure: data.found.neededAmps },
    { label: 'time to restore', figure: data.found.restoredIn },
  ],
});
