import type { Band, Zone } from '@couplet/engine';
import { defineRule } from '../define.ts';
import { className, wiredZones } from '../support/loop.ts';
import { list, show, showLoop } from '../support/words.ts';

/** What the language calls the bands that a zone has for itself. */
const UNNAMED = 'bands';

interface Data {
  /** The scheme, or the zone where it has no name. */
  readonly scheme: string;
  readonly zones: readonly string[];
  readonly faults: readonly string[];
}

export const bandsUnsound = defineRule<Data>({
  name: 'bands-unsound',
  thresholds: [],
  explains: ['reading-outside-band', 'rest-inverted'],
  *find(context) {
    const schemes = new Map<string, Zone[]>();
    for (const zone of wiredZones(context)) {
      if (zone.scheme === undefined) continue;
      const { origin } = zone.scheme;
      const key = origin < 0 ? `z${zone.id}` : `o${origin}`;
      schemes.set(key, [...(schemes.get(key) ?? []), zone]);
    }
    for (const zones of schemes.values()) {
      const [first] = zones;
      const scheme = first!.scheme!;
      const faults = faultsOf(scheme.bands, scheme.unit);
      if (faults.length === 0) continue;
      yield {
        severity: 'error',
        origin: scheme.origin,
        subject: first!.id,
        alsoConcerns: zones.slice(1).map((zone) => zone.id),
        related: faults.flatMap(({ bands }) =>
          bands.map((band) => ({ origin: band.origin, message: `the band ${className(band)}` })),
        ),
        data: {
          scheme: scheme.name === UNNAMED ? first!.name : scheme.name,
          zones: zones.map((zone) => zone.name),
          faults: faults.map(({ says }) => says),
        },
      };
    }
  },
  word({ data }) {
    return (
      `The bands of ${data.scheme} are not sound: ${list(data.faults)}. A reading there has no answer, or two. ` +
      `Let each band begin where the one below it ends, from 0 upwards without an upper end.`
    );
  },
});

interface Fault {
  readonly says: string;
  readonly bands: readonly Band[];
}

function faultsOf(bands: readonly Band[], unit: 'ohm' | 'V'): readonly Fault[] {
  const number = (value: number) => (unit === 'ohm' ? showLoop(value) : show(value, 'V'));
  const from = (band: Band) => band.from ?? Number.NEGATIVE_INFINITY;
  const to = (band: Band) => band.to ?? Number.POSITIVE_INFINITY;
  const rising = [...bands].sort((one, other) => from(one) - from(other) || to(one) - to(other));
  const faults: Fault[] = [];
  const lowest = rising[0];
  if (lowest === undefined) return faults;
  if (from(lowest) > 0) faults.push({ says: `nothing holds what is below ${number(from(lowest))}`, bands: [lowest] });
  let reached = lowest;
  for (const band of rising) {
    if (from(band) >= to(band)) {
      faults.push({ says: `${className(band)} is empty`, bands: [band] });
      continue;
    }
    if (band === lowest) continue;
    if (from(band) > to(reached)) {
      const gap = `between ${className(reached)} and ${className(band)} there is a gap from ${number(to(reached))} to ${number(from(band))}`;
      faults.push({ says: gap, bands: [reached, band] });
    }
    if (from(band) < to(reached)) {
      const end = Math.min(to(reached), to(band));
      const until = Number.isFinite(end) ? ` to ${number(end)}` : ' upwards';
      const both = `${className(reached)} and ${className(band)} both hold ${number(Math.max(from(band), 0))}${until}`;
      faults.push({ says: both, bands: [reached, band] });
    }
    if (to(band) > to(reached)) reached = band;
  }
  if (Number.isFinite(to(reached))) {
    faults.push({ says: `nothing holds what is at or above ${number(to(reached))}`, bands: [reached] });
  }
  return faults;
}
