import type { ComponentOf, Value } from '@couplet/engine';
import { componentOf, ofKind } from '../circuit/circuits.ts';
import { wiringOf } from '../circuit/wiring.ts';
import { defineRule } from '../define.ts';
import { capacityOf } from '../support/capacity.ts';
import { type Instant, instantsOf, worstOf } from '../support/instants.ts';
import { corner, percent, show, when } from '../support/words.ts';

interface Data {
  readonly core: ComponentOf<'core'>;
  readonly cable: string;
  readonly amps: Value;
  readonly size: number;
  readonly capacity: number;
  readonly at: Instant;
}

export const coreOverloaded = defineRule<Data>({
  name: 'core-overloaded',
  thresholds: [
    {
      key: 'share',
      value: 1,
      unit: '',
      says: 'current over the capacity of the core',
      origin: 'IEC 60204-1, table 6; below 0.5 mm² 1 A, common practice',
      standing: 'standard from memory',
      settable: true,
    },
  ],
  explains: [],
  *find(context) {
    const wiring = wiringOf(context.design);
    for (const core of ofKind(context.design, 'core')) {
      if (!wiring.isWired(core.a) || !wiring.isWired(core.b)) continue;
      const worst = worstOf(
        context,
        core.id,
        instantsOf(context.analysis, core.id),
        (at) => at.moment.amps(core.id),
        (value) => Math.max(Math.abs(value.least), Math.abs(value.most)),
      );
      if (worst === undefined || worst.score <= 0) continue;
      const capacity = capacityOf(context, core);
      if (capacity === undefined || worst.score <= capacity.amps * context.threshold('share').value) continue;
      yield {
        severity: 'error',
        origin: core.origin,
        subject: core.id,
        alsoConcerns: [core.cable],
        caseName: worst.at.of.name,
        assumptions: capacity.assumptions,
        data: {
          core,
          cable: componentOf(context.design, core.cable, 'cable')?.name ?? core.name,
          amps: worst.value,
          size: worst.score,
          capacity: capacity.amps,
          at: worst.at,
        },
      };
    }
  },
  word({ data }) {
    const { core, cable, amps, size, capacity, at } = data;
    return (
      `${core.name} carries ${show(size, 'A')} ${when(at)}${corner(amps.mostCorner)}, ${percent(size / capacity)} of the ` +
      `${show(capacity, 'A')} it may: the insulation overheats. Take a larger section for ${cable}, or several cores in parallel.`
    );
  },
  figures: ({ data }) => [{ label: `current in ${data.core.name}`, figure: data.amps }],
});
