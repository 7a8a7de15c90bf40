/** How figures and names are written into cells. */
import {
  type ComponentId,
  type Datum,
  type Design,
  type Dimension,
  type Figure,
  formatRange,
  formatSpread,
  type Moment,
  type TerminalId,
} from '@couplet/engine';

/** Usual with least .. most; what is missing is named. */
export function figureCell(figure: Figure, design: Design, digits = 3): string {
  if (figure.sort === 'no-connection') return 'no connection';
  if (figure.sort === 'value') return formatSpread(figure, figure.unit as Dimension, { digits });
  const needs = figure.needs.map(({ component, property }) => `${componentName(design, component)} ${property}`);
  return `not evaluated${needs.length > 0 ? `: needs ${[...new Set(needs)].join(', ')}` : ''}`;
}

export function datumCell(datum: Datum | undefined, dimension: Dimension): string {
  return datum === undefined ? 'not given' : formatRange(datum.least, datum.most, dimension);
}

export function componentName(design: Design, id: ComponentId): string {
  return design.components[id]?.name ?? 'the site';
}

export function terminalName(design: Design, id: TerminalId): string {
  return design.terminals[id]?.name ?? '';
}

export function placeName(design: Design, id: number | undefined): string {
  const place = id === undefined ? undefined : design.places[id];
  return place === undefined ? '' : (place.description ?? place.name);
}

/** 'high-water, after level.Q1 off'; rest alone is 'rest'. */
export function momentName(caseName: string, moment: Moment): string {
  return caseName === 'rest' && moment.label === 'at rest' ? 'rest' : `${caseName}, ${moment.label}`;
}
