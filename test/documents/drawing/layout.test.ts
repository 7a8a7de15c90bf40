/** Where things lie: nothing on top of anything else, wires from terminal to terminal at right angles. */
import { type DrawingLayout, layoutOf } from '@couplet/documents';
import { couplingsOf, type DrawingShape, drawingOf } from '@couplet/project';
import { describe, expect, test } from 'vitest';
import { exampleSite, MANY_KINDS, SITES, siteOf } from '../../project/drawing/sites.ts';

interface Laid {
  readonly shape: DrawingShape;
  readonly layout: DrawingLayout;
}

async function laidOut(path: string): Promise<Laid[]> {
  const site = await exampleSite(path);
  const shapes = couplingsOf(site).map(({ id }) => drawingOf(site, { coupling: id })!.shape);
  return Promise.all(shapes.map(async (shape) => ({ shape, layout: await layoutOf(shape) })));
}

interface Area {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

function overlap(one: Area, other: Area): boolean {
  return (
    one.x < other.x + other.width &&
    other.x < one.x + one.width &&
    one.y < other.y + other.height &&
    other.y < one.y + one.height
  );
}

function contains(outer: Area, inner: Area): boolean {
  return (
    inner.x >= outer.x &&
    inner.y >= outer.y &&
    inner.x + inner.width <= outer.x + outer.width &&
    inner.y + inner.height <= outer.y + outer.height
  );
}

/** A box without its rim: wires may run along it. */
function inner({ height, width, x, y }: Area): Area {
  return { x: x + 1, y: y + 1, width: width - 2, height: height - 2 };
}

describe.each(SITES)('%s', { timeout: 240_000 }, (path) => {
  const drawings = laidOut(path);

  test('no two boxes overlap', async () => {
    for (const { layout } of await drawings) {
      const boxes = [...layout.nodes];
      for (const [index, [id, box]] of boxes.entries()) {
        for (const [other, there] of boxes.slice(index + 1))
          expect(overlap(box, there), `${id} on ${other}`).toBe(false);
      }
    }
  });

  test('everything lies on the sheet, and within the frame of its place alone', async () => {
    for (const { layout, shape } of await drawings) {
      const sheet = { x: 0, y: 0, width: layout.width, height: layout.height };
      for (const { frame, id } of shape.nodes) {
        const box = layout.nodes.get(id)!;
        expect(contains(sheet, box), id).toBe(true);
        for (const [place, area] of layout.frames) {
          if (place === frame) expect(contains(area, box), `${id} in ${place}`).toBe(true);
          else expect(overlap(area, box), `${id} over ${place}`).toBe(false);
        }
      }
      for (const { points } of layout.wires.values()) {
        for (const point of points) expect(contains(sheet, { ...point, width: 0, height: 0 })).toBe(true);
      }
    }
  });

  test('each wire runs from its one terminal to the other, at right angles', async () => {
    for (const { layout, shape } of await drawings) {
      const ends = new Map<string, { x: number; y: number }[]>();
      for (const { id, terminals } of shape.nodes) {
        const { box, x, y } = layout.nodes.get(id)!;
        for (const terminal of terminals) {
          const ports = [...box.ports].filter(([port]) => port === terminal.id || port.startsWith(`${terminal.id} `));
          ends.set(
            terminal.id,
            ports.map(([, port]) => ({ x: x + port.x, y: y + port.y })),
          );
        }
      }
      expect(layout.wires.size).toBe(shape.wires.length);
      for (const { from, id, to } of shape.wires) {
        const { points } = layout.wires.get(id)!;
        for (const [terminal, point] of [
          [from, points[0]!],
          [to, points.at(-1)!],
        ] as const) {
          const near = ends.get(terminal)!.some(({ x, y }) => Math.hypot(x - point.x, y - point.y) < 0.1);
          expect(near, `${id} at ${terminal}`).toBe(true);
        }
        for (const [index, point] of points.slice(1).entries()) {
          const before = points[index]!;
          const steps = [Math.abs(point.x - before.x), Math.abs(point.y - before.y)];
          expect(Math.min(...steps), `${id} at ${JSON.stringify([before, point])}`).toBeLessThan(0.1);
        }
      }
    }
  });

  test('no wire runs through a box', async () => {
    for (const { layout, shape } of await drawings) {
      for (const { id } of shape.wires) {
        const { points } = layout.wires.get(id)!;
        for (const [index, to] of points.slice(1).entries()) {
          const from = points[index]!;
          const stretch = {
            x: Math.min(from.x, to.x),
            y: Math.min(from.y, to.y),
            width: Math.abs(to.x - from.x),
            height: Math.abs(to.y - from.y),
          };
          for (const [node, box] of layout.nodes)
            expect(overlap(inner(box), stretch), `${id} through ${node}`).toBe(false);
        }
      }
    }
  });
});

test('a layout is kept while the shape is the same', async () => {
  const site = await exampleSite('tidewater-mill/site.couplet');
  const rest = drawingOf(site)!;
  const other = drawingOf(site, { case: 'high-water' })!;
  expect(await layoutOf(other.shape)).toBe(await layoutOf(rest.shape));
  // Where it is written does not matter.
  const moved = { ...rest.shape, nodes: rest.shape.nodes.map(({ source: _, ...node }) => node) };
  expect(await layoutOf(moved)).toBe(await layoutOf(rest.shape));
  const renamed = { ...rest.shape, nodes: rest.shape.nodes.map((node) => ({ ...node, description: 'Another' })) };
  expect(await layoutOf(renamed)).not.toBe(await layoutOf(rest.shape));
});

test('the same shape is laid out the same again', async () => {
  const { shape } = drawingOf(await siteOf(MANY_KINDS))!;
  const first = await layoutOf(shape);
  const again = await layoutOf({ ...shape, title: `${shape.title} again` });
  expect(again).not.toBe(first);
  expect([...again.nodes]).toEqual([...first.nodes]);
  expect([...again.wires]).toEqual([...first.wires]);
});

test('signals run from left to right: the panel that reads stands right of what drives', async () => {
  const [laid] = await laidOut('tidewater-mill/site.couplet');
  const at = (id: string) => laid!.layout.nodes.get(id)!.x;
  expect(at('level')).toBeLessThan(at('K1'));
  expect(at('K1')).toBeLessThan(at('K1/1'));
  expect(at('K1/1')).toBeLessThan(at('W1'));
  expect(at('W1')).toBeLessThan(at('panel'));
});
