/** What the preview's page remembers, and the part of a drawing that it shows. */
import { describe, expect, test } from 'vitest';
import { FIRST_STATE, forFile, type PageState, restored } from '../../../packages/vscode/src/preview/state.ts';
import {
  fitted,
  LEAST_SCALE,
  MOST_SCALE,
  panned,
  readable,
  showing,
  zoomed,
} from '../../../packages/vscode/src/preview/view.ts';

describe('what is remembered', () => {
  const full: PageState = {
    uri: 'file:///a.couplet',
    section: 'bands',
    coupling: 'level',
    caseName: 'high-water',
    moment: 2,
    figures: false,
    faults: true,
    root: 'file:///site.couplet',
    view: { x: 1, y: -2, scale: 0.5 },
  };

  test('comes back as it was kept', () => {
    expect(restored(JSON.parse(JSON.stringify(full)))).toEqual(full);
  });

  test.each([[undefined], [null], [7], ['drawing'], [{}], [[]]])('%j gives the first state', (kept) => {
    expect(restored(kept)).toEqual(FIRST_STATE);
  });

  test('each value of a wrong kind is left out by itself', () => {
    const odd = {
      section: 'none',
      coupling: 4,
      caseName: {},
      moment: -1,
      figures: 'yes',
      view: { x: 1, y: 2, scale: 0 },
    };
    expect(restored({ ...odd, uri: 'file:///b' })).toEqual({ ...FIRST_STATE, uri: 'file:///b' });
    expect(restored({ view: 'all' }).view).toBe('all');
    expect(restored({ view: 'some' }).view).toBeUndefined();
    expect(restored({ view: { x: Number.NaN, y: 0, scale: 1 } }).view).toBeUndefined();
  });

  test('of another file only the section and the switches stay', () => {
    expect(forFile(full, 'file:///b')).toEqual({ uri: 'file:///b', section: 'bands', figures: false, faults: true });
    expect(forFile(full, 'file:///a.couplet')).toBe(full);
  });
});

describe('the view', () => {
  const drawing = { x: -10, y: 20, width: 400, height: 200 };
  const window = { width: 800, height: 600 };

  test('a fitted drawing is all in the window, in its middle', () => {
    for (const size of [window, { width: 300, height: 900 }, { width: 150, height: 40 }]) {
      const { scale, x, y } = fitted(drawing, size);
      expect((drawing.x - x) * scale).toBeGreaterThanOrEqual(0);
      expect((drawing.y - y) * scale).toBeGreaterThanOrEqual(0);
      expect(x + size.width / scale / 2).toBeCloseTo(drawing.x + 200);
      expect(y + size.height / scale / 2).toBeCloseTo(drawing.y + 100);
    }
  });

  test('a large drawing is not made too small to be read: its beginning is shown', () => {
    const wide = { x: 0, y: 0, width: 4000, height: 200 };
    const { scale, x, y } = readable(wide, window);
    expect(scale).toBeGreaterThan(fitted(wide, window).scale);
    expect(x).toBeLessThan(0);
    expect(y + window.height / scale / 2).toBeCloseTo(100);
    expect(readable(drawing, window)).toEqual(fitted(drawing, window));
  });

  test('zooming keeps the point below the pointer and stays within its limits', () => {
    const view = { x: 5, y: 7, scale: 1 };
    const at = { x: 300, y: 100 };
    const closer = zoomed(view, 2, at);
    expect(closer.scale).toBe(2);
    expect(closer.x + at.x / 2).toBeCloseTo(view.x + at.x);
    expect(closer.y + at.y / 2).toBeCloseTo(view.y + at.y);
    expect(zoomed(view, 1e6, at).scale).toBe(MOST_SCALE);
    expect(zoomed(view, 1e-6, at).scale).toBe(LEAST_SCALE);
  });

  test('a drawing cannot be moved out of the window', () => {
    const view = fitted(drawing, window);
    for (const [byX, byY] of [
      [1e6, 1e6],
      [-1e6, -1e6],
    ] as const) {
      const { scale, x, y } = panned(view, byX, byY, drawing, window);
      expect(drawing.x + drawing.width).toBeGreaterThan(x);
      expect(drawing.x).toBeLessThan(x + window.width / scale);
      expect(drawing.y + drawing.height).toBeGreaterThan(y);
      expect(drawing.y).toBeLessThan(y + window.height / scale);
    }
  });

  test('what is in the window does not move it, what is outside comes in', () => {
    const view = { x: 0, y: 0, scale: 2 };
    expect(showing(view, { x: 100, y: 100, width: 40, height: 20 }, window)).toEqual(view);
    const moved = showing(view, { x: 900, y: -80, width: 40, height: 20 }, window);
    expect(moved.x).toBeLessThanOrEqual(900);
    expect(moved.x + 400).toBeGreaterThanOrEqual(940);
    expect(moved.y).toBeLessThanOrEqual(-80);
    const large = showing(view, { x: 0, y: 0, width: 1000, height: 20 }, window);
    expect(large.x).toBe(300);
  });
});
