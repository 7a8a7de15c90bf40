/** The graph that is laid out: nodes with fixed terminals, places as nodes around them, wires from left to right. */
import type { ElkExtendedEdge, ElkNode, ElkPort } from 'elkjs/lib/elk-api.js';
import { type Box, pointPort } from './boxes.ts';
import type { DrawingShape, DrawnNode, DrawnWire } from './contract.ts';
import { isPoint, type Lie, type Side } from './sides.ts';
import { widthOf } from './text.ts';

/** Room for the volts of a net. */
const NET_LABEL = { width: 50, height: 10, layoutOptions: { 'elk.edgeLabels.inline': 'true' } };

const ROOT_OPTIONS: Readonly<Record<string, string>> = {
  'elk.algorithm': 'layered',
  'elk.direction': 'RIGHT',
  'elk.hierarchyHandling': 'INCLUDE_CHILDREN',
  'elk.edgeRouting': 'ORTHOGONAL',
  'elk.randomSeed': '1',
  'elk.json.shapeCoords': 'ROOT',
  'elk.json.edgeCoords': 'ROOT',
  'elk.layered.thoroughness': '10',
  'elk.layered.nodePlacement.strategy': 'NETWORK_SIMPLEX',
  'elk.layered.nodePlacement.favorStraightEdges': 'true',
  'elk.layered.considerModelOrder.strategy': 'PREFER_EDGES',
  'elk.padding': '[top=16,left=16,bottom=16,right=16]',
};

const SPACING: Readonly<Record<string, string>> = {
  'elk.spacing.nodeNode': '18',
  'elk.spacing.edgeNode': '14',
  'elk.spacing.edgeEdge': '12',
  'elk.spacing.edgeLabel': '2',
  'elk.layered.spacing.nodeNodeBetweenLayers': '26',
  'elk.layered.spacing.edgeNodeBetweenLayers': '14',
  'elk.layered.spacing.edgeEdgeBetweenLayers': '12',
};

const FRAME_OPTIONS: Readonly<Record<string, string>> = {
  ...SPACING,
  'elk.padding': '[top=34,left=16,bottom=14,right=16]',
};

/** Forms whose terminals are ordered by the layout; those of all others have their places. */
export type Free = ReadonlySet<Box['form']>;

export function graphOf(shape: DrawingShape, boxes: ReadonlyMap<string, Box>, lie: Lie, free: Free): ElkNode {
  const nodeOf = new Map<string, DrawnNode>();
  for (const node of shape.nodes) for (const { id } of node.terminals) nodeOf.set(id, node);
  const children: ElkNode[] = [];
  const frames = new Map<string, ElkNode>();
  for (const { id, title } of shape.frames) {
    const layoutOptions = {
      ...FRAME_OPTIONS,
      'elk.nodeSize.constraints': 'MINIMUM_SIZE',
      'elk.nodeSize.minimum': `(${widthOf(title) + 30},60)`,
    };
    const frame: ElkNode = { id: `frame ${id}`, layoutOptions, children: [] };
    frames.set(id, frame);
    children.push(frame);
  }
  const homeOf = (frame: string | undefined) =>
    (frame === undefined ? children : frames.get(frame)?.children) ?? children;
  for (const node of shape.nodes) homeOf(node.frame).push(elkNode(node, boxes.get(node.id)!, lie, free));
  const edges: ElkExtendedEdge[] = [];
  const labelled = new Set<number>();
  for (const wire of shape.wires) {
    const from = nodeOf.get(wire.from)!;
    const to = nodeOf.get(wire.to)!;
    const [a, b] = sidesOf(wire, from, to, lie);
    const labels = labelled.has(wire.net) ? [] : [{ id: `label ${wire.id}`, text: 'V', ...NET_LABEL }];
    labelled.add(wire.net);
    const start = portId(wire.from, from, a);
    const end = portId(wire.to, to, b);
    if (a !== b) {
      const [source, target] = a === 'east' ? [start, end] : [end, start];
      edges.push({ id: `wire ${wire.id}`, sources: [source], targets: [target], labels });
      continue;
    }
    // Both ends look the same way: the wire turns back at a point beyond both.
    const bend = `bend ${wire.id}`;
    homeOf(bendFrame(from, to)).push(bendNode(bend, a));
    const halves = [
      { id: `from ${wire.id}`, port: start, labels },
      { id: `to ${wire.id}`, port: end, labels: [] },
    ];
    for (const { id, labels, port } of halves) {
      const [source, target] = a === 'east' ? [port, `port ${bend}`] : [`port ${bend}`, port];
      edges.push({ id, sources: [source], targets: [target], labels });
    }
  }
  // A coil stands before what it works.
  for (const { from, to } of shape.links)
    edges.push({ id: `link ${from} ${to}`, sources: [`node ${from}`], targets: [`node ${to}`] });
  return { id: 'drawing', layoutOptions: { ...ROOT_OPTIONS, ...SPACING }, children, edges };
}

/** A wire turns back at the place of one of its ends; that of a cable is the place of the other end. */
function bendFrame(from: DrawnNode, to: DrawnNode): string | undefined {
  if (from.frame === undefined || to.frame === undefined) return from.frame ?? to.frame;
  return from.frame === to.frame ? from.frame : undefined;
}

/** A point that both halves of a wire meet from the same side. */
function bendNode(id: string, ends: Side): ElkNode {
  const layoutOptions = { 'elk.port.side': ends === 'east' ? 'WEST' : 'EAST' };
  const port: ElkPort = { id: `port ${id}`, width: 0, height: 0, x: ends === 'east' ? 0 : 1, y: 0, layoutOptions };
  return { id, width: 1, height: 1, ports: [port], layoutOptions: { 'elk.portConstraints': 'FIXED_POS' } };
}

function elkNode(node: DrawnNode, { form, height, ports, width }: Box, lie: Lie, free: Free): ElkNode {
  const ordered = free.has(form);
  const made = [...ports].map(([id, { side, x, y }]): ElkPort => {
    const layoutOptions = { 'elk.port.side': side === 'west' ? 'WEST' : 'EAST' };
    return { id: `port ${id}`, width: 0, height: 0, layoutOptions, ...(ordered ? {} : { x, y }) };
  });
  const layoutOptions: Record<string, string> = { 'elk.portConstraints': ordered ? 'FIXED_SIDE' : 'FIXED_POS' };
  if (lie.upright.has(node.id)) layoutOptions['elk.layered.priority.straightness'] = '1';
  return { id: `node ${node.id}`, width, height, ports: made, layoutOptions };
}

/** The sides at which a wire leaves; a point is met from where the other end looks at it. */
export function sidesOf(wire: DrawnWire, from: DrawnNode, to: DrawnNode, lie: Lie): readonly [Side, Side] {
  const opposite = (side: Side): Side => (side === 'west' ? 'east' : 'west');
  if (isPoint(from) && isPoint(to)) return ['east', 'west'];
  if (isPoint(from)) return [opposite(lie.sides.get(wire.to)!), lie.sides.get(wire.to)!];
  if (isPoint(to)) return [lie.sides.get(wire.from)!, opposite(lie.sides.get(wire.from)!)];
  return [lie.sides.get(wire.from)!, lie.sides.get(wire.to)!];
}

function portId(terminal: string, node: DrawnNode, side: Side): string {
  return `port ${isPoint(node) ? pointPort(terminal, side) : terminal}`;
}
