/** The sections with plots: the time line of a case, the bands of zones, the runtime of batteries. */
import type { BandChart, RuntimeCurve, TimeLine } from '@couplet/documents';
import type { Place } from '../preview/messages.ts';
import { make, svgElement } from './dom.ts';
import { bandsText, runtimeText, timeLineText } from './pictures.ts';

/** One plot, and what in it leads where, by the names that the picture uses. */
interface Plot {
  readonly name: string;
  readonly svg: string;
  readonly source?: Place;
  readonly sources: ReadonlyMap<string, Place>;
}

type PlotsOf = (data: never) => readonly Plot[];

export const TIME: PlotsOf = (line: TimeLine) => [
  { name: line.case, svg: timeLineText(line), sources: new Map(named('track', line.tracks, ({ id }) => id)) },
];

export const BANDS: PlotsOf = (charts: readonly BandChart[]) =>
  charts.map((chart) => ({
    name: chart.zone,
    svg: bandsText(chart),
    source: chart.source,
    sources: new Map([
      ...named('band', chart.bands, ({ label }) => label),
      ...named('reading', [...chart.readings, ...chart.faults], ({ title }) => title),
    ]),
  }));

export const BATTERY: PlotsOf = (curves: readonly RuntimeCurve[]) =>
  curves.map((curve) => ({ name: curve.battery, svg: runtimeText(curve), source: curve.source, sources: new Map() }));

export class PlotSection {
  readonly element = make('div', { class: 'plots' });
  private readonly plotsOf: PlotsOf;
  private readonly reveal: (place: Place) => void;

  constructor(plotsOf: PlotsOf, reveal: (place: Place) => void) {
    this.plotsOf = plotsOf;
    this.reveal = reveal;
  }

  show(data: unknown): void {
    const plots = this.plotsOf(data as never);
    this.element.replaceChildren(...plots.map((plot) => this.figureOf(plot)));
  }

  private figureOf({ name, source, sources, svg }: Plot): HTMLElement {
    const picture = svgElement(svg);
    if (picture === undefined) throw new Error(`the plot of ${name} is not well formed`);
    for (const part of picture.querySelectorAll<SVGElement>('[data-ref]')) this.lead(part, sources);
    // Its parts are to be met one by one, which the role of a picture would not let them.
    picture.setAttribute('role', 'group');
    return make('figure', {}, picture, source === undefined ? undefined : this.link(name, source));
  }

  private link(name: string, source: Place): HTMLElement {
    const attributes = { type: 'button' };
    const click = () => this.reveal(source);
    return make(
      'figcaption',
      {},
      make('button', { class: 'link', text: `${name} in the text`, attributes, on: { click } }),
    );
  }

  private lead(part: SVGElement, sources: ReadonlyMap<string, Place>): void {
    const place = sources.get(part.dataset.ref ?? '');
    if (place === undefined) {
      part.removeAttribute('tabindex');
      return;
    }
    part.setAttribute('role', 'button');
    part.addEventListener('click', () => this.reveal(place));
    part.addEventListener('keydown', (event) => {
      if (event.key !== 'Enter' && event.key !== ' ') return;
      event.preventDefault();
      this.reveal(place);
    });
  }
}

function named<T extends { readonly source?: Place }>(
  sort: string,
  parts: readonly T[],
  nameOf: (part: T) => string,
): readonly (readonly [string, Place])[] {
  return parts.flatMap((part) =>
    part.source === undefined ? [] : [[`${sort} ${nameOf(part)}`, part.source] as const],
  );
}
