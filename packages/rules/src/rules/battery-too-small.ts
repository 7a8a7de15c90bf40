import type { BatterySizing, BatteryStandby, ComponentOf } from '@couplet/engine';
import { defineRule } from '../define.ts';
import { lacks } from '../support/instants.ts';
import { batteries, standbyAt } from '../support/standby.ts';
import { corner, list, percent, show } from '../support/words.ts';

interface Data {
  readonly battery: ComponentOf<'source'>;
  readonly holds: number;
  readonly one: BatteryStandby;
  readonly sizing: BatterySizing;
  /** s that it carries each case alone, at its worst. */
  readonly lasts: readonly { readonly name: string; readonly seconds: number }[];
}

export const batteryTooSmall = defineRule<Data>({
  name: 'battery-too-small',
  thresholds: [
    {
      key: 'share',
      value: 1,
      unit: '',
      says: 'capacity that is needed over that of the battery',
      origin: 'hours: EN 50131-1; temperature and ageing: IEEE 485; haste: Peukert',
      standing: 'standard from memory',
      settable: true,
    },
  ],
  explains: [],
  *find(context) {
    for (const battery of batteries(context)) {
      const one = standbyAt(context, battery.id);
      if (one === undefined) {
        lacks(context, battery.id, 'autonomy');
        continue;
      }
      const { standby } = one;
      const sizing = 'sort' in standby ? standby : standby.sizing;
      if (sizing.sort === 'not-evaluated') {
        context.gap({ subject: battery.id, needs: sizing.needs, reason: sizing.reason });
        continue;
      }
      if (sizing.share.most <= context.threshold('share').value) continue;
      const runtimes = 'sort' in standby ? [] : standby.runtimes;
      const capacity = battery.ampereHours!;
      yield {
        severity: 'error',
        origin: capacity.origin < 0 ? battery.origin : capacity.origin,
        subject: battery.id,
        related: one.draws.map(({ amps, caseName, carries }) => ({
          origin: carries.origin,
          message: `${caseName} draws up to ${show(amps.most, 'A')}`,
        })),
        assumptions: runtimes
          .slice(0, 1)
          .flatMap(({ seconds }) => (seconds.sort === 'value' ? seconds.assumptions : [])),
        data: {
          battery,
          holds: capacity.least,
          one,
          sizing,
          lasts: runtimes.flatMap(({ name, seconds }) =>
            seconds.sort === 'value' ? [{ name, seconds: seconds.least }] : [],
          ),
        },
      };
    }
  },
  word({ data }) {
    const { battery, holds, lasts, sizing } = data;
    const parts = sizing.cases.map(({ amps, counted, drawn, name, seconds }) => {
      const haste = counted.most > drawn.most ? `, counted ${show(counted.most, 'Ah')} for its haste` : '';
      return `${name} for ${show(seconds.most, 's')} at up to ${show(amps.most, 'A')} (${show(drawn.most, 'Ah')}${haste})`;
    });
    const factors = `× ${percent(sizing.ageing.most)} for ageing, / ${percent(sizing.temperatureFactor.least)} for the cold`;
    const [first] = lasts;
    const dies =
      first === undefined ? '' : ` Worn and cold it may carry ${first.name} for ${show(first.seconds, 's')} only.`;
    return (
      `${battery.name} holds ${show(holds, 'Ah')} and needs ${show(sizing.needed.most, 'Ah')}${corner(sizing.needed.mostCorner)}: ` +
      `${list(parts)}, ${factors}.${dies} It takes at least ${show(sizing.smallest.most, 'Ah')}, or a site that draws less.`
    );
  },
  figures: ({ data }) => [
    { label: `capacity that ${data.battery.name} needs`, figure: data.sizing.needed },
    ...data.one.draws.map(({ amps, caseName }) => ({ label: `drawn in ${caseName}`, figure: amps })),
  ],
});
