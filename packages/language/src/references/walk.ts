/** Walks over a tree without the streams of the library, for what is done at every key to every node of a file. */
import { type AstNode, isReference, type Reference, type ReferenceInfo } from 'langium';
import { reflection } from '../generated/ast.ts';

/** Nodes of work after which whoever works gives way. */
export const NODES_A_TURN = 500;

/** The properties of a type of node that hold nodes (or plain values), and those that hold references. */
interface Shape {
  readonly nodes: readonly string[];
  readonly references: readonly string[];
}

const shapes = new Map<string, Shape>();

function shapeOf({ $type }: AstNode): Shape {
  const known = shapes.get($type);
  if (known !== undefined) return known;
  const properties = Object.values(reflection.getTypeMetaData($type).properties);
  const named = (isRef: boolean) =>
    properties.filter(({ referenceType }) => (referenceType !== undefined) === isRef).map(({ name }) => name);
  const shape = { nodes: named(false), references: named(true) };
  shapes.set($type, shape);
  return shape;
}

/** The tree that was last walked over: linking, indexing and checking of an edited file follow each other. */
let last: { readonly root: WeakRef<AstNode>; readonly nodes: WeakRef<readonly AstNode[]> } | undefined;

/** All nodes of a tree, each before those below it. */
export function nodesOf(root: AstNode): readonly AstNode[] {
  const known = last?.root.deref() === root ? last.nodes.deref() : undefined;
  if (known !== undefined) return known;
  const nodes: AstNode[] = [];
  collect(root, nodes);
  last = { root: new WeakRef(root), nodes: new WeakRef(nodes) };
  return nodes;
}

function collect(node: AstNode, nodes: AstNode[]): void {
  nodes.push(node);
  for (const property of shapeOf(node).nodes) {
    const value = (node as unknown as Record<string, unknown>)[property];
    if (typeof value !== 'object' || value === null) continue;
    if (Array.isArray(value)) for (const each of value) collectIfNode(each, nodes);
    else collectIfNode(value, nodes);
  }
}

function collectIfNode(value: unknown, nodes: AstNode[]): void {
  if (typeof value === 'object' && value !== null && '$type' in value) collect(value as AstNode, nodes);
}

/** The references that a node itself holds. */
export function eachReference(node: AstNode, visit: (info: ReferenceInfo & { reference: Reference }) => void): void {
  for (const property of shapeOf(node).references) {
    const value = (node as unknown as Record<string, unknown>)[property];
    if (value === undefined) continue;
    if (Array.isArray(value)) {
      for (const [index, reference] of value.entries()) {
        if (isReference(reference)) visit({ reference, container: node, property, index });
      }
    } else if (isReference(value)) visit({ reference: value, container: node, property });
  }
}
