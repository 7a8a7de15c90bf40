/** The drawing of a coupling: its parts lead to the text, and the cursor in the text marks parts. */
import type { Drawing } from '@couplet/documents';
import type { Place, Point } from '../preview/messages.ts';
import { type Written, writtenAt } from '../preview/places.ts';
import type { View } from '../preview/view.ts';
import { button } from './bar.ts';
import { Canvas } from './canvas.ts';
import { make, svgElement } from './dom.ts';
import { drawingText } from './pictures.ts';

export interface DrawingOptions {
  onPicked(place: Place): void;
  onView(view: View | 'all'): void;
}

/** A place of the cursor, and the names of the part that stands there. */
export interface Spot {
  readonly uri: string;
  readonly position: Point;
  readonly names: readonly string[];
}

export class DrawingSection {
  readonly element: HTMLElement;
  private readonly canvas = new Canvas();
  private readonly percent = make('output', { class: 'percent', attributes: { 'aria-label': 'Zoom' } });
  private readonly options: DrawingOptions;
  private drawing: Drawing | undefined;
  private figures = true;
  private view: View | 'all' | undefined;
  private spot: Spot | undefined;
  /** Where each thing drawn is written, by its id. */
  private sources: ReadonlyMap<string, Place> = new Map();

  constructor(options: DrawingOptions) {
    this.options = options;
    const { canvas } = this;
    canvas.onView = (view) => {
      this.view = view;
      options.onView(view);
    };
    canvas.onScale = () => {
      this.percent.textContent = `${Math.round(canvas.scale * 100)} %`;
    };
    const zoom = make(
      'div',
      { class: 'zoom', attributes: { role: 'group', 'aria-label': 'Zoom' } },
      button('−', 'Zoom out', () => canvas.zoom(false)),
      this.percent,
      button('+', 'Zoom in', () => canvas.zoom(true)),
      button('Fit', 'Show all of the drawing', () => canvas.fit()),
    );
    this.element = make('div', { class: 'drawing' }, zoom, canvas.element);
    this.element.addEventListener('click', (event) => this.pick(event.target));
    this.element.addEventListener('keydown', (event) => {
      if ((event.key === 'Enter' || event.key === ' ') && this.pick(event.target)) event.preventDefault();
    });
    this.element.addEventListener('focusin', ({ target }) => {
      if (target instanceof SVGGraphicsElement && target.matches(':focus-visible')) this.canvas.bringIntoView(target);
    });
  }

  /** How the next drawing is to be shown. */
  prepare({ figures, view }: { readonly figures: boolean; readonly view: View | 'all' | undefined }): void {
    this.figures = figures;
    this.view = view;
  }

  async show(data: unknown): Promise<void> {
    this.drawing = data as Drawing;
    await this.draw();
  }

  /** The same with or without figures. */
  async redraw(figures: boolean): Promise<void> {
    this.figures = figures;
    await this.draw();
  }

  /** Marks what a spot of the text is about; says whether any of it is in this drawing. */
  mark(spot: Spot): boolean {
    this.spot = spot;
    const refs = this.refsOf(spot);
    for (const part of this.parts()) {
      const isMarked = refs.has(part.dataset.ref ?? '');
      part.classList.toggle('chosen', isMarked);
      if (isMarked) part.setAttribute('aria-current', 'true');
      else part.removeAttribute('aria-current');
    }
    const [first] = this.element.querySelectorAll<SVGGraphicsElement>('.chosen');
    if (first !== undefined && !this.canvas.element.contains(document.activeElement)) this.canvas.bringIntoView(first);
    return refs.size > 0;
  }

  /** By name where the spot names a part, by where things are written elsewhere. */
  private refsOf({ names, position, uri }: Spot): ReadonlySet<string> {
    for (const name of names) {
      const refs = namedRefs(this.drawing, name);
      if (refs.length > 0) return new Set(refs);
    }
    return new Set(names.length > 0 ? [] : writtenAt(this.written(), uri, position));
  }

  private async draw(): Promise<void> {
    const { drawing } = this;
    if (drawing === undefined) return;
    const text = await drawingText(drawing, { figures: this.figures });
    // A newer drawing may have come while this one was laid out.
    if (drawing !== this.drawing) return;
    const svg = svgElement(text);
    if (svg === undefined) throw new Error('the drawing is not well formed');
    this.sources = sourcesOf(drawing);
    const focused = this.focusedPart();
    this.canvas.show(svg, this.view);
    for (const part of this.parts()) this.makeReachable(part);
    if (this.spot !== undefined) this.mark(this.spot);
    // The reader who goes from part to part stays where he is while the text is edited elsewhere.
    if (focused !== undefined)
      this.parts()
        .find((part) => part.dataset.ref === focused)
        ?.focus({ preventScroll: true });
  }

  /** A part that leads to the text is a button to whoever does not see it; what leads nowhere takes no focus. */
  private makeReachable(part: SVGElement): void {
    if (this.sources.has(part.dataset.ref ?? '')) part.setAttribute('role', 'button');
    else part.removeAttribute('tabindex');
  }

  private focusedPart(): string | undefined {
    const { activeElement } = document;
    if (activeElement === null || !this.element.contains(activeElement)) return undefined;
    return activeElement.closest<SVGElement>('[data-ref]')?.dataset.ref;
  }

  private parts(): SVGElement[] {
    return [...this.element.querySelectorAll<SVGElement>('[data-ref]')];
  }

  private pick(target: EventTarget | null): boolean {
    const part = target instanceof Element ? target.closest<SVGElement>('[data-ref]') : null;
    const place = this.sources.get(part?.dataset.ref ?? '');
    if (place === undefined) return false;
    this.options.onPicked(place);
    return true;
  }

  private *written(): Generator<Written> {
    for (const [id, source] of this.sources) yield { id, source };
  }
}

/** What a picture shows under a name of the language. */
function namedRefs(drawing: Drawing | undefined, name: string): string[] {
  return (drawing?.shape.nodes ?? []).flatMap((node) => [
    ...(node.name === name || node.id === name ? [`node ${node.id}`] : []),
    ...node.terminals.flatMap(({ id }) => (id === name ? [`terminal ${id}`] : [])),
    ...(node.cores ?? []).flatMap(({ label, way }) => (`${node.name}.${label}` === name ? [`core ${way}`] : [])),
  ]);
}

/** Where what a picture names is written, by the names that it uses. */
function sourcesOf({ shape }: Drawing): Map<string, Place> {
  const named = (sort: string, parts: readonly Written[]) =>
    parts.flatMap(({ id, source }) => (source === undefined ? [] : [[`${sort} ${id}`, source] as const]));
  const terminals = shape.nodes.flatMap((node) => node.terminals);
  const cores = terminals.flatMap(({ source, way }) => (way === undefined ? [] : [{ id: way, source }]));
  return new Map([
    ...named('frame', shape.frames),
    ...named('node', shape.nodes),
    ...named('core', cores),
    ...named('terminal', terminals),
    ...named('wire', shape.wires),
  ]);
}
