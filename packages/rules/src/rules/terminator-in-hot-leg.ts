import type { ComponentOf, FaultRow, TerminalId, Zone } from '@couplet/engine';
import { circuitOf, nameOf, ofKind } from '../circuit/circuits.ts';
import { type NodeId, wiringOf } from '../circuit/wiring.ts';
import { defineRule } from '../define.ts';
import type { RuleContext } from '../rule.ts';
import { asksForFaults, faultClassesOf } from '../support/faults.ts';
import { NORMAL, wiredZones } from '../support/loop.ts';
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
    if (!asksForFaults(context.design)) return;
    const wiring = wiringOf(context.design);
    const earthed = earthedCommons(context);
    for (const zone of wiredZones(context)) {
      const returns = earthed.get(wiring.node(zone.b));
      const faults = faultClassesOf(context.design).zones.find((each) => each.zone === zone.id);
      if (returns === undefined || faults?.healthy.rest.usual !== NORMAL) continue;
      const behind = behindResistors(context, zone);
      for (const row of faults.rows) {
        const terminal = earthedAt(row);
        if (row.class !== 'blind' || row.caseName === undefined || terminal === undefined) continue;
        const copper = wiring.copperFrom(wiring.node(terminal));
        const found = behind.find((each) => copper.has(wiring.node(each.terminal)));
        if (found === undefined) continue;
        yield {
          severity: 'warning',
          origin: whereWired(context.design, zone.id, zone.a),
          subject: zone.id,
          alsoConcerns: [found.resistor],
          caseName: row.caseName,
          related: [
            {
              origin: context.design.components[found.resistor]!.origin,
              message: 'the end resistor stands in the hot leg',
            },
          ],
          data: {
            zone,
            at: context.design.terminals[terminal]!.name,
            resistor: nameOf(context.design, found.resistor),
            caseName: row.caseName,
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

/** Where an earth fault touches the loop. */
function earthedAt({ fault, variant }: FaultRow): TerminalId | undefined {
  const [change] = fault.word === 'earthed' ? variant.changes : [];
  return change?.sort === 'join' ? change.a : undefined;
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
