/** Parts that only take current: resistors, contacts, fuses, cores, diodes, arresters, capacitors, loads. */
import type { Component, ComponentOf } from '../../design/components.ts';
import type { Datum } from '../../design/datum.ts';
import type { Curve } from '../../network/contract.ts';
import { copperFactor } from '../../tables/copper.ts';
import { type Answer, aligned, type ElementRule, free, type LawContext, lacks, OPEN } from '../element.ts';
import { hasSpread, valueAt } from '../parameters.ts';

function acrossPart<C extends Component & { readonly a: number; readonly b: number }>(part: C) {
  return [part.a, part.b] as const;
}

function ohmsOf(part: Component, datum: Datum, context: LawContext, property = 'ohms'): Answer {
  const ohms = context.parameters.of(part.id, property, datum, 'ohm');
  return aligned([ohms], ([value]) => ({ sort: 'ohms', ohms: value! }));
}

export const resistor: ElementRule<ComponentOf<'resistor'>> = {
  role: 'main',
  counts: 1,
  ends: acrossPart,
  law: (part, _state, context) =>
    part.ohms === undefined ? lacks(part.id, 'rating') : ohmsOf(part, part.ohms, context),
};

export const contact: ElementRule<ComponentOf<'contact'>> = {
  role: 'main',
  counts: 1,
  ends: acrossPart,
  drivers: (part) => [part.driver],
  state: (part, view) => (view.driverOf(part) === part.closes ? 'closed' : 'open'),
  law: (part, state, context) => (state === 'closed' ? ohmsOf(part, part.ohms, context) : OPEN),
};

export const fuse: ElementRule<ComponentOf<'fuse'>> = {
  role: 'main',
  counts: 1,
  ends: acrossPart,
  state: (part, view) => view.word(part.id),
  law: (part, state, context) => (state === 'blown' ? OPEN : ohmsOf(part, part.ohms, context)),
};

/** Series ohms of one line. */
export const arresterLine: ElementRule<ComponentOf<'arrester'>> = {
  role: 'main',
  counts: 1,
  ends: acrossPart,
  law: (part, _state, context) => ohmsOf(part, part.ohms, context),
};

/** Conducts to earth beyond its clamp volts, either way. */
export const arresterClamp: ElementRule<ComponentOf<'arrester'>> = {
  role: 'clamp',
  counts: 0,
  ends: (part) => (part.earth === undefined || part.clamps === undefined ? undefined : [part.b, part.earth]),
  law: (part, _state, context) => {
    const clamps = context.parameters.of(part.id, 'clamps', part.clamps!, 'V');
    return free([clamps], ([volts]) => ({
      sort: 'curve',
      curve: {
        points: [
          [-volts!, 0],
          [volts!, 0],
        ],
        before: [0, 1],
        after: [0, 1],
      },
    }));
  },
};

/** Copper at its temperature: the cable's ohms per length and its ambient are shared by all its cores. */
export const core: ElementRule<ComponentOf<'core'>> = {
  role: 'main',
  counts: 1,
  ends: acrossPart,
  law: (part, _state, context) => {
    const ohms = part.ohms;
    if (ohms === undefined) return lacks(part.cable, part.lacks ?? 'length');
    const ambient = context.parameters.cableAmbient(part.cable);
    const assumptions = ohms.assumption === undefined ? [] : [ohms.assumption];
    if (!hasSpread(ohms)) {
      const shape = ([celsius]: readonly number[]) =>
        ({ sort: 'ohms', ohms: ohms.usual * copperFactor(celsius!) }) as const;
      return aligned([ambient], shape, assumptions);
    }
    const share = context.parameters.cableOhms(part.cable, ohms);
    const shape = ([celsius, t]: readonly number[]) =>
      ({ sort: 'ohms', ohms: valueAt(ohms, t!) * copperFactor(celsius!) }) as const;
    return aligned([ambient, share], shape, assumptions);
  },
};

/** Forward: drop and slope. Reverse: blocks, or holds its clamp volts. */
export const diode: ElementRule<ComponentOf<'diode'>> = {
  role: 'main',
  counts: 1,
  ends: acrossPart,
  law: (part, _state, context) => {
    const drop = context.parameters.of(part.id, 'drop', part.drop, 'V');
    const slope = context.parameters.of(part.id, 'slope', part.slope ?? NONE, 'ohm');
    if (part.clamps === undefined) {
      return free([drop, slope], ([volts, ohms]) => ({ sort: 'curve', curve: blocking(volts!, ohms!) }));
    }
    const clamps = context.parameters.of(part.id, 'clamps', part.clamps, 'V');
    return free([drop, slope, clamps], ([volts, ohms, reverse]) => ({
      sort: 'curve',
      curve: {
        points: [
          [-reverse!, 0],
          [volts!, 0],
        ],
        before: [0, 1],
        after: [ohms!, 1],
      },
    }));
  },
};

/** No current is an exact zero, not a datum. */
export const NONE: Datum = { least: 0, usual: 0, most: 0, origin: -1 };

/** Nothing up to `volts`, then `ohms` beyond. */
export function blocking(volts: number, ohms: number): Curve {
  return { points: [[volts, 0]], before: [1, 0], after: [ohms, 1] };
}

/** What the state of a capacitor begins with while it holds volts between a least and a most: `holds 3/5`. */
export const HOLDS = 'holds ';

/** Open once settled; on its way there it holds whatever volts it has come to. */
export const capacitor: ElementRule<ComponentOf<'capacitor'>> = {
  role: 'main',
  counts: 1,
  ends: acrossPart,
  law: (part, state, { parameters }) => {
    if (!state.startsWith(HOLDS)) return OPEN;
    const [least, most] = state.slice(HOLDS.length).split('/').map(Number);
    const spread = { least: least!, usual: (least! + most!) / 2, most: most! };
    const held = parameters.computed(`${part.id}.${state}`, `${part.name} volts`, 'V', spread);
    return aligned([held], ([volts]) => ({ sort: 'volts', volts: volts! }));
  },
};
