/** Sources, and what sources feed inside a unit: outputs, zones and the feeding side of inputs. */
import type { Component, ComponentId, ComponentOf } from '../../design/components.ts';
import type { Datum } from '../../design/datum.ts';
import type { Design } from '../../design/design.ts';
import {
  type Answer,
  aligned,
  type ElementRule,
  free,
  type LawContext,
  lacks,
  OPEN,
  type Shape,
  unitOf,
} from '../element.ts';
import type { Parameter } from '../parameters.ts';
import { blocking, NONE } from './passive.ts';

type Source = ComponentOf<'source'>;
type Output = ComponentOf<'output'>;

function unitDrivers(part: Component, design: Design): readonly ComponentId[] {
  const unit = unitOf(part, design);
  return unit === undefined ? [] : [unit];
}

/** Drop 0.7 V of a body diode; common practice. */
const BODY_DROP = 0.7;

/** Volts, series ohms and a limit that is held while the volts fall. A battery on its charger does not take current. */
export const source: ElementRule<Source> = {
  role: 'main',
  counts: -1,
  source: true,
  ends: (part) => [part.a, part.b],
  drivers: unitDrivers,
  state: (part, view) => view.word(part.id),
  law: (part, state, context) => {
    if (state === 'off') return OPEN;
    if (part.volts === undefined) return lacks(part.id, 'volts');
    const floats = state === 'floating';
    const volts = floats ? belowChargers(part, part.volts, context) : ownVolts(part, part.volts, context);
    const ohms = context.parameters.of(part.id, 'ohms', part.ohms ?? NONE, 'ohm', `${part.name} ohms`);
    if (part.limit === undefined) {
      if (floats) return free([volts, ohms], ([v, r]) => floating(v!, r!, undefined));
      if (part.ohms === undefined) return aligned([volts], ([v]) => ({ sort: 'volts', volts: v! }));
      return free([volts, ohms], ([v, r]) => behind(v!, r!));
    }
    const limit = context.parameters.of(part.id, 'limit', part.limit, 'A', `${part.name} limit`);
    return free([volts, ohms, limit], ([v, r, i]) => (floats ? floating(v!, r!, i!) : limiting(v!, r!, i!)));
  },
};

function ownVolts(part: Source, volts: Datum, { parameters }: LawContext): Parameter {
  return parameters.of(part.id, 'volts', volts, 'V');
}

/** How far below its charger a battery is taken to stand: it gives nothing before the charger's volts fall. */
const BELOW_CHARGER = 1e-3;

/** Volts of a battery while it is charged, which no charger of it falls short of. */
function belowChargers(part: Source, volts: Datum, context: LawContext): Parameter {
  const least = leastCharging(context.design).get(part.id);
  if (least === undefined || volts.most < least) return ownVolts(part, volts, context);
  const cap = least - Math.abs(least) * BELOW_CHARGER;
  const spread = {
    least: Math.min(volts.least, cap),
    usual: Math.min(volts.usual, cap),
    most: Math.min(volts.most, cap),
  };
  return context.parameters.computed(`${part.id}.charged`, `${part.name} while charged`, 'V', spread);
}

const LEAST_CHARGING = new WeakMap<Design, ReadonlyMap<ComponentId, number>>();

/** The least volts of the sources that charge a battery, by the battery. */
function leastCharging(design: Design): ReadonlyMap<ComponentId, number> {
  const known = LEAST_CHARGING.get(design);
  if (known !== undefined) return known;
  const found = new Map<ComponentId, number>();
  for (const part of design.components) {
    if (part.kind !== 'source' || part.charges === undefined || part.volts === undefined) continue;
    found.set(part.charges, Math.min(part.volts.least, found.get(part.charges) ?? Number.POSITIVE_INFINITY));
  }
  LEAST_CHARGING.set(design, found);
  return found;
}

function behind(volts: number, ohms: number): Shape {
  if (ohms === 0) return { sort: 'volts', volts };
  return { sort: 'curve', curve: { points: [[volts, 0]], before: [ohms, 1], after: [ohms, 1] } };
}

function limiting(volts: number, ohms: number, amps: number): Shape {
  return { sort: 'curve', curve: { points: [[volts - ohms * amps, -amps]], before: [1, 0], after: [ohms, 1] } };
}

function floating(volts: number, ohms: number, amps: number | undefined): Shape {
  if (amps === undefined) {
    return { sort: 'curve', curve: { points: [[volts, 0]], before: [ohms, 1], after: [1, 0] } };
  }
  const points = [
    [volts - ohms * amps, -amps],
    [volts, 0],
  ] as const;
  return { sort: 'curve', curve: { points, before: [1, 0], after: [1, 0] } };
}

/** What rails draw where they hang: at a unit's feed, or at another source. */
export const carried: ElementRule<ComponentOf<'feed'> | Source> = {
  role: 'carried',
  counts: 1,
  ends: (part) => [part.a, part.b],
  state: (part, view) => view.carried(part.id),
  law: (part, state, { parameters }) => {
    if (state === 'unknown') return lacks(part.id, 'draws');
    const [least, usual, most] = state.split('/').map(Number);
    if (most === 0 && least === 0) return OPEN;
    const spread = { least: least!, usual: usual!, most: most! };
    const what = `drawn through ${part.name}`;
    const drawn = parameters.computed(`${part.id}.carried ${state}`, what, 'A', spread);
    return free([drawn], ([amps]) => ({ sort: 'amps', amps: amps! }));
  },
};

/** Leg to 0 V: a sinking output when on, a push-pull one when off. */
export const outputLow: ElementRule<Output> = {
  role: 'low',
  counts: 1,
  ends: (part) => (part.style.word === 'source' ? undefined : [part.a, part.returns ?? 'inner']),
  drivers: unitDrivers,
  state: (part, view) => view.word(part.id),
  law: (part, state, context) => {
    if (part.returns === undefined) return lacks(part.id, 'return');
    return switching(part, state === (part.style.word === 'sink' ? 'on' : 'off'), state, context);
  },
};

/** Leg from the rail: a sourcing output when on, a push-pull one when on. */
export const outputHigh: ElementRule<Output> = {
  role: 'high',
  counts: 1,
  ends: (part, design) => {
    if (part.style.word === 'sink') return undefined;
    const rail = part.rail === undefined ? undefined : design.components[part.rail];
    return rail?.kind === 'source' ? [rail.a, part.a] : ['inner', part.a];
  },
  drivers: unitDrivers,
  state: (part, view) => view.word(part.id),
  law: (part, state, context) => {
    if (part.rail === undefined) return lacks(part.id, 'rail');
    return switching(part, state === 'on', state, context);
  },
};

function switching(part: Output, conducts: boolean, state: string, context: LawContext): Answer {
  if (conducts) return conducting(part, context);
  if (state === 'unpowered' || part.style.word === 'push-pull') return OPEN;
  if (part.leak === undefined) {
    return { sort: 'open', assumptions: [`off-state leakage of ${part.name} not given, taken as none`] };
  }
  if (part.leak.most === 0) return OPEN;
  const leak = context.parameters.of(part.id, 'leak', part.leak, 'A', `${part.name} leakage`);
  return free([leak], ([amps]) => ({ sort: 'curve', curve: leaking(amps!) }));
}

/** Drop and ohms once current flows; a limit only where it says that it limits. */
function conducting(part: Output, context: LawContext): Answer {
  if (part.drop === undefined && part.ohms === undefined) return lacks(part.id, 'drop');
  const drop = context.parameters.of(part.id, 'drop', part.drop ?? NONE, 'V', `${part.name} drop`);
  const ohms = context.parameters.of(part.id, 'ohms', part.ohms ?? NONE, 'ohm', `${part.name} ohms`);
  if (part.limits === undefined) return free([drop, ohms], ([v, r]) => ({ sort: 'curve', curve: blocking(v!, r!) }));
  const limits = context.parameters.of(part.id, 'limits', part.limits, 'A', `${part.name} limit`);
  return free([drop, ohms, limits], ([v, r, i]) => ({
    sort: 'curve',
    curve: {
      points: [
        [v!, 0],
        [v! + r! * i!, i!],
      ],
      before: [1, 0],
      after: [1, 0],
    },
  }));
}

/** Amperes that leak as soon as there are volts to drive them. */
function leaking(amps: number) {
  if (amps === 0) return { points: [[0, 0]], before: [1, 0], after: [1, 0] } as const;
  return {
    points: [
      [0, 0],
      [0, amps],
    ],
    before: [1, 0],
    after: [1, 0],
  } as const;
}

/** From the terminal up to the rail, or from 0 V up to the terminal: conducts where something else drives it. */
export const bodyDiode: ElementRule<Output> = {
  role: 'body-diode',
  counts: -1,
  ends: (part, design) => {
    if (part.bodyDiode === undefined || part.bodyDiode.word === 'no') return undefined;
    if (part.style.word === 'sink') return part.returns === undefined ? undefined : [part.returns, part.a];
    const rail = part.rail === undefined ? undefined : design.components[part.rail];
    return rail?.kind === 'source' ? [part.a, rail.a] : undefined;
  },
  law: () => ({
    sort: 'law',
    parameters: [],
    aligned: true,
    shape: () => ({ sort: 'curve', curve: blocking(BODY_DROP, 0) }),
    assumptions: [],
  }),
};

type Feeding = ComponentOf<'zone'> | ComponentOf<'input'>;

function feeds(part: Feeding): boolean {
  return part.kind === 'zone' || part.feedVolts !== undefined;
}

/** Volts of a zone or of an input that feeds its contact, inside the unit. */
export const feedVolts: ElementRule<Feeding> = {
  role: 'feed',
  counts: 0,
  source: true,
  ends: (part) => (feeds(part) ? ['inner', part.b] : undefined),
  drivers: unitDrivers,
  state: (part, view) => (part.owner === undefined || view.powered(part.owner) ? 'on' : 'unpowered'),
  law: (part, state, { parameters }) => {
    if (state === 'unpowered') return OPEN;
    if (part.feedVolts === undefined) return lacks(part.id, 'feed');
    const volts = parameters.of(part.id, 'feedVolts', part.feedVolts, 'V', `${part.name} feed`);
    return aligned([volts], ([value]) => ({ sort: 'volts', volts: value! }));
  },
};

/** Ohms that a zone feeds its loop through. */
export const zone: ElementRule<ComponentOf<'zone'>> = {
  role: 'main',
  counts: 1,
  ends: (part) => ['inner', part.a],
  law: (part, _state, { parameters }) => {
    if (part.feedOhms === undefined) return lacks(part.id, 'feed');
    const behindOhms = parameters.of(part.id, 'feedOhms', part.feedOhms, 'ohm', `${part.name} feed`);
    return aligned([behindOhms], ([ohms]) => ({ sort: 'ohms', ohms: ohms! }));
  },
};
