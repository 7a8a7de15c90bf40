import type { ComponentOf, Value } from '@couplet/engine';
import { componentOf, ofKind } from '../circuit/circuits.ts';
import { feedingOf } from '../circuit/feeding.ts';
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
  explains: ['feed-unfused'],
  *find(context) {
    const wiring = wiringOf(context.design);
    const feeding = feedingOf(context.design);
    for (const cable of ofKind(context.design, 'cable')) {
      let worst: (Data & { readonly assumptions: readonly string[] }) | undefined;
      for (const id of cable.cores) {
        const core = componentOf(context.design, id, 'core');
        if (core === undefined || !wiring.isWired(core.a) || !wiring.isWired(core.b)) continue;
        const found = worstOf(
          context,
          core.id,
          instantsOf(context.analysis, core.id),
          (at) => at.moment.amps(core.id),
          (value) => Math.max(Math.abs(value.least), Math.abs(value.most)),
        );
        if (found === undefined || found.score <= 0) continue;
        const capacity = capacityOf(context, core);
        if (capacity === undefined || found.score <= capacity.amps * context.threshold('share').value) continue;
        if (worst !== undefined && worst.size >= found.score) continue;
        worst = {
          core,
          cable: cable.name,
          amps: found.value,
          size: found.score,
          capacity: capacity.amps,
          at: found.at,
          assumptions: capacity.assumptions,
        };
      }
      if (worst === undefined) continue;
      const { core } = worst;
      yield {
        severity: 'error',
        origin: core.origin,
        subject: core.id,
        alsoConcerns: [cable.id],
        alsoExplains: [...feeding.reachesPlus(wiring.node(core.a)), ...feeding.reachesMinus(wiring.node(core.a))],
        caseName: worst.at.of.name,
        assumptions: worst.assumptions,
        data: worst,
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
