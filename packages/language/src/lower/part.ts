/** A component while it is lowered: what it is called, what is written of it, and what a reference can reach in it. */
import type { ComponentId, PlaceId, TerminalId } from '@couplet/engine';
import type { Component, ComponentName, Kind } from '../generated/ast.ts';
import type { Bag } from './bags.ts';
import type { Scope } from './scope.ts';
import type { Spot } from './spots.ts';

/** A way through a part from one terminal to the other. */
export interface Pass {
  readonly component: ComponentId;
  readonly first: TerminalId;
  readonly second: TerminalId;
  /** `once`; `same-way`: often, but the same way round; `free`: often. */
  readonly repeat: 'once' | 'same-way' | 'free';
  /** Words for a part that must not be met from its second terminal, where no rule would judge that. */
  readonly minds?: string;
}

/** What a name within a part reaches: a member, a terminal, a pole, a core, or several of these under one name. */
/** One core between two places; a core of a cable with several legs has a piece a leg. */
export interface CorePiece {
  readonly component: ComponentId;
  readonly from: PlaceId | undefined;
  readonly to: PlaceId | undefined;
  /** At `from` and at `to`. */
  readonly first: TerminalId;
  readonly second: TerminalId;
}

export interface CoreLine {
  readonly name: string;
  readonly cable: Part;
  readonly pieces: readonly CorePiece[];
}

export interface Point {
  readonly component?: ComponentId;
  readonly terminal?: TerminalId;
  readonly pass?: Pass;
  readonly core?: CoreLine;
  readonly returns?: TerminalId;
}

export interface Part {
  readonly kind: Kind;
  /** As the author writes it, with what stands before it in a used file or an assembly. */
  readonly name: string;
  readonly node: ComponentName;
  readonly declaration: Component;
  readonly scope: Scope;
  readonly bag: Bag;
  readonly points: Map<string, Point>;
  /** The component that the name alone means. */
  id: ComponentId;
  /** What the name alone means in a chain. */
  alone?: { readonly pass: Pass } | { readonly terminal: TerminalId };
  place?: PlaceId;
  /** Where all of it is; a cable's ends have spots of their own. */
  spot: Spot;
  /** Terminals that are made only when something names them. */
  extra?: Map<string, () => TerminalId>;
}
