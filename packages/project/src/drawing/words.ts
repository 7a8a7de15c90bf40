/** Figures in the few words that have room on a drawing. All numbers come from the engine's one formatter. */
import { type Design, type Dimension, type Figure, formatFigure, formatRange, LOOP_DIGITS } from '@couplet/engine';
import { needsOf } from '../figures.ts';
import type { DrawnFigure } from './contract.ts';

export interface WordsOptions {
  /** Readings of loops lie close together and have a digit more. */
  readonly loop?: boolean;
  readonly between?: string;
}

export function drawnFigure(
  quantity: DrawnFigure['quantity'],
  figure: Figure,
  design: Design,
  { between, loop = false }: WordsOptions = {},
): DrawnFigure {
  const where = between === undefined ? {} : { between };
  if (figure.sort !== 'value') return { quantity, sort: figure.sort, text: lackWords(figure, design), ...where };
  const unit = figure.unit as Dimension;
  const options = loop || quantity === 'ohms' ? { digits: LOOP_DIGITS } : {};
  const text = formatFigure(figure.usual, unit, options);
  const range = formatRange(figure.least, figure.most, unit, options);
  return {
    quantity,
    sort: 'value',
    text,
    ...(range === text ? {} : { spread: range }),
    ...finite('usual', figure.usual),
    ...where,
  };
}

/** Why there is no number: 'no connection', or what is missing for it. */
export function lackWords(figure: Exclude<Figure, { sort: 'value' }>, design: Design): string {
  if (figure.sort === 'no-connection') return 'no connection';
  const needs = needsOf(figure, design) ?? [];
  const why = needs.length > 0 ? `needs ${needs.join(', ')}` : figure.reason;
  return why === undefined ? 'not evaluated' : `not evaluated: ${why}`;
}

/** A number under its name, or nothing where JSON could not carry it. */
export function finite<K extends string>(name: K, value: number | undefined): { readonly [P in K]?: number } {
  return (value !== undefined && Number.isFinite(value) ? { [name]: value } : {}) as { readonly [P in K]?: number };
}
