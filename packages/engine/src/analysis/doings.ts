/** What is done to a site: parts turned, faults, and changes that somebody asks 'what if' about. */
import type { Turn } from '../design/cases.ts';
import type { Component, ComponentId, TerminalId } from '../design/components.ts';
import type { Design } from '../design/design.ts';
import type { Change } from './contract.ts';
import { effectOf, isFault, piecesOf } from './turned-faults.ts';

export interface ExtraJoin {
  readonly a: TerminalId;
  readonly b: TerminalId;
  readonly ohms: number;
  /** Drives a current of its own, as an ohmmeter does. */
  readonly meter?: true;
  /** A resistor whose law it takes in place of `ohms`. */
  readonly like?: ComponentId;
}

/** Everything that was done up to an instant. */
export interface Doings {
  /** Words that parts were turned to. */
  readonly turned: ReadonlyMap<ComponentId, string>;
  /** Words that hold whatever is turned: faults that stick. */
  readonly forced: ReadonlyMap<ComponentId, string>;
  /** 'removed', 'bridged', 'x10', '=7' (like part 7), 'reversed'. */
  readonly altered: ReadonlyMap<ComponentId, string>;
  readonly joins: readonly ExtraJoin[];
}

export const NOTHING_DONE: Doings = { turned: new Map(), forced: new Map(), altered: new Map(), joins: [] };

/** The doings with one more turn; `undefined` where the engine does not know what the word does to the part. */
export function withTurn(design: Design, doings: Doings, turn: Turn): Doings | undefined {
  const part = design.components[turn.target]!;
  if (isFault(turn.state)) {
    const effect = effectOf(turn.state, part, design, turn.other);
    return effect === undefined ? undefined : merged(doings, effect);
  }
  const word = turnedWord(design, part, turn.state);
  return word === undefined ? undefined : withWord(doings, turn.target, word);
}

/** A part put to a word, or back to how it rests where the word is absent. */
export function withWord(doings: Doings, target: ComponentId, word: string | undefined): Doings {
  const turned = new Map(doings.turned);
  if (word === undefined) turned.delete(target);
  else turned.set(target, word);
  return { ...doings, turned };
}

/** The doings on a changed design. */
export function withChanges(design: Design, doings: Doings, changes: readonly Change[]): Doings {
  // What is not changed is shared: single faults are many, and each changes one thing.
  let { altered, forced, joins } = doings;
  for (const change of changes) {
    if (change.sort === 'join') {
      const { a, b, ohms = 0, like } = change;
      joins = [...joins, like === undefined ? { a, b, ohms } : { a, b, ohms, like }];
    } else if (change.sort === 'force') forced = new Map([...forced, [change.component, change.word]]);
    else {
      const word = alteration(change);
      const more = new Map(altered);
      for (const id of piecesOf(design.components[change.component]!)) more.set(id, word);
      altered = more;
    }
  }
  return { turned: doings.turned, altered, forced, joins };
}

function alteration(change: Exclude<Change, { sort: 'join' | 'force' }>): string {
  switch (change.sort) {
    case 'remove':
      return 'removed';
    case 'bridge':
      return 'bridged';
    case 'reverse':
      return 'reversed';
    case 'scale':
      return `x${change.factor}`;
    case 'like':
      return `=${change.other}`;
  }
}

function merged(doings: Doings, effect: Partial<Doings>): Doings {
  return {
    turned: new Map([...doings.turned, ...(effect.turned ?? [])]),
    forced: new Map([...doings.forced, ...(effect.forced ?? [])]),
    altered: new Map([...doings.altered, ...(effect.altered ?? [])]),
    joins: [...doings.joins, ...(effect.joins ?? [])],
  };
}

/** Words of the language as the words that laws know. */
function turnedWord(design: Design, part: Component, state: string): string | undefined {
  switch (part.kind) {
    case 'output':
      return ['on', 'off', 'pulsing'].includes(state) ? state : undefined;
    case 'switch':
    case 'actuator':
      return contactWord(design, part, state);
    case 'unit':
      return state === 'on' || state === 'off' || part.modes.some((mode) => mode.name === state) ? state : undefined;
    case 'source':
    case 'feed':
      return state === 'on' || state === 'off' ? state : undefined;
    case 'load':
      return part.modes.some((mode) => mode.name === state) ? state : undefined;
    default:
      return undefined;
  }
}

/** A simple contact is turned open and closed: which of its driver's states that is, its contact says. */
function contactWord(
  design: Design,
  part: Extract<Component, { kind: 'switch' | 'actuator' }>,
  state: string,
): string | undefined {
  if (state === 'operated' || state === 'released') return state;
  if (state !== 'open' && state !== 'closed') return undefined;
  const first = part.kind === 'switch' ? design.components[part.contacts[0] ?? -1] : undefined;
  const closes = first?.kind === 'contact' ? first.closes : 'operated';
  return (state === 'closed') === (closes === 'operated') ? 'operated' : 'released';
}
