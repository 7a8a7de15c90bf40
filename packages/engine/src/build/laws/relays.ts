/** Coils at their temperature, with the suppression built into them. */
import type { Coil, ComponentOf } from '../../design/components.ts';
import { copperFactor } from '../../tables/copper.ts';
import { type Answer, aligned, type ElementRule, type LawContext, lacks, OPEN } from '../element.ts';
import type { Parameter } from '../parameters.ts';
import { drawing } from './loads.ts';
import { suppressionLaw } from './suppression.ts';

type Relay = ComponentOf<'relay'>;

/** How much warmer than its surroundings a coil may be: nothing when just switched on, `rise` when held in. */
export function riseOf(part: Relay, { parameters }: LawContext): Parameter {
  const rise = part.rise;
  if (rise === undefined) {
    const assumption = `coil of ${part.name} taken as up to 30 °C above ambient`;
    return parameters.of(
      part.id,
      'rise',
      { least: 0, usual: 0, most: 30, origin: -1, assumption },
      'degC',
      `${part.name} coil rise`,
    );
  }
  return parameters.of(part.id, 'rise', { ...rise, least: 0, usual: 0 }, 'degC', `${part.name} coil rise`);
}

function coilLaw(part: Relay, context: LawContext): Answer {
  if (part.ohms === undefined && part.timer?.draws !== undefined) {
    return drawing(part.id, part.timer.draws, part.timer.works, context, part.name);
  }
  if (part.ohms === undefined) return lacks(part.id, 'coil');
  const ohms = context.parameters.of(part.id, 'ohms', part.ohms, 'ohm', `${part.name} coil`);
  const ambient = context.parameters.ambient(part.place);
  const rise = riseOf(part, context);
  return aligned([ohms, ambient, rise], ([r, celsius, warmer]) => ({
    sort: 'ohms',
    ohms: r! * copperFactor(celsius! + warmer!),
  }));
}

function coilRule(role: string, counts: 1 | 0, coil: (part: Relay) => Coil | undefined): ElementRule<Relay> {
  return {
    role,
    counts,
    ends: (part) => {
      const ends = coil(part);
      return ends === undefined ? undefined : [ends.a, ends.b];
    },
    law: (part, _state, context) => coilLaw(part, context),
  };
}

export const coil = coilRule('main', 1, (part) => part.coil);
export const secondCoil = coilRule('second-coil', 0, (part) => part.secondCoil);

/** Control of a timer: it is only looked at, and draws nothing. */
export const control: ElementRule<Relay> = {
  role: 'control',
  counts: 0,
  ends: ({ timer, coil: { b } }) => (timer?.control === undefined ? undefined : [timer.control, timer.controlTo ?? b]),
  law: () => OPEN,
};

export const coilSuppressor: ElementRule<Relay> = {
  role: 'suppressor',
  counts: -1,
  ends: (part) =>
    part.suppressor === undefined || part.suppressor.sort === 'none' ? undefined : [part.coil.b, part.coil.a],
  law: (part) => suppressionLaw(part.suppressor!),
};
