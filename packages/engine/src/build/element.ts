/**
 * Elements: the two-terminal pieces that components consist of. What an element is depends on its state (a contact
 * closed or open, an output on or off); in each state it is a law with parameters, no connection at all, or unknown
 * because a datum is missing.
 */
import type { Component, ComponentId, ComponentOf, TerminalId } from '../design/components.ts';
import type { Design } from '../design/design.ts';
import type { Law } from '../network/contract.ts';
import type { Parameter, Parameters } from './parameters.ts';

type WithoutEnds<L> = L extends unknown ? Omit<L, 'a' | 'b'> : never;

/** A law that does not say yet between which nodes it lies. */
export type Shape = WithoutEnds<Law>;

/** A datum that is missing, by its name in the language. */
export interface Lack {
  readonly component: ComponentId;
  readonly property: string;
}

export type Answer =
  | {
      readonly sort: 'law';
      readonly parameters: readonly Parameter[];
      /** All parameters push the law's only number the same way, so that they may be moved together. */
      readonly aligned: boolean;
      /** The law at the parameters' values, in their order. */
      readonly shape: (values: readonly number[]) => Shape;
      /** Clauses of what was assumed, besides the parameters' own. */
      readonly assumptions: readonly string[];
    }
  | { readonly sort: 'open'; readonly assumptions: readonly string[] }
  | { readonly sort: 'lacks'; readonly lacks: readonly Lack[] };

/** What the states of elements are told from. Units that have lost their supply already count in every word. */
export interface StateView {
  /** 'on', 'off', 'pulsing', 'operated', 'released', 'blown', a mode's name … */
  word(component: ComponentId): string;
  powered(unit: ComponentId): boolean;
  /** State of what works a contact, as that contact feels it: those of a timer that do not act late follow its input. */
  driverOf(contact: ComponentOf<'contact'>): string;
  /** Amperes that rails draw at the feed or source they hang on, as `least/usual/most`, or 'unknown'. */
  carried(component: ComponentId): string;
}

export interface LawContext {
  readonly design: Design;
  readonly parameters: Parameters;
}

/** Where an element ends: a terminal, or a node inside its component. */
export type End = TerminalId | 'inner';

/**
 * One row of the table of laws: a piece of a kind of component.
 * `counts` tells how its current enters the component's own amperes.
 */
export interface ElementRule<C extends Component = Component> {
  readonly role: string;
  readonly counts: 1 | -1 | 0;
  /** Absent where the component has no such piece. */
  ends(component: C, design: Design): readonly [a: End, b: End] | undefined;
  /** Other components whose state decides this one's. */
  drivers?(component: C, design: Design): readonly ComponentId[];
  /** One of few words; an element without is always in the same state. */
  state?(component: C, view: StateView): string;
  law(component: C, state: string, context: LawContext): Answer;
  /** True where the law alone can make current flow in some state. */
  readonly source?: boolean;
}

export interface Element {
  readonly index: number;
  readonly component: Component;
  readonly rule: ElementRule;
  /** Nodes of the model. */
  readonly a: number;
  readonly b: number;
}

export const OPEN: Answer = { sort: 'open', assumptions: [] };

export function lacks(component: ComponentId, ...properties: readonly string[]): Answer {
  return { sort: 'lacks', lacks: properties.map((property) => ({ component, property })) };
}

/** A law whose parameters all raise its one number. */
export function aligned(
  parameters: readonly Parameter[],
  shape: (values: readonly number[]) => Shape,
  assumptions: readonly string[] = [],
): Answer {
  return { sort: 'law', parameters, aligned: true, shape, assumptions };
}

export function free(
  parameters: readonly Parameter[],
  shape: (values: readonly number[]) => Shape,
  assumptions: readonly string[] = [],
): Answer {
  return { sort: 'law', parameters, aligned: parameters.length < 2, shape, assumptions };
}

/** The unit that a member belongs to, when it belongs to one. */
export function unitOf(component: Component, design: Design): ComponentId | undefined {
  if (component.owner === undefined) return undefined;
  return design.components[component.owner]?.kind === 'unit' ? component.owner : undefined;
}
