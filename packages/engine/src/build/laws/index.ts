/** The table of laws: which two-terminal pieces a kind of component consists of. A new kind is a new row. */
import type { ComponentKind, ComponentOf } from '../../design/components.ts';
import type { ElementRule } from '../element.ts';
import { feed, input, load, loadSuppressor } from './loads.ts';
import { arresterClamp, arresterLine, capacitor, contact, core, diode, fuse, resistor } from './passive.ts';
import { coil, coilSuppressor, control, secondCoil } from './relays.ts';
import { bodyDiode, carried, feedVolts, outputHigh, outputLow, source, zone } from './supplied.ts';

type Table = { readonly [K in ComponentKind]: readonly ElementRule<ComponentOf<K>>[] };

const TABLE: Table = {
  resistor: [resistor],
  contact: [contact],
  fuse: [fuse],
  arrester: [arresterLine, arresterClamp],
  core: [core],
  diode: [diode],
  capacitor: [capacitor],
  load: [load, loadSuppressor],
  feed: [feed, carried],
  input: [input, feedVolts],
  source: [source, carried],
  output: [outputLow, outputHigh, bodyDiode],
  zone: [zone, feedVolts],
  relay: [coil, secondCoil, coilSuppressor, control],
  unit: [],
  common: [],
  terminal: [],
  joint: [],
  actuator: [],
  switch: [],
  cable: [],
  confirm: [],
};

/** The pieces of a kind; each is only ever asked about components of that kind. */
export function lawsOf(kind: ComponentKind): readonly ElementRule[] {
  return TABLE[kind] as unknown as readonly ElementRule[];
}
