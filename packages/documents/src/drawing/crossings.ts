/** How often wires of different nets cross: what a layout is judged by. */
import type { DrawingShape } from './contract.ts';
import type { DrawingLayout, Point } from './layout.ts';

interface Stretch {
  readonly net: number;
  readonly from: Point;
  readonly to: Point;
}

export function crossingsOf({ wires }: DrawingShape, layout: DrawingLayout): number {
  const level: Stretch[] = [];
  const plumb: Stretch[] = [];
  for (const { id, net } of wires) {
    const { points } = layout.wires.get(id)!;
    for (const [index, to] of points.slice(1).entries()) {
      const from = points[index]!;
      (Math.abs(to.x - from.x) > Math.abs(to.y - from.y) ? level : plumb).push({ net, from, to });
    }
  }
  return level.reduce((sum, one) => sum + plumb.filter((other) => crosses(one, other)).length, 0);
}

function crosses(level: Stretch, plumb: Stretch): boolean {
  if (level.net === plumb.net) return false;
  const { x } = plumb.from;
  const { y } = level.from;
  return between(level.from.x, x, level.to.x) && between(plumb.from.y, y, plumb.to.y);
}

function between(one: number, value: number, other: number): boolean {
  return value > Math.min(one, other) && value < Math.max(one, other);
}
