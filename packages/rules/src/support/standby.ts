/** Batteries, what they carry and what charges them, computed once for all rules that ask. */
import {
  type Analysis,
  type Battery,
  type BatteryStandby,
  batteryAt,
  type ComponentId,
  type ComponentOf,
  chargerAmpsOf,
  chargersOf,
  type Ranged,
  type Recharge,
  ranged,
  recharge,
  standbyOf,
} from '@couplet/engine';
import { ofKind } from '../circuit/circuits.ts';
import { wiringOf } from '../circuit/wiring.ts';
import type { RuleContext } from '../rule.ts';

type Source = ComponentOf<'source'>;

const KEPT = new WeakMap<Analysis, readonly BatteryStandby[]>();

function standbys({ analysis, design }: RuleContext): readonly BatteryStandby[] {
  const kept = KEPT.get(analysis);
  if (kept !== undefined) return kept;
  const made = standbyOf(design, analysis);
  KEPT.set(analysis, made);
  return made;
}

export function standbyAt(context: RuleContext, battery: ComponentId): BatteryStandby | undefined {
  return standbys(context).find((each) => each.battery === battery);
}

/** Batteries that something is wired to. */
export function* batteries(context: RuleContext): Generator<Source> {
  const wiring = wiringOf(context.design);
  for (const source of ofKind(context.design, 'source')) {
    if (source.sort === 'battery' && wiring.isWired(source.a) && wiring.isWired(source.b)) yield source;
  }
}

export interface Charging {
  readonly battery: Battery;
  readonly chargers: readonly ComponentId[];
  readonly chargerAmps: Ranged;
}

/**
 * A battery and what charges it. What is missing is a gap of the battery; undefined without a gap where nothing charges
 * it.
 */
export function chargingOf(context: RuleContext, source: Source): Charging | undefined {
  const { analysis, design } = context;
  const chargers = chargersOf(design, source.id);
  if (chargers.length === 0) return undefined;
  const battery = batteryAt(design, source.id);
  const chargerAmps = chargerAmpsOf(design, analysis, source.id);
  for (const found of [battery, chargerAmps]) {
    if ('sort' in found) context.gap({ subject: source.id, needs: found.needs, reason: found.reason });
  }
  return 'sort' in battery || 'sort' in chargerAmps ? undefined : { battery, chargers, chargerAmps };
}

/** Charging within the time that an autonomy demands; undefined where none does. */
export function rechargeOf(
  context: RuleContext,
  source: Source,
  { battery, chargerAmps }: Charging,
  share?: number,
): Recharge | undefined {
  const seconds = standbyAt(context, source.id)?.autonomy.recharge;
  if (seconds === undefined) return undefined;
  return recharge({
    battery,
    chargerAmps,
    seconds: ranged('recharge', 's', seconds),
    ...(share === undefined ? {} : { share }),
  });
}
