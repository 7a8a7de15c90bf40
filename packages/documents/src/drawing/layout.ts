/** Where everything of a drawing lies. It depends on the shape alone, not on what happens in a case. */
import type { ELK, ElkExtendedEdge, ElkNode } from 'elkjs/lib/elk-api.js';
import { type Box, boxOf } from './boxes.ts';
import type { DrawingShape, DrawnNode, DrawnTerminal } from './contract.ts';
import { crossingsOf } from './crossings.ts';
import { graphOf } from './graph.ts';
import { isBlock, type Lie, lieOf, type Side } from './sides.ts';

export interface Point {
  readonly x: number;
  readonly y: number;
}

export interface Area extends Point {
  readonly width: number;
  readonly height: number;
}

export interface LaidNode extends Area {
  readonly box: Box;
}

export interface LaidWire {
  /** From one terminal to the other. */
  readonly points: readonly Point[];
  /** Room for the volts of its net, on one wire of each net. */
  readonly label?: Area;
}

export interface DrawingLayout {
  readonly width: number;
  readonly height: number;
  readonly frames: ReadonlyMap<string, Area>;
  readonly nodes: ReadonlyMap<string, LaidNode>;
  readonly wires: ReadonlyMap<string, LaidWire>;
}

/** Layouts that are kept, the most recently used last. */
const MOST_KEPT = 16;
const kept = new Map<string, Promise<DrawingLayout>>();

/** The layout of a shape, from memory where the same shape was laid out lately. */
export function layoutOf(shape: DrawingShape): Promise<DrawingLayout> {
  const key = keyOf(shape);
  const known = kept.get(key) ?? lay(shape);
  kept.delete(key);
  kept.set(key, known);
  for (const old of kept.keys()) {
    if (kept.size <= MOST_KEPT) break;
    kept.delete(old);
  }
  known.catch(() => kept.delete(key));
  return known;
}

let made: Promise<ELK> | undefined;

/** Loaded when the first drawing is laid out: reading it takes longer than most of what is done without it. */
function engine(): Promise<ELK> {
  made ??= import('elkjs/lib/elk.bundled.js').then(({ default: Engine }) => new Engine());
  return made;
}

/** Everything of a shape but where it stands in a text. */
function keyOf(shape: DrawingShape): string {
  return JSON.stringify(shape, (name, value) => (name === 'source' ? undefined : value));
}

/**
 * First with the terminals of blocks and cables free. Then with each order of cores that either end of the cables asks
 * for, the blocks following it; the one with the fewest crossings is kept.
 */
async function lay(shape: DrawingShape): Promise<DrawingLayout> {
  const lie = lieOf(shape);
  const elk = await engine();
  const boxesBy = (order: Order) => new Map(shape.nodes.map((node) => [node.id, boxOf(node, lie, order)]));
  const run = (order: Order, free: readonly Box['form'][]) =>
    elk.layout(graphOf(shape, boxesBy(order), lie, new Set(free)));
  const loose = heightsIn(await run(asGiven, ['block', 'cable']));
  const tried = new Set<string>();
  let best: DrawingLayout | undefined;
  for (const ends of [['west', 'east'], ['west'], ['east']] as const) {
    const cores = coreOrder(loose, lie, ends);
    const key = JSON.stringify(shape.nodes.filter(isCable).map((node) => cores(node).map(({ id }) => id)));
    if (tried.has(key)) continue;
    tried.add(key);
    const heights = heightsIn(await run((node) => (isCable(node) ? cores(node) : node.terminals), ['block']));
    const order: Order = (node) =>
      isCable(node) ? cores(node) : isBlock(node) ? byHeight(node, heights) : node.terminals;
    const layout = laidOut(await run(order, []), shape, boxesBy(order));
    if (best === undefined || crossingsOf(shape, layout) < crossingsOf(shape, best)) best = layout;
    if (crossingsOf(shape, best) === 0) break;
  }
  return best!;
}

/** Terminals of a node from top to bottom. */
type Order = (node: DrawnNode) => readonly DrawnTerminal[];

const asGiven: Order = ({ terminals }) => terminals;

function isCable({ symbol }: DrawnNode): boolean {
  return symbol === 'cable';
}

function heightsIn(graph: ElkNode): (terminal: DrawnTerminal) => number {
  const heights = new Map<string, number>();
  for (const node of allNodes(graph)) for (const { id, y = 0 } of node.ports ?? []) heights.set(id, y);
  return ({ id }) => heights.get(`port ${id}`) ?? 0;
}

function byHeight({ terminals }: DrawnNode, height: (terminal: DrawnTerminal) => number): readonly DrawnTerminal[] {
  return [...terminals].sort((one, other) => height(one) - height(other));
}

/** Cores in the order of their terminals at some ends of the cable; what is not used comes last. */
function coreOrder(height: (terminal: DrawnTerminal) => number, lie: Lie, ends: readonly Side[]): Order {
  return (node) => {
    const ranks = new Map<string, number>();
    for (const side of ends) {
      const there = node.terminals.filter(({ id }) => lie.sides.get(id) === side);
      const sorted = there.sort((one, other) => height(one) - height(other));
      for (const [index, { way = '' }] of sorted.entries()) ranks.set(way, (ranks.get(way) ?? 0) + index);
    }
    const unused = new Set(node.cores?.filter((core) => core.unused).map(({ way }) => way));
    const rank = ({ way = '' }: DrawnTerminal) => (unused.has(way) ? 1e6 : 0) + (ranks.get(way) ?? 0);
    return [...node.terminals].sort((one, other) => rank(one) - rank(other));
  };
}

function* allNodes(node: ElkNode): Generator<ElkNode> {
  yield node;
  for (const child of node.children ?? []) yield* allNodes(child);
}

function laidOut(root: ElkNode, shape: DrawingShape, boxes: ReadonlyMap<string, Box>): DrawingLayout {
  const placed = new Map([...allNodes(root)].map((node) => [node.id, node]));
  const edges = new Map((root.edges ?? []).map((edge) => [edge.id, edge]));
  const frames = new Map<string, Area>();
  for (const { id } of shape.frames) {
    const frame = placed.get(`frame ${id}`);
    if (frame !== undefined && (frame.children?.length ?? 0) > 0) frames.set(id, areaOf(frame));
  }
  const nodes = new Map<string, LaidNode>();
  for (const { id } of shape.nodes) nodes.set(id, { ...areaOf(placed.get(`node ${id}`)!), box: boxes.get(id)! });
  const wires = new Map<string, LaidWire>();
  for (const { from, id } of shape.wires) {
    const whole = edges.get(`wire ${id}`);
    const parts = whole === undefined ? [edges.get(`from ${id}`)!, edges.get(`to ${id}`)!] : [whole];
    const label = parts.flatMap((part) => part.labels ?? [])[0];
    const [first, second] = parts.map(pointsOf);
    wires.set(id, {
      points: squared(second === undefined ? towards(first!, parts[0]!, from) : turned(first!, second)),
      ...(label === undefined ? {} : { label: areaOf(label) }),
    });
  }
  const { height = 0, width = 0 } = root;
  return { width, height, frames, nodes, wires };
}

function areaOf({
  height = 0,
  width = 0,
  x = 0,
  y = 0,
}: {
  x?: number;
  y?: number;
  width?: number;
  height?: number;
}): Area {
  return { x, y, width, height };
}

function pointsOf(edge: ElkExtendedEdge): Point[] {
  return (edge.sections ?? []).flatMap(({ bendPoints = [], endPoint, startPoint }) => [
    startPoint,
    ...bendPoints,
    endPoint,
  ]);
}

/** From the wire's own beginning, whichever way the layout saw it. */
function towards(points: Point[], edge: ElkExtendedEdge, from: string): Point[] {
  const source = edge.sources[0] ?? '';
  const own = source === `port ${from}` || source === `port ${from} east` || source === `port ${from} west`;
  return own ? points : points.toReversed();
}

/** Both halves of a wire that turns back, joined where they meet. */
function turned(first: Point[], second: Point[]): Point[] {
  const meets = (one: Point | undefined, other: Point | undefined) =>
    one !== undefined && other !== undefined && Math.hypot(one.x - other.x, one.y - other.y) < 0.01;
  const isEnd = meets(first.at(-1), second[0]) || meets(first.at(-1), second.at(-1));
  const one = isEnd ? first : first.toReversed();
  return [...one, ...(meets(one.at(-1), second[0]) ? second : second.toReversed())];
}

/** Less than this, in px, is no step that anybody wants to see. */
const STEP = 2;

/** At right angles throughout: what is off by less than a step goes by the terminals at the ends. */
function squared(points: readonly Point[]): readonly Point[] {
  const made = straightened(points).map((point) => ({ ...point }));
  const align = (fixed: Point, moved: { x: number; y: number }) => {
    const [dx, dy] = [Math.abs(moved.x - fixed.x), Math.abs(moved.y - fixed.y)];
    if (dy < STEP && dx >= dy) moved.y = fixed.y;
    else if (dx < STEP) moved.x = fixed.x;
  };
  for (let i = 1; i < made.length - 1; i++) align(made[i - 1]!, made[i]!);
  for (let i = made.length - 2; i > 0; i--) align(made[i + 1]!, made[i]!);
  const stepped = made.flatMap((to, index): Point[] => {
    const from = made[index - 1];
    if (from === undefined || Math.abs(to.x - from.x) < 0.01 || Math.abs(to.y - from.y) < 0.01) return [to];
    const x = (from.x + to.x) / 2;
    return [{ x, y: from.y }, { x, y: to.y }, to];
  });
  return straightened(stepped);
}

/** Without points on a straight stretch, and without ways that are gone to and fro. */
function straightened(points: readonly Point[]): Point[] {
  const made: Point[] = [];
  for (const point of points) {
    for (;;) {
      const [before, last] = [made.at(-2), made.at(-1)];
      if (last !== undefined && Math.abs(last.x - point.x) < 0.01 && Math.abs(last.y - point.y) < 0.01) made.pop();
      else if (before !== undefined && last !== undefined && isOneLine(before, last, point)) made.pop();
      else break;
    }
    made.push(point);
  }
  return made;
}

function isOneLine(a: Point, b: Point, c: Point): boolean {
  return Math.abs((b.x - a.x) * (c.y - b.y) - (b.y - a.y) * (c.x - b.x)) < 0.01;
}
