/** What a resistor's value looks like in the hand, and which standard values lie beside it. */
import {
  colourBands,
  formatFigure,
  isPreferred,
  preferredNeighbours,
  SERIES_NAMES,
  seriesForTolerance,
  writeIec60062,
  writeQuantity,
} from '@couplet/engine';

/** Markdown for ohms and a tolerance as a fraction, where one is given. */
export function resistorWords(ohms: number, tolerance: number | undefined): string {
  const lines = [
    `**${formatFigure(ohms, 'ohm')}**${tolerance === undefined ? '' : ` ± ${writeQuantity(tolerance, 'ratio')}`}`,
  ];
  const bands = colourBands(ohms, tolerance);
  if (bands !== undefined)
    lines.push(`Colour bands: ${bands.join(', ')}${tolerance === undefined ? ', then tolerance' : ''}`);
  const series = SERIES_NAMES.find((name) => isPreferred(ohms, [name]));
  if (series !== undefined) lines.push(`A value of series ${series} (IEC 60063)`);
  const wanted = seriesForTolerance(tolerance ?? DEFAULT_TOLERANCE);
  if (!isPreferred(ohms, wanted)) {
    const beside = preferredNeighbours(ohms, wanted);
    if (beside !== undefined) {
      lines.push(`Not in ${wanted.join(' or ')}; beside it ${text(beside.lower)} and ${text(beside.upper)}`);
    }
  }
  return lines.join('\n\n');
}

/** Series are chosen for 5 % where no tolerance is written: the coarsest in common use (common practice). */
const DEFAULT_TOLERANCE = 0.05;

function text(ohms: number): string {
  return writeIec60062(ohms) ?? formatFigure(ohms, 'ohm');
}
