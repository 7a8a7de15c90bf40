/** Figures in the words of a hover. All numbers come from the engine's one formatter. */
import {
  type Corner,
  type Design,
  DIMENSIONS,
  type Dimension,
  type Figure,
  formatFigure,
  formatSpread,
  LOOP_DIGITS,
  type Value,
} from '@couplet/engine';

/** `12.6 V (10.9 V .. 14.1 V)`, 'no connection', or what is missing for it. */
export function figureWords(figure: Figure, design: Design): string {
  switch (figure.sort) {
    case 'no-connection':
      return 'no connection';
    case 'not-evaluated':
      return notEvaluated(figure, design);
    case 'value':
      return valueWords(figure);
  }
}

function valueWords({ least, usual, most, unit }: Value): string {
  const digits = unit === 'ohm' ? { digits: LOOP_DIGITS } : {};
  return formatSpread({ least, usual, most }, unit as Dimension, digits);
}

function notEvaluated(figure: Extract<Figure, { sort: 'not-evaluated' }>, design: Design): string {
  const needs = figure.needs.map(({ component, property }) => {
    const name = design.components[component]?.name;
    return name === undefined ? property : `${property} of ${name}`;
  });
  const why = needs.length > 0 ? `needs ${[...new Set(needs)].join(', ')}` : figure.reason;
  return why === undefined ? 'not evaluated' : `not evaluated: ${why}`;
}

/** The two or three parameters that set an extreme: `level.V12 11.4 V, K1 coil 60 °C`. */
export function cornerWords(corner: Corner): string {
  return [...corner]
    .sort((a, b) => Math.abs(b.share) - Math.abs(a.share))
    .slice(0, 3)
    .map(({ what, value, unit }) => `${what} ${inUnit(value, unit)}`)
    .join(', ');
}

function inUnit(value: number, unit: string): string {
  const known = DIMENSIONS.find(({ dimension }) => dimension === unit);
  if (known !== undefined) return formatFigure(value, known.dimension);
  return unit === '' ? String(value) : `${value} ${unit}`;
}

/** A text as Markdown shows it letter by letter. */
export function plain(text: string): string {
  return text.replaceAll(/[\\`*_{}[\]()<>#+!|~-]/g, '\\$&').replaceAll(/\s+/g, ' ');
}
