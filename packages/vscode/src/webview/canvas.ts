/** A window onto a drawing: zoomed and moved with the mouse or the keyboard. */
import { type Box, fitted, panned, readable, showing, type View, zoomed } from '../preview/view.ts';
import { make } from './dom.ts';

/** Pixels that an arrow key moves the drawing by. */
const STEP = 48;

/** What one press or click brings closer. */
const ZOOM_STEP = 1.25;

/** Part of the zoom for each pixel of the wheel. */
const WHEEL_ZOOM = 0.0022;

/** Pixels that the pointer may move between down and up for it to be a click. */
const CLICK_MOVES = 4;

const HINT =
  'Arrow keys move the drawing, plus and minus zoom, 0 shows all of it. Tab goes from part to part, Enter jumps to the text.';

export class Canvas {
  readonly element: HTMLElement;
  /** Hears of every change that the reader makes. */
  onView: ((view: View | 'all') => void) | undefined;
  /** Hears whenever the drawing is shown larger or smaller. */
  onScale: (() => void) | undefined;
  private svg: SVGSVGElement | undefined;
  private drawing: Box = { x: 0, y: 0, width: 1, height: 1 };
  private chosen: View | 'all' | undefined;
  private dragged = false;

  constructor() {
    this.element = make('div', {
      class: 'canvas',
      attributes: { tabindex: '0', role: 'group', 'aria-label': HINT, 'aria-roledescription': 'drawing' },
    });
    this.element.addEventListener('wheel', (event) => this.wheel(event), { passive: false });
    this.element.addEventListener('pointerdown', (event) => this.drag(event));
    this.element.addEventListener('keydown', (event) => this.key(event));
    // A click that ends a drag is none.
    this.element.addEventListener('click', (event) => this.dragged && event.stopPropagation(), { capture: true });
    new ResizeObserver(() => this.refit()).observe(this.element);
  }

  /** Puts a drawing in; `view` as it was kept, or as much as can be read. */
  show(svg: SVGSVGElement, view: View | 'all' | undefined): void {
    const { height, width, x, y } = svg.viewBox.baseVal;
    this.drawing = { x, y, width, height };
    // Its parts are to be met one by one, which the role of a picture would not let them.
    svg.setAttribute('role', 'group');
    svg.removeAttribute('width');
    svg.removeAttribute('height');
    this.element.replaceChildren(svg);
    this.svg = svg;
    this.chosen = view;
    this.refit();
  }

  /** Pixels for each unit of the drawing. */
  get scale(): number {
    return this.view().scale;
  }

  zoom(closer: boolean): void {
    const { height, width } = this.window();
    this.look(zoomed(this.view(), closer ? ZOOM_STEP : 1 / ZOOM_STEP, { x: width / 2, y: height / 2 }));
  }

  fit(): void {
    this.look('all');
  }

  /** Moves an element of the drawing into the window, where it is not in it. */
  bringIntoView(part: SVGGraphicsElement): void {
    if (this.chosen === 'all') return;
    const { height, width, x, y } = this.boxOf(part);
    const view = this.view();
    const moved = showing(view, { x, y, width, height }, this.window());
    if (moved.x !== view.x || moved.y !== view.y) this.look(moved);
  }

  /** An element's box in the units of the drawing, whatever groups it stands in. */
  private boxOf(part: SVGGraphicsElement): Box {
    const { left, top, width, height } = part.getBoundingClientRect();
    const frame = this.element.getBoundingClientRect();
    const { scale, x, y } = this.view();
    return {
      x: x + (left - frame.left) / scale,
      y: y + (top - frame.top) / scale,
      width: width / scale,
      height: height / scale,
    };
  }

  private look(view: View | 'all'): void {
    const chosen = view === 'all' ? view : panned(view, 0, 0, this.drawing, this.window());
    this.chosen = chosen;
    this.refit();
    this.onView?.(chosen);
  }

  /** Suits the drawing to the window, whose size may be another one. */
  refit(): void {
    const { height, width } = this.window();
    if (this.svg === undefined || width === 0 || height === 0) return;
    const { scale, x, y } = this.view();
    this.svg.setAttribute('viewBox', `${x} ${y} ${width / scale} ${height / scale}`);
    this.onScale?.();
  }

  private view(): View {
    if (this.chosen === undefined) return readable(this.drawing, this.window());
    return this.chosen === 'all' ? fitted(this.drawing, this.window()) : this.chosen;
  }

  private window(): { readonly width: number; readonly height: number } {
    return { width: this.element.clientWidth, height: this.element.clientHeight };
  }

  private wheel(event: WheelEvent): void {
    event.preventDefault();
    if (!event.ctrlKey && !event.metaKey) {
      const sideways = event.shiftKey && event.deltaX === 0;
      this.move(sideways ? event.deltaY : event.deltaX, sideways ? 0 : event.deltaY);
      return;
    }
    const { left, top } = this.element.getBoundingClientRect();
    const at = { x: event.clientX - left, y: event.clientY - top };
    this.look(zoomed(this.view(), Math.exp(-event.deltaY * WHEEL_ZOOM), at));
  }

  private drag(down: PointerEvent): void {
    this.dragged = false;
    if (down.button !== 0 && down.button !== 1) return;
    let last = down;
    const move = (event: PointerEvent) => {
      const far = Math.hypot(event.clientX - down.clientX, event.clientY - down.clientY) > CLICK_MOVES;
      if (!this.dragged && !far) return;
      if (!this.dragged) this.element.classList.add('dragged');
      this.dragged = true;
      this.move(last.clientX - event.clientX, last.clientY - event.clientY);
      last = event;
    };
    const up = () => {
      this.element.classList.remove('dragged');
      window.removeEventListener('pointermove', move);
      window.removeEventListener('pointerup', up);
      window.removeEventListener('pointercancel', up);
    };
    window.addEventListener('pointermove', move);
    window.addEventListener('pointerup', up);
    window.addEventListener('pointercancel', up);
  }

  private move(byX: number, byY: number): void {
    this.look(panned(this.view(), byX, byY, this.drawing, this.window()));
  }

  private key(event: KeyboardEvent): void {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const act = this.keys[event.key];
    if (act === undefined) return;
    event.preventDefault();
    act();
  }

  private readonly keys: Readonly<Record<string, () => void>> = {
    ArrowLeft: () => this.move(-STEP, 0),
    ArrowRight: () => this.move(STEP, 0),
    ArrowUp: () => this.move(0, -STEP),
    ArrowDown: () => this.move(0, STEP),
    '+': () => this.zoom(true),
    '=': () => this.zoom(true),
    '-': () => this.zoom(false),
    '0': () => this.fit(),
  };
}
