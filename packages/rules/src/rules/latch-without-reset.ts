import type { CaseAnalysis, ComponentId, ComponentOf, Moment } from '@couplet/engine';
import { circuitComponents, componentOf, ofKind } from '../circuit/circuits.ts';
import { defineRule } from '../define.ts';
import type { RuleContext } from '../rule.ts';
import { mostSize } from '../support/coil-volts.ts';
import { casesOf } from '../support/instants.ts';

interface Data {
  readonly relay: ComponentOf<'relay'>;
  readonly of: CaseAnalysis;
}

/** Share of a coil's current from which a part counts as lying in series with it. */
const IN_SERIES = 0.99;

export const latchWithoutReset = defineRule<Data>({
  name: 'latch-without-reset',
  thresholds: [],
  explains: [],
  *find(context) {
    for (const relay of ofKind(context.design, 'relay')) {
      // What holds itself without being meant to is found by `memory-undeclared`.
      if (relay.selfHold === undefined || relay.timer !== undefined || relay.latching !== undefined) continue;
      const held = heldIn(context, relay);
      if (held === undefined) {
        context.gap({ subject: relay.id, needs: [], reason: 'no case brings it to hold itself' });
        continue;
      }
      if (canLetGo(context, relay, held.moment)) continue;
      const data = { relay, of: held.of };
      yield { severity: 'error', origin: relay.origin, subject: relay.id, caseName: held.of.name, data };
    }
  },
  word({ data }) {
    const { relay, of } = data;
    return (
      `Once ${relay.name} holds itself, as in case ${of.name}, no switch, output or other contact lies in the path that holds it: ` +
      `only the loss of its supply lets it go. Put a reset, a break contact, in series with its own contact or with its coil.`
    );
  },
});

/** The last moment of a case at which it is certainly operated although it is released at rest. */
function heldIn({ analysis }: RuleContext, relay: ComponentOf<'relay'>) {
  const [rest, ...others] = casesOf(analysis, relay.id);
  const operated = (moment: Moment | undefined) => moment?.states(relay.id).join() === 'operated';
  if (operated(rest?.moments[0])) return { of: rest!, moment: rest!.moments[0]! };
  for (const of of others) {
    const moment = of.moments.at(-1);
    if (moment !== undefined && operated(moment)) return { of, moment };
  }
  return undefined;
}

/** Whether something that can be worked carries all of the current that holds the relay. */
function canLetGo({ design }: RuleContext, relay: ComponentOf<'relay'>, moment: Moment): boolean {
  const holding = ampsIn(moment, relay.id);
  if (holding === undefined) return true;
  return circuitComponents(design, relay.id).some((id) => {
    if (!isWorked(design.components[id], relay.id)) return false;
    const amps = ampsIn(moment, id);
    return amps !== undefined && amps >= IN_SERIES * holding;
  });

  function isWorked(part: (typeof design.components)[number] | undefined, self: ComponentId): boolean {
    if (part?.kind === 'output') return true;
    const contact = part === undefined ? undefined : componentOf(design, part.id, 'contact');
    return contact !== undefined && contact.driver !== self;
  }
}

function ampsIn(moment: Moment, part: ComponentId): number | undefined {
  const figure = moment.amps(part);
  return figure.sort === 'value' ? mostSize(figure) : undefined;
}
