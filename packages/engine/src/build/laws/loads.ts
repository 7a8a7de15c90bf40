/** Loads of the three styles, feeds of units, and inputs: what draws from a supply. */
import type { ComponentOf } from '../../design/components.ts';
import type { Datum } from '../../design/datum.ts';
import { type Answer, aligned, type ElementRule, free, type LawContext, lacks, OPEN, type Shape } from '../element.ts';
import { blocking } from './passive.ts';
import { suppressionLaw } from './suppression.ts';

type Load = ComponentOf<'load'>;

export const load: ElementRule<Load> = {
  role: 'main',
  counts: 1,
  ends: (part) => [part.a, part.b],
  state: (part, view) => view.word(part.id),
  law: (part, state, context) => {
    const mode = part.modes.find((other) => other.name === state);
    if (mode !== undefined) return drawing(part.id, mode.draws, part.works, context, `${part.name} ${mode.name}`);
    if (part.rating === undefined) return lacks(part.id, 'rating');
    if (part.style === undefined) return lacks(part.id, 'style');
    return LAWS[part.style.word](part, part.rating, context);
  },
};

type Rating = NonNullable<Load['rating']>;

const LAWS: Record<
  'resistive' | 'constant-current' | 'constant-power',
  (part: Load, rating: Rating, context: LawContext) => Answer
> = {
  resistive: (part, rating, { parameters }) => {
    if (rating.sort === 'ohms') {
      const ohms = parameters.of(part.id, 'ohms', rating.ohms, 'ohm');
      return aligned([ohms], ([value]) => ({ sort: 'ohms', ohms: value! }));
    }
    if (rating.atVolts === undefined) return lacks(part.id, 'rating');
    const volts = parameters.of(part.id, 'volts', rating.atVolts, 'V');
    if (rating.sort === 'amps') {
      const amps = parameters.of(part.id, 'amps', rating.amps, 'A');
      return free([volts, amps], ([v, i]) => resistive(v! / i!));
    }
    const watts = parameters.of(part.id, 'watts', rating.watts, 'W');
    return free([volts, watts], ([v, w]) => resistive((v! * v!) / w!));
  },
  'constant-current': (part, rating, context) => {
    if (rating.sort === 'amps') return drawing(part.id, rating.amps, part.works, context, part.name);
    if (rating.sort === 'ohms' || rating.atVolts === undefined) return lacks(part.id, 'rating');
    const { watts, atVolts } = rating;
    const amps = {
      ...watts,
      least: watts.least / atVolts.most,
      usual: watts.usual / atVolts.usual,
      most: watts.most / atVolts.least,
    };
    return drawing(part.id, amps, part.works, context, part.name);
  },
  'constant-power': (part, rating, { parameters }) => {
    if (part.works === undefined) return lacks(part.id, 'works');
    const { least, most } = part.works;
    if (rating.sort === 'watts') {
      const watts = parameters.of(part.id, 'watts', rating.watts, 'W');
      return free([watts], ([value]) => powered(value!, least, most));
    }
    if (rating.sort === 'ohms' || rating.atVolts === undefined) return lacks(part.id, 'rating');
    const volts = parameters.of(part.id, 'volts', rating.atVolts, 'V');
    const amps = parameters.of(part.id, 'amps', rating.amps, 'A');
    return free([volts, amps], ([v, i]) => powered(v! * i!, least, most));
  },
};

/** A rating of no watts or no amperes is no load at all. */
function resistive(ohms: number): Shape {
  return Number.isFinite(ohms) ? { sort: 'ohms', ohms } : { sort: 'amps', amps: 0 };
}

function powered(watts: number, least: number, most: number): Shape {
  return watts > 0 ? { sort: 'power', watts, least, most } : { sort: 'amps', amps: 0 };
}

/** Amperes that do not depend on the volts within the working range; outside it resistive with the ohms of that end. */
export function drawing(
  id: number,
  amps: Datum | undefined,
  works: Datum | undefined,
  { parameters }: LawContext,
  what: string,
): Answer {
  if (amps === undefined) return lacks(id, 'draws');
  if (works === undefined) return lacks(id, 'works');
  const drawn = parameters.of(id, `draws ${what}`, amps, 'A', what);
  const { least, most } = works;
  return free([drawn], ([value]) => constantCurrent(value!, least, most));
}

function constantCurrent(amps: number, least: number, most: number): Shape {
  const points: [number, number][] =
    least > 0
      ? [[least, amps]]
      : [
          [0, 0],
          [0, amps],
        ];
  if (Number.isFinite(most) && most > least) points.push([most, amps]);
  const after: [number, number] = Number.isFinite(most) ? [most, amps] : [1, 0];
  const before: [number, number] = least > 0 ? [least, amps] : [1, 0];
  return { sort: 'curve', curve: { points, before, after } };
}

export const loadSuppressor: ElementRule<Load> = {
  role: 'suppressor',
  counts: -1,
  ends: (part) => (part.suppressor === undefined || part.suppressor.sort === 'none' ? undefined : [part.b, part.a]),
  law: (part) => suppressionLaw(part.suppressor!),
};

/** What a unit draws for itself; its mode may say so. */
export const feed: ElementRule<ComponentOf<'feed'>> = {
  role: 'main',
  counts: 1,
  ends: (part) => [part.a, part.b],
  drivers: (part) => (part.owner === undefined ? [] : [part.owner]),
  state: (part, view) => {
    if (view.word(part.id) === 'off') return 'disconnected';
    return part.owner === undefined ? 'on' : view.word(part.owner);
  },
  law: (part, state, context) => {
    if (state === 'disconnected') return OPEN;
    const owner = part.owner === undefined ? undefined : context.design.components[part.owner];
    const mode = owner?.kind === 'unit' ? owner.modes.find((other) => other.name === state) : undefined;
    if (mode !== undefined) {
      return drawing(part.id, mode.draws ?? part.draws, part.works, context, `${part.name} ${mode.name}`);
    }
    return drawing(part.id, part.draws, part.works, context, part.name);
  },
};

/** Opto: its drop and then its ohms, blocking in reverse. One that feeds its contact: volts behind ohms. */
export const input: ElementRule<ComponentOf<'input'>> = {
  role: 'main',
  counts: 1,
  ends: (part) => (part.feedVolts === undefined ? [part.a, part.b] : ['inner', part.a]),
  law: (part, _state, { parameters }) => {
    if (part.feedVolts !== undefined) {
      if (part.feedOhms === undefined) return lacks(part.id, 'feed');
      const behind = parameters.of(part.id, 'feedOhms', part.feedOhms, 'ohm', `${part.name} feed`);
      return aligned([behind], ([ohms]) => ({ sort: 'ohms', ohms: ohms! }));
    }
    if (part.ohms === undefined) return lacks(part.id, 'ohms');
    const ohms = parameters.of(part.id, 'ohms', part.ohms, 'ohm');
    if (part.drop === undefined) return aligned([ohms], ([value]) => ({ sort: 'ohms', ohms: value! }));
    const drop = parameters.of(part.id, 'drop', part.drop, 'V');
    return free([drop, ohms], ([v, r]) => ({ sort: 'curve', curve: blocking(v!, r!) }));
  },
};
