/**
 * Which way parts lie: signals run from left (what drives) to right (what reads). Units that read zones or inputs stand
 * at the right with their terminals to the left, all others at the left. A part lies along the way between them; a part
 * with both ends equally far from the same side hangs upright, its ends towards that side.
 */
import type { DrawingShape, DrawnNode, DrawnTerminal } from './contract.ts';

export type Side = 'west' | 'east';

export interface Lie {
  /** By terminal id. */
  readonly sides: ReadonlyMap<string, Side>;
  /** Nodes that hang upright. */
  readonly upright: ReadonlySet<string>;
}

/** Symbols that are drawn as blocks with terminals at their edges. */
export function isBlock({ symbol, terminals }: DrawnNode): boolean {
  return (
    symbol === 'unit' || symbol === 'block' || (terminals.length !== 2 && !SPECIAL.has(symbol) && !hasExtra(symbol))
  );
}

const SPECIAL: ReadonlySet<string> = new Set(['changeover', 'cable', 'joint', 'terminal', 'earth']);

function hasExtra(symbol: string): boolean {
  return symbol === 'timer-coil' || symbol === 'arrester';
}

/** Symbols of one point, which wires meet from either side. */
export function isPoint({ symbol }: DrawnNode): boolean {
  return symbol === 'joint' || symbol === 'terminal' || symbol === 'earth';
}

const READS: ReadonlySet<string> = new Set(['zone', 'input']);

export function lieOf(shape: DrawingShape): Lie {
  const nets = netsOf(shape);
  const ways = waysOf(shape.nodes, nets);
  const units = shape.nodes.filter((node) => isBlock(node) || node.symbol === 'supply' || node.symbol === 'battery');
  const readers = units.filter(({ terminals }) => terminals.some(({ member }) => READS.has(member)));
  const drivers = units.filter((node) => !readers.includes(node));
  const start = (nodes: readonly DrawnNode[]) =>
    nodes.flatMap(({ terminals }) => terminals.map(({ id }) => nets.get(id)!));
  const fromLeft = distances(start(drivers), ways);
  const fromRight = distances(start(readers), ways);
  const far = ways.length + 1;
  const left = (net: number) => fromLeft.get(net) ?? far;
  const right = (net: number) => fromRight.get(net) ?? far;
  const place = (net: number) => left(net) - right(net);
  // What branches off is as far from both: it leads away from the nearer one.
  const compare = (one: number, other: number) =>
    place(one) - place(other) || (left(one) < right(one) ? left(one) - left(other) : right(other) - right(one));

  const wired = new Set(shape.wires.flatMap(({ from, to }) => [from, to]));
  const sides = new Map<string, Side>();
  const upright = new Set<string>();
  for (const node of shape.nodes) {
    if (isPoint(node)) continue;
    if (isBlock(node)) {
      const side = readers.includes(node) ? 'west' : 'east';
      for (const { id } of node.terminals) sides.set(id, side);
      continue;
    }
    if (node.symbol === 'supply' || node.symbol === 'battery') {
      upright.add(node.id);
      for (const { id } of node.terminals) sides.set(id, 'east');
      continue;
    }
    if (node.symbol === 'cable') {
      layCable(node, nets, place, sides);
      continue;
    }
    const [first, ...all] = endsOf(node);
    const used = all.filter(({ id }) => wired.has(id));
    const others = used.length > 0 ? used : all;
    const net = nets.get(first!.id)!;
    const order = others.map(({ id }) => compare(net, nets.get(id)!));
    if (order.every((each) => each === 0)) {
      upright.add(node.id);
      const side = left(net) <= right(net) ? 'west' : 'east';
      for (const { id } of node.terminals) sides.set(id, side);
      continue;
    }
    const forward = order.reduce((sum, each) => sum + each, 0) <= 0;
    sides.set(first!.id, forward ? 'west' : 'east');
    for (const { id } of all) sides.set(id, forward ? 'east' : 'west');
    for (const { id } of node.terminals) if (!sides.has(id)) sides.set(id, 'west');
  }
  return { sides, upright };
}

/** The two ends of a part, or the common of a changeover contact before its throws. */
export function endsOf({ symbol, terminals }: DrawnNode): readonly DrawnTerminal[] {
  return symbol === 'changeover' ? terminals : terminals.slice(0, 2);
}

/** A cable lies whole: its ends at one place are all on one side. */
function layCable(
  { terminals }: DrawnNode,
  nets: ReadonlyMap<string, number>,
  place: (net: number) => number,
  sides: Map<string, Side>,
): void {
  const sum = (end: 'from' | 'to') =>
    terminals.filter((each) => each.end === end).reduce((total, { id }) => total + place(nets.get(id)!), 0);
  const forward = sum('from') < sum('to');
  for (const { end, id } of terminals) sides.set(id, (end === 'from') === forward ? 'west' : 'east');
}

/** Numbers of nets by terminal; a terminal that no wire meets is a net of its own. */
export function netsOf({ nodes, wires }: DrawingShape): ReadonlyMap<string, number> {
  const nets = new Map<string, number>();
  let count = 0;
  for (const { from, net, to } of wires) {
    nets.set(from, net);
    nets.set(to, net);
    count = Math.max(count, net + 1);
  }
  for (const { terminals } of nodes) for (const { id } of terminals) if (!nets.has(id)) nets.set(id, count++);
  return nets;
}

/** Pairs of nets that a part lies between. */
function waysOf(nodes: readonly DrawnNode[], nets: ReadonlyMap<string, number>): (readonly [number, number])[] {
  return nodes.flatMap((node) => {
    if (isBlock(node) || isPoint(node) || node.symbol === 'supply' || node.symbol === 'battery') return [];
    if (node.symbol === 'cable') {
      const ways = Map.groupBy(node.terminals, ({ way }) => way);
      return [...ways.values()].flatMap(([a, b]) => (a && b ? [[nets.get(a.id)!, nets.get(b.id)!] as const] : []));
    }
    const [first, ...others] = endsOf(node);
    return others.map(({ id }) => [nets.get(first!.id)!, nets.get(id)!] as const);
  });
}

function distances(
  starts: readonly number[],
  ways: readonly (readonly [number, number])[],
): ReadonlyMap<number, number> {
  const next = new Map<number, number[]>();
  for (const [a, b] of ways) {
    next.set(a, [...(next.get(a) ?? []), b]);
    next.set(b, [...(next.get(b) ?? []), a]);
  }
  const found = new Map(starts.map((net) => [net, 0]));
  for (const [net, distance] of found) {
    for (const other of next.get(net) ?? []) if (!found.has(other)) found.set(other, distance + 1);
  }
  return found;
}
