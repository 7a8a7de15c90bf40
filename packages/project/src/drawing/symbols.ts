/** Which symbol stands for which component. One entry a kind: a kind that is left out does not compile. */
import type { Component, ComponentKind, ComponentOf } from '@couplet/engine';
import type { SymbolName } from './contract.ts';

type Symbols = { readonly [K in ComponentKind]: (part: ComponentOf<K>) => SymbolName };

/** Members of units show as terminals of the unit's block; where one stands alone, as a block of its own. */
const block = (): SymbolName => 'block';

const SYMBOLS: Symbols = {
  unit: () => 'unit',
  feed: block,
  source: ({ sort }) => (sort === 'battery' ? 'battery' : 'supply'),
  common: block,
  terminal: () => 'terminal',
  joint: () => 'joint',
  output: block,
  input: block,
  zone: block,
  contact: ({ closes }) => (closes === 'operated' ? 'make' : 'break'),
  actuator: block,
  switch: block,
  relay: ({ latching, timer }) => (timer ? 'timer-coil' : latching ? 'latching-coil' : 'coil'),
  resistor: () => 'resistor',
  capacitor: () => 'capacitor',
  diode: ({ clamps }) => (clamps === undefined ? 'diode' : 'zener'),
  fuse: () => 'fuse',
  arrester: () => 'arrester',
  load: ({ description = '' }) => LOADS.find(({ words }) => words.test(description))?.symbol ?? 'load',
  cable: () => 'cable',
  core: () => 'cable',
  confirm: block,
};

/** The language has one kind of load; what it is, only its description says. Common practice, no source. */
const LOADS: readonly { readonly words: RegExp; readonly symbol: SymbolName }[] = [
  { words: /\b(beacon|lamp|light|strobe|led|indicator)s?\b/i, symbol: 'lamp' },
  { words: /\b(horn|siren|sounder|bell|buzzer)s?\b/i, symbol: 'sounder' },
];

export function symbolOf(part: Component): SymbolName {
  return (SYMBOLS[part.kind] as (part: Component) => SymbolName)(part);
}
