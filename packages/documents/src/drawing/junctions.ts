/** Dots where wires of one terminal part from each other away from it: there, crossing lines are joined. */
import type { DrawingShape } from './contract.ts';
import type { DrawingLayout, Point } from './layout.ts';

export function junctionsOf({ wires }: DrawingShape, layout: DrawingLayout): readonly Point[] {
  const starts = new Map<string, Point[][]>();
  const add = (terminal: string, points: readonly Point[]) =>
    starts.set(terminal, [...(starts.get(terminal) ?? []), [...points]]);
  for (const { from, id, to } of wires) {
    const { points } = layout.wires.get(id)!;
    add(from, points);
    add(to, points.toReversed());
  }
  const found = new Map<string, Point>();
  for (const lines of starts.values()) {
    for (const [index, one] of lines.entries()) {
      for (const other of lines.slice(index + 1)) {
        const point = partingOf(one, other);
        if (point !== undefined) found.set(`${point.x} ${point.y}`, point);
      }
    }
  }
  return [...found.values()].sort((one, other) => one.x - other.x || one.y - other.y);
}

/** Where two lines from the same point part; nothing where they part at once or one ends on the other. */
function partingOf(one: readonly Point[], other: readonly Point[]): Point | undefined {
  let at = one[0];
  if (at === undefined || other[0] === undefined || !same(at, other[0])) return undefined;
  let [i, j] = [1, 1];
  for (let moved = false; ; moved = true) {
    const [a, b] = [one[i], other[j]];
    if (a === undefined || b === undefined) return undefined;
    const [alongA, alongB] = [direction(at, a), direction(at, b)];
    if (alongA === 'none') {
      i++;
      continue;
    }
    if (alongB === 'none') {
      j++;
      continue;
    }
    if (alongA !== alongB) return moved ? at : undefined;
    at = nearer(at, a, b);
    if (same(at, a)) i++;
    if (same(at, b)) j++;
  }
}

function nearer(from: Point, one: Point, other: Point): Point {
  const length = (to: Point) => Math.hypot(to.x - from.x, to.y - from.y);
  return length(one) <= length(other) ? one : other;
}

function same(one: Point, other: Point): boolean {
  return Math.abs(one.x - other.x) < 0.01 && Math.abs(one.y - other.y) < 0.01;
}

function direction(from: Point, to: Point): 'none' | 'left' | 'right' | 'up' | 'down' {
  if (same(from, to)) return 'none';
  if (Math.abs(to.x - from.x) > Math.abs(to.y - from.y)) return to.x > from.x ? 'right' : 'left';
  return to.y > from.y ? 'down' : 'up';
}
