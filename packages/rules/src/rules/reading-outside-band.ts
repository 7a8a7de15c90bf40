import type { Band, Moment, Value, Zone } from '@couplet/engine';
import { defineRule } from '../define.ts';
import type { RuleContext, Severity } from '../rule.ts';
import { resistorCures } from '../support/cures.ts';
import { phasesOf } from '../support/driven.ts';
import { type Instant, instantsOf } from '../support/instants.ts';
import { bandAt, className, expectedClasses, measured, wiredZones } from '../support/loop.ts';
import { whereWired } from '../support/place.ts';
import { corner, percent, show, showLoop, span, when } from '../support/words.ts';

interface Data {
  readonly zone: Zone;
  readonly value: Value;
  readonly band?: Band;
  readonly unit: 'ohm' | 'V';
  readonly at: Instant;
  /** The edge that is crossed or near. */
  readonly edge?: number;
  readonly side?: 'from' | 'to';
  readonly margin: number;
  /** What else it may read as. */
  readonly others: readonly string[];
}

export const readingOutsideBand = defineRule<Data>({
  name: 'reading-outside-band',
  thresholds: [
    {
      key: 'warning',
      value: 0.1,
      unit: '',
      says: 'distance to an edge of the band, as a share of the edge',
      origin: 'margin for joints, ageing and the tolerance of the panel',
      standing: 'common practice',
      settable: true,
    },
  ],
  explains: ['expectation-failed'],
  *find(context) {
    for (const zone of wiredZones(context)) {
      if (zone.scheme === undefined) continue;
      let worst: { readonly data: Data; readonly severity: Severity } | undefined;
      for (const at of instantsOf(context.analysis, zone.id)) {
        for (const moment of phasesOf(context, at, zone.id)) {
          const found = judge(context, zone, at, moment);
          if (found !== undefined && found.data.margin < (worst?.data.margin ?? Number.POSITIVE_INFINITY))
            worst = found;
        }
      }
      if (worst === undefined) continue;
      yield {
        severity: worst.severity,
        origin: whereWired(context.design, zone.id, zone.a),
        subject: zone.id,
        caseName: worst.data.at.of.name,
        related:
          worst.data.band === undefined
            ? [{ origin: zone.scheme.origin, message: `the bands of ${zone.name}` }]
            : [{ origin: worst.data.band.origin, message: `the ${className(worst.data.band)} band of ${zone.name}` }],
        data: worst.data,
      };
    }
  },
  word({ data, severity }) {
    const { zone, value, band, unit, at, edge, side, margin, others } = data;
    const reads = `${zone.name} reads ${span(value)} ${when(at)}`;
    const number = (x: number) => (unit === 'ohm' ? showLoop(x) : show(x, 'V'));
    if (band === undefined || edge === undefined) {
      return (
        `${reads}, which no band of its scheme holds: nobody can say what the panel shows. ` +
        `Choose resistors whose reading lies inside a band, or close the gap between the bands.`
      );
    }
    const name = className(band);
    const end = side === 'from' ? 'lower' : 'upper';
    const where = side === 'from' ? corner(value.leastCorner) : corner(value.mostCorner);
    const wanted = side === 'from' ? 'a higher' : 'a lower';
    const cure = `Take parts of closer tolerance, ${wanted} resistor, or less resistance in cable and contacts.`;
    if (severity === 'error') {
      const as = others.length === 0 ? '' : ` and may be reported as ${others.join(' or ')}`;
      return `${reads}${where}: that goes beyond the ${end} edge of ${name}, ${number(edge)}${as}. ${cure}`;
    }
    return `${reads}${where}: only ${percent(margin)} from the ${end} edge of ${name}, ${number(edge)}. Ageing or a bad joint takes it across. ${cure}`;
  },
  cures({ data }, { design }) {
    const { at, band, zone } = data;
    const { ohms } = at.moment.reading(zone.id);
    const [wanted] = expectedClasses(at, zone);
    const meant = zone.scheme?.bands.find((each) => className(each) === wanted) ?? band;
    return meant === undefined || ohms.sort !== 'value' ? [] : resistorCures(design, zone, meant, ohms.usual);
  },
  figures: ({ data }) => [{ label: `reading of ${data.zone.name}`, figure: data.value }],
});

function judge(
  context: RuleContext,
  zone: Zone,
  at: Instant,
  moment: Moment,
): { readonly data: Data; readonly severity: Severity } | undefined {
  const reading = moment.reading(zone.id);
  const value = measured(context, zone, reading);
  if (value === undefined) return undefined;
  const unit = zone.scheme!.unit;
  const band = ownBand(zone, at, reading.possible, value);
  if (band === undefined) {
    const data: Data = { zone, value, unit, at, margin: Number.NEGATIVE_INFINITY, others: [] };
    return { data, severity: 'error' };
  }
  const from = band.from === undefined || band.from <= 0 ? undefined : band.from;
  const low = from === undefined ? Number.POSITIVE_INFINITY : (value.least - from) / from;
  const high =
    band.to === undefined || !Number.isFinite(band.to) ? Number.POSITIVE_INFINITY : (band.to - value.most) / band.to;
  const isLow = low <= high;
  const margin = Math.min(low, high);
  // A band does not hold its upper edge.
  const outside = low < 0 || high <= 0;
  if (!outside && margin >= context.threshold('warning').value) return undefined;
  const own = className(band);
  return {
    severity: outside ? 'error' : 'warning',
    data: {
      zone,
      value,
      band,
      unit,
      at,
      edge: isLow ? from : band.to,
      side: isLow ? 'from' : 'to',
      margin,
      others: reading.possible.filter((name) => name !== undefined && name !== own) as string[],
    },
  };
}

/** The band that a case expects, where the reading may be in it; else that of the usual value. */
function ownBand(zone: Zone, at: Instant, possible: readonly (string | undefined)[], value: Value): Band | undefined {
  const bands = zone.scheme!.bands;
  const wanted = expectedClasses(at, zone).find((word) => possible.includes(word));
  const usual = bandAt(zone, value.usual);
  if (wanted === undefined || (usual !== undefined && className(usual) === wanted)) return usual;
  // One class may have several ranges: the one nearest to the usual value counts.
  return bands
    .filter((band) => className(band) === wanted)
    .sort((one, other) => away(one, value.usual) - away(other, value.usual))[0];
}

function away(band: Band, value: number): number {
  if (band.from !== undefined && value < band.from) return band.from - value;
  if (band.to !== undefined && value > band.to) return value - band.to;
  return 0;
}
