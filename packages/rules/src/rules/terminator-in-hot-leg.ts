import type { CaseAnalysis, ComponentOf, TerminalId, Zone } from '@couplet/engine';
import { circuitOf, nameOf, ofKind } from '../circuit/circuits.ts';
import { type NodeId, wiringOf } from '../circuit/wiring.ts';
import { defineRule } from '../define.ts';
import type { RuleContext } from '../rule.ts';
import { casesOf, restOf } from '../support/instants.ts';
import { isNormal, NORMAL, wiredZones } from '../support/loop.ts';
import { whereWired } from '../support/place.ts';

interface Data {
  readonly zone: Zone;
  readonly at: string;
  readonly resistor: string;
  readonly caseName: string;
  readonly returns: string;
}

export const terminatorInHotLeg = defineRule<Data>({
  name: 'terminator-in-hot-leg',
  thresholds: [],
  explains: [],
  *find(context) {
    const rest = restOf(context.analysis);
    if (rest === undefined) return;
    const wiring = wiringOf(context.design);
    const earthed = earthedCommons(context);
    for (const zone of wiredZones(context)) {
      const returns = earthed.get(wiring.node(zone.b));
      if (returns === undefined || !isNormal(rest, zone)) continue;
      const cases = casesOf(context.analysis, zone.id).filter((one) => changes(one, zone));
      if (cases.length === 0) continue;
      for (const { terminal, resistor } of behindResistors(context, zone)) {
        const fault = [{ sort: 'join', a: terminal, b: zone.b }] as const;
        if (!isNormal(rest.vary(fault), zone)) continue;
        const lost = cases.find((one) =>
          one.moments.every((moment) => moment.vary(fault).reading(zone.id).usual === NORMAL),
        );
        if (lost === undefined) continue;
        yield {
          severity: 'warning',
          origin: whereWired(context.design, zone.id, zone.a),
          subject: zone.id,
          alsoConcerns: [resistor],
          caseName: lost.name,
          related: [
            { origin: context.design.components[resistor]!.origin, message: 'the end resistor stands in the hot leg' },
          ],
          data: {
            zone,
            at: context.design.terminals[terminal]!.name,
            resistor: nameOf(context.design, resistor),
            caseName: lost.name,
            returns: returns.name,
          },
        };
        break;
      }
    }
  },
  word({ data }) {
    const { zone, at, resistor, caseName, returns } = data;
    return (
      `${returns} is earthed and ${resistor} stands in the hot leg: one earth fault at ${at} leaves ${zone.name} normal for ever, and ` +
      `case ${caseName} is lost. Put ${resistor} beyond the contact, in the return leg: then the same fault reads as a short.`
    );
  },
});

/** Earthed commons by the nodes that they lie at; of several at one node the first. */
function earthedCommons({ design }: RuleContext): ReadonlyMap<NodeId, ComponentOf<'common'>> {
  const wiring = wiringOf(design);
  const found = new Map<NodeId, ComponentOf<'common'>>();
  for (const common of ofKind(design, 'common')) {
    if (common.earthed?.word !== 'yes') continue;
    const node = wiring.node(common.a);
    if (!found.has(node)) found.set(node, common);
  }
  return found;
}

function changes(one: CaseAnalysis, zone: Zone): boolean {
  return one.case !== undefined && one.moments.some((moment) => !isNormal(moment, zone));
}

/** Points of the loop between the hot terminal and the return, each with a resistor that stands on the hot side of it. */
function behindResistors(
  context: RuleContext,
  zone: Zone,
): readonly { readonly terminal: TerminalId; readonly resistor: number }[] {
  const wiring = wiringOf(context.design);
  const returning = wiring.copperFrom(wiring.node(zone.b));
  const hot = wiring.copperFrom(wiring.node(zone.a));
  const found = new Map<NodeId, { terminal: TerminalId; resistor: number }>();
  for (const part of circuitOf(context.design, zone.id)) {
    if (part.sort !== 'resistor') continue;
    for (const [node, terminal, other] of [
      [part.a, part.aTerminal, part.b],
      [part.b, part.bTerminal, part.a],
    ] as const) {
      if (returning.has(node) || hot.has(node) || returning.has(other)) continue;
      found.set(node, { terminal, resistor: part.component });
    }
  }
  return [...found.values()];
}
