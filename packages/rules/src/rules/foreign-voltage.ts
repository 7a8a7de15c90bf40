import type { Value, Zone } from '@couplet/engine';
import { circuitComponents } from '../circuit/circuits.ts';
import { defineRule } from '../define.ts';
import { type Instant, instantsOf, lacks, worstOf } from '../support/instants.ts';
import { wiredZones } from '../support/loop.ts';
import { whereWired } from '../support/place.ts';
import { corner, list, show, span, when } from '../support/words.ts';

interface Data {
  readonly zone: Zone;
  readonly volts: Value;
  readonly feed: number;
  readonly at: Instant;
  readonly others: readonly string[];
}

/** Volts that rounding may leave beyond the feed. */
const ROUNDING = 1e-6;

export const foreignVoltage = defineRule<Data>({
  name: 'foreign-voltage',
  thresholds: [],
  explains: ['rest-inverted', 'expectation-failed', 'contact-shared'],
  *find(context) {
    for (const zone of wiredZones(context)) {
      if (zone.feedVolts === undefined) {
        lacks(context, zone.id, 'feed');
        continue;
      }
      const feed = zone.feedVolts.most;
      const worst = worstOf(
        context,
        zone.id,
        instantsOf(context.analysis, zone.id),
        (at) => at.moment.reading(zone.id).volts,
        (value) => Math.max(value.most - feed, -value.least),
      );
      if (worst === undefined || worst.score <= ROUNDING) continue;
      const others = circuitComponents(context.design, zone.id).filter((id) => {
        const other = context.design.components[id];
        return id !== zone.id && (other?.kind === 'source' || other?.kind === 'output' || other?.kind === 'zone');
      });
      yield {
        severity: 'error',
        origin: whereWired(context.design, zone.id, zone.a),
        subject: zone.id,
        alsoConcerns: others,
        alsoExplains: circuitComponents(context.design, zone.id),
        caseName: worst.at.of.name,
        related: others.map((id) => ({
          origin: context.design.components[id]!.origin,
          message: `${context.design.components[id]!.name} is in the same circuit`,
        })),
        data: {
          zone,
          volts: worst.value,
          feed,
          at: worst.at,
          others: others.map((id) => context.design.components[id]!.name),
        },
      };
    }
  },
  word({ data }) {
    const { zone, volts, feed, at, others } = data;
    const from = others.length === 0 ? 'from another source' : `from what shares its circuit (${list(others)})`;
    return (
      `${span(volts)} stands at ${zone.name} ${when(at)}${corner(volts.mostCorner)}, outside the 0 to ${show(feed, 'V')} that it feeds its loop ` +
      `with: it comes ${from}. The zone misreads and may be damaged. Zones take volt-free contacts only: put a relay between.`
    );
  },
  figures: ({ data }) => [{ label: `volts at ${data.zone.name}`, figure: data.volts }],
});
