import type { ComponentOf, Value } from '@couplet/engine';
import { circuitComponents, nameOf, ofKind } from '../circuit/circuits.ts';
import { defineRule, levels } from '../define.ts';
import { assumptionOf } from '../support/coil.ts';
import { type Instant, instantsOf, lacks, mayBe, worstOf } from '../support/instants.ts';
import { isConnected, whereWired } from '../support/place.ts';
import { corner, list, percent, show, when } from '../support/words.ts';

interface Data {
  readonly output: ComponentOf<'output'>;
  readonly rated: number;
  readonly demand: Value;
  readonly ratio: number;
  readonly at: Instant;
  readonly loads: readonly string[];
  /** Level of the warning, as a share of the rating. */
  readonly share: number;
  /** Another output of the same unit, unused, that would carry it. */
  readonly other?: ComponentOf<'output'>;
}

export const outputOverloaded = defineRule<Data>({
  name: 'output-overloaded',
  thresholds: levels(
    {
      value: 1,
      unit: '',
      says: 'demand over the rating',
      origin: 'rating of the output',
      standing: 'physics',
      settable: false,
    },
    {
      value: 0.8,
      unit: '',
      says: 'demand over the rating, derated',
      origin: 'derating of transistor outputs',
      standing: 'common practice',
      settable: true,
    },
  ),
  explains: [],
  *find(context) {
    for (const output of ofKind(context.design, 'output')) {
      if (!isConnected(context.design, output.id)) continue;
      const rated = output.rated?.least;
      const worst = worstOf(
        context,
        output.id,
        instantsOf(context.analysis, output.id).filter((at) => mayBe(at, output.id, 'on', 'pulsing')),
        (at) => at.moment.demand(output.id),
        (value) => value.most,
      );
      if (worst === undefined || worst.value.most <= 0) continue;
      if (rated === undefined || rated <= 0) {
        lacks(context, output.id, 'rated');
        continue;
      }
      const ratio = worst.value.most / rated;
      const share = context.threshold('warning').value;
      if (ratio <= Math.min(share, context.threshold('error').value)) continue;
      const loads = circuitComponents(context.design, output.id).filter((id) => {
        const kind = context.design.components[id]?.kind;
        return kind === 'load' || kind === 'relay' || kind === 'feed' || kind === 'input';
      });
      yield {
        severity: ratio > context.threshold('error').value ? 'error' : 'warning',
        origin: whereWired(context.design, output.id, output.a),
        subject: output.id,
        alsoConcerns: loads,
        caseName: worst.at.of.name,
        related: [
          ...loads.map((id) => ({
            origin: context.design.components[id]!.origin,
            message: `${nameOf(context.design, id)} hangs on ${output.name}`,
          })),
          ...(output.rated === undefined
            ? []
            : [{ origin: output.rated.origin, message: `${output.name} is rated ${show(rated, 'A')}` }]),
        ],
        assumptions: assumptionOf(output.rated),
        data: {
          output,
          rated,
          demand: worst.value,
          ratio,
          at: worst.at,
          loads: loads.map((id) => nameOf(context.design, id)),
          share,
          other: strongerOutput(),
        },
      };

      function strongerOutput(): ComponentOf<'output'> | undefined {
        for (const other of ofKind(context.design, 'output')) {
          if (other.owner !== output.owner || other.id === output.id) continue;
          if (other.style.word !== output.style.word || isConnected(context.design, other.id)) continue;
          if ((other.rated?.least ?? 0) * share >= worst!.value.most) return other;
        }
        return undefined;
      }
    }
  },
  word({ data, severity }) {
    const { output, rated, demand, ratio, at, loads, share, other } = data;
    const what = loads.length === 0 ? '' : ` for ${list(loads)}`;
    const carries = `${output.name} must carry ${show(demand.most, 'A')}${what} ${when(at)}${corner(demand.mostCorner)}`;
    const rating = `${percent(ratio)} of its ${show(rated, 'A')}`;
    const why =
      severity === 'error'
        ? 'An output beyond its rating overheats, limits or burns out.'
        : `That leaves less in hand than the ${percent(1 - share)} that keep it cool and long-lived.`;
    const spare = other === undefined ? '' : `${other.name} (${show(other.rated!.least, 'A')}) would carry it. `;
    const cure = `Take an output rated at least ${show(demand.most / share, 'A')}, or let it drive a relay whose contact carries the load.`;
    return `${carries}, ${rating}. ${why} ${spare}${cure}`;
  },
  cures({ data }, { design }) {
    const { other, output } = data;
    const [from, to] = [design.terminals[output.a]?.name, other && design.terminals[other.a]?.name];
    if (from === undefined || to === undefined) return [];
    const edits = [{ how: 'rename', origin: output.origin, from, to } as const];
    return [{ title: `Use ${to} in place of ${from}`, safe: false, edits }];
  },
  figures: ({ data }) => [{ label: `demand on ${data.output.name}`, figure: data.demand }],
});
