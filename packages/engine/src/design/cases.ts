/** What shall happen: cases, read from top to bottom like a test sheet, and readings taken on site. */
import type { ComponentId, TerminalId } from './components.ts';
import type { Datum, Origin } from './datum.ts';

/** A state's word: 'on', 'off', 'operated', 'open', 'blown', a mode's name, a zone's class, a fault's word. */
export type StateWord = string;

export interface Turn {
  readonly sort: 'turn';
  readonly target: ComponentId;
  readonly state: StateWord;
  /** The core or part that a fault's word names ('shorted to W1.YE', 'swapped with RA'). */
  readonly other?: ComponentId;
  /** It goes back by itself after so many seconds. */
  readonly for?: Datum;
  readonly origin: Origin;
}

export interface Wait {
  readonly sort: 'wait';
  readonly seconds: Datum;
  readonly origin: Origin;
}

/** What is asked of a case at a line. */
export type Subject =
  | { readonly sort: 'component'; readonly component: ComponentId }
  | { readonly sort: 'between'; readonly quantity: 'volts' | 'ohms'; readonly a: TerminalId; readonly b: TerminalId }
  | { readonly sort: 'amps'; readonly component: ComponentId };

/** `dimension` names the SI unit: 'V', 'A', 'W', 'ohm'. */
export type Predicate =
  | { readonly sort: 'state'; readonly word: StateWord }
  | {
      readonly sort: 'compare';
      readonly operator: '>=' | '<=' | '>' | '<';
      readonly value: number;
      readonly dimension: string;
    }
  | { readonly sort: 'range'; readonly least: number; readonly most: number; readonly dimension: string }
  | {
      readonly sort: 'about';
      readonly value: number;
      readonly least: number;
      readonly most: number;
      readonly dimension: string;
    };

export interface Expect {
  readonly sort: 'expect';
  readonly subject: Subject;
  readonly predicate: Predicate;
  /** Seconds since the last turn or wait above. */
  readonly within?: Datum;
  readonly times?: number;
  readonly throughout?: boolean;
  readonly origin: Origin;
}

export type Step = Turn | Wait | Expect;

export interface Case {
  readonly name: string;
  readonly description?: string;
  /** Index into `Design.cases` of the case whose end this begins at; absent: rest. */
  readonly after?: number;
  readonly steps: readonly Step[];
  readonly origin: Origin;
}

/** A case that a battery shall carry, and for how many seconds. */
export interface CarriesCase {
  /** Name of a case of the design, or 'rest'. */
  readonly caseName: string;
  readonly seconds: Datum;
  readonly origin: Origin;
}

/** How long a battery shall carry which cases, one after the other. */
export interface Autonomy {
  readonly battery: ComponentId;
  readonly description?: string;
  readonly carries: readonly CarriesCase[];
  /** Factor on the demand. */
  readonly ageing?: Datum;
  /** Seconds in which the battery shall be charged again. */
  readonly recharge?: Datum;
  readonly origin: Origin;
}

export interface Acceptance {
  readonly rule: string;
  /** A fault's word for `silent-fault`. */
  readonly fault?: string;
  /** The component accepted for, with all uses of an assembly's part. */
  readonly targets: readonly ComponentId[];
  readonly targetName: string;
  readonly because: string;
  /** ISO date, inclusive. */
  readonly until?: string;
  readonly origin: Origin;
}

export interface Reading {
  readonly case: string;
  readonly quantity: 'volts' | 'ohms' | 'amps';
  readonly a?: TerminalId;
  readonly b?: TerminalId;
  readonly component?: ComponentId;
  /** SI. */
  readonly value: number;
  readonly date: string;
  readonly by?: string;
  readonly with?: string;
  readonly celsius?: Datum;
  readonly origin: Origin;
}
