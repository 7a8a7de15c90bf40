import type { Component, ComponentId, Diode } from '@couplet/engine';
import { componentOf } from '../circuit/circuits.ts';
import { feedingOf } from '../circuit/feeding.ts';
import { type Part, wiringOf } from '../circuit/wiring.ts';
import { defineRule } from '../define.ts';
import type { RuleContext } from '../rule.ts';
import { turnCure } from '../support/cures.ts';
import { type Instant, instantsOf } from '../support/instants.ts';
import { diodesAcross } from '../support/suppression.ts';
import { show, when } from '../support/words.ts';

interface Data {
  readonly part: Component;
  readonly diode?: Diode;
  readonly at?: Instant;
  readonly amps?: number;
}

export const suppressorReversed = defineRule<Data>({
  name: 'suppressor-reversed',
  thresholds: [],
  explains: [
    'output-overloaded',
    'supply-overloaded',
    'fuse-overloaded',
    'core-overloaded',
    'contact-overloaded',
    'load-undervoltage',
    'load-polarity-reversed',
    'coil-may-not-operate',
    'coil-undervoltage',
    'rest-inverted',
    'reading-outside-band',
    'expectation-failed',
    'contradictory-sources',
  ],
  reach: 'downstream',
  *find(context) {
    const { design } = context;
    const wiring = wiringOf(design);
    for (const part of design.components) {
      if (part.kind !== 'relay' && part.kind !== 'load') continue;
      const own = wiring.partsOf(part.id)[0];
      if (own === undefined) continue;
      const built = part.suppressor?.sort;
      // A varistor and an RC element do not mind which way round they are.
      if ((built === 'diode' || built === 'zener') && isFedBackwards(context, own)) {
        yield {
          severity: 'error',
          origin: part.origin,
          subject: part.id,
          alsoConcerns: feeders(context, own),
          related:
            part.suppressor === undefined
              ? []
              : [{ origin: part.suppressor.origin, message: `${part.name} has a ${built} built in` }],
          data: { part },
        };
        continue;
      }
      for (const id of diodesAcross(design, part.id)) {
        const diode = componentOf(design, id, 'diode');
        const lies = wiring.partsOf(id)[0];
        if (diode === undefined || lies === undefined) continue;
        const conducting = conducts(context, id);
        if (conducting === undefined && !isFedForwards(context, lies)) continue;
        yield {
          severity: 'error',
          origin: diode.origin,
          subject: part.id,
          alsoConcerns: [id, ...feeders(context, own)],
          caseName: conducting?.at.of.name,
          related: [{ origin: part.origin, message: `${diode.name} lies across ${part.name}` }],
          data: { part, diode, ...conducting },
        };
      }
    }
  },
  word({ data }) {
    const { part, diode, at, amps } = data;
    if (diode !== undefined) {
      const flows = at === undefined || amps === undefined ? '' : ` (${show(amps, 'A')} ${when(at)})`;
      return (
        `${diode.name} across ${part.name} is the wrong way round: it conducts while ${part.name} shall be on${flows} and shorts ` +
        `the supply instead of catching the surge. Turn it: anode at the minus side of ${part.name}, cathode at the plus side.`
      );
    }
    const [plus, minus] = part.kind === 'relay' ? ['A1', 'A2'] : ['plus', 'minus'];
    return (
      `${part.name} is fed from ${minus}, so that its built-in suppression conducts while it shall be on: it shorts the supply, ` +
      `and ${part.name} does not work. Turn it: ${plus} belongs on the plus side.`
    );
  },
  cures: ({ data }) => [turnCure(data.diode ?? data.part)],
});

/** Fed with its minus towards a plus, whatever the moment. */
function isFedBackwards(context: RuleContext, part: Part): boolean {
  const { forward, backward } = feedingOf(context.design).sourcesOf(part);
  return forward.length === 0 && backward.length > 0;
}

function isFedForwards(context: RuleContext, part: Part): boolean {
  const { forward, backward } = feedingOf(context.design).sourcesOf(part);
  return forward.length > 0 && backward.length === 0;
}

function feeders(context: RuleContext, part: Part): readonly ComponentId[] {
  const { forward, backward } = feedingOf(context.design).sourcesOf(part);
  return [...forward, ...backward].filter((id) => context.design.components[id]?.kind === 'source');
}

/** Amperes through a suppression diode that mean that it is on. */
const CONDUCTS = 1e-3;

function conducts(
  context: RuleContext,
  diode: ComponentId,
): { readonly at: Instant; readonly amps: number } | undefined {
  for (const at of instantsOf(context.analysis, diode)) {
    const amps = at.moment.amps(diode);
    if (amps.sort === 'value' && amps.usual > CONDUCTS) return { at, amps: amps.usual };
  }
  return undefined;
}
