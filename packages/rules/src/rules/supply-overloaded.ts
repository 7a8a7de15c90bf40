import type { ComponentOf, Value } from '@couplet/engine';
import { componentOf, nameOf, ofKind } from '../circuit/circuits.ts';
import { wiringOf } from '../circuit/wiring.ts';
import { defineRule, levels } from '../define.ts';
import { assumptionOf } from '../support/coil.ts';
import { type Instant, instantsOf, lacks, worstOf } from '../support/instants.ts';
import { isConnected, whereWired } from '../support/place.ts';
import { chargingOf, rechargeOf } from '../support/standby.ts';
import { corner, listSome, percent, show, when } from '../support/words.ts';

interface ChargingCurrent {
  readonly name: string;
  readonly amps: number;
  readonly assumptions: readonly string[];
}

interface Data {
  readonly source: ComponentOf<'source'>;
  readonly demand: Value;
  /** Demand at its most, with what charges a battery. */
  readonly asked: number;
  readonly charging?: ChargingCurrent;
  readonly limit: number;
  readonly at: Instant;
  readonly share: number;
  readonly loads: readonly string[];
  /** It holds its limit: what its loads then draw is not what they ask for. */
  readonly isLimited: boolean;
}

/** What is left of a limit by rounding. */
const ROUNDING = 1e-9;

export const supplyOverloaded = defineRule<Data>({
  name: 'supply-overloaded',
  thresholds: levels(
    {
      value: 1,
      unit: '',
      says: 'demand over the limit of the supply',
      origin: 'limit of the supply',
      standing: 'physics',
      settable: false,
    },
    {
      value: 0.9,
      unit: '',
      says: 'demand over the limit of the supply, derated',
      origin: 'reserve for additions and ageing',
      standing: 'common practice',
      settable: true,
    },
  ),
  explains: [
    'load-undervoltage',
    'coil-may-not-operate',
    'coil-undervoltage',
    'relay-may-drop-out',
    'expectation-failed',
    'charger-too-small',
  ],
  reach: 'downstream',
  *find(context) {
    for (const source of ofKind(context.design, 'source')) {
      if (!isConnected(context.design, source.id) && !wiringOf(context.design).isWired(source.a)) continue;
      const worst = worstOf(
        context,
        source.id,
        instantsOf(context.analysis, source.id),
        (at) => at.moment.demand(source.id),
        (value, at) => Math.max(value.most, isLimiting(source, at) ? Number.MAX_VALUE : 0),
      );
      if (worst === undefined || worst.value.most <= 0) continue;
      if (source.limit === undefined) {
        // A battery gives what is asked of it: how long, the rule on its size says.
        if (source.sort !== 'battery') lacks(context, source.id, 'limit');
        continue;
      }
      const charging = chargingCurrent(source);
      const limit = source.limit.least;
      const asked = worst.value.most + (charging?.amps ?? 0);
      const ratio = asked / limit;
      const share = context.threshold('warning').value;
      const isBeyond = ratio > context.threshold('error').value || isLimiting(source, worst.at);
      if (!isBeyond && ratio <= share) continue;
      yield {
        severity: isBeyond ? 'error' : 'warning',
        origin: whereWired(context.design, source.id, source.a),
        subject: source.id,
        caseName: worst.at.of.name,
        related: [{ origin: source.limit.origin, message: `${source.name} gives ${show(limit, 'A')}` }],
        assumptions: [...assumptionOf(source.limit), ...(charging?.assumptions ?? [])],
        data: {
          source,
          demand: worst.value,
          asked,
          ...(charging === undefined ? {} : { charging }),
          limit,
          at: worst.at,
          share,
          loads: drawers(source, worst.at),
          isLimited: isLimiting(source, worst.at),
        },
      };
    }

    /** What a supply gives to the battery that it charges while it carries its loads. */
    function chargingCurrent(source: ComponentOf<'source'>): ChargingCurrent | undefined {
      const battery = source.charges === undefined ? undefined : componentOf(context.design, source.charges, 'source');
      if (battery?.sort !== 'battery') return undefined;
      const name = battery.name;
      const most = source.chargeLimit?.most ?? Number.POSITIVE_INFINITY;
      const charging = chargingOf(context, battery);
      const needed = charging === undefined ? undefined : rechargeOf(context, battery, charging)?.neededAmps;
      if (needed !== undefined) return { name, amps: Math.min(most, needed.most), assumptions: needed.assumptions };
      if (source.chargeLimit !== undefined) return { name, amps: most, assumptions: assumptionOf(source.chargeLimit) };
      lacks(context, source.id, 'charge-limit');
      return undefined;
    }

    /** A supply that holds its limit instead of its volts is overloaded, whatever would be asked of it without. */
    function isLimiting(source: ComponentOf<'source'>, at: Instant): boolean {
      const amps = at.moment.amps(source.id);
      if (source.limit === undefined || amps.sort !== 'value') return false;
      return amps.most >= source.limit.least * (1 - ROUNDING);
    }

    /**
     * What draws most from a supply at a moment, the greatest first. What each draws while the supply limits is not what it
     * asks for: then only the names are told.
     */
    function drawers(source: ComponentOf<'source'>, at: Instant): readonly string[] {
      const wiring = wiringOf(context.design);
      const found: { readonly name: string; readonly amps: number }[] = [];
      for (const node of wiring.copperFrom(wiring.node(source.a))) {
        for (const part of wiring.partsAt(node)) {
          if (part.sort !== 'consumer' || part.a !== node) continue;
          const amps = at.moment.amps(part.component);
          if (amps.sort === 'value' && amps.most > 0) {
            found.push({ name: nameOf(context.design, part.component), amps: amps.most });
          }
        }
      }
      found.sort((one, other) => other.amps - one.amps || (one.name < other.name ? -1 : 1));
      const worthNaming = (found[0]?.amps ?? 0) * 0.01;
      const limits = isLimiting(source, at);
      return found
        .filter(({ amps }) => amps >= worthNaming)
        .map(({ name, amps }) => (limits ? name : `${name} ${show(amps, 'A')}`));
    }
  },
  word({ data, severity }) {
    const { source, demand, asked: total, charging, limit, at, share, loads, isLimited } = data;
    const drawn = charging === undefined ? loads : [`charging ${charging.name} ${show(charging.amps, 'A')}`, ...loads];
    const of = drawn.length === 0 ? '' : `${isLimited ? ', for ' : ': '}${listSome(drawn, 4)}`;
    const asked = `${show(total, 'A')} is asked of ${source.name} ${when(at)}${corner(demand.mostCorner)}, ${percent(total / limit)} of the ${show(limit, 'A')} it gives${of}.`;
    const why =
      severity === 'error'
        ? 'It limits or shuts down, and everything on it goes with it.'
        : `That is more than ${percent(share)}, which leaves too little for additions and ageing.`;
    return `${asked} ${why} It takes a supply of at least ${show(total / share, 'A')}, or loads that do not run together.`;
  },
  figures: ({ data }) => [{ label: `demand on ${data.source.name}`, figure: data.demand }],
});
