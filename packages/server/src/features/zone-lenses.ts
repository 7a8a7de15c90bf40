/** A line over each loop: what the zone reads at rest and in every case that moves it. */
import {
  type Component,
  type Dimension,
  formatFigure,
  LOOP_DIGITS,
  type Moment,
  type ZoneReading,
} from '@couplet/engine';
import type { CodeLens } from 'vscode-languageserver';
import type { CheckedSite, Sites } from '../sites/seam.ts';

type Zone = Extract<Component, { kind: 'zone' }>;

/** Cases that a line names. */
const MOST_CASES = 4;

/** Lenses of a file, over the wires that its zones' loops begin with. */
export function zoneLenses(sites: Sites | undefined, uri: string): CodeLens[] {
  const lenses = new Map<string, CodeLens>();
  const concerned = sites?.sitesOf(uri) ?? [];
  for (const site of concerned) {
    const begins = new Map(
      site.design.joins.flatMap(({ a, b, origin }) => [[b, origin] as const, [a, origin] as const]),
    );
    for (const zone of site.design.components) {
      if (zone.kind !== 'zone') continue;
      const origin = begins.get(zone.a);
      const place = origin === undefined ? undefined : site.place(origin);
      if (place?.uri !== uri) continue;
      const where = concerned.length > 1 ? `${site.title}: ` : '';
      const title = `${where}${zone.name}: ${readings(zone, site).join(' · ')}`;
      const range = { start: place.start, end: place.end };
      lenses.set(`${place.start.line} ${title}`, { range, command: { title, command: '' } });
    }
  }
  return [...lenses.values()];
}

function readings(zone: Zone, { analyses }: CheckedSite): string[] {
  const { analysis, id } = analyses.at(zone.id);
  const [rest, ...others] = analysis.casesOf(id);
  const atRest = rest?.moments.at(-1);
  if (rest === undefined || atRest === undefined) return [];
  const usual = atRest.reading(id).usual;
  const moved = others.flatMap(({ moments, name }) => {
    const moment = moments.findLast((each) => each.reading(id).usual !== usual) as Moment | undefined;
    return moment === undefined ? [] : [`${name} ${readingWords(moment.reading(id))}`];
  });
  const more = moved.length > MOST_CASES ? [`and ${moved.length - MOST_CASES} more`] : [];
  return [`${rest.name} ${readingWords(atRest.reading(id))}`, ...moved.slice(0, MOST_CASES), ...more];
}

function readingWords({ ohms, usual, possible }: ZoneReading): string {
  const figure =
    ohms.sort !== 'value'
      ? ohms.sort === 'no-connection'
        ? 'no connection'
        : 'not evaluated'
      : Number.isFinite(ohms.usual)
        ? formatFigure(ohms.usual, ohms.unit as Dimension, { digits: LOOP_DIGITS })
        : 'open loop';
  if (ohms.sort === 'not-evaluated') return figure;
  const others = possible.filter((each) => each !== usual).map((each) => each ?? 'outside every band');
  return `${figure} ${[usual ?? 'outside every band', ...others].join(' or ')}`;
}
