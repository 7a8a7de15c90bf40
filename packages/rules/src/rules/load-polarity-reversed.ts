import type { Component, Value } from '@couplet/engine';
import { wiringOf } from '../circuit/wiring.ts';
import { defineRule } from '../define.ts';
import { turnCure } from '../support/cures.ts';
import { type Instant, instantsOf, worstOf } from '../support/instants.ts';
import { whereWired } from '../support/place.ts';
import { show, when } from '../support/words.ts';

interface Data {
  readonly name: string;
  readonly part: Component;
  readonly volts: Value;
  readonly at: Instant;
}

/** Reverse volts that leakage and drops may leave on a part without anybody having turned it. */
const NOTHING = 0.3;

export const loadPolarityReversed = defineRule<Data>({
  name: 'load-polarity-reversed',
  thresholds: [],
  explains: ['expectation-failed', 'rest-inverted'],
  reach: 'downstream',
  *find(context) {
    const wiring = wiringOf(context.design);
    for (const component of context.design.components) {
      if (!isPolarised(component)) continue;
      for (const part of wiring.partsOf(component.id)) {
        if (!wiring.isJoined(part.aTerminal, component.id) || !wiring.isJoined(part.bTerminal, component.id)) continue;
        const worst = worstOf(
          context,
          component.id,
          instantsOf(context.analysis, component.id),
          (at) => at.moment.volts(part.aTerminal, part.bTerminal),
          (value) => -value.usual,
        );
        if (worst === undefined || worst.score <= NOTHING) continue;
        yield {
          severity: 'error',
          origin: whereWired(context.design, component.id),
          subject: component.id,
          caseName: worst.at.of.name,
          data: { name: component.name, part: component, volts: worst.value, at: worst.at },
        };
        break;
      }
    }
  },
  word({ data }) {
    return (
      `${data.name} sees ${show(-data.volts.usual, 'V')} the wrong way round ${when(data.at)}: it does not work, and may be damaged. ` +
      `Turn it in its chain, which is written from plus to minus, or say \`polarised: no\` if it does not mind.`
    );
  },
  cures: ({ data }) => [turnCure(data.part)],
  figures: ({ data }) => [{ label: `volts at ${data.name}`, figure: data.volts }],
});

function isPolarised(component: Component): boolean {
  if (component.kind === 'load') return component.polarised?.word !== 'no';
  return component.kind === 'feed' || component.kind === 'capacitor';
}
