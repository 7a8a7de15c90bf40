import type { ComponentId, Design, TerminalId } from '@couplet/engine';
import { circuitComponents, nameOf } from '../circuit/circuits.ts';
import { feedingOf } from '../circuit/feeding.ts';
import { type Part, wiringOf } from '../circuit/wiring.ts';
import { defineRule } from '../define.ts';
import { whereWired } from '../support/place.ts';
import { list } from '../support/words.ts';

interface Data {
  readonly part: string;
  readonly output?: string;
  /** What its plus side and its minus side reach. */
  readonly plusSide: readonly string[];
  readonly minusSide: readonly string[];
  readonly open?: string;
}

export const noReturnPath = defineRule<Data>({
  name: 'no-return-path',
  thresholds: [],
  explains: ['rest-inverted', 'expectation-failed'],
  reach: 'downstream',
  *find(context) {
    const { design } = context;
    const wiring = wiringOf(design);
    const feeding = feedingOf(design);
    const said = new Set<ComponentId>();
    for (const component of design.components) {
      for (const part of wiring.partsOf(component.id)) {
        if (part.sort !== 'consumer' && part.sort !== 'input') continue;
        const open = openEnd(design, part);
        if (open === 'unwired') continue;
        // The open ends of a file that is part of no site are joined elsewhere.
        if (open !== undefined && design.fragment) continue;
        if (feeding.closes(part)) continue;
        if (reachesUnknown(design, part)) {
          context.gap({
            subject: component.id,
            needs: [],
            reason: 'it is wired to a terminal of which nothing says what stands at it',
          });
          continue;
        }
        const outputs = circuitComponents(design, component.id).filter(
          (id) => design.components[id]?.kind === 'output',
        );
        const subject = outputs[0] ?? component.id;
        if (said.has(subject)) continue;
        said.add(subject);
        yield {
          severity: 'error',
          origin: whereWired(design, subject),
          subject,
          alsoConcerns: [component.id, ...outputs],
          related: [{ origin: component.origin, message: `${component.name} is what the current shall flow through` }],
          data: {
            part: component.name,
            output: outputs[0] === undefined ? undefined : nameOf(design, outputs[0]),
            plusSide: reached(design, part.a),
            minusSide: reached(design, part.b),
            open: open === undefined ? undefined : design.terminals[open]?.name,
          },
        };
      }
    }
  },
  word({ data }) {
    const { part, output, plusSide, minusSide, open } = data;
    if (open !== undefined)
      return `${part} cannot carry current: nothing is joined to ${open}. Wire it, or remove ${part}.`;
    const driven = output === undefined ? '' : ` when ${output} switches`;
    const sides = `Its plus side reaches ${orNothing(plusSide)}, its minus side ${orNothing(minusSide)}`;
    return (
      `No current can flow through ${part}${driven}: the path does not close at the source that it comes from. ` +
      `${sides}. Current always returns to its own source. Feed ${part} from the supply that its other side belongs ` +
      `to, join the two 0 V on purpose with a 'bond', or let a relay with a volt-free contact couple the two.`
    );
  },
});

/**
 * The end of a part that nothing is joined to; 'unwired' for a part that is not in use, as the spare members of a unit
 * are, of which one end is the unit's own 0 V.
 */
function openEnd(design: Design, part: Part): TerminalId | 'unwired' | undefined {
  const wiring = wiringOf(design);
  const plus = wiring.isJoined(part.aTerminal, part.component);
  const minus = wiring.isJoined(part.bTerminal, part.component);
  if (plus && minus) return undefined;
  const owner = design.components[part.component]?.owner;
  const isMember = owner !== undefined && design.components[owner]?.kind === 'unit';
  if (isMember || (!plus && !minus)) return 'unwired';
  return plus ? part.bTerminal : part.aTerminal;
}

function orNothing(names: readonly string[]): string {
  return names.length === 0 ? 'no source' : list(names);
}

const NAMED = 3;

/** Poles of sources that a side reaches, as they are named on the unit. */
function reached(design: Design, node: number): readonly string[] {
  const feeding = feedingOf(design);
  const names = [
    ...feeding.reachesPlus(node).map((id) => `the plus of ${nameOf(design, id)}`),
    ...feeding.reachesMinus(node).map((id) => `the minus of ${nameOf(design, id)}`),
  ];
  return names.slice(0, NAMED);
}

/** A plain terminal of a unit may be anything: what it gives is not known. */
function reachesUnknown(design: Design, part: Part): boolean {
  const wiring = wiringOf(design);
  const feeding = feedingOf(design);
  return design.components.some(
    (component) =>
      component.kind === 'terminal' &&
      wiring.isWired(component.a) &&
      (feeding.joined(wiring.node(component.a), part.a) || feeding.joined(wiring.node(component.a), part.b)),
  );
}
