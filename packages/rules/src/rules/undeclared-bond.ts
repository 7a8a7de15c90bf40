import type { ComponentId, Design, Join, TerminalId } from '@couplet/engine';
import { nameOf, ofKind } from '../circuit/circuits.ts';
import { type Pole, polesOf } from '../circuit/systems.ts';
import { Sets, wiringOf } from '../circuit/wiring.ts';
import { defineRule } from '../define.ts';

interface Data {
  readonly sort: 'undeclared' | 'twice';
  readonly one: string;
  readonly other: string;
}

export const undeclaredBond = defineRule<Data>({
  name: 'undeclared-bond',
  thresholds: [],
  explains: ['earthing-undeclared', 'shared-return-shift'],
  *find({ design }) {
    const sets = copperWithoutBonds(design);
    const groups = new Map<number, Pole[]>();
    for (const pole of polesOf(design)) {
      const set = sets.find(pole.terminal);
      groups.set(set, [...(groups.get(set) ?? []), pole]);
    }
    const said = new Set<string>();
    for (const poles of groups.values()) {
      for (const other of poles) {
        const one = poles[0]!;
        if (other.system === one.system) continue;
        const key = [one.system, other.system].sort((a, b) => a - b).join(' ');
        if (said.has(key)) continue;
        said.add(key);
        const path = pathBetween(design, one.terminal, other.terminal);
        const join = path[0];
        yield {
          severity: 'error',
          origin: join?.origin ?? design.components[other.component]!.origin,
          subject: other.component,
          alsoConcerns: [one.component, ...systemOf(design, other.component), ...systemOf(design, one.component)],
          alsoExplains: returningBy(design, sets, one.terminal),
          related: path.slice(1).map((next) => ({ origin: next.origin, message: 'the path goes on here' })),
          data: {
            sort: 'undeclared',
            one: design.terminals[one.terminal]!.name,
            other: design.terminals[other.terminal]!.name,
          },
        };
      }
    }
    yield* secondBonds(design, sets);
  },
  word({ data }) {
    const { sort, one, other } = data;
    if (sort === 'twice') {
      return (
        `${one} and ${other} are joined here a second time. Current then flows round between the two joins, shifts readings and ` +
        `picks up hum. Keep one bond, and lift the other.`
      );
    }
    return (
      `${one} and ${other} belong to two systems, and copper joins them without a bond that says so: each can now feed, lift ` +
      `or disturb the other. If it is meant, write it as \`bond ${one} -- … -- ${other} because "…"\`; if not, part them with a relay.`
    );
  },
});

/** Wired zones of which the return lies on the same copper as a terminal. */
function returningBy(design: Design, copper: Sets, terminal: TerminalId): readonly ComponentId[] {
  const wiring = wiringOf(design);
  return ofKind(design, 'zone')
    .filter((zone) => wiring.isWired(zone.a) && copper.find(zone.b) === copper.find(terminal))
    .map((zone) => zone.id);
}

/** The unit that a pole belongs to, so that an acceptance may name it. */
function systemOf(design: Design, component: ComponentId): readonly ComponentId[] {
  const owner = design.components[component]?.owner;
  return owner === undefined ? [] : [owner];
}

/** Terminals joined by wires, cores, fuses and arresters, bonds left out. */
function copperWithoutBonds(design: Design): Sets {
  const wiring = wiringOf(design);
  const sets = new Sets(design.terminals.length);
  for (const join of design.joins) if (join.bond === undefined) sets.unite(join.a, join.b);
  for (const component of design.components) {
    for (const part of wiring.partsOf(component.id)) {
      if (part.sort === 'copper') sets.unite(part.aTerminal, part.bTerminal);
    }
  }
  return sets;
}

/** Bonds between what other bonds join already. */
function* secondBonds(design: Design, copper: Sets) {
  const sets = new Sets(design.terminals.length);
  for (const join of design.joins) {
    if (join.bond === undefined) continue;
    const [one, other] = [copper.find(join.a), copper.find(join.b)];
    if (one !== other && sets.find(one) !== sets.find(other)) {
      sets.unite(one, other);
      continue;
    }
    const subject = design.terminals[join.a]!.component;
    const data: Data = {
      sort: 'twice',
      one: design.terminals[join.a]!.name,
      other: design.terminals[join.b]!.name,
    };
    yield {
      severity: 'warning' as const,
      origin: join.origin,
      subject,
      alsoConcerns: [design.terminals[join.b]!.component],
      related: [
        { origin: design.components[subject]!.origin, message: `${nameOf(design, subject)} is bonded elsewhere too` },
      ],
      data,
    };
  }
}

/** Wires of a shortest way through copper between two terminals, bonds left out. */
function pathBetween(design: Design, from: TerminalId, to: TerminalId): readonly Join[] {
  const wiring = wiringOf(design);
  const came = new Map<TerminalId, { readonly from: TerminalId; readonly join?: Join }>();
  came.set(from, { from });
  const queue = [from];
  for (let index = 0; index < queue.length && !came.has(to); index += 1) {
    const at = queue[index]!;
    const reach = (next: TerminalId, join?: Join) => {
      if (came.has(next)) return;
      came.set(next, { from: at, join });
      queue.push(next);
    };
    for (const join of wiring.joinsAt(at)) if (join.bond === undefined) reach(join.a === at ? join.b : join.a, join);
    for (const part of wiring.partsAt(wiring.node(at))) {
      if (part.sort !== 'copper') continue;
      if (part.aTerminal === at) reach(part.bTerminal);
      if (part.bTerminal === at) reach(part.aTerminal);
    }
  }
  const path: Join[] = [];
  for (let at = to; at !== from; ) {
    const step = came.get(at);
    if (step === undefined) return [];
    if (step.join !== undefined) path.unshift(step.join);
    at = step.from;
  }
  return path;
}
