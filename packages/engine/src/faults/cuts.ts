/**
 * Bare joins whose cut is a fault of its own. A join beyond which lies one part alone, or nothing, is not among them:
 * cutting it is electrically that part's own fault (a resistor missing, a coil open, a core cut).
 */
import type { Model } from '../build/index.ts';
import type { Component, ComponentId, ComponentKind, TerminalId } from '../design/components.ts';

/** Kinds with a fault that opens the part. */
const OPENABLE: ReadonlySet<ComponentKind> = new Set([
  'core',
  'resistor',
  'capacitor',
  'contact',
  'fuse',
  'diode',
  'load',
  'relay',
  'output',
  'source',
]);

/** Parts on one side of a join: how many ends, and the sum of their numbers, which names the part where it is one. */
interface Side {
  ends: number;
  sum: number;
}

/** Indices into `Design.joins`, ascending. */
export function cuttableJoins(model: Model): readonly number[] {
  const { design } = model;
  const parts = partsAt(model);
  const joinsAt: number[][] = design.terminals.map(() => []);
  design.joins.forEach(({ a, b }, join) => {
    joinsAt[a]!.push(join);
    joinsAt[b]!.push(join);
  });
  const found: number[] = [];
  const entered = new Int32Array(design.terminals.length).fill(-1);
  const low = new Int32Array(design.terminals.length);
  let clock = 0;
  for (const root of design.terminals.keys()) {
    if (entered[root] !== -1 || joinsAt[root]!.length === 0) continue;
    const bridges: { join: number; side: Side }[] = [];
    const total: Side = { ends: 0, sum: 0 };
    const path: { terminal: TerminalId; by: number; next: number; side: Side }[] = [];
    const enter = (terminal: TerminalId, by: number) => {
      entered[terminal] = clock;
      low[terminal] = clock++;
      const own = parts[terminal]!;
      const side = { ends: own.size, sum: [...own].reduce((sum, id) => sum + id, 0) };
      total.ends += side.ends;
      total.sum += side.sum;
      path.push({ terminal, by, next: 0, side });
    };
    enter(root, -1);
    while (path.length > 0) {
      const step = path.at(-1)!;
      const { terminal } = step;
      const join = joinsAt[terminal]![step.next++];
      if (join !== undefined) {
        if (join === step.by) continue;
        const { a, b } = design.joins[join]!;
        const other = a === terminal ? b : a;
        if (entered[other] === -1) enter(other, join);
        else low[terminal] = Math.min(low[terminal]!, entered[other]!);
        continue;
      }
      path.pop();
      const parent = path.at(-1);
      if (parent === undefined) continue;
      parent.side.ends += step.side.ends;
      parent.side.sum += step.side.sum;
      low[parent.terminal] = Math.min(low[parent.terminal]!, low[terminal]!);
      if (low[terminal]! > entered[parent.terminal]!) bridges.push({ join: step.by, side: step.side });
    }
    for (const { join, side } of bridges) {
      const other = { ends: total.ends - side.ends, sum: total.sum - side.sum };
      if ([side, other].every((one) => isCircuit(one, design.components))) found.push(join);
    }
  }
  return found.sort((one, other) => one - other);
}

function isCircuit({ ends, sum }: Side, components: readonly Component[]): boolean {
  if (ends === 0) return false;
  return ends > 1 || !OPENABLE.has(components[sum]!.kind);
}

/** Parts with a piece that ends at each terminal. */
function partsAt(model: Model): readonly ReadonlySet<ComponentId>[] {
  const { design } = model;
  const parts: Set<ComponentId>[] = design.terminals.map(() => new Set());
  for (const { component, rule } of model.elements) {
    for (const end of rule.ends(component, design) ?? []) if (end !== 'inner') parts[end]!.add(component.id);
  }
  return parts;
}
