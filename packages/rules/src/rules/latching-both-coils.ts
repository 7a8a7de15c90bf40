import type { ComponentOf, Value } from '@couplet/engine';
import { ofKind } from '../circuit/circuits.ts';
import { defineRule } from '../define.ts';
import { mostSize } from '../support/coil-volts.ts';
import { evaluated, type Instant, instantsOf } from '../support/instants.ts';
import { span, when } from '../support/words.ts';

interface Data {
  readonly relay: ComponentOf<'relay'>;
  readonly at: Instant;
  readonly set: Value;
  readonly reset: Value;
}

export const latchingBothCoils = defineRule<Data>({
  name: 'latching-both-coils',
  thresholds: [],
  explains: [],
  *find(context) {
    for (const relay of ofKind(context.design, 'relay')) {
      const { coil, secondCoil, operates } = relay;
      if (relay.latching?.word !== 'two-coil' || secondCoil === undefined || operates === undefined) continue;
      for (const at of instantsOf(context.analysis, relay.id)) {
        const set = evaluated(context, relay.id, at.moment.volts(coil.a, coil.b));
        const reset = evaluated(context, relay.id, at.moment.volts(secondCoil.a, secondCoil.b));
        if (set === undefined || reset === undefined) continue;
        if (mostSize(set) < operates.usual || mostSize(reset) < operates.usual) continue;
        const data = { relay, at, set, reset };
        yield { severity: 'error', origin: relay.origin, subject: relay.id, caseName: at.of.name, data };
        break;
      }
    }
  },
  word({ data }) {
    const { relay, at, set, reset } = data;
    return (
      `Both coils of ${relay.name} are driven ${when(at)}: ${span(set)} at A1-A2 and ${span(reset)} at B1-B2. ` +
      `Where it then stands is a matter of chance, and the coils may get too hot. ` +
      `Lock the two against each other: take each coil's feed over a contact that opens while the other one is driven.`
    );
  },
  figures: ({ data }) => [
    { label: 'volts at A1-A2', figure: data.set },
    { label: 'volts at B1-B2', figure: data.reset },
  ],
});
