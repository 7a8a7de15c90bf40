/** Which capacitors of an island move, and how: those side by side as one, those that a supply holds not at all. */
import type { Shared } from '../analysis/shared.ts';
import type { Island } from '../build/index.ts';
import type { Datum } from '../design/datum.ts';
import type { ChargeCurve, Charged } from './charge.ts';
import { RcCurve } from './rc.ts';
import { RcGroup } from './rc-group.ts';

export interface Bank {
  readonly curve: ChargeCurve;
  /** Of each capacitor, its place in the curve; absent where it does not move. −1 counts its volts the other way. */
  readonly slots: readonly ({ readonly slot: number; readonly sign: 1 | -1 } | undefined)[];
}

/**
 * `states` are those of the island's elements. Undefined where nothing moves, as right across a supply; 'entangled' where
 * capacitors alone close a ring, so that no network says how they share their charge.
 */
export function bankOf(
  shared: Shared,
  island: Island,
  states: readonly string[],
  charged: readonly Charged[],
): Bank | 'entangled' | undefined {
  const stands: Stand[] = [];
  const slots = charged.map((each) => {
    const ends = endsOf(island, each);
    const beside = stands.findIndex(({ a, b }) => (a === ends.a && b === ends.b) || (a === ends.b && b === ends.a));
    if (beside < 0) {
      stands.push({ ...ends, charged: each });
      return { slot: stands.length - 1, sign: 1 as const };
    }
    const sign = stands[beside]!.a === ends.a ? (1 as const) : (-1 as const);
    stands[beside] = { ...stands[beside]!, charged: beneath(stands[beside]!.charged, each, sign) };
    return { slot: beside, sign };
  });
  const [first] = stands;
  if (first === undefined) return undefined;
  if (stands.length === 1) {
    const curve = new RcCurve(shared, island, states, first.charged);
    return curve.works ? { curve, slots } : undefined;
  }
  const free = stands.filter((stand) => new RcCurve(shared, island, states, stand.charged).works);
  const [only, ...others] = free;
  if (only === undefined) return undefined;
  const curve =
    others.length === 0
      ? new RcCurve(shared, island, states, only.charged)
      : new RcGroup(
          shared,
          island,
          states,
          free.map((stand) => stand.charged),
        );
  if (!curve.works) return 'entangled';
  return {
    curve,
    slots: slots.map(({ slot, sign }) => {
      const at = free.indexOf(stands[slot]!);
      return at < 0 ? undefined : { slot: at, sign };
    }),
  };
}

interface Stand {
  readonly a: number;
  readonly b: number;
  readonly charged: Charged;
}

function endsOf(island: Island, { part }: Charged): { readonly a: number; readonly b: number } {
  const element = island.elements.find(({ component }) => component === part)!;
  return { a: element.a, b: element.b };
}

/** Two side by side: their farads add, and volts that differ come together as their charges say. */
function beneath(one: Charged, other: Charged, sign: 1 | -1): Charged {
  const [c, d] = [one.farads, other.farads];
  const farads: Datum = { least: c.least + d.least, usual: c.usual + d.usual, most: c.most + d.most, origin: c.origin };
  const [low, high] = sign === 1 ? [other.from.least, other.from.most] : [-other.from.most, -other.from.least];
  const usual = (one.from.usual * c.usual + sign * other.from.usual * d.usual) / farads.usual;
  return {
    ...one,
    farads,
    from: {
      ...one.from,
      least: Math.min(one.from.least, low, usual),
      usual,
      most: Math.max(one.from.most, high, usual),
    },
  };
}
