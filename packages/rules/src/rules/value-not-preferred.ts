import {
  type ComponentOf,
  isPreferred,
  nearestPreferred,
  preferredNeighbours,
  type SeriesName,
  seriesForTolerance,
  writeIec60062,
} from '@couplet/engine';
import { ofKind } from '../circuit/circuits.ts';
import { defineRule } from '../define.ts';
import { withTolerance } from '../support/cures.ts';
import { percent, show } from '../support/words.ts';

interface Data {
  readonly resistor: ComponentOf<'resistor'>;
  readonly series: readonly SeriesName[];
  readonly nearest: number;
  readonly others: readonly number[];
}

/** The widest choice that a resistor of unknown tolerance may come from. */
const UNKNOWN_TOLERANCE = 0.01;

export const valueNotPreferred = defineRule<Data>({
  name: 'value-not-preferred',
  thresholds: [],
  explains: [],
  *find(context) {
    for (const resistor of ofKind(context.design, 'resistor')) {
      if (resistor.ohms === undefined) {
        context.gap({
          subject: resistor.id,
          needs: [{ component: resistor.id, property: 'rating', origin: resistor.origin }],
        });
        continue;
      }
      const ohms = resistor.ohms.usual;
      const series = seriesForTolerance(resistor.tolerance ?? UNKNOWN_TOLERANCE);
      if (!(ohms > 0) || isPreferred(ohms, series)) continue;
      const nearest = nearestPreferred(ohms, series);
      const neighbours = preferredNeighbours(ohms, series);
      if (nearest === undefined || neighbours === undefined) continue;
      yield {
        severity: 'warning',
        origin: resistor.ohms.origin < 0 ? resistor.origin : resistor.ohms.origin,
        subject: resistor.id,
        data: { resistor, series, nearest, others: [neighbours.lower, neighbours.upper] },
      };
    }
  },
  word({ data }) {
    const { resistor, series, nearest, others } = data;
    const made =
      resistor.tolerance === undefined
        ? 'no tolerance is made in it'
        : `it is not made with ${percent(resistor.tolerance)}`;
    const other = others.find((value) => value !== nearest);
    const second = other === undefined ? '' : ` (the next one is ${code(other)})`;
    return (
      `${resistor.name} = ${show(resistor.ohms!.usual, 'ohm')} is not a preferred value: ${made} (${series.join(' and ')}), ` +
      `so that what is fitted will be another value than what was computed. The nearest is ${code(nearest)}${second}.`
    );
  },
  cures({ data }) {
    const origin = data.resistor.ohms!.origin;
    if (origin < 0) return [];
    const value = code(data.nearest);
    const text = withTolerance(value, data.resistor.tolerance);
    const factor = data.nearest / data.resistor.ohms!.usual;
    return [
      {
        title: `Use ${value} for ${data.resistor.name}`,
        safe: false,
        edits: [{ origin, text }],
        changes: [{ sort: 'scale', component: data.resistor.id, factor }],
      },
    ];
  },
});

function code(ohms: number): string {
  return writeIec60062(ohms) ?? show(ohms, 'ohm');
}
