/**
 * Single faults: what they are, and what each zone says of them. Plain data; ohms and volts SI.
 */
import type { Change, Need } from '../analysis/contract.ts';
import type { Expect } from '../design/cases.ts';
import type { ComponentId } from '../design/components.ts';
import type { Origin } from '../design/datum.ts';
import type { Design } from '../design/design.ts';
import type { FaultGroup, FaultWord } from './words.ts';

/** One way in which a fault can stand: a short of two cores at one end of the cable or at the other. */
export interface FaultVariant {
  /** 'at pit'; absent where there is only one way. */
  readonly where?: string;
  /** On `FaultTable.design`. */
  readonly changes: readonly Change[];
}

export interface Fault {
  /** Index into `FaultTable.faults`. */
  readonly id: number;
  readonly group: FaultGroup;
  readonly word: FaultWord;
  /** The part that it concerns: what `accept silent-fault WORD on …` names. */
  readonly component: ComponentId;
  /** The core or part that the word names besides: 'shorted to W1.YE', 'swapped with RA'. */
  readonly other?: ComponentId;
  /** As a technician says it: 'W1.GN shorted to W1.YE', 'K1.11-14 welded'. */
  readonly name: string;
  /** The part, or the stretch of the chain that is cut. */
  readonly origin: Origin;
  readonly variants: readonly FaultVariant[];
}

/** What becomes of a zone's answers; the worst last. */
export type FaultClass = 'announced' | 'quiet' | 'misread' | 'blind';

/** SI numbers; Infinity where a loop is open. */
export interface FaultSpread {
  readonly least: number;
  readonly usual: number;
  readonly most: number;
}

/** What a zone reads with a fault, at rest or in a case. */
export interface FaultCell {
  /** Absent where the zone has no connection or cannot be computed. */
  readonly ohms?: FaultSpread;
  readonly volts?: FaultSpread;
  /** The class at the usual figures; absent outside every band. */
  readonly usual?: string;
  /** Every class between least and most, the usual one first; `undefined` stands for outside every band. */
  readonly possible: readonly (string | undefined)[];
  /** At rest 'announced' or 'quiet', in a case 'quiet', 'misread' or 'blind'; the worst that a corner brings. */
  readonly answer: FaultClass | 'not-evaluated';
  /** False where least and most lie in bands that answer differently. */
  readonly certain: boolean;
  /** Why it is not evaluated. */
  readonly reason?: string;
}

/** A column of a zone's table after `rest`: a case that changes the zone, and what it should say then. */
export interface FaultColumn {
  /** Index into `Design.cases`. */
  readonly case: number;
  readonly name: string;
  /** The class that should arrive. */
  readonly expected: string;
}

export interface FaultRow {
  readonly fault: Fault;
  /** The worst over the columns; `not-evaluated` where none could be computed. */
  readonly class: FaultClass | 'not-evaluated';
  /** The case that decides it; absent where rest does. */
  readonly caseName?: string;
  readonly rest: FaultCell;
  /**
   * One a column, in the order of `ZoneFaults.columns`. Not evaluated where a fault that reaches many zones, or this one
   * only through a supply, is announced at rest, or where only classes are asked for.
   */
  readonly cells: readonly FaultCell[];
  /** Which of the fault's variants is shown: the one with the worst class. */
  readonly variant: FaultVariant;
  /** Rows that read alike in every column share a number: they are electrically one for the zone. */
  readonly group: number;
  /** The zone reads in every column as if nothing were wrong. */
  readonly unchanged: boolean;
  /** Least and most are not computed and given as the usual figure: too much hangs together. */
  readonly usualOnly: boolean;
  /** Why `class` is what it is, where the cells alone do not say it. */
  readonly reason?: string;
}

/** Leakage between the two legs of a loop that hides an event. */
export interface LeakageWindow {
  readonly case: number;
  readonly caseName: string;
  readonly expected: string;
  readonly answer: 'blind' | 'misread';
  /** What the zone says instead, within the window. */
  readonly readsAs: string | undefined;
  /** Where the leakage lies: 'at panel.Z4', 'at W1, pit'. */
  readonly where: string;
  /** Ohms at the usual figures; absent where there is no window then. `to` is Infinity where any leakage does it. */
  readonly usual?: { readonly from: number; readonly to: number };
  /** Ohms at the corners that make it widest. */
  readonly worst: { readonly from: number; readonly to: number };
}

/** A fitting error that reads as predicted in every case: commissioning passes it. */
export interface PassedError {
  readonly fault: Fault;
  /** Service faults that are blind with it and not without, each with the case that is lost. */
  readonly newlyBlind: readonly { readonly fault: Fault; readonly caseName: string }[];
}

export interface ZoneFaults {
  readonly zone: ComponentId;
  readonly columns: readonly FaultColumn[];
  /** How the zone reads with nothing wrong. */
  readonly healthy: { readonly rest: FaultCell; readonly cells: readonly FaultCell[] };
  readonly rows: readonly FaultRow[];
  readonly leakage: readonly LeakageWindow[];
  readonly passed: readonly PassedError[];
  /** Why there is no table: 'no case changes it', 'it does not read normal at rest', 'needs bands'. */
  readonly reason?: string;
  /** Data that are missing, by the names of their properties. */
  readonly needs: readonly Need[];
}

/** A fault that leaves every zone's answers alone and makes an expectation of a case fail. */
export interface LoadFault {
  /** What the expectation is about: the beacon that stays dark. */
  readonly component: ComponentId;
  readonly fault: Fault;
  readonly case: number;
  readonly caseName: string;
  readonly expect: Expect;
}

export interface FaultTableOptions {
  /**
   * False: every cell at its usual figures alone, for those who ask for the classes that zones report. Leakage windows,
   * errors that commissioning passes and loads that stay dark are left out.
   */
  readonly spreads?: boolean;
  /**
   * True: every row and its class, for those who judge; loads that stay dark are left out, and the cells of the cases of
   * a row that rest gives away are not evaluated: no class hangs on either.
   */
  readonly classesOnly?: boolean;
  /** Whether the leakage windows of a zone are told; absent: those of every zone. */
  readonly leakageAt?: (zone: ComponentId) => boolean;
}

export interface FaultTable {
  /** The design that `changes` apply to: as given, with a part of no ohms in each join that a fault cuts. */
  readonly design: Design;
  readonly faults: readonly Fault[];
  readonly zones: readonly ZoneFaults[];
  readonly loads: readonly LoadFault[];
  /** Service faults that blind at least one zone, each once, in the order of `faults`. */
  readonly blindService: readonly Fault[];
  readonly blindFitting: readonly Fault[];
}
