/**
 * The parts of a design. Every part has a kind, a name as a person would say it, terminals and data.
 * A datum that the author did not give and that has no default is absent; whoever needs it says 'not evaluated'.
 * Two-terminal parts carry current from `a` to `b` when it counts positive (the direction in which chains are written).
 */
import type { Choice, Datum, Origin } from './datum.ts';

/** Index into `Design.components`. */
export type ComponentId = number;
/** Index into `Design.terminals`. */
export type TerminalId = number;
/** Index into `Design.places`. */
export type PlaceId = number;

interface Base {
  readonly id: ComponentId;
  /** As the author writes it: `level.Q1`, `K1`, `W1.GN`, `K1.11-14`. */
  readonly name: string;
  readonly description?: string;
  /** Where it is declared. */
  readonly origin: Origin;
  readonly place?: PlaceId;
  /** The unit, relay, switch, cable or assembly this is a member of. */
  readonly owner?: ComponentId;
  /** emergency-release, escape-lock, safety-function, fire-detection. */
  readonly role?: Choice;
}

/** A controller, panel, detector, module: something with members. */
export interface Unit extends Base {
  readonly kind: 'unit';
  readonly members: readonly ComponentId[];
  readonly modes: readonly { readonly name: string; readonly draws?: Datum; readonly origin: Origin }[];
  /** Settings that change nothing computed: printed on the settings sheet. */
  readonly settings: readonly { readonly name: string; readonly text: string; readonly origin: Origin }[];
  /** Declared standing total in amperes, when given. */
  readonly standing?: Datum;
}

/** A pair of terminals by which a unit is fed; draws a constant current (A) within `works` (V). */
export interface Feed extends Base {
  readonly kind: 'feed';
  readonly a: TerminalId;
  readonly b: TerminalId;
  readonly works?: Datum;
  readonly draws?: Datum;
}

/**
 * Rail of a unit, free-standing supply, or battery. `a` is plus, `b` is minus. Volts, amperes, ohms.
 * The usual volts of a battery are those that it is named by, its least those at the end of discharge, its most those
 * when full. The usual volts of what charges a battery are its float volts, its most the boost volts where it boosts.
 */
export interface Source extends Base {
  readonly kind: 'source';
  readonly sort: 'rail' | 'supply' | 'battery';
  readonly a: TerminalId;
  readonly b: TerminalId;
  readonly volts?: Datum;
  readonly limit?: Datum;
  readonly ohms?: Datum;
  /** The feed (or source) that this rail hangs on; absent: it has a source of its own. */
  readonly fedBy?: ComponentId;
  readonly ownDraw?: Datum;
  readonly earthed?: Choice;
  /** The battery or supply that this one charges. */
  readonly charges?: ComponentId;
  /** Amperes that it charges with at most; absent: all of its limit that its loads leave. */
  readonly chargeLimit?: Datum;
  /** Ampere-hours (A·h, not coulombs) of a battery. */
  readonly ampereHours?: Datum;
  /** Seconds over which the ampere-hours are stated. */
  readonly ratedTime?: Datum;
  /** Volts by which a battery is named, from which its cells are counted. */
  readonly nominalVolts?: Datum;
  readonly chemistry?: Choice;
}

/** A 0 V of a unit. */
export interface Common extends Base {
  readonly kind: 'common';
  readonly a: TerminalId;
  readonly earthed?: Choice;
}

/** A plain terminal of a unit or a joint. */
export interface Plain extends Base {
  readonly kind: 'terminal' | 'joint';
  readonly a: TerminalId;
  /** A terminal that can be an output or an input, wired and programmed as neither. */
  readonly undecidedPort?: true;
}

/**
 * A transistor output. `style` sink: between `a` and `returns`; source: between the rail's plus and `a`; push-pull: both.
 * rated, peak A; drop V at rated; ohms; leak A when off; withstands V; clamp V.
 */
export interface Output extends Base {
  readonly kind: 'output';
  readonly a: TerminalId;
  /** It is a port that can be an input as well and is programmed as output. */
  readonly port?: true;
  readonly style: Choice<'sink' | 'source' | 'push-pull'>;
  readonly returns?: TerminalId;
  /** The source that a sourcing or push-pull output switches. */
  readonly rail?: ComponentId;
  readonly rated?: Datum;
  readonly peak?: { readonly amps: Datum; readonly seconds?: Datum };
  readonly limits?: Datum;
  readonly drop?: Datum;
  readonly ohms?: Datum;
  readonly leak?: Datum;
  readonly withstands?: Datum;
  readonly clamp?: Datum;
  readonly bodyDiode?: Choice;
  /** Pulse pattern in seconds, on and off. */
  readonly pattern?: { readonly on: Datum; readonly off: Datum };
  readonly rest: Choice<'on' | 'off' | 'pulsing'>;
  readonly unpowered?: Choice;
  readonly atPowerUp?: Choice;
  readonly pulseLength?: Datum;
  readonly repeats?: Datum;
  /** It is on while any of these holds. */
  readonly follows?: readonly Follow[];
}

/** An input: fed from outside (opto: drop V, then ohms), or feeding its contact (`feedVolts` behind `feedOhms`). */
export interface Input extends Base {
  readonly kind: 'input';
  /** It is a port that can be an output as well and is programmed as input. */
  readonly port?: true;
  readonly a: TerminalId;
  readonly b: TerminalId;
  readonly ohms?: Datum;
  readonly drop?: Datum;
  readonly feedVolts?: Datum;
  readonly feedOhms?: Datum;
  /** Above `on` it is on, below `off` it is off; both in the unit named. */
  readonly on?: { readonly above: number; readonly unit: 'A' | 'V'; readonly origin: Origin };
  readonly off?: { readonly below: number; readonly unit: 'A' | 'V'; readonly origin: Origin };
  readonly responds?: Datum;
}

/** One range of a zone's scheme. It holds its lower edge and not its upper. An open side is absent. */
export interface Band {
  /** One class or several reported together: ['alarm'], ['alarm', 'masked']. */
  readonly classes: readonly string[];
  readonly from?: number;
  readonly to?: number;
  readonly origin: Origin;
}

/** A zone: volts (V) behind ohms, read between `a` and `b` (the return). */
export interface Zone extends Base {
  readonly kind: 'zone';
  readonly a: TerminalId;
  readonly b: TerminalId;
  readonly feedVolts?: Datum;
  readonly feedOhms?: Datum;
  readonly scheme?: {
    readonly name: string;
    readonly unit: 'ohm' | 'V';
    readonly bands: readonly Band[];
    readonly origin: Origin;
  };
  /** Seconds that a signal must stand, and that it must be gone. */
  readonly responds?: Datum;
  readonly restores?: Datum;
  /** Ohms of cable and arresters that the panel allows in the loop. */
  readonly loopLimit?: Datum;
}

/** One throw of a pole: a two-terminal contact. A changeover pole is two contacts with the same `pole`. */
export interface Contact extends Base {
  readonly kind: 'contact';
  readonly a: TerminalId;
  readonly b: TerminalId;
  /** What works it: a relay, a switch, or a unit's contact member (`actuator`). */
  readonly driver: ComponentId;
  /** Label of the pole among its driver's: '1', '2', 'ALARM'. */
  readonly pole: string;
  /** The state of the driver in which this throw is closed. */
  readonly closes: 'released' | 'operated';
  /** Acts with the delay of a timer. */
  readonly late: boolean;
  readonly ohms: Datum;
  readonly rating?: { readonly amps: Datum; readonly volts?: Datum };
  /** Where it is rated at alternating volts, which says nothing of direct current. */
  readonly alternatingRating?: Origin;
  readonly minimumLoad?: { readonly amps: Datum; readonly volts?: Datum };
  /** What foreign circuit a pole carries ('230 V ac'). */
  readonly carries?: { readonly volts: number; readonly alternating: boolean; readonly origin: Origin };
}

/**
 * A volt-free contact of a unit, as the thing that is turned: its throws are contacts with this as `driver`.
 * A plain from–to contact is `released` when open and `operated` when closed (a make contact of its actuator).
 */
export interface Actuator extends Base {
  readonly kind: 'actuator';
  /** `simple`: turned open and closed; `changeover`: turned operated and released. */
  readonly form: 'simple' | 'changeover';
  readonly rest: Choice<'operated' | 'released'>;
  readonly unpowered?: Choice<'operated' | 'released' | 'unchanged'>;
}

/** A passive contact worked by the world. `rest` is its state when all is well. */
export interface Switch extends Base {
  readonly kind: 'switch';
  readonly contacts: readonly ComponentId[];
  readonly rest: Choice<'operated' | 'released'>;
  /** One pole with one throw: it is turned open and closed, not operated and released. */
  readonly simple: boolean;
  /** Insulation between its poles. */
  readonly isolation?: Choice;
}

/** One coil of a relay; `a` is A1 (plus), `b` is A2. */
export interface Coil {
  readonly a: TerminalId;
  readonly b: TerminalId;
}

/**
 * A relay. Rated volts V; ohms at 20 °C; `operates`, `releases`, `holds` in volts at 20 °C (fractions of rated already
 * turned into volts); `range` V; `rise` K when held in; H; seconds.
 */
export interface Relay extends Base {
  readonly kind: 'relay';
  readonly coil: Coil;
  readonly secondCoil?: Coil;
  readonly rated?: Datum;
  readonly ohms?: Datum;
  readonly operates?: Datum;
  readonly releases?: Datum;
  readonly holds?: Datum;
  readonly range?: Datum;
  readonly rise?: Datum;
  readonly inductance?: Datum;
  readonly operateTime?: Datum;
  readonly releaseTime?: Datum;
  readonly contacts: readonly ComponentId[];
  readonly suppressor?: Suppressor;
  readonly latching?: Choice<'two-coil' | 'reversing'>;
  readonly minimumPulse?: Datum;
  readonly selfHold?: Choice;
  /** Insulation between its poles. */
  readonly isolation?: Choice;
  /** A timer: what it does, its time (s), its control terminal and what that is measured against. */
  readonly timer?: {
    readonly function: Choice<'off-delay' | 'on-delay' | 'one-shot' | 'pulsing'>;
    readonly time?: Datum;
    readonly retriggerable?: Choice;
    readonly minimumTrigger?: Datum;
    readonly control?: TerminalId;
    readonly controlTo?: TerminalId;
    readonly draws?: Datum;
    readonly works?: Datum;
  };
  readonly rest?: Choice<'operated' | 'released' | 'set' | 'reset'>;
}

/** Suppression built into a part. It conducts from minus (A2) to plus (A1). Volts of the zener or varistor. */
export interface Suppressor {
  readonly sort: 'diode' | 'zener' | 'rc' | 'varistor' | 'none';
  readonly volts?: Datum;
  readonly origin: Origin;
}

/** Ohms between two terminals. */
export interface Resistor extends Base {
  readonly kind: 'resistor';
  readonly a: TerminalId;
  readonly b: TerminalId;
  readonly ohms?: Datum;
  /** Relative tolerance as given (0.01 for 1 %), for choosing the E series. */
  readonly tolerance?: number;
}

export interface Capacitor extends Base {
  readonly kind: 'capacitor';
  readonly a: TerminalId;
  readonly b: TerminalId;
  readonly farads?: Datum;
}

/** `a` is the anode, `b` the cathode. drop V, slope Ω, reverse V, clamps V. */
export interface Diode extends Base {
  readonly kind: 'diode';
  readonly a: TerminalId;
  readonly b: TerminalId;
  readonly rated?: Datum;
  readonly drop: Datum;
  readonly slope?: Datum;
  readonly reverse?: Datum;
  readonly clamps?: Datum;
}

/** rated A; ohms (default with assumption). */
export interface Fuse extends Base {
  readonly kind: 'fuse';
  readonly a: TerminalId;
  readonly b: TerminalId;
  readonly rated?: Datum;
  readonly ohms: Datum;
  readonly speed?: Choice;
}

/** Series ohms of each line of an arrester (one `arrester` part a line). */
export interface Arrester extends Base {
  readonly kind: 'arrester';
  readonly a: TerminalId;
  readonly b: TerminalId;
  readonly earth?: TerminalId;
  readonly ohms: Datum;
  readonly clamps?: Datum;
}

/**
 * A load between plus `a` and minus `b`. `rating` says how big it is: amperes, watts at volts, or ohms.
 * `works` V least..most; `offBelow` V; inrush as a factor of the rating with its seconds, or amperes.
 */
export interface Load extends Base {
  readonly kind: 'load';
  readonly a: TerminalId;
  readonly b: TerminalId;
  readonly rating?:
    | { readonly sort: 'amps'; readonly amps: Datum; readonly atVolts?: Datum }
    | { readonly sort: 'watts'; readonly watts: Datum; readonly atVolts?: Datum }
    | { readonly sort: 'ohms'; readonly ohms: Datum };
  readonly style?: Choice<'resistive' | 'constant-current' | 'constant-power'>;
  readonly works?: Datum;
  readonly offBelow?: Datum;
  readonly inrush?: {
    readonly factor?: Datum;
    readonly amps?: Datum;
    readonly seconds?: Datum;
    readonly origin: Origin;
  };
  readonly inductance?: Datum;
  readonly suppressor?: Suppressor;
  readonly polarised?: Choice;
  readonly modes: readonly { readonly name: string; readonly draws?: Datum; readonly origin: Origin }[];
}

/** A cable as a thing: its cores are parts of their own, with this as `owner`. length m; section mm². */
export interface Cable extends Base {
  readonly kind: 'cable';
  readonly cores: readonly ComponentId[];
  readonly length?: Datum;
  readonly section?: Datum;
  readonly route?: Choice;
  readonly screen?: Choice;
  readonly ends: readonly PlaceId[];
}

/**
 * One core between two places (`a` at `from`, `b` at `to` of the cable). Ohms at 20 °C; the solver heats copper to
 * the temperatures of `places`. `joined` cores in parallel are one core with a doubled section.
 */
export interface Core extends Base {
  readonly kind: 'core';
  readonly cable: ComponentId;
  readonly a: TerminalId;
  readonly b: TerminalId;
  readonly ohms?: Datum;
  readonly capacity?: Datum;
  readonly colour: string;
  /** What `ohms` lacks when it is absent: 'length', 'size or core-ohms'. */
  readonly lacks?: string;
}

/**
 * Zones that count only together. `within` s between their reports; without it they must stand at the same time.
 * `partnerInTrouble`: whether one counts alone while another of them reports neither normal nor alarm.
 */
export interface Confirm extends Base {
  readonly kind: 'confirm';
  readonly zones: readonly ComponentId[];
  readonly within?: Datum;
  readonly partnerInTrouble?: Choice<'counts-alone' | 'does-not-count'>;
}

/** What an output follows: a zone in a class, an input in a state, a confirmation. */
export interface Follow {
  readonly component: ComponentId;
  /** 'alarm', 'on', 'confirmed'. */
  readonly word: string;
  readonly origin: Origin;
}

export type Component =
  | Unit
  | Feed
  | Source
  | Common
  | Plain
  | Output
  | Input
  | Zone
  | Contact
  | Actuator
  | Switch
  | Relay
  | Resistor
  | Capacitor
  | Diode
  | Fuse
  | Arrester
  | Load
  | Cable
  | Core
  | Confirm;

export type ComponentKind = Component['kind'];

export type ComponentOf<K extends ComponentKind> = Extract<Component, { kind: K }>;
