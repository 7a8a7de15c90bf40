/**
 * What the engine says of a design: for every case the moments at which everything is settled, and at each moment
 * every volt, ampere and reading with its spread. Figures are computed when they are asked for and kept.
 */
import type { Case, Expect } from '../design/cases.ts';
import type { ComponentId, TerminalId } from '../design/components.ts';
import type { Origin } from '../design/datum.ts';
import type { Design } from '../design/design.ts';
import type { Track } from '../time/tracks.ts';

/** One parameter at one of its ends: { what: 'level.V12', value: 11.4, unit: 'V' }, { what: 'K1 coil', value: 60, unit: 'degC' }. */
export interface CornerPart {
  readonly what: string;
  readonly value: number;
  readonly unit: string;
  /** Sensitivity rank: the parts that moved the figure most come first. */
  readonly share: number;
}

export type Corner = readonly CornerPart[];

/** SI numbers. `unit` is 'V', 'A', 'W', 'ohm'. `most` of an open loop's ohms is Infinity. */
export interface Value {
  readonly sort: 'value';
  readonly unit: string;
  readonly least: number;
  readonly usual: number;
  readonly most: number;
  readonly leastCorner: Corner;
  readonly mostCorner: Corner;
  /** False: the corners were searched, not proven. */
  readonly proven: boolean;
  /** Clauses of every assumption that the figure rests on, sorted, without repeats. */
  readonly assumptions: readonly string[];
}

/** A datum that is missing: the component and the property's name in the language, and where it belongs. */
export interface Need {
  readonly component: ComponentId;
  readonly property: string;
  readonly origin: Origin;
}

export type Figure =
  | Value
  | { readonly sort: 'no-connection' }
  | { readonly sort: 'not-evaluated'; readonly needs: readonly Need[]; readonly reason?: string };

/** What a zone says at a moment. */
export interface ZoneReading {
  readonly volts: Figure;
  /** As the panel infers them from the volts; Infinity where nothing conducts. */
  readonly ohms: Figure;
  /** Classes at the usual figures ('alarm', 'alarm+masked'); absent where not evaluated or outside every band. */
  readonly usual?: string;
  /** Every class between least and most, the usual one first; `undefined` in it stands for 'outside every band'. */
  readonly possible: readonly (string | undefined)[];
}

/** The states a component may be in at a moment; more than one where a relay is undecided. */
export type States = readonly string[];

/** A change to the design for one solve: how single faults and proven fixes ask 'what if'. */
export type Change =
  /** `ohms` between two terminals, none unless given; with `like` the law of that resistor or core instead. */
  | {
      readonly sort: 'join';
      readonly a: TerminalId;
      readonly b: TerminalId;
      readonly ohms?: number;
      readonly like?: ComponentId;
    }
  | { readonly sort: 'remove'; readonly component: ComponentId }
  | { readonly sort: 'bridge'; readonly component: ComponentId }
  | { readonly sort: 'scale'; readonly component: ComponentId; readonly factor: number }
  /** A state that holds whatever is turned: an output 'on' or 'off', a source or unit 'off', a fuse 'blown'. */
  | { readonly sort: 'force'; readonly component: ComponentId; readonly word: string }
  /** A resistor takes the value of another one. */
  | { readonly sort: 'like'; readonly component: ComponentId; readonly other: ComponentId }
  /** A part fitted the wrong way round. */
  | { readonly sort: 'reverse'; readonly component: ComponentId };

export interface Moment {
  /** Seconds since the case began. */
  readonly time: number;
  /** In words: 'at rest', 'after `turn level.Q1 off`', 'after 100 s'. */
  readonly label: string;
  /** 'operated'/'released'/'undecided' for relays, 'on'/'off' for outputs, loads and units, classes for zones … */
  states(component: ComponentId): States;
  volts(a: TerminalId, b: TerminalId): Figure;
  /** Current from `a` to `b` of a two-terminal part; delivered by a source or an output (positive when it works as meant). */
  amps(component: ComponentId): Figure;
  /** As `amps`, with the part's own limit lifted. */
  demand(component: ComponentId): Figure;
  watts(component: ComponentId): Figure;
  /**
   * As a meter shows them on a dead circuit: sources off, contacts as they stand at this moment, the unit's side of the
   * first terminal lifted. Infinity where nothing conducts. Leads and tolerance of the meter are not in it.
   */
  ohms(a: TerminalId, b: TerminalId): Figure;
  reading(zone: ComponentId): ZoneReading;
  /**
   * Parts whose states or figures may differ from those at rest: every other part answers as it does at rest, from
   * the same memory. 'all' for rest itself.
   */
  affected(): ReadonlySet<ComponentId> | 'all';
  /** The same moment of a changed design, with everything that hangs on the change solved again. */
  vary(changes: readonly Change[]): Moment;
}

export interface Verdict {
  readonly expect: Expect;
  readonly holds: boolean | 'not-evaluated';
  /** What was computed instead, for the message: figures or states. */
  readonly found: {
    readonly figure?: Figure;
    readonly states?: States;
    readonly seconds?: Value;
    /** How often it is entered at least and at most, where that was asked; Infinity: without end. */
    readonly entries?: { readonly least: number; readonly most: number };
  };
  readonly needs: readonly Need[];
  /** Why it is not evaluated, where no datum is missing. */
  readonly reason?: string;
  /** The order of events in which it comes out otherwise, where their times overlap: 'K2 operates before K1 releases'. */
  readonly order?: string;
}

export interface CaseAnalysis {
  /** Absent for rest when it is not written. */
  readonly case?: Case;
  readonly name: string;
  /** Set where nobody wrote the case: a written one as it goes while what charges a battery is lost. */
  readonly onBattery?: { readonly battery: ComponentId; readonly of: string };
  readonly moments: readonly Moment[];
  readonly verdicts: readonly Verdict[];
  /** How long a component was in a state the case turned it to, in seconds at its shortest: what a panel must catch. */
  readonly signals: readonly Signal[];
  /** A time line for each part that changes in the case, in the order in which events usually come; found when asked for. */
  readonly timeline: readonly Track[];
}

/**
 * A stretch of time during which a zone or input reads as other than at rest, a latching relay is driven ('set',
 * 'reset') or a timer is started ('trigger'). Seconds; `shortest` at its worst.
 */
export interface Signal {
  readonly component: ComponentId;
  readonly className: string;
  readonly shortest: number;
  /** Infinity where it stays until the case ends. */
  readonly longest: number;
  readonly origin: Origin;
  /** Seconds since the signal before it at the same zone or input, at the shortest. */
  readonly gap?: number;
}

/** What the mathematics itself could not accept. */
export interface Problem {
  readonly sort:
    | 'contradictory-sources'
    | 'no-solution'
    | 'relay-oscillates'
    | 'memory'
    | 'bound-reached'
    | 'residual'
    /** Two events may come in either order, and what the case ends in or what is expected of it hangs on which. */
    | 'order-decides'
    /** Understood and not followed by the computation. */
    | 'not-computed';
  readonly components: readonly ComponentId[];
  readonly caseName: string;
  readonly moment: string;
  /** Facts in words and figures. */
  readonly detail: string;
}

export interface Analysis {
  readonly design: Design;
  /** The first is rest; those on batteries come last. */
  readonly cases: readonly CaseAnalysis[];
  readonly problems: readonly Problem[];
  /**
   * The cases in which a part may be in another state or have other figures than at rest, rest itself first. In all
   * others it answers as at rest. Asking every part takes time in proportion to what the cases touch, not to their number.
   */
  casesOf(component: ComponentId): readonly CaseAnalysis[];
}
