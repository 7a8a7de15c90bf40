/** What is written on a drawing at one moment: figures and states of its nodes, members and wires. */
import type { Component, ComponentId, Design, Moment, TerminalId } from '@couplet/engine';
import { type Wiring, wiringOf } from '@couplet/rules';
import { figureRow } from '../figures.ts';
import type { DrawingFigures, DrawnFigure, MemberFigures, NodeFigures, WireFigures } from './contract.ts';
import type { Shaped } from './shape.ts';
import { drawnFigure } from './words.ts';

export function figuresOf(design: Design, shaped: Shaped, moment: Moment): DrawingFigures {
  const { partsOf, shape, terminals } = shaped;
  const idOf = new Map([...terminals].map(([id, terminal]) => [terminal, id]));
  const nodes: Record<string, NodeFigures> = {};
  const members: Record<string, MemberFigures> = {};
  for (const { id, kind } of shape.nodes) {
    const parts = (partsOf.get(id) ?? []).map((each) => design.components[each]!);
    if (kind === 'unit') {
      for (const part of parts) {
        const at = 'a' in part ? idOf.get(part.a) : undefined;
        if (at !== undefined) members[at] = partFigures(part, moment, design);
      }
      const owner = parts[0]?.owner;
      nodes[id] = { states: owner === undefined ? [] : moment.states(owner), figures: [] };
    } else if (kind === 'cable') {
      for (const part of parts) {
        const at = part.kind === 'core' ? idOf.get(part.a) : undefined;
        if (at !== undefined && isWired(design, part)) members[at] = partFigures(part, moment, design);
      }
    } else if (kind === 'contact') {
      nodes[id] = contactFigures(parts, moment, design, idOf);
    } else if (parts[0] !== undefined) {
      const told = partFigures(parts[0], moment, design);
      nodes[id] = isTwoCoils(parts[0]) ? coilFigures(told, id === parts[0].name ? 'A1 to A2' : 'B1 to B2') : told;
    }
  }
  return { nodes, members, wires: wireFigures(design, shaped, moment) };
}

/** The same figures as the table of the site, and for what has no row there volts and amperes. */
function partFigures(part: Component, moment: Moment, design: Design): MemberFigures {
  const row = figureRow(part, moment, design);
  if (row !== undefined) {
    const figures = row.figures.map(({ between, figure, quantity }) =>
      drawnFigure(quantity, figure, design, {
        loop: part.kind === 'zone',
        ...(between === undefined ? {} : { between }),
      }),
    );
    return { states: row.states, figures };
  }
  const states = moment.states(part.id);
  if (!PASSIVE.has(part.kind) || !('a' in part && 'b' in part)) return { states, figures: [] };
  const volts = drawnFigure('volts', moment.volts(part.a, part.b), design);
  return { states, figures: [volts, drawnFigure('amps', moment.amps(part.id), design)] };
}

function isTwoCoils(part: Component): boolean {
  return part.kind === 'relay' && part.secondCoil !== undefined;
}

/** Each coil of two is drawn by itself and has volts of its own; the amperes are told of both together. */
function coilFigures({ figures, states }: MemberFigures, between: string): MemberFigures {
  return { states, figures: figures.filter((each) => each.quantity === 'volts' && each.between === between) };
}

function contactFigures(
  parts: readonly Component[],
  moment: Moment,
  design: Design,
  idOf: ReadonlyMap<TerminalId, string>,
): NodeFigures {
  const throws = parts.filter((part) => part.kind === 'contact');
  const driver = throws[0] === undefined ? undefined : design.components[throws[0].driver];
  const closed = throws.flatMap(({ a, b, id }) => {
    const from = idOf.get(a);
    const to = idOf.get(b);
    if (from === undefined || to === undefined) return [];
    const states = moment.states(id);
    const state = states.length === 1 ? (states[0] as 'closed' | 'open') : ('undecided' as const);
    return [{ a: from, b: to, state }];
  });
  const wiring = wiringOf(design);
  const figures = throws
    .filter(({ a, b, id }) => wiring.isWired(a) && wiring.isWired(b) && moment.states(id).includes('closed'))
    .map(({ id }) => drawnFigure('amps', moment.amps(id), design));
  return { states: driver === undefined ? [] : moment.states(driver.id), figures, closed };
}

/** Kinds through which a current passes from `a` to `b`, counted in that direction. */
const PASSIVE: ReadonlySet<Component['kind']> = new Set([
  'resistor',
  'contact',
  'core',
  'fuse',
  'load',
  'diode',
  'arrester',
  'feed',
  'input',
  'capacitor',
]);

function isWired(design: Design, part: Component): boolean {
  const wiring = wiringOf(design);
  return wiring.terminalsOf(part.id).some((terminal) => wiring.isWired(terminal));
}

function wireFigures(design: Design, { shape, terminals }: Shaped, moment: Moment): Record<string, WireFigures> {
  const wiring = wiringOf(design);
  const returns = returnsOf(design, new Set(terminals.values()));
  const volts = new Map<number, DrawnFigure | undefined>();
  const wires: Record<string, WireFigures> = {};
  for (const { from, id, net, to } of shape.wires) {
    const a = terminals.get(from)!;
    const b = terminals.get(to)!;
    if (!volts.has(net)) volts.set(net, netVolts(design, moment, a, returns, wiring));
    const known = volts.get(net);
    const flow = flowAt(design, moment, wiring, a, false) ?? flowAt(design, moment, wiring, b, true);
    wires[id] = { ...(known === undefined ? {} : { volts: known }), ...flow };
  }
  return wires;
}

/** Terminals that volts are told against: commons first, then the minus of supplies, then what zones read to. */
function returnsOf(design: Design, drawn: ReadonlySet<TerminalId>): readonly TerminalId[] {
  const owners = new Set([...drawn].map((id) => wholeOf(design, design.terminals[id]!.component)));
  const parts = design.components.filter(({ id }) => owners.has(wholeOf(design, id)));
  const commons = parts.flatMap((part) => (part.kind === 'common' ? [part.a] : []));
  const minus = parts.flatMap((part) => (part.kind === 'source' ? [part.b] : []));
  const zones = parts.flatMap((part) => (part.kind === 'zone' ? [part.b] : []));
  return [...new Set([...commons, ...minus, ...zones])];
}

function wholeOf(design: Design, id: ComponentId): ComponentId {
  return design.components[id]?.owner ?? id;
}

/** Against the first return that the net has a connection to, its own first. */
function netVolts(
  design: Design,
  moment: Moment,
  terminal: TerminalId,
  returns: readonly TerminalId[],
  wiring: Wiring,
): DrawnFigure | undefined {
  const own = returns.find((each) => wiring.node(each) === wiring.node(terminal));
  let lack: DrawnFigure | undefined;
  for (const other of own === undefined ? returns : [own]) {
    const figure = moment.volts(terminal, other);
    if (figure.sort === 'no-connection') continue;
    const drawn = drawnFigure('volts', figure, design, { between: `to ${design.terminals[other]!.name}` });
    if (figure.sort === 'value') return drawn;
    lack ??= drawn;
  }
  return lack;
}

/** What flows in a wire where one part alone decides it: the only one at a terminal that has no other wire. */
function flowAt(
  design: Design,
  moment: Moment,
  wiring: Wiring,
  terminal: TerminalId,
  isTo: boolean,
): Pick<WireFigures, 'amps' | 'forward'> | undefined {
  if (wiring.joinsAt(terminal).length !== 1) return undefined;
  const parts = wiring
    .partsAt(wiring.node(terminal))
    .filter(({ aTerminal, bTerminal }) => aTerminal === terminal || bTerminal === terminal)
    .filter(({ aTerminal, bTerminal }) => isReached(wiring, aTerminal === terminal ? bTerminal : aTerminal));
  const [part, ...others] = parts;
  if (part === undefined || others.length > 0) return undefined;
  const component = design.components[part.component]!;
  const oneCoil = component.kind === 'relay' && component.secondCoil === undefined && component.timer === undefined;
  if (!oneCoil && !PASSIVE.has(component.kind)) return undefined;
  const figure = moment.amps(component.id);
  if (figure.sort !== 'value') return { amps: drawnFigure('amps', figure, design) };
  const size = Math.abs(figure.usual);
  const amps = drawnFigure('amps', { ...figure, least: size, usual: size, most: size }, design);
  if (size === 0) return { amps };
  const leaves = (part.bTerminal === terminal) === figure.usual > 0;
  return { amps, forward: isTo ? !leaves : leaves };
}

/** A throw that leads nowhere takes no current. */
function isReached(wiring: Wiring, terminal: TerminalId): boolean {
  return wiring.isWired(terminal) || wiring.partsAt(wiring.node(terminal)).length > 1;
}
