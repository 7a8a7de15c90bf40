/**
 * The part of a drawing that is looked at. `x`, `y`: the point of the drawing in the upper left corner, in the drawing's
 * own units; `scale`: pixels for each of them.
 */
export interface View {
  readonly x: number;
  readonly y: number;
  readonly scale: number;
}

export interface Size {
  readonly width: number;
  readonly height: number;
}

export interface Box extends Size {
  readonly x: number;
  readonly y: number;
}

export const LEAST_SCALE = 0.1;
export const MOST_SCALE = 8;

/** Small drawings are not blown up further than this to fill the window. */
const MOST_FITTED = 1.4;

/** Below this the words of a drawing are too small to be read. */
const LEAST_READABLE = 0.7;

/** Pixels that stay free around a drawing that is fitted in. */
const MARGIN = 12;

/** Pixels of a drawing that always stay in the window. */
const KEPT = 40;

/** All of a drawing in the middle of a window. */
export function fitted(drawing: Box, window: Size): View {
  const across = (window.width - 2 * MARGIN) / Math.max(drawing.width, 1);
  const down = (window.height - 2 * MARGIN) / Math.max(drawing.height, 1);
  const scale = clamped(Math.min(across, down, MOST_FITTED));
  return {
    x: drawing.x + (drawing.width - window.width / scale) / 2,
    y: drawing.y + (drawing.height - window.height / scale) / 2,
    scale,
  };
}

/** All of a drawing where its words can be read then; else its upper left part, as large as that takes. */
export function readable(drawing: Box, window: Size): View {
  const all = fitted(drawing, window);
  if (all.scale >= LEAST_READABLE) return all;
  const scale = LEAST_READABLE;
  const along = (from: number, length: number, shown: number) =>
    length * scale + 2 * MARGIN <= shown ? from + (length - shown / scale) / 2 : from - MARGIN / scale;
  return {
    x: along(drawing.x, drawing.width, window.width),
    y: along(drawing.y, drawing.height, window.height),
    scale,
  };
}

/** Closer or farther, with the point of the drawing below `at` (pixels in the window) staying where it is. */
export function zoomed(view: View, factor: number, at: { readonly x: number; readonly y: number }): View {
  const scale = clamped(view.scale * factor);
  return { x: view.x + at.x / view.scale - at.x / scale, y: view.y + at.y / view.scale - at.y / scale, scale };
}

/** Moved by pixels, no farther than that some of the drawing stays in the window. */
export function panned(view: View, byX: number, byY: number, drawing: Box, window: Size): View {
  const { scale } = view;
  const kept = KEPT / scale;
  const within = (at: number, from: number, length: number, shown: number) =>
    Math.min(Math.max(at, from - shown / scale + kept), from + length - kept);
  return {
    x: within(view.x + byX / scale, drawing.x, drawing.width, window.width),
    y: within(view.y + byY / scale, drawing.y, drawing.height, window.height),
    scale,
  };
}

/** Moved as little as is needed to have `box` in the window; its middle, where it is larger than that. */
export function showing(view: View, box: Box, window: Size): View {
  const along = (at: number, from: number, length: number, shown: number) => {
    const margin = MARGIN / view.scale;
    if (length + 2 * margin > shown) return from + (length - shown) / 2;
    return Math.min(Math.max(at, from + length + margin - shown), from - margin);
  };
  return {
    x: along(view.x, box.x, box.width, window.width / view.scale),
    y: along(view.y, box.y, box.height, window.height / view.scale),
    scale: view.scale,
  };
}

function clamped(scale: number): number {
  return Math.min(Math.max(scale, LEAST_SCALE), MOST_SCALE);
}
