import type { Cable } from '@couplet/engine';
import { componentOf, ofKind } from '../circuit/circuits.ts';
import { wiringOf } from '../circuit/wiring.ts';
import { defineRule } from '../define.ts';
import { listSome } from '../support/words.ts';

interface Data {
  readonly cable: Cable;
  readonly route: string;
  readonly open: readonly string[];
}

/** Routes that leave the building. */
const OUTSIDE: ReadonlySet<string> = new Set(['outdoor', 'buried', 'overhead']);

export const lineUnprotected = defineRule<Data>({
  name: 'line-unprotected',
  thresholds: [],
  explains: [],
  *find(context) {
    const { design } = context;
    const wiring = wiringOf(design);
    for (const cable of ofKind(design, 'cable')) {
      const cores = cable.cores
        .map((id) => componentOf(design, id, 'core'))
        .filter((core) => core !== undefined)
        .filter((core) => wiring.isWired(core.a) && wiring.isWired(core.b));
      if (cores.length === 0) continue;
      if (cable.route === undefined) {
        context.gap({ subject: cable.id, needs: [{ component: cable.id, property: 'route', origin: cable.origin }] });
        continue;
      }
      if (!OUTSIDE.has(cable.route.word)) continue;
      const open = cores.filter(
        (core) =>
          ![core.a, core.b].some((end) =>
            wiring.partsAt(wiring.node(end)).some((part) => design.components[part.component]?.kind === 'arrester'),
          ),
      );
      if (open.length === 0) continue;
      yield {
        severity: 'warning',
        origin: cable.origin,
        subject: cable.id,
        alsoConcerns: open.map((core) => core.id),
        related: [{ origin: cable.route.origin, message: `${cable.name} runs ${cable.route.word}` }],
        data: { cable, route: cable.route.word, open: open.map((core) => core.name) },
      };
    }
  },
  word({ data }) {
    const { cable, route, open } = data;
    return (
      `${listSome(open)} leave${open.length === 1 ? 's' : ''} the building in ${cable.name} (${route}) without an arrester: lightning kilometres away ` +
      `induces kilovolts in it, and what it is joined to dies. Fit an arrester where the cable enters, or say why not ` +
      `(\`accept line-unprotected on ${cable.name} because …\`).`
    );
  },
});
