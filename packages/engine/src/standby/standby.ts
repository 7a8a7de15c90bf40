/** All that an autonomy asks of a battery and its charger, in one result. */
import type { Value } from '../analysis/contract.ts';
import type { NotEvaluated, Ranged } from '../decay/extremes.ts';
import { assumedAgeing, type Battery } from './battery.ts';
import { type Recharge, recharge } from './recharge.ts';
import { type RuntimePoint, runtime, runtimeCurve } from './runtime.ts';
import { type BatterySizing, batterySizing, type CarriedCase } from './sizing.ts';

/** How long a battery shall carry which cases, one after the other. */
export interface StandbyDemand {
  readonly battery: Battery;
  readonly carries: readonly CarriedCase[];
  /** Factor on the demand; 1.25 is assumed. */
  readonly ageing?: Ranged;
  /** s in which it shall be charged again, and A that its charger has to spare. */
  readonly recharge?: { readonly seconds: Ranged; readonly chargerAmps: Ranged; readonly efficiency?: Ranged };
}

export interface Standby {
  readonly sizing: BatterySizing | NotEvaluated;
  /** s that the battery alone would give the current of each case, in their order. */
  readonly runtimes: readonly { readonly name: string; readonly seconds: Value | NotEvaluated }[];
  /** Hours against amperes, around the currents of the cases. Empty where it cannot be told. */
  readonly curve: readonly RuntimePoint[];
  readonly recharge?: Recharge;
  /** Every clause that any of the figures rests on, sorted. */
  readonly assumptions: readonly string[];
}

/** The curve begins at a third of the smallest current and ends at three times the greatest. */
const CURVE_REACH = 3;

/** Sizing, runtimes and recharge of one battery. */
export function standby(demand: StandbyDemand): Standby {
  const { battery, carries } = demand;
  const sizing = batterySizing(battery, carries, demand.ageing ?? assumedAgeing());
  const runtimes = carries.map(({ name, amps }) => ({ name, seconds: runtime(battery, amps) }));
  const drawn = carries.flatMap(({ amps }) => [amps.least, amps.most]).filter((amps) => amps > 0);
  const curve = runtimeCurve(battery, Math.min(...drawn) / CURVE_REACH, Math.max(...drawn) * CURVE_REACH);
  const charge = demand.recharge === undefined ? undefined : recharge({ battery, ...demand.recharge });
  const figures: (Value | NotEvaluated)[] = runtimes.map(({ seconds }) => seconds);
  if (sizing.sort === 'sizing') {
    figures.push(sizing.needed, sizing.smallest, ...sizing.cases.flatMap((each) => [each.counted, each.joules]));
  }
  if (charge !== undefined) figures.push(charge.neededAmps, charge.restoredIn);
  const clauses = figures.flatMap((figure) => (figure.sort === 'value' ? figure.assumptions : []));
  return {
    sizing,
    runtimes,
    curve,
    ...(charge === undefined ? {} : { recharge: charge }),
    assumptions: [...new Set(clauses)].sort(),
  };
}
