import type { ComponentOf, Value } from '@couplet/engine';
import { circuitComponents, nameOf, ofKind } from '../circuit/circuits.ts';
import { feedingOf } from '../circuit/feeding.ts';
import { wiringOf } from '../circuit/wiring.ts';
import { defineRule, levels } from '../define.ts';
import type { RuleContext } from '../rule.ts';
import { assumptionOf } from '../support/coil.ts';
import { type Instant, instantsOf, lacks, worstOf } from '../support/instants.ts';
import { isConnected, whereWired } from '../support/place.ts';
import { type Clamp, clampOf } from '../support/suppression.ts';
import { corner, percent, show, when } from '../support/words.ts';

interface Data {
  readonly output: ComponentOf<'output'>;
  readonly withstands: number;
  readonly standing: number;
  readonly volts?: Value;
  readonly at?: Instant;
  readonly source?: string;
  readonly clamp?: Clamp;
  readonly ratio: number;
  readonly share: number;
}

export const outputVoltageExceeded = defineRule<Data>({
  name: 'output-voltage-exceeded',
  thresholds: levels(
    {
      value: 1,
      unit: '',
      says: 'volts over what the output withstands',
      origin: 'semiconductor rating',
      standing: 'physics',
      settable: false,
    },
    {
      value: 0.8,
      unit: '',
      says: 'volts over what the output withstands, derated',
      origin: 'derating of semiconductors',
      standing: 'common practice',
      settable: true,
    },
  ),
  explains: [],
  *find(context) {
    for (const output of ofKind(context.design, 'output')) {
      if (!isConnected(context.design, output.id)) continue;
      const standing = offVolts(context, output);
      if (standing === undefined || standing.most <= 0) continue;
      if (output.withstands === undefined) {
        lacks(context, output.id, 'withstands');
        continue;
      }
      const clamp = output.clamp === undefined ? clampOf(context.design, output) : undefined;
      const withstands = output.withstands.least;
      const total = standing.most + (clamp?.volts ?? 0);
      const ratio = total / withstands;
      const share = context.threshold('warning').value;
      if (ratio <= Math.min(share, context.threshold('error').value)) continue;
      const loads = circuitComponents(context.design, output.id).filter((id) => id !== output.id);
      yield {
        severity: ratio > context.threshold('error').value ? 'error' : 'warning',
        origin: whereWired(context.design, output.id, output.a),
        subject: output.id,
        alsoConcerns: loads,
        caseName: standing.at?.of.name,
        related: [
          { origin: output.withstands.origin, message: `${output.name} withstands ${show(withstands, 'V')}` },
          ...(clamp === undefined ? [] : [{ origin: clamp.origin, message: clamp.says }]),
        ],
        assumptions: [...assumptionOf(output.withstands), ...(clamp?.assumptions ?? [])],
        data: {
          output,
          withstands,
          standing: standing.most,
          volts: standing.value,
          at: standing.at,
          source: standing.source,
          clamp,
          ratio,
          share,
        },
      };
    }
  },
  word({ data }) {
    const { output, withstands, standing, volts, at, source, clamp, ratio, share } = data;
    const where =
      at === undefined || volts === undefined
        ? `once it switches off, from ${source}`
        : `when off, ${when(at)}${corner(volts.mostCorner)}`;
    const adds =
      clamp === undefined ? '' : ` and ${show(clamp.volts, 'V')} more while ${clamp.name} lets its current die away`;
    const total = standing + (clamp?.volts ?? 0);
    return (
      `${output.name} must hold ${show(standing, 'V')} ${where}${adds}: ${percent(ratio)} of the ` +
      `${show(withstands, 'V')} that it withstands. An output that is off breaks down above that and may stay ` +
      `conducting. Take an output that withstands at least ${show(total / share, 'V')}, or feed the load from the ` +
      `supply that the output belongs to, or put a relay between the two.`
    );
  },
  figures: ({ data }) =>
    data.volts === undefined ? [] : [{ label: `volts across ${data.output.name} when off`, figure: data.volts }],
});

interface Standing {
  readonly most: number;
  readonly value?: Value;
  readonly at?: Instant;
  readonly source?: string;
}

/** Most volts across the output when it is off: as computed, or of the supply behind it where no case turns it off. */
function offVolts(context: RuleContext, output: ComponentOf<'output'>): Standing | undefined {
  const across = acrossOf(context, output);
  if (across === undefined) return undefined;
  const [a, b] = across;
  const worst = worstOf(
    context,
    output.id,
    instantsOf(context.analysis, output.id).filter((at) =>
      at.moment.states(output.id).every((state) => state !== 'on' && state !== 'pulsing'),
    ),
    (at) => at.moment.volts(a, b),
    (value) => value.most,
  );
  if (worst !== undefined) return { most: worst.value.most, value: worst.value, at: worst.at };

  const wiring = wiringOf(context.design);
  const feeding = feedingOf(context.design);
  let most: Standing | undefined;
  const own = output.rail;
  const reached =
    output.style.word === 'sink' ? feeding.reachesPlus(wiring.node(output.a)) : own === undefined ? [] : [own];
  for (const id of behindLoads(context, output) ?? reached) {
    const source = context.design.components[id];
    const volts = source?.kind === 'source' ? source.volts?.most : undefined;
    if (volts !== undefined && volts > (most?.most ?? 0)) most = { most: volts, source: nameOf(context.design, id) };
  }
  return most;
}

/** Sources at the far side of what the output drives. */
function behindLoads(context: RuleContext, output: ComponentOf<'output'>): readonly number[] | undefined {
  const wiring = wiringOf(context.design);
  const feeding = feedingOf(context.design);
  const found = new Set<number>();
  for (const id of circuitComponents(context.design, output.id)) {
    for (const part of wiring.partsOf(id)) {
      if (part.sort !== 'consumer' && part.sort !== 'input') continue;
      for (const source of feeding.reachesPlus(output.style.word === 'sink' ? part.a : part.b)) found.add(source);
    }
  }
  return found.size === 0 ? undefined : [...found].sort((one, other) => one - other);
}

/** The two terminals that an output stands between when it is off, plus side first. */
function acrossOf(context: RuleContext, output: ComponentOf<'output'>): readonly [number, number] | undefined {
  if (output.style.word === 'source') {
    const rail = output.rail === undefined ? undefined : context.design.components[output.rail];
    if (rail?.kind === 'source') return [rail.a, output.a];
    lacks(context, output.id, 'rail');
    return undefined;
  }
  if (output.returns === undefined) {
    lacks(context, output.id, 'return');
    return undefined;
  }
  return [output.a, output.returns];
}
