import type { Origin } from '@couplet/engine';
import { componentOf, ofKind } from '../circuit/circuits.ts';
import { wiringOf } from '../circuit/wiring.ts';
import { defineRule } from '../define.ts';
import { spareCure } from '../support/cures.ts';
import { listSome } from '../support/words.ts';

interface Data {
  readonly cable: string;
  readonly open: readonly string[];
  readonly origin: Origin;
}

export const coreUnused = defineRule<Data>({
  name: 'core-unused',
  thresholds: [],
  explains: [],
  *find({ design }) {
    if (design.fragment) return;
    const wiring = wiringOf(design);
    const spare = new Set(design.spare);
    for (const cable of ofKind(design, 'cable')) {
      const open = cable.cores
        .map((id) => componentOf(design, id, 'core'))
        .filter((core) => core !== undefined)
        .filter((core) => {
          if (spare.has(core.a) || spare.has(core.b)) return false;
          return !wiring.isWired(core.a) || !wiring.isWired(core.b);
        });
      if (open.length === 0) continue;
      const names = open.map((core) => {
        const ends = [core.a, core.b].filter((end) => !wiring.isWired(end));
        return ends.length === 2 ? core.name : (design.terminals[ends[0]!]?.name ?? core.name);
      });
      yield {
        severity: 'information',
        origin: cable.origin,
        subject: cable.id,
        alsoConcerns: open.map((core) => core.id),
        data: { cable: cable.name, open: names, origin: cable.origin },
      };
    }
  },
  word({ data }) {
    return (
      `Nothing is joined to ${listSome(data.open)} in ${data.cable}. Mark what is meant to stay open (\`spare ${data.open[0]}\`), ` +
      `and insulate or earth it at both ends.`
    );
  },
  cures: ({ data }) => spareCure(data.open, data.origin),
});
