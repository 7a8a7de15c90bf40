/** Which words a part can be turned to and expected in. */
import type { Component } from '@couplet/engine';

/** Faults by the kind of part that has them: language.md, 'Fault words'. */
const FAULTS: Readonly<Partial<Record<Component['kind'], readonly string[]>>> = {
  core: ['cut', 'earthed', 'shorted', 'swapped'],
  resistor: ['missing', 'linked', 'swapped', 'at-other-end', 'a-decade-low', 'a-decade-high'],
  diode: ['missing', 'linked', 'reversed'],
  load: ['missing', 'linked', 'reversed'],
  capacitor: ['missing', 'linked', 'reversed'],
  contact: ['welded', 'never-closes'],
  actuator: ['welded', 'never-closes'],
  switch: ['welded', 'never-closes'],
  relay: ['welded', 'never-closes', 'coil-open', 'coil-shorted', 'reversed'],
  output: ['stuck-on', 'stuck-off'],
  source: ['lost'],
  feed: ['lost'],
  unit: ['lost'],
  fuse: ['blown'],
};

/** Faults that name another part. */
export const WITH_OTHER: Readonly<Record<string, string>> = { shorted: 'to', swapped: 'with' };

export function faultsOf(part: Component): readonly string[] {
  return FAULTS[part.kind] ?? [];
}

/** States that a part can be turned to, faults apart; undefined where it cannot be turned at all. */
export function turnsOf(part: Component): readonly string[] | undefined {
  switch (part.kind) {
    case 'output':
      return ['on', 'off', 'pulsing'];
    case 'actuator':
      return part.form === 'simple' ? ['open', 'closed'] : ['operated', 'released'];
    case 'switch':
      return part.simple ? ['open', 'closed'] : ['operated', 'released'];
    case 'unit':
      return ['on', 'off', ...part.modes.map((mode) => mode.name)];
    case 'load':
      return part.modes.length === 0 ? undefined : part.modes.map((mode) => mode.name);
    case 'source':
    case 'feed':
      return ['on', 'off'];
    case 'fuse':
      return ['blown'];
    default:
      return undefined;
  }
}

/** States that a part can be expected in; undefined where only figures can be expected of it. */
export function expectsOf(part: Component): readonly string[] | undefined {
  switch (part.kind) {
    case 'output':
    case 'load':
      return ['on', 'off'];
    case 'actuator':
      return part.form === 'simple' ? ['open', 'closed'] : ['operated', 'released'];
    case 'switch':
      return part.simple ? ['open', 'closed'] : ['operated', 'released'];
    case 'relay':
      return part.latching === undefined ? ['operated', 'released'] : ['set', 'reset', 'operated', 'released'];
    case 'zone':
      return part.scheme === undefined
        ? undefined
        : [...new Set(part.scheme.bands.flatMap((band) => [...band.classes, band.classes.join('+')])), 'any'];
    case 'input':
      return ['on', 'off', 'undecided'];
    default:
      return undefined;
  }
}
