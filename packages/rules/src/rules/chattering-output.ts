import type { ComponentOf } from '@couplet/engine';
import { circuitComponents, componentOf, nameOf, ofKind } from '../circuit/circuits.ts';
import { downstreamOf } from '../circuit/reach.ts';
import { defineRule, levels } from '../define.ts';
import { isConnected, whereWired } from '../support/place.ts';
import { percent, show } from '../support/words.ts';

interface Data {
  readonly output: ComponentOf<'output'>;
  readonly what: string;
  readonly phase: 'on' | 'off';
  readonly seconds: number;
  readonly needs: number;
}

export const chatteringOutput = defineRule<Data>({
  name: 'chattering-output',
  thresholds: levels(
    {
      value: 1,
      unit: '',
      says: 'on or off time over the response of what is driven',
      origin: 'EN 50131-1, 400 ms',
      standing: 'standard from memory',
      settable: false,
    },
    {
      value: 2,
      unit: '',
      says: 'the same, with a margin of two',
      origin: 'rule of thumb',
      standing: 'common practice',
      settable: true,
    },
  ),
  explains: ['signal-too-short', 'events-merge', 'expectation-failed'],
  reach: 'downstream',
  *find(context) {
    for (const output of ofKind(context.design, 'output')) {
      if (output.pattern === undefined || !isConnected(context.design, output.id)) continue;
      let worst: { readonly data: Data; readonly subject: number } | undefined;
      for (const need of needsOf(output)) {
        if (worst === undefined || need.data.seconds / need.data.needs < worst.data.seconds / worst.data.needs)
          worst = need;
      }
      if (worst === undefined) continue;
      const ratio = worst.data.seconds / worst.data.needs;
      if (ratio >= Math.max(context.threshold('error').value, context.threshold('warning').value)) continue;
      yield {
        severity: ratio < context.threshold('error').value ? 'error' : 'warning',
        origin: whereWired(context.design, output.id, output.a),
        subject: output.id,
        alsoConcerns: [worst.subject],
        related: [{ origin: output.pattern.on.origin, message: `the pattern of ${output.name}` }],
        data: worst.data,
      };
    }

    /** What each part that the output drives needs to see each phase. */
    function* needsOf(output: ComponentOf<'output'>): Generator<{ readonly data: Data; readonly subject: number }> {
      const { on, off } = output.pattern!;
      const { design } = context;
      for (const id of downstreamOf(design, output.id)) {
        const relay = circuitComponents(design, output.id).includes(id) ? componentOf(design, id, 'relay') : undefined;
        const reader = componentOf(design, id, 'zone') ?? componentOf(design, id, 'input');
        const needs: readonly (readonly ['on' | 'off', number, number | undefined])[] = [
          ['on', on.least, relay?.operateTime?.most ?? reader?.responds?.most],
          ['off', off.least, relay?.releaseTime?.most ?? componentOf(design, id, 'zone')?.restores?.most],
        ];
        for (const [phase, seconds, needed] of needs) {
          if (needed === undefined || needed <= 0) continue;
          yield { subject: id, data: { output, what: nameOf(design, id), phase, seconds, needs: needed } };
        }
      }
    }
  },
  word({ data }) {
    const { output, what, phase, seconds, needs } = data;
    return (
      `${output.name} is ${phase} for ${show(seconds, 's')} in its pattern, ${percent(seconds / needs)} of the ${show(needs, 's')} that ${what} ` +
      `needs to follow: it sees some pulses and misses others. Program a slower pattern, at least ${show(2 * needs, 's')}, or a steady output.`
    );
  },
});
