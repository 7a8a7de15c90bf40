import type { ComponentOf } from '@couplet/engine';
import { circuitComponents, componentOf, ofKind } from '../circuit/circuits.ts';
import { defineRule } from '../define.ts';
import type { RuleContext } from '../rule.ts';
import { leastSize } from '../support/coil-volts.ts';
import { evaluated, restOf } from '../support/instants.ts';
import { isConnected } from '../support/place.ts';

interface Data {
  readonly relay: ComponentOf<'relay'>;
}

export const latchingStateUnproven = defineRule<Data>({
  name: 'latching-state-unproven',
  thresholds: [],
  explains: [],
  *find(context) {
    for (const relay of ofKind(context.design, 'relay')) {
      if (relay.latching === undefined || !isConnected(context.design, relay.id)) continue;
      if (isDrivenAtRest(context, relay) || isDrivenAtPowerUp(context, relay)) continue;
      yield { severity: 'warning', origin: relay.latching.origin, subject: relay.id, data: { relay } };
    }
  },
  word({ data }) {
    return (
      `Nothing brings ${data.relay.name} into a known state when the supplies come on: it stays where the last pulse, or a knock, ` +
      `has left it. Give it a pulse at power-up (an output with \`at-power-up: on\`), or take a relay that does not latch.`
    );
  },
});

function isDrivenAtRest(context: RuleContext, relay: ComponentOf<'relay'>): boolean {
  const rest = restOf(context.analysis);
  if (rest === undefined || relay.operates === undefined) return false;
  return [relay.coil, relay.secondCoil].some((coil) => {
    const volts = coil && evaluated(context, relay.id, rest.volts(coil.a, coil.b));
    return volts !== undefined && leastSize(volts) >= relay.operates!.usual;
  });
}

function isDrivenAtPowerUp({ design }: RuleContext, relay: ComponentOf<'relay'>): boolean {
  return circuitComponents(design, relay.id).some((id) => componentOf(design, id, 'output')?.atPowerUp?.word === 'on');
}
