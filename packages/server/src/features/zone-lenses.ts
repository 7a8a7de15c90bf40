/**
 * A line over each loop: what the zone reads at rest and in every case that moves it, and how many single faults blind it.
 * An editor asks for the lines of a file first and for the words of those that it shows after that: only these are solved.
 */
import {
  type Analysis,
  type Component,
  type ComponentId,
  type Dimension,
  formatFigure,
  LOOP_DIGITS,
  type Moment,
  type ZoneReading,
} from '@couplet/engine';
import { faultClassesOf } from '@couplet/rules';
import type { CodeLens } from 'vscode-languageserver';
import type { CheckedSite, Sites } from '../sites/seam.ts';

/** Cases that a line names. */
const MOST_CASES = 4;

/** Lines that are kept at a time: more than a person scrolls past between two edits. */
const MOST_KEPT = 2000;

/** Which zone a line is about, by names, so that it can be told of the site as it is when the words are asked for. */
interface About {
  readonly root: string;
  readonly zone: string;
}

export class ZoneLenses {
  /** Words by the digest of the zone's coupling and the zone's number in it: nothing else has a say in them. */
  private readonly kept = new Map<string, string>();

  /** Lenses of a file without their words, over the wires that its zones' loops begin with. */
  inFile(sites: Sites | undefined, uri: string): CodeLens[] {
    const lenses = new Map<string, CodeLens>();
    for (const site of sites?.sitesOf(uri) ?? []) {
      const { components, joins } = site.design;
      const begins = new Map(joins.flatMap(({ a, b, origin }) => [[b, origin] as const, [a, origin] as const]));
      for (const zone of components) {
        if (zone.kind !== 'zone') continue;
        const origin = begins.get(zone.a);
        const place = origin === undefined ? undefined : site.place(origin);
        if (place?.uri !== uri) continue;
        const data: About = { root: site.root, zone: zone.name };
        const range = { start: place.start, end: place.end };
        lenses.set(`${place.start.line} ${zone.name} ${site.root}`, { range, data: { ...data, uri } });
      }
    }
    return [...lenses.values()];
  }

  /** The lens with its words; without any where its zone is gone. */
  told(sites: Sites | undefined, lens: CodeLens): CodeLens {
    const { root, uri, zone } = (lens.data ?? {}) as Partial<About> & { uri?: string };
    const concerned = uri === undefined ? [] : (sites?.sitesOf(uri) ?? []);
    const site = concerned.find((each) => each.root === root);
    const part = site?.design.components.find(({ kind, name }) => kind === 'zone' && name === zone);
    if (site === undefined || part === undefined) return { ...lens, command: { title: '', command: '' } };
    const where = concerned.length > 1 ? `${site.title}: ` : '';
    return { ...lens, command: { title: `${where}${part.name}: ${this.words(part, site)}`, command: '' } };
  }

  private words(zone: Component, { analyses }: CheckedSite): string {
    const { coupling, id } = analyses.couplingOf(zone.id);
    const key = `${coupling.digest} ${id}`;
    const known = this.kept.get(key);
    if (known !== undefined) return known;
    const analysis = analyses.of(coupling);
    const words = [...readings(id, analysis), ...faults(id, analysis)].join(' · ');
    this.kept.set(key, words);
    const [oldest] = this.kept.keys();
    if (this.kept.size > MOST_KEPT && oldest !== undefined) this.kept.delete(oldest);
    return words;
  }
}

function readings(zone: ComponentId, analysis: Analysis): string[] {
  const [rest, ...others] = analysis.casesOf(zone);
  const atRest = rest?.moments.at(-1);
  if (rest === undefined || atRest === undefined) return [];
  const usual = atRest.reading(zone).usual;
  const moved = others.flatMap(({ moments, name }) => {
    const moment = moments.findLast((each) => each.reading(zone).usual !== usual) as Moment | undefined;
    return moment === undefined ? [] : [`${name} ${readingWords(moment.reading(zone))}`];
  });
  const more = moved.length > MOST_CASES ? [`and ${moved.length - MOST_CASES} more`] : [];
  return [`${rest.name} ${readingWords(atRest.reading(zone))}`, ...moved.slice(0, MOST_CASES), ...more];
}

/** Service faults with which the zone loses an event; fitting errors come to light before a site is in use. */
function faults(zone: ComponentId, { design }: Analysis): string[] {
  const table = faultClassesOf(design).zones.find((each) => each.zone === zone);
  if (table === undefined) return [];
  if (table.rows.length === 0 || table.reason !== undefined) {
    const needs = table.needs.map(({ component, property }) => `${property} of ${design.components[component]?.name}`);
    const why = needs.length > 0 ? `needs ${[...new Set(needs)].join(', ')}` : table.reason;
    return [why === undefined ? 'faults not evaluated' : `faults not evaluated: ${why}`];
  }
  const service = table.rows.filter(({ fault }) => fault.group === 'service');
  const count = (name: string) => service.filter((row) => row.class === name).length;
  const blind = count('blind');
  const open = count('not-evaluated');
  return [
    `${blind === 0 ? 'no' : blind} blind ${blind === 1 ? 'fault' : 'faults'}`,
    ...(open === 0 ? [] : [`${open} not evaluated`]),
  ];
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
