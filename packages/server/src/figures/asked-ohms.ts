/**
 * Which ohms the zones ask of a resistor. At a moment at which nothing changes its state, the volts that a zone reads
 * depend on one resistor R as V(R) = (V₀ A + V∞ R) / (A + R): V₀ with R bridged, V∞ with R taken out, A the ohms that R
 * sees (Thévenin's theorem). Three solves give all three, and with them the reading for any R.
 */
import type { Analysis, Band, CaseAnalysis, ComponentId, Design, Moment, Resistor, Zone } from '@couplet/engine';

/** What one zone asks in one case. */
export interface Demand {
  readonly zone: Zone;
  readonly caseName: string;
  readonly className: string;
  /** Volts between which the reading must lie. */
  readonly from: number;
  readonly to: number;
  /** Volts read with the resistor at so many ohms. */
  readonly volts: (ohms: number) => number;
}

/** Ohms at which the probing solves are made when the resistor has no value yet. */
export const PROBE_OHMS = 1000;

/** A design in which a resistor without a value has one, so that its surroundings can be solved. */
export function withProbe(design: Design, resistor: Resistor): Design {
  if (resistor.ohms !== undefined) return design;
  const ohms = { least: PROBE_OHMS, usual: PROBE_OHMS, most: PROBE_OHMS, origin: resistor.origin };
  const components = design.components.map((part) => (part.id === resistor.id ? { ...resistor, ohms } : part));
  return { ...design, components };
}

/** Everything that zones ask of the resistor, which must have a value (see `withProbe`). */
export function demandsOn(resistor: ComponentId, analysis: Analysis): Demand[] {
  const part = analysis.design.components[resistor];
  if (part?.kind !== 'resistor' || part.ohms === undefined) return [];
  const probe = part.ohms.usual;
  const zones = analysis.design.components.filter((each) => each.kind === 'zone');
  return zones.flatMap((zone) => analysis.cases.flatMap((each) => demandOf(zone, each, part.id, probe) ?? []));
}

function demandOf(zone: Zone, each: CaseAnalysis, resistor: ComponentId, probe: number): Demand | undefined {
  const className = wantedClass(zone, each);
  const band = zone.scheme?.bands.find(({ classes }) => classes.join('+') === className);
  const moment = each.moments[Math.min(1, each.moments.length - 1)];
  if (className === undefined || band === undefined || moment === undefined) return undefined;
  const range = voltsOf(band, zone);
  const volts = readingLaw(zone, moment, resistor, probe);
  return range === undefined || volts === undefined
    ? undefined
    : { zone, caseName: each.name, className, ...range, volts };
}

/** The class that the case expects of the zone; at rest, `normal`. */
function wantedClass(zone: Zone, each: CaseAnalysis): string | undefined {
  for (const { expect } of each.verdicts) {
    const { subject, predicate } = expect;
    if (subject.sort === 'component' && subject.component === zone.id && predicate.sort === 'state') {
      return predicate.word;
    }
  }
  return each.name === 'rest' ? 'normal' : undefined;
}

/** A band in volts at the zone's terminals. */
function voltsOf(band: Band, { scheme, feedVolts, feedOhms }: Zone): { from: number; to: number } | undefined {
  if (feedVolts === undefined) return undefined;
  const feed = feedVolts.usual;
  if (scheme?.unit === 'V') return { from: band.from ?? 0, to: band.to ?? feed };
  if (feedOhms === undefined) return undefined;
  const across = (ohms: number) => (Number.isFinite(ohms) ? (feed * ohms) / (ohms + feedOhms.usual) : feed);
  return { from: across(band.from ?? 0), to: across(band.to ?? Number.POSITIVE_INFINITY) };
}

/** The reading as a law of the resistor; nothing where the zone does not feel it or a figure is missing. */
function readingLaw(
  zone: Zone,
  moment: Moment,
  resistor: ComponentId,
  probe: number,
): ((ohms: number) => number) | undefined {
  const read = (at: Moment) => {
    const { volts } = at.reading(zone.id);
    return volts.sort === 'value' ? volts.usual : undefined;
  };
  const now = read(moment);
  const bridged = read(moment.vary([{ sort: 'bridge', component: resistor }]));
  const open = read(moment.vary([{ sort: 'remove', component: resistor }]));
  if (now === undefined || bridged === undefined || open === undefined) return undefined;
  const span = Math.max(Math.abs(open - bridged), Math.abs(now - bridged));
  if (span < 1e-6 * Math.max(1, Math.abs(now))) return undefined;
  const seen = (probe * (open - now)) / (now - bridged);
  if (!(seen > 0) || !Number.isFinite(seen)) return undefined;
  return (ohms) => (bridged * seen + open * ohms) / (seen + ohms);
}

/**
 * How well ohms suit every demand: the smallest distance of a reading from an edge of its band, as a part of half the
 * band; 1 is the middle of all, below 0 is outside one of them. Nothing where nothing is demanded.
 */
export function suits(ohms: number, demands: readonly Demand[]): number | undefined {
  if (demands.length === 0) return undefined;
  return Math.min(
    ...demands.map(({ from, to, volts }) => {
      const reading = volts(ohms);
      return (2 * Math.min(reading - from, to - reading)) / (to - from);
    }),
  );
}
