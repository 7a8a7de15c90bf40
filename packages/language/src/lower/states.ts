/** Which words a part of the design can be turned to and expected in, by the language's table of states. */
import type { Component } from '@couplet/engine';
import { FAULTS, faultRow, type StateOwner, stateRow } from '../properties/states.ts';

/** What a part is in the table of states; undefined where it has none. */
function ownerOf(part: Component): StateOwner | undefined {
  switch (part.kind) {
    case 'actuator':
      return part.form === 'simple' ? 'contact' : 'changeover contact';
    case 'switch':
      return part.simple ? 'switch with one contact' : 'switch';
    case 'relay':
      return part.latching === undefined ? 'relay' : 'latching relay';
    case 'contact':
      return 'pole';
    case 'feed':
      return 'source';
    case 'output':
    case 'unit':
    case 'source':
    case 'fuse':
    case 'load':
    case 'zone':
    case 'input':
    case 'core':
    case 'confirm':
      return part.kind;
    case 'resistor':
    case 'capacitor':
    case 'diode':
    case 'arrester':
      return 'part';
    case 'common':
    case 'terminal':
    case 'joint':
    case 'cable':
      return undefined;
  }
}

/** Faults that a part can have. */
export function faultsOf(part: Component): readonly string[] {
  const owner = ownerOf(part);
  return owner === undefined ? [] : FAULTS.filter((row) => row.on.includes(owner)).map((row) => row.word);
}

/** The word before the other part that a fault names: 'shorted to', 'swapped with'. */
export function namesOther(fault: string): 'to' | 'with' | undefined {
  return faultRow(fault)?.names;
}

/** States that a part can be turned to, faults apart. */
export function turnsOf(part: Component): readonly string[] {
  const owner = ownerOf(part);
  if (owner === undefined) return [];
  const modes = part.kind === 'unit' || part.kind === 'load' ? part.modes.map((mode) => mode.name) : [];
  return [...stateRow(owner).turn, ...modes];
}

/** States that a part can be expected in; those of a zone are the classes of the scheme that it is programmed to. */
export function expectsOf(part: Component): readonly string[] {
  const owner = ownerOf(part);
  if (owner === undefined) return [];
  const bands = part.kind === 'zone' ? (part.scheme?.bands ?? []) : [];
  const classes = bands.flatMap((band) => [...band.classes, band.classes.join('+')]);
  return [...new Set([...classes, ...stateRow(owner).expect])];
}
