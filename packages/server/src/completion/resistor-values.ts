/** Standard resistor values in the order in which they suit: the zones' bands first, then the site's own, then series. */
import {
  formatFigure,
  isPreferred,
  preferredBetween,
  SERIES,
  type SeriesName,
  writeIec60062,
  writeQuantity,
} from '@couplet/engine';
import { type Demand, suits } from '../figures/asked-ohms.ts';

export interface ResistorValue {
  readonly ohms: number;
  /** As it is written in a site file: `2k2`. */
  readonly text: string;
  /** Why it stands where it stands. A margin is the way from a band's edge to its middle, 100 % being the middle. */
  readonly because: string;
  /** What the zones would read with it, one line each; empty where none asks. */
  readonly readings: readonly string[];
}

/** Values from the one to the other are offered while nothing says which decade is meant, in ohms. */
const LEAST_OHMS = 100;
const MOST_OHMS = 1e6;

/** As many values lead the list by what the bands ask. */
const LEADING = 5;

/** In this order after the leading values and the site's own. */
const SERIES_ORDER: readonly SeriesName[] = ['E12', 'E24', 'E96'];

/** `onSite` are the ohms that resistors of the site have already. */
export function resistorValues(demands: readonly Demand[], onSite: readonly number[]): ResistorValue[] {
  const listed = new Map<number, ResistorValue>();
  const list = (ohms: number, because: string) => {
    if (!listed.has(ohms)) listed.set(ohms, { ohms, text: textOf(ohms), because, readings: readingsOf(ohms, demands) });
  };
  const zones = [...new Set(demands.map(({ zone }) => zone.name))].join(', ');
  for (const { ohms, score } of bestFor(demands)) {
    list(ohms, `${seriesOf(ohms)}, margin ${formatFigure(score, 'ratio', { digits: 2 })} in ${zones}`);
  }
  for (const [ohms, times] of mostUsed(onSite)) list(ohms, `on this site already${times > 1 ? ` ${times} times` : ''}`);
  for (const name of SERIES_ORDER) {
    for (const ohms of preferredBetween(LEAST_OHMS, MOST_OHMS, [name])) list(ohms, name);
  }
  return [...listed.values()];
}

/** Preferred values whose readings lie inside every band asked for, those nearest to the middles first. */
function bestFor(demands: readonly Demand[]): { ohms: number; score: number }[] {
  if (demands.length === 0) return [];
  return preferredBetween(10, 1e7, ['E24'])
    .map((ohms) => ({ ohms, score: suits(ohms, demands) ?? -1 }))
    .filter(({ score }) => score > 0)
    .sort((a, b) => b.score - a.score || a.ohms - b.ohms)
    .slice(0, LEADING);
}

function mostUsed(onSite: readonly number[]): [number, number][] {
  const times = new Map<number, number>();
  for (const ohms of onSite) times.set(ohms, (times.get(ohms) ?? 0) + 1);
  return [...times].sort(([a, m], [b, n]) => n - m || a - b);
}

function seriesOf(ohms: number): string {
  return SERIES_ORDER.find((name) => SERIES[name].length > 0 && isPreferred(ohms, [name])) ?? '';
}

function textOf(ohms: number): string {
  return writeIec60062(ohms) ?? writeQuantity(ohms, 'ohm');
}

function readingsOf(ohms: number, demands: readonly Demand[]): string[] {
  return demands.map(({ zone, caseName, className, from, to, volts }) => {
    const reading = volts(ohms);
    const inside = reading >= from && reading < to ? className : `outside ${className}`;
    return `${zone.name} in ${caseName}: ${formatFigure(reading, 'V')}, ${inside}`;
  });
}
