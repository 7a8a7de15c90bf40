/** What a row of the property table says. The rows are data; checking, completion, hover and the reference read them. */
import type { Dimension, SingleMeaning } from '@couplet/engine';

/** What a property can stand on: a kind of component, a member of a unit, or another thing with a body. */
export type Subject =
  | 'site'
  | 'place'
  | 'confirm'
  | 'autonomy'
  | 'unit'
  | 'relay'
  | 'resistor'
  | 'capacitor'
  | 'diode'
  | 'fuse'
  | 'load'
  | 'switch'
  | 'cable'
  | 'supply'
  | 'battery'
  | 'arrester'
  | 'joint'
  | 'assembly'
  /** The member `supply` of a unit: a pair of terminals that it is fed by. */
  | 'feed'
  | 'rail'
  | 'common'
  | 'output'
  | 'input'
  | 'port'
  | 'contact'
  | 'zone'
  /** A scheme of a zone and the group `bands`: every name is a class, every value a range. */
  | 'scheme'
  | 'mode'
  | 'terminal'
  /** Two terminals of a relay, switch or contact, or one of them. */
  | 'pole'
  /** The group `limits` of a site: every name is a rule. */
  | 'limits';

/** What a word of a property leads to. */
export type Target =
  /** A terminal of the same unit: it is declared here unless it already stands elsewhere in the unit. */
  | 'terminal'
  /** A terminal, common or rail of the same unit that is declared elsewhere. */
  | 'return'
  | 'rail'
  | 'feed'
  | 'scheme'
  | 'place'
  | 'case'
  /** A core, declared here. */
  | 'core'
  /** Any component or member of the site. */
  | 'thing';

/** One form that a value may take. */
export type Form =
  /** A quantity of one of these dimensions; `spread` says where it must be a single value, or a range. */
  | { readonly sort: 'quantity'; readonly dimensions: readonly Dimension[]; readonly spread?: 'single' | 'range' }
  /** `below X`, `above X`. */
  | { readonly sort: 'half-open'; readonly dimensions: readonly Dimension[] }
  /** `5 V via 4k7`. */
  | { readonly sort: 'via'; readonly value: readonly Dimension[]; readonly behind: readonly Dimension[] }
  /** `10 A @ 30 V`. */
  | { readonly sort: 'at'; readonly value: readonly Dimension[]; readonly condition: readonly Dimension[] }
  /** `0.5 s / 0.5 s`. */
  | { readonly sort: 'pair'; readonly dimensions: readonly Dimension[] }
  /** A whole number from `least` up. */
  | { readonly sort: 'count'; readonly least: number }
  | { readonly sort: 'word'; readonly words: readonly string[] }
  /** `zener 24 V`. */
  | {
      readonly sort: 'word with quantity';
      readonly words: readonly string[];
      readonly dimensions: readonly Dimension[];
    }
  | { readonly sort: 'name'; readonly target: Target }
  /** `rest for 24 h`. */
  | { readonly sort: 'case for a time' }
  /** `panel.Z4 alarm`. */
  | { readonly sort: 'name with state' }
  | { readonly sort: 'text' }
  /** Anything: the property stands for what something else declares (a given of an assembly). */
  | { readonly sort: 'any' };

export interface PropertyRow {
  readonly name: string;
  readonly on: readonly Subject[];
  readonly forms: readonly Form[];
  /** `many`: several values parted by commas; `each once`: several, of different forms. One value where absent. */
  readonly list?: 'many' | 'each once';
  /** What a single value means. `exact` where absent. */
  readonly single?: SingleMeaning;
  /** What counts where the property is not given, and where that comes from. */
  readonly default?: { readonly text: string; readonly origin: string };
  /** One sentence for hover and reference. */
  readonly says: string;
  /** Whether `program` can set it. */
  readonly programmable?: true;
}

export const quantity = (...dimensions: Dimension[]): Form => ({ sort: 'quantity', dimensions });
export const single = (...dimensions: Dimension[]): Form => ({ sort: 'quantity', dimensions, spread: 'single' });
export const range = (...dimensions: Dimension[]): Form => ({ sort: 'quantity', dimensions, spread: 'range' });
export const halfOpen = (...dimensions: Dimension[]): Form => ({ sort: 'half-open', dimensions });
export const words = (...list: string[]): Form => ({ sort: 'word', words: list });
export const wordWith = (list: readonly string[], ...dimensions: Dimension[]): Form => ({
  sort: 'word with quantity',
  words: list,
  dimensions,
});
export const nameOf = (target: Target): Form => ({ sort: 'name', target });
export const at = (value: readonly Dimension[], condition: readonly Dimension[]): Form => ({
  sort: 'at',
  value,
  condition,
});
export const count = (least: number): Form => ({ sort: 'count', least });

export const COMMON_PRACTICE = 'common practice, no source';
export const FROM_MEMORY = 'from memory, to be confirmed against the text';
