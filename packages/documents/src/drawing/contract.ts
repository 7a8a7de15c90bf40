/**
 * What a drawing of a coupling and the plots of a site show, as plain data that survives JSON: texts are finished,
 * numbers are SI and finite (an end that is open is absent), names and ids are stable while the design keeps its names.
 * `@couplet/project` makes them with the same types of its own; the command's type check holds both together.
 */

/** A place in a text, counted from nought, in UTF-16 units. */
export interface SourceRange {
  readonly uri: string;
  readonly start: { readonly line: number; readonly character: number };
  readonly end: { readonly line: number; readonly character: number };
}

/** A coupling that can be shown. `id` stays while the first of its parts keeps its name. */
export interface CouplingChoice {
  readonly id: string;
  readonly title: string;
}

/** A case that can be shown; a moment's place in the list is its number. `time` in s since the case began. */
export interface CaseChoice {
  readonly name: string;
  readonly description?: string;
  readonly moments: readonly { readonly time: number; readonly label: string }[];
}

/** How a node is drawn; `symbols.ts` has an entry for each. */
export type SymbolName =
  | 'unit'
  | 'supply'
  | 'battery'
  | 'earth'
  | 'joint'
  | 'terminal'
  | 'coil'
  | 'latching-coil'
  | 'timer-coil'
  | 'make'
  | 'break'
  | 'changeover'
  | 'resistor'
  | 'capacitor'
  | 'diode'
  | 'zener'
  | 'fuse'
  | 'arrester'
  | 'load'
  | 'lamp'
  | 'sounder'
  | 'cable'
  | 'block';

/** Where things stand: a frame around nodes. */
export interface DrawnFrame {
  readonly id: string;
  /** 'Wheel pit, pump chamber'. */
  readonly title: string;
  readonly name: string;
  readonly source?: SourceRange;
}

/** A point of a node that a wire may meet. */
export interface DrawnTerminal {
  /** 'K1.A1'; unique in the drawing. */
  readonly id: string;
  /** What stands beside it on the equipment: 'A1', 'Z4', 'GN'. */
  readonly label: string;
  /** What it belongs to inside a unit: 'zone', 'output', 'input', 'source', 'feed', 'common'; its kind elsewhere. */
  readonly member: string;
  /** Ends of one core of a cable, or both ends of a part, share a way through the node. */
  readonly way?: string;
  /** The end of a cable's core at which it is: 'from' or 'to'. */
  readonly end?: 'from' | 'to';
  /** Left open on purpose. */
  readonly spare?: true;
  readonly source?: SourceRange;
}

/** A core of a cable, drawn as a line through the cable's node. */
export interface DrawnCore {
  /** The way of its two terminals. */
  readonly way: string;
  /** 'GN'. */
  readonly label: string;
  /** Nothing is wired to it. */
  readonly unused?: true;
}

export interface DrawnNode {
  /** What a click, a highlight and `figures` name it by: 'K1', 'K1/1' for its pole 1. */
  readonly id: string;
  /** The name in the language: 'K1', 'level', 'W1'. Nodes of one relay or switch share it. */
  readonly name: string;
  /** The kind of component: 'relay', 'unit', 'contact'. */
  readonly kind: string;
  readonly symbol: SymbolName;
  readonly description?: string;
  /** Data as text, most important first: '4.7 kΩ ± 1 %', '24 V'. */
  readonly values: readonly string[];
  /** Id of the frame; absent: it stands nowhere in particular, as cables do. */
  readonly frame?: string;
  readonly terminals: readonly DrawnTerminal[];
  /** Cores of a cable. */
  readonly cores?: readonly DrawnCore[];
  /** Suppression built into a coil or load: 'diode', 'zener', 'rc', 'varistor'. */
  readonly suppressor?: string;
  /** A contact with the delay of a timer. */
  readonly late?: true;
  /** A contact worked by the world and not by a coil. */
  readonly byHand?: true;
  readonly source?: SourceRange;
}

/** One wire or bond, from terminal to terminal. */
export interface DrawnWire {
  readonly id: string;
  readonly from: string;
  readonly to: string;
  readonly bond?: string;
  /** Wires of one net have one number: they are at one potential. */
  readonly net: number;
  readonly source?: SourceRange;
}

/** What works what: from a coil to its contacts, by node. */
export interface DrawnLink {
  readonly from: string;
  readonly to: string;
}

/** What is drawn of one coupling, the same in every case: a layout may be kept as long as this is the same. */
export interface DrawingShape {
  readonly title: string;
  readonly frames: readonly DrawnFrame[];
  readonly nodes: readonly DrawnNode[];
  readonly wires: readonly DrawnWire[];
  readonly links: readonly DrawnLink[];
}

/** A computed figure with its words. */
export interface DrawnFigure {
  readonly quantity: 'volts' | 'amps' | 'watts' | 'ohms';
  readonly sort: 'value' | 'no-connection' | 'not-evaluated';
  /** The usual figure: '12.3 V', 'open', 'no connection', 'not evaluated: needs K1 ohms'. */
  readonly text: string;
  /** '10.9 V .. 14.1 V' where least and most are shown differently. */
  readonly spread?: string;
  /** SI; absent where it is infinite or not evaluated. */
  readonly usual?: number;
  /** 'A1 to A2', 'to level.GND'. */
  readonly between?: string;
}

/** A member of a unit, at the terminal that carries its name. */
export interface MemberFigures {
  readonly states: readonly string[];
  readonly figures: readonly DrawnFigure[];
}

export interface NodeFigures extends MemberFigures {
  /** Position in which a contact stands: the terminals' ids between which it conducts, by throw. */
  readonly closed?: readonly {
    readonly a: string;
    readonly b: string;
    readonly state: 'closed' | 'open' | 'undecided';
  }[];
}

export interface WireFigures {
  /** Volts of its net to a return of the same circuit, usual only. */
  readonly volts?: DrawnFigure;
  /** Amperes where one part alone decides them, usual only. */
  readonly amps?: DrawnFigure;
  /** The current runs from `from` to `to`. */
  readonly forward?: boolean;
}

export interface DrawingFigures {
  /** By node id. */
  readonly nodes: Readonly<Record<string, NodeFigures>>;
  /** By the id of the terminal that a member of a unit is named by. */
  readonly members: Readonly<Record<string, MemberFigures>>;
  /** By wire id. */
  readonly wires: Readonly<Record<string, WireFigures>>;
}

/** One coupling at one moment of one case, with what else can be chosen. */
export interface Drawing {
  readonly site: string;
  /** Id of the coupling that is shown. */
  readonly coupling: string;
  readonly couplings: readonly CouplingChoice[];
  readonly case: string;
  readonly moment: number;
  readonly cases: readonly CaseChoice[];
  readonly shape: DrawingShape;
  readonly figures: DrawingFigures;
}

/** Seconds since the case began. */
export interface DrawnSeconds {
  readonly least: number;
  readonly usual: number;
  readonly most: number;
}

/** A stretch of a signal; it lasts until the next one begins. */
export interface DrawnSegment {
  readonly from: DrawnSeconds;
  /** The usual state first; none where they cannot be told. */
  readonly states: readonly string[];
  /** 0 the state of rest, 1 and up the others in the order in which they first come. */
  readonly level: number;
  /** Data without which the time is not known: 'K1 operate-time'. */
  readonly needs: readonly string[];
}

export interface DrawnTrack {
  readonly id: string;
  /** 'panel.Z4 reports'. */
  readonly title: string;
  readonly name: string;
  readonly segments: readonly DrawnSegment[];
  /** From then on its last segments come again after each period. */
  readonly repeats?: { readonly from: DrawnSeconds; readonly period: DrawnSeconds };
  readonly source?: SourceRange;
}

export interface TimeLine {
  readonly site: string;
  readonly case: string;
  readonly description?: string;
  /** s at which the plot ends. */
  readonly until: number;
  readonly tracks: readonly DrawnTrack[];
}

export interface DrawnBand {
  /** 'alarm', 'alarm or masked'. */
  readonly label: string;
  readonly from?: number;
  readonly to?: number;
  readonly source?: SourceRange;
}

/** A reading of a zone in a case, or with a fault. An end that is absent is open (infinite). */
export interface DrawnReading {
  /** 'rest', 'high-water, after `turn level.Q1 off`', 'W1.GN cut'. */
  readonly title: string;
  /** The usual figure as text: '2.227 kΩ', 'open', 'not evaluated: needs …'. */
  readonly text: string;
  readonly sort: 'value' | 'no-connection' | 'not-evaluated';
  readonly least?: number;
  readonly usual?: number;
  readonly most?: number;
  /** Classes that it may be read as, the usual one first. */
  readonly states: readonly string[];
  /** Of a fault: 'announced', 'quiet', 'misread', 'blind', 'not-evaluated'. */
  readonly answer?: string;
  readonly source?: SourceRange;
}

/** Where each reading of a zone lies within its bands. `unit` of all numbers: 'ohm' or 'V'. */
export interface BandChart {
  readonly zone: string;
  readonly description?: string;
  readonly scheme: string;
  readonly unit: 'ohm' | 'V';
  readonly bands: readonly DrawnBand[];
  readonly readings: readonly DrawnReading[];
  /** Single faults at rest; empty where they were not asked for. */
  readonly faults: readonly DrawnReading[];
  readonly source?: SourceRange;
}

/** How long a battery gives a constant current: s against A. */
export interface RuntimeCurve {
  readonly battery: string;
  readonly description?: string;
  /** 'large enough', 'not evaluated'. */
  readonly says: string;
  readonly points: readonly {
    readonly amps: number;
    readonly least: number;
    readonly usual: number;
    readonly most: number;
  }[];
  /** Currents of the cases that it carries, and the seconds that it lasts. */
  readonly marks: readonly {
    readonly title: string;
    readonly amps: number;
    readonly seconds?: number;
    /** Seconds for which it shall carry it. */
    readonly wanted: number;
    readonly text: string;
  }[];
  readonly source?: SourceRange;
}
